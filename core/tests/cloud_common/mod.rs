//! Clouds of points scanned from known necks.
#![allow(dead_code, missing_docs)]

use neckwright::layout::sagitta_mm;
use neckwright::shape::{Neck, Side};

/// Uniform numbers in `0..1` and normal ones (Box & Muller 1958), from a counter (splitmix64, Steele et al. 2014; memory).
pub struct Dice(pub u64);

impl Dice {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn flat(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn normal(&mut self) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(1.0 - self.flat()));
        radius * libm::cos(std::f64::consts::TAU * self.flat())
    }
}

/// A rotation, by a random unit quaternion (Shoemake 1992; memory), and a shift of up to `far`.
pub fn random_pose(dice: &mut Dice, far: f64) -> ([[f64; 3]; 3], [f64; 3]) {
    let (u, v, w) = (dice.flat(), std::f64::consts::TAU * dice.flat(), std::f64::consts::TAU * dice.flat());
    let (a, b) = (libm::sqrt(1.0 - u), libm::sqrt(u));
    let [x, y, z, s] = [a * libm::sin(v), a * libm::cos(v), b * libm::sin(w), b * libm::cos(w)];
    let rows = [
        [1.0 - 2.0 * (y * y + z * z), 2.0 * (x * y - z * s), 2.0 * (x * z + y * s)],
        [2.0 * (x * y + z * s), 1.0 - 2.0 * (x * x + z * z), 2.0 * (y * z - x * s)],
        [2.0 * (x * z - y * s), 2.0 * (y * z + x * s), 1.0 - 2.0 * (x * x + y * y)],
    ];
    (rows, [0, 1, 2].map(|_| far * (2.0 * dice.flat() - 1.0)))
}

/// A kind of patch of the outside: a side's, over stations and a place `v` in 0..1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Patch {
    Face,
    WoodTop,
    Wall,
    Back,
    Tip,
    Heel,
    BoardEnd,
}

/// What is scanned.
#[derive(Clone, Copy)]
pub struct Scan<'a> {
    pub count: usize,
    /// Isotropic noise, mm.
    pub noise: f64,
    pub outliers: f64,
    /// Which patches at which stations.
    pub seen: &'a dyn Fn(Patch, f64) -> bool,
    /// How densely, against elsewhere: by patch, side and station.
    pub density: &'a dyn Fn(Patch, Side, f64) -> f64,
}

/// A whole neck, evenly scanned.
pub const WHOLE: Scan<'static> =
    Scan { count: 100_000, noise: 0.05, outliers: 0.01, seen: &|_, _| true, density: &|_, _, _| 1.0 };

/// A point of the outside, from the laws themselves, right-handed; `v` from the crown outward, from the top down, from the
/// carve line to the spine.
pub fn point(neck: &Neck, patch: Patch, side: Side, x: f64, v: f64) -> [f64; 3] {
    let laws = neck.laws();
    let [tip, end] = neck.wood_reach_mm();
    let board = neck.layout().board();
    let sign = side.sign();
    let at = |law: &neckwright::law::Law, x: f64| law.at(x.clamp(law.start(), law.end())).unwrap();
    let glue = board.thickness_mm();
    let root = neck.headstock().root_x_mm;
    let wood_top = |x: f64| if x < root { at(laws.face_depth, x) } else { glue };
    let sag = |x: f64, y: f64| board.crown().radius_mm(x).map_or(0.0, |r| sagitta_mm(r, y));
    let boarded = |y: f64| x <= board.end_mm() && x >= neck.layout().nut_line().slope * sign * y;
    let control = |x: f64, v: f64| {
        let s = 1.0 - v;
        let w = [s * s * s, 3.0 * s * s * v, 3.0 * s * v * v, v * v * v];
        let (out, depth) = (laws.control_out.of(side), laws.control_depth.of(side));
        let sum = |l: &[neckwright::law::Law; 4]| (0..4).map(|k| w[k] * at(&l[k], x)).sum::<f64>();
        (sum(out), sum(depth))
    };
    match patch {
        Patch::Face => {
            let y = v * 0.5 * board.width_mm(x);
            [x, sign * y, -sag(x, y)]
        }
        Patch::WoodTop => [x, sign * v * at(laws.half_width.of(side), x), -wood_top(x)],
        Patch::Wall => {
            let wide = 0.5 * board.width_mm(x);
            let boarded = boarded(wide);
            let half = if boarded { wide } else { at(laws.half_width.of(side), x) };
            let top = if boarded { sag(x, half) } else { wood_top(x) };
            let bottom = if x <= end { at(laws.carve_line.of(side), x) } else { glue };
            [x, sign * half, -(top + v * (bottom - top))]
        }
        Patch::Back => {
            if x > end {
                return [x, sign * (1.0 - v) * 0.5 * board.width_mm(x), -glue];
            }
            let (out, depth) = control(x, v);
            [x, sign * out, -depth]
        }
        // `x` is a place across here.
        Patch::Tip => {
            let half = at(laws.half_width.of(side), tip);
            let (top, bottom) = (wood_top(tip), at(laws.spine_depth, tip));
            [tip, sign * x * half, -(top + v * (bottom - top))]
        }
        Patch::Heel => {
            let half = at(laws.half_width.of(side), end);
            [end, sign * x * half, -(glue + v * (at(laws.spine_depth, end) - glue))]
        }
        Patch::BoardEnd => {
            let at = board.end_mm();
            let y = x * 0.5 * board.width_mm(at);
            [at, sign * y, -(sag(at, y) + v * (glue - sag(at, y)))]
        }
    }
}

/// Points of a neck's outside in its own frame and on its own hand, evenly by area, without noise.
pub fn surface(neck: &Neck, dice: &mut Dice, scan: &Scan<'_>) -> Vec<[f64; 3]> {
    let [from, to] = neck.reach_mm();
    let board = neck.layout().board();
    let slant = neck.layout().nut_line().slope;
    // Cells of 2 mm by a sixteenth, with their areas.
    let columns = libm::ceil((to - from) / 2.0) as usize;
    let mut cells: Vec<(f64, Patch, Side, [[f64; 2]; 2])> = Vec::new();
    let mut sum = 0.0;
    let mut add = |patch: Patch, side: Side, x: [f64; 2], v: [f64; 2], sum: &mut f64| {
        let p = |i: usize, j: usize| point(neck, patch, side, x[i], v[j]);
        let area = |a: [f64; 3], b: [f64; 3], c: [f64; 3]| {
            let (d, e) = ([0, 1, 2].map(|k| b[k] - a[k]), [0, 1, 2].map(|k| c[k] - a[k]));
            let n = [d[1] * e[2] - d[2] * e[1], d[2] * e[0] - d[0] * e[2], d[0] * e[1] - d[1] * e[0]];
            0.5 * libm::sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2])
        };
        let area = area(p(0, 0), p(1, 0), p(1, 1)) + area(p(0, 0), p(1, 1), p(0, 1));
        *sum += area * (scan.density)(patch, side, 0.5 * (p(0, 0)[0] + p(1, 1)[0]));
        cells.push((*sum, patch, side, [x, v]));
    };
    let mut breaks: Vec<f64> =
        (0..=columns).map(|i| from + (to - from) * i as f64 / columns as f64).collect();
    // A slanted nut's corners, within the width at the nut.
    let corner = 0.5 * slant * board.width_mm(0.0);
    let aslant = if slant == 0.0 { 0.0 } else { corner.abs() + 2.0 };
    breaks.extend([
        0.0,
        corner,
        -corner,
        board.end_mm(),
        neck.wood_reach_mm()[1],
        neck.headstock().root_x_mm,
    ]);
    breaks.retain(|x| *x >= from && *x <= to);
    breaks.sort_by(f64::total_cmp);
    breaks.dedup();
    for w in breaks.windows(2) {
        let hair = 1e-9 * (w[1] - w[0]);
        let (x, mid) = ([w[0] + hair, w[1] - hair], 0.5 * (w[0] + w[1]));
        let boarded = mid < board.end_mm();
        let tops = [(Patch::Face, mid > -aslant && boarded), (Patch::WoodTop, mid < aslant || !boarded)];
        let tops = tops.into_iter().filter(|(_, there)| *there).map(|(top, _)| top);
        for side in Side::BOTH {
            for patch in tops.clone().chain([Patch::Wall, Patch::Back]) {
                for k in 0..16 {
                    let v = [f64::from(k) / 16.0, f64::from(k + 1) / 16.0];
                    if (scan.seen)(patch, mid) {
                        add(patch, side, x, v, &mut sum);
                    }
                }
            }
        }
    }
    for side in Side::BOTH {
        for (patch, x) in
            [(Patch::Tip, from), (Patch::Heel, neck.wood_reach_mm()[1]), (Patch::BoardEnd, board.end_mm())]
        {
            if (scan.seen)(patch, x) {
                add(patch, side, [0.0, 1.0], [0.0, 1.0], &mut sum);
            }
        }
    }
    let hand = neck.hand_sign();
    let mut drawn = || {
        let at = sum * dice.flat();
        let (_, patch, side, [x, v]) = cells[cells.partition_point(|c| c.0 < at).min(cells.len() - 1)];
        let (t, u) = (dice.flat(), dice.flat());
        let p = point(neck, patch, side, x[0] + t * (x[1] - x[0]), v[0] + u * (v[1] - v[0]));
        let boarded = p[0] >= slant * p[1] && p[0] <= board.end_mm();
        let there = match patch {
            Patch::Face => boarded,
            Patch::WoodTop => !boarded,
            _ => true,
        };
        there.then_some([p[0], hand * p[1], p[2]])
    };
    core::iter::repeat_with(&mut drawn).flatten().take(scan.count).collect()
}

/// Noise and outliers put on points, and all of them in another frame: `rotation` and `shift` take the neck's frame to it.
pub fn scanned(
    mut points: Vec<[f64; 3]>,
    dice: &mut Dice,
    scan: &Scan<'_>,
    (rotation, shift): ([[f64; 3]; 3], [f64; 3]),
) -> Vec<[f64; 3]> {
    let mut bounds = [[f64::INFINITY, f64::NEG_INFINITY]; 3];
    for p in &points {
        for k in 0..3 {
            bounds[k] = [bounds[k][0].min(p[k] - 50.0), bounds[k][1].max(p[k] + 50.0)];
        }
    }
    for p in &mut points {
        if dice.flat() < scan.outliers {
            *p = bounds.map(|[a, b]| a + (b - a) * dice.flat());
        } else {
            *p = p.map(|c| c + scan.noise * dice.normal());
        }
        let q = *p;
        *p = [0, 1, 2].map(|i| (0..3).map(|j| rotation[i][j] * q[j]).sum::<f64>() + shift[i]);
    }
    points
}

/// A base roughly like a neck: thicknesses up to a millimetre off, widths, carve lines and profile numbers off too; board,
/// headstock and heel as they are. The first of a few tries that is a neck.
pub fn rough(neck: &Neck, dice: &mut Dice) -> neckwright::spec::Specification {
    use neckwright::measure::Length;
    for _ in 0..200 {
        let mut spec = neck.normalised().clone();
        let mut by =
            |l: &mut Length, most: f64| *l = Length::from_mm(l.mm() + most * (2.0 * dice.flat() - 1.0));
        for t in &mut spec.shaft.thickness {
            by(&mut t.thickness, 1.0);
        }
        for line in
            [Some(&mut spec.shaft.carve_line), spec.shaft.treble_carve_line.as_mut()].into_iter().flatten()
        {
            for d in line {
                by(&mut d.depth, 0.7);
            }
        }
        by(&mut spec.nut.width, 0.7);
        for w in spec.fretboard.widths.iter_mut().flatten() {
            by(&mut w.width, 0.7);
        }
        for p in &mut spec.shaft.profile {
            for share in [&mut p.shoulder, &mut p.belly].into_iter().flatten() {
                *share += 0.04 * (2.0 * dice.flat() - 1.0);
            }
        }
        if Neck::new(&spec).is_ok() {
            return spec;
        }
    }
    neck.normalised().clone()
}

/// Rotation and shift.
pub type Posed = ([[f64; 3]; 3], [f64; 3]);

fn drawn(count: usize, wanted: impl Fn(&Neck) -> bool) -> Vec<Neck> {
    use neckwright::spec::{Specification, numbers};
    let mut next = numbers(2026);
    let drawn = core::iter::repeat_with(|| Neck::new(&Specification::plausible(&mut next)).ok());
    drawn.take(60 * count).flatten().filter(wanted).take(count).collect()
}

/// The first random necks whose nut stands square.
pub fn square_nuts(count: usize) -> Vec<Neck> {
    drawn(count, |neck| neck.layout().nut_line().slope == 0.0)
}

/// The first random necks with two scales, whose nut is slanted.
pub fn slanted_nuts(count: usize) -> Vec<Neck> {
    drawn(count, |neck| neck.layout().nut_line().slope != 0.0)
}
