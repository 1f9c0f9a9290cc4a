//! The rod's channel and its pocket, and how much wood is left behind them.

use alloc::vec::Vec;

use super::back::{Back, Strip};
use super::outline::Point;
use super::sides::Side;
use crate::law::{
    Bernstein, Corner, Law, Patch, Proof, Region, least_above_chord, least_over, nowhere_below,
};

/// One straight-sided cut for the rod, from the top of the neck wood down to a floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    pub(super) half: f64,
    pub(super) floor: Law,
}

impl Cut {
    /// The stations it covers, first and last, mm from the nut.
    #[must_use]
    pub fn reach_mm(&self) -> [f64; 2] {
        [self.floor.start(), self.floor.end()]
    }

    /// Half its width, mm; it lies evenly on both sides of the centreline.
    #[must_use]
    pub fn half_width_mm(&self) -> f64 {
        self.half
    }

    /// Depth of its floor below the crown plane, mm, over the stations it covers.
    #[must_use]
    pub fn floor_depth(&self) -> &Law {
        &self.floor
    }

    /// Half width and floor depth at a station, where the cut is there.
    pub(super) fn at(&self, x: f64) -> Option<[f64; 2]> {
        self.floor.covers(x).then(|| [self.half, self.floor.value(x)])
    }
}

/// Signed distance of a point from a cut that is open upward, by how far it lies outward of the cut's side
/// and below its floor: negative inside the cut.
fn distance(beside: f64, below: f64) -> f64 {
    if beside > 0.0 && below > 0.0 { libm::hypot(beside, below) } else { beside.max(below) }
}

/// Least distance between a cut and one side of the back in one section, mm, from how far the side's four
/// control points lie outward of the cut and below its floor: the floor, its corners and its sides against
/// the carved back and the flat side. Negative where the cut has come through.
///
/// On every stretch where the distance is one smooth function its least value is at an end, at a foot of a
/// perpendicular from the corner (a root of degree 5), or where the curve turns level or upright.
fn least_distance(beside: &Bernstein, below: &Bernstein) -> f64 {
    let (dbeside, dbelow) = (beside.derivative(), below.derivative());
    let foot = beside.times(&dbeside).plus(&below.times(&dbelow));
    let ends = [0.0, 1.0].map(|u| distance(beside.eval(u), below.eval(u)));
    let mut least = beside.coefs()[0].min(ends[0]).min(ends[1]);
    for p in [&foot, &dbeside, &dbelow, beside, below] {
        for u in p.roots() {
            least = least.min(distance(beside.eval(u), below.eval(u)));
        }
    }
    least
}

/// [`least_distance`] for a section's control points.
pub(super) fn wall_in_section(p: &[Point; 4], side: Side, half: f64, floor: f64) -> f64 {
    let beside = p.iter().map(|p| side.sign() * p[0] - half).collect();
    let below = p.iter().map(|p| -p[1] - floor).collect();
    least_distance(&beside, &below)
}

/// A stretch of one side of the back with the cut that it has to stay clear of.
#[derive(Clone)]
struct Wall {
    x: [f64; 2],
    /// How far the back lies outward of the cut's side, and below its floor.
    beside: Patch,
    below: Patch,
    /// The distances at both ends of the stretch.
    ends: [f64; 2],
}

impl Wall {
    fn new(strip: &Strip, cut: &Cut) -> Self {
        // Strips end wherever the floor has a joint, so that one piece of it covers each; were it not so, the
        // deepest floor anywhere would still prove no more wood than there is.
        let piece = cut.floor.restricted(strip.x[0], strip.x[1]).filter(|f| f.pieces().len() == 1);
        let floor = match &piece {
            Some(floor) => Patch::from_columns(floor.pieces()),
            None => Patch::from_columns(&[Bernstein::constant(cut.floor.greatest(1e-6).bound)]),
        };
        let half = Patch::from_columns(&[Bernstein::constant(cut.half)]);
        let beside = strip.out.combined(1.0, &half, -1.0);
        let below = strip.depth.combined(1.0, &floor, -1.0);
        let ends = [0, 1].map(|end| least_distance(&beside.end_row(end), &below.end_row(end)));
        Self { x: strip.x, beside, below, ends }
    }

    /// Bounds of the surface's first and second derivative along the neck, mm/mm and 1/mm.
    fn motion(&self) -> [f64; 2] {
        let h = self.x[1] - self.x[0];
        let (a, b) = (self.beside.motion_along(), self.below.motion_along());
        [libm::hypot(a[0], b[0]) / h, libm::hypot(a[1], b[1]) / (h * h)]
    }
}

impl Region for Wall {
    fn probe(&self) -> Corner {
        let end = usize::from(self.ends[1] < self.ends[0]);
        Corner { value: self.ends[end], x_mm: self.x[end], around: f64::NAN }
    }

    /// Between two stations the squared distance of any one line along the back bends upward by no more than
    /// `2(|v'|² + |v|·|v''|)`, so that the least of all of them lies above the chord between the ends less
    /// `(x − a)(b − x)` times half of that. A line that comes nearer inside the stretch than both ends are is
    /// nowhere on it further off than that and what it can move.
    fn lower(&self) -> f64 {
        let [a, b] = self.ends;
        if a <= 0.0 || b <= 0.0 {
            return f64::NEG_INFINITY;
        }
        let h = self.x[1] - self.x[0];
        let [first, second] = self.motion();
        let near = a.min(b) + first * h;
        let bend = (first * first + near * second) * h * h;
        let least = least_above_chord(a * a, b * b, bend);
        if least > 0.0 { libm::sqrt(least) - 1e-11 } else { f64::NEG_INFINITY }
    }

    fn halves(self) -> (Self, Self) {
        let mid = 0.5 * (self.x[0] + self.x[1]);
        let ((a, b), (c, d)) = (self.beside.halves_along(), self.below.halves_along());
        let middle = least_distance(&a.end_row(1), &c.end_row(1));
        (
            Self { x: [self.x[0], mid], beside: a, below: c, ends: [self.ends[0], middle] },
            Self { x: [mid, self.x[1]], beside: b, below: d, ends: [middle, self.ends[1]] },
        )
    }
}

fn walls(back: &Back, cuts: &[Cut]) -> Vec<Wall> {
    let mut walls: Vec<Wall> = Vec::new();
    for cut in cuts {
        for side in back.distinct() {
            let strips = back.strips(*side, cut.floor.start(), cut.floor.end(), cut.floor.breaks());
            walls.extend(strips.iter().map(|s| Wall::new(s, cut)));
        }
    }
    walls
}

/// The least wall behind all cuts, proven; `None` where nothing is cut.
pub(super) fn least_wall(back: &Back, cuts: &[Cut], tolerance: f64, budget: usize) -> Option<Proof> {
    least_over(walls(back, cuts), tolerance, budget)
}

/// Whether there is wood behind all cuts everywhere, proven.
pub(super) fn walled(back: &Back, cuts: &[Cut]) -> bool {
    nowhere_below(walls(back, cuts), f64::MIN_POSITIVE, 1024)
}
