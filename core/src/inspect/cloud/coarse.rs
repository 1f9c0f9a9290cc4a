//! Where the neck lies in its scan, roughly: the scan's long axis against the neck's, every turn and both directions.

use alloc::vec::Vec;

use nalgebra::{Matrix3, SymmetricEigen};

use super::field::Field;
use super::fit::{Fit, cost};
use super::motion::{Motion, Vector, cross, dot, length, minus, square_to, unit};
use super::skin::Skin;

/// The scan as a long thing: its middle, its axis, from where to where it reaches along it, and how wide it is across
/// in the two directions square to it (standard deviations).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Long {
    pub middle: Vector,
    pub axis: Vector,
    pub reach: [f64; 2],
    pub spread: Vector,
}

const TURNS: usize = 24;
/// How many poses are followed up.
const KEPT: usize = 10;

impl Long {
    /// By principal axes, what lies far off the axis left out in three rounds. `None` where the points have no extent.
    pub fn of(points: &[Vector]) -> Option<Self> {
        let mut kept: Vec<Vector> = points.to_vec();
        let mut long = Self::once(&kept)?;
        for _ in 0..3 {
            let off = |p: &Vector| {
                let d = minus(*p, long.middle);
                length(cross(long.axis, d))
            };
            let mut offs: Vec<f64> = points.iter().map(off).collect();
            let middle = offs.len() / 2;
            let median = *offs.select_nth_unstable_by(middle, f64::total_cmp).1;
            kept = points.iter().filter(|p| off(p) <= 4.0 * median).copied().collect();
            long = Self::once(&kept)?;
        }
        Some(long)
    }

    fn once(points: &[Vector]) -> Option<Self> {
        if points.len() < 4 {
            return None;
        }
        let n = points.len() as f64;
        let mut middle = [0.0; 3];
        for p in points {
            for k in 0..3 {
                middle[k] += p[k] / n;
            }
        }
        let mut square = Matrix3::zeros();
        for p in points {
            let d = minus(*p, middle);
            for i in 0..3 {
                for j in 0..3 {
                    square[(i, j)] += d[i] * d[j] / n;
                }
            }
        }
        let eigen: SymmetricEigen<f64, nalgebra::Const<3>> = SymmetricEigen::try_new(square, 1e-14, 200)?;
        let mut order = [0_usize, 1, 2];
        order.sort_by(|&a, &b| eigen.eigenvalues[b].total_cmp(&eigen.eigenvalues[a]));
        let column = eigen.eigenvectors.column(order[0]);
        let axis = unit([column[0], column[1], column[2]])?;
        let spread = order.map(|k| libm::sqrt(eigen.eigenvalues[k].max(0.0)));
        let mut along: Vec<f64> = points.iter().map(|p| dot(minus(*p, middle), axis)).collect();
        along.sort_by(f64::total_cmp);
        let at = |share: f64| along[((along.len() - 1) as f64 * share) as usize];
        let long = Self { middle, axis, reach: [at(0.008), at(0.992)], spread };
        (spread[0].is_finite() && spread[0] > 0.0).then_some(long)
    }
}

/// Sums over the outside up to each station: weight, the first moments, `xx`, `xy`, `xz`.
struct Sums {
    x: Vec<f64>,
    sums: Vec<[f64; 7]>,
}

impl Sums {
    fn new(skin: &Skin) -> Self {
        let [from, to] = skin.reach();
        let count = 200;
        let (mut x, mut sums, mut sum) = (Vec::new(), Vec::new(), [0.0; 7]);
        let mut ring = Vec::new();
        for i in 0..count {
            let at = from + (to - from) * (f64::from(i) + 0.5) / f64::from(count);
            skin.ring(at, &mut ring);
            for (p, w) in &ring {
                let new = [1.0, p[0], p[1], p[2], p[0] * p[0], p[0] * p[1], p[0] * p[2]];
                for (sum, new) in sum.iter_mut().zip(new) {
                    *sum += w * new;
                }
            }
            x.push(at);
            sums.push(sum);
        }
        Self { x, sums }
    }

    /// Middle and axis of the part between two stations.
    fn part(&self, from: f64, to: f64) -> Option<(Vector, Vector)> {
        let at = |x: f64| match self.x.partition_point(|a| *a < x) {
            0 => [0.0; 7],
            i => self.sums[i - 1],
        };
        let (a, b) = (at(from), at(to));
        let s: [f64; 7] = core::array::from_fn(|k| b[k] - a[k]);
        if s[0] <= 0.0 {
            return None;
        }
        let m = [s[1], s[2], s[3]].map(|c| c / s[0]);
        let spread = s[4] / s[0] - m[0] * m[0];
        if spread <= 1.0 {
            return None;
        }
        let axis = [1.0, (s[5] / s[0] - m[0] * m[1]) / spread, (s[6] / s[0] - m[0] * m[2]) / spread];
        Some((m, unit(axis)?))
    }
}

/// A number that has nothing to do with its neighbours' (the mixing of SplitMix64, Steele, Lea & Flood 2014; memory).
const fn scrambled(i: u64) -> u64 {
    let z = i.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// So many points at most: one of each run of as many that follow each other, never in step with the order that a scanner has.
pub(crate) fn thinned(points: &[Vector], count: usize) -> Vec<Vector> {
    let every = points.len().div_ceil(count.max(1)).max(1);
    let picked =
        |(i, run): (usize, &[Vector])| run.get((scrambled(i as u64) % run.len() as u64) as usize).copied();
    points.chunks(every).enumerate().filter_map(picked).collect()
}

/// Where along itself the neck fits best, all else kept: a search over shifts, mm.
fn shifted(skin: &Skin, points: &[Vector], motion: &Motion, [most, by]: [f64; 2], reach: f64) -> Motion {
    let count = libm::ceil(most / by) as i32;
    let mut best = (f64::INFINITY, *motion);
    for k in -count..=count {
        let mut moved = *motion;
        moved.shift[0] += by * f64::from(k);
        let cost = cost(skin, points, &moved, reach);
        if cost < best.0 {
            best = (cost, moved);
        }
    }
    best.1
}

/// The likeliest pose of a scan, good to a millimetre or two.
pub(crate) fn coarse(skin: &Skin, field: &Field, points: &[Vector], long: &Long) -> Option<Motion> {
    let (few, some) = (thinned(points, 300), thinned(points, 1500));
    let sums = Sums::new(skin);
    let [from, to] = skin.reach();
    let extent = long.reach[1] - long.reach[0];
    let (low, high) = ((from).min(to - extent) - 25.0, from.max(to - extent) + 25.0);
    let steps = (libm::ceil((high - low) / 12.0) as usize).clamp(4, 70);
    let mut found: Vec<(f64, Motion)> = Vec::new();
    for way in [1.0, -1.0] {
        let axis = long.axis.map(|c| way * c);
        let begin = if way > 0.0 { long.reach[0] } else { -long.reach[1] };
        let normal = square_to(axis);
        let other = cross(axis, normal);
        let mut best = [(f64::INFINITY, None); TURNS];
        for i in 0..=steps {
            let first = low + (high - low) * i as f64 / steps as f64;
            let Some((middle, along)) = sums.part(first, first + extent) else { continue };
            // The scan's middle lies `−begin` after where it starts.
            let on_axis = first - begin;
            let middle = [0, 1, 2].map(|k| middle[k] + along[k] * (on_axis - middle[0]) / along[0]);
            let up = square_to_up(along);
            for (turn, best) in best.iter_mut().enumerate() {
                let angle = core::f64::consts::TAU * turn as f64 / TURNS as f64;
                let (c, s) = (libm::cos(angle), libm::sin(angle));
                let face = [0, 1, 2].map(|k| c * normal[k] + s * other[k]);
                let motion = Motion::between([long.middle, axis, face], [middle, along, up]);
                let cost = cost(skin, &few, &motion, 15.0);
                if cost < best.0 {
                    *best = (cost, Some(motion));
                }
            }
        }
        found.extend(best.into_iter().filter_map(|(cost, motion)| Some((cost, motion?))));
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.truncate(KEPT);
    for (value, motion) in &mut found {
        let mut fit = Fit::start(*motion, field.clone());
        fit.refine(skin, &few, &[20.0, 20.0, 15.0, 15.0, 10.0, 10.0], false, None);
        fit.motion = shifted(skin, &few, &fit.motion, [24.0, 3.0], 6.0);
        fit.refine(skin, &some, &[10.0, 8.0, 6.0, 5.0], false, None);
        *motion = fit.motion;
        *value = cost(skin, &some, motion, 3.0);
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.truncate(3);
    for (value, motion) in &mut found {
        let mut fit = Fit::start(*motion, field.clone());
        fit.motion = shifted(skin, &some, &fit.motion, [15.0, 1.0], 3.0);
        fit.refine(skin, &some, &[5.0, 4.0, 4.0, 3.0, 3.0, 3.0], true, None);
        *motion = fit.motion;
        *value = cost(skin, &some, motion, 2.0);
    }
    found.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, motion)| motion)
}

/// The direction square to an axis that is nearest to straight up.
fn square_to_up(axis: Vector) -> Vector {
    let up = [0.0, 0.0, 1.0];
    let along = dot(up, axis);
    unit([0, 1, 2].map(|k| up[k] - along * axis[k])).unwrap_or(up)
}
