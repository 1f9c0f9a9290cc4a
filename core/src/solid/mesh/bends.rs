//! How spline faces bend at places along and around: what their grids are laid by.

use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::deviation::angle;
use super::grid::Bent;
use super::patches::{Jet, cross, dot};

/// How many cells around a face is read for.
const CELLS: usize = 20;
/// Readings between two knots before the parts are known.
const FIRST: usize = 9;
/// How many parts a row is likely to take up.
const PARTS: f64 = 3.0;

/// Second derivatives along the normal, and the size of what of them lies in the surface: along twice, along and around, around
/// twice; with the angle by which the normal turns for each of a step along and around.
#[derive(Clone, Copy)]
pub(super) struct Bend {
    low: [f64; 3],
    high: [f64; 3],
    within: [f64; 3],
    turn: [f64; 2],
}

impl Bend {
    pub const NONE: Self = Self { low: [0.0; 3], high: [0.0; 3], within: [0.0; 3], turn: [0.0; 2] };

    fn new([_, _, _, ss, su, uu]: &Jet, normal: [f64; 3]) -> Self {
        let all = [*ss, *su, *uu];
        let own = all.map(|d| dot(d, normal));
        let within = [0, 1, 2].map(|k| libm::sqrt((dot(all[k], all[k]) - own[k] * own[k]).max(0.0)));
        Self { low: own, high: own, within, turn: [0.0; 2] }
    }

    pub fn with(&self, other: &Self) -> Self {
        let mut both = *self;
        for k in 0..3 {
            both.low[k] = both.low[k].min(other.low[k]);
            both.high[k] = both.high[k].max(other.high[k]);
            both.within[k] = both.within[k].max(other.within[k]);
        }
        for k in 0..2 {
            both.turn[k] = both.turn[k].max(other.turn[k]);
        }
        both
    }

    pub fn around(&self) -> f64 {
        self.high[2].max(-self.low[2])
    }

    /// How far a cell's triangles are likely to lie off, with the better one of its diagonals.
    pub fn off(&self, [h, w]: [f64; 2]) -> f64 {
        let (hh, ww, hw) = (0.125 * h * h, 0.125 * w * w, 0.25 * h * w);
        let over = hh * self.high[0].max(0.0) + ww * self.high[2].max(0.0);
        let under = hh * (-self.low[0]).max(0.0) + ww * (-self.low[2]).max(0.0);
        let twist = hw * self.high[1].max(-self.low[1]);
        let out = over.max(under).max(over.min(under) + twist);
        let within = hh * self.within[0] + hw * self.within[1] + ww * self.within[2];
        out + within * (h * self.turn[0] + w * self.turn[1])
    }

    /// How many rows it takes for each step along, with columns as close as they have to be.
    fn rows(&self, chord: f64, widest: f64) -> f64 {
        let w = libm::sqrt(8.0 * chord / self.around().max(1e-300)).min(widest);
        let along = libm::sqrt(self.high[0].max(-self.low[0]) / (8.0 * chord));
        let twist = w * self.high[1].max(-self.low[1]) / (4.0 * chord);
        along.max(twist)
    }
}

/// Places around at which a face is read.
pub(super) fn places(face: &Bent) -> Vec<f64> {
    let [from, to] = face.used[1];
    let mut ends: Vec<f64> = alloc::vec![from];
    ends.extend(face.patches.around.iter().copied().filter(|u| *u > from && *u < to));
    ends.push(to);
    let straight = face.patches.tables[0][0].width == 2;
    let mut found = alloc::vec![from];
    for w in ends.windows(2) {
        let n = if straight { 1 } else { CELLS.div_ceil(ends.len() - 1) };
        found.extend((1..=n).map(|i| if i == n { w[1] } else { w[0] + (w[1] - w[0]) * i as f64 / n as f64 }));
    }
    found
}

/// The angle between two normals.
fn between_normals(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    angle(size(&minus(a, b)))
}

/// How a face bends at places around one station, and its normals there.
type Reading = (Vec<Bend>, Vec<[f64; 3]>);

/// One face at one station: how it bends at places around, and its normals there.
pub(super) fn read(face: &Bent, s: f64, places: &[f64]) -> Reading {
    let row = face.patches.across_twice(s);
    let each = places.iter().map(|u| {
        let jet = row.jet(*u);
        let normal = cross(jet[1], jet[2]);
        let length = size(&normal);
        let normal = if length > 1e-12 { normal.map(|x| x / length) } else { row.with_normal(*u).1 };
        (Bend::new(&jet, normal), normal)
    });
    let (mut bends, normals): (Vec<Bend>, Vec<[f64; 3]>) = each.unzip();
    for k in 1..places.len() {
        let turn = between_normals(&normals[k - 1], &normals[k]) / (places[k] - places[k - 1]);
        bends[k - 1].turn[1] = bends[k - 1].turn[1].max(turn);
        bends[k].turn[1] = turn;
    }
    (bends, normals)
}

/// How one face bends from each of some stations to the next.
pub(super) fn between(face: &Bent, stations: &[f64], places: &[f64]) -> Vec<Vec<Bend>> {
    let [first, last] = face.used[0];
    let at = |s: f64| read(face, s.clamp(first, last), places);
    let mut found = Vec::with_capacity(stations.len());
    let mut before: Option<Reading> = None;
    for w in stations.windows(2) {
        let (from, to) = (w[0], w[1]);
        // A knot belongs to both sides, which bend each in their own way.
        let inside = 1e-9 * (to - from);
        let knot = |s: f64| face.patches.along.iter().any(|k| libm::fabs(k - s) <= 2.0 * inside);
        let a = before.take().unwrap_or_else(|| at(from + inside));
        let (b, c) = (at(0.5 * (from + to)), at(to - inside));
        let each = (0..places.len()).map(|k| {
            let mut bend = a.0[k].with(&b.0[k]).with(&c.0[k]);
            let turn = between_normals(&a.1[k], &b.1[k]).max(between_normals(&b.1[k], &c.1[k]));
            bend.turn[0] = 2.0 * turn / (to - from);
            bend
        });
        found.push(each.collect());
        before = (!knot(to)).then_some(c);
    }
    found
}

/// Whether a face takes up a stretch.
pub(super) fn over(face: &Bent, [from, to]: [f64; 2]) -> bool {
    let middle = 0.5 * (from + to);
    middle > face.used[0][0] && middle < face.used[0][1]
}

/// The ends of parts between two stations, a few for each row that they are likely to take.
pub(super) fn parts(
    faces: &[Bent],
    all: &[Vec<f64>],
    [from, to]: [f64; 2],
    chord: f64,
    found: &mut Vec<f64>,
) {
    let at = |i: usize| from + (to - from) * (i as f64 + 0.5) / FIRST as f64;
    let mut so_far = alloc::vec![0.0];
    for i in 0..FIRST {
        let mut rate = 0.0_f64;
        for (face, places) in faces.iter().zip(all).filter(|(f, _)| over(f, [from, to])) {
            let whole = face.used[1][1] - face.used[1][0];
            for bend in read(face, at(i), places).0 {
                rate = rate.max(bend.rows(chord, whole));
            }
        }
        so_far.push(so_far[i] + rate.max(1e-12));
    }
    let step = (to - from) / FIRST as f64;
    let count = libm::ceil(PARTS * so_far[FIRST] * step).clamp(1.0, 4e3);
    for k in 1..count as usize {
        let want = so_far[FIRST] * k as f64 / count;
        let i = so_far.partition_point(|s| *s <= want).clamp(1, FIRST);
        let share = (want - so_far[i - 1]) / (so_far[i] - so_far[i - 1]);
        found.push(from + step * ((i - 1) as f64 + share));
    }
    found.push(to);
}
