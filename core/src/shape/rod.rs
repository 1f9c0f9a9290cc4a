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

/// A stretch of one side of the back, seen from the cut that it has to stay clear of.
#[derive(Clone)]
struct Gap {
    x: [f64; 2],
    /// How far the back lies outward of the cut's side, and below its floor.
    beside: Patch,
    below: Patch,
}

impl Gap {
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
        Self { x: strip.x, beside, below }
    }

    /// Whether a plane along the cut's corner has all of the stretch on its other side, which is quickly told
    /// and nearly always so. Where not, there may be wood all the same.
    fn parted(&self) -> bool {
        // The plane is parallel to the chord from the carve line to the spine, each where it is nearest.
        let least = |patch: &Patch| {
            let (a, b) = (patch.end_row(0), patch.end_row(1));
            let (carve, spine) = (0, a.degree());
            [carve, spine].map(|i| a.coefs()[i].min(b.coefs()[i]))
        };
        let (beside, below) = (least(&self.beside), least(&self.below));
        let (across, down) = (below[1] - below[0], beside[0] - beside[1]);
        let around = self.beside.end_row(0).degree() + 1;
        let side = self.beside.coefs().iter().step_by(around).all(|c| *c > 0.0);
        let clear = || self.beside.combined(across, &self.below, down).hull().0 > 1e-6;
        side && across >= 0.0 && down >= 0.0 && clear()
    }

    /// Bounds of the surface's first and second derivative along the neck, mm/mm and 1/mm.
    fn motion(&self) -> [f64; 2] {
        let h = self.x[1] - self.x[0];
        let (a, b) = (self.beside.motion_along(), self.below.motion_along());
        [libm::hypot(a[0], b[0]) / h, libm::hypot(a[1], b[1]) / (h * h)]
    }
}

/// A gap and the least distances at both its ends.
#[derive(Clone)]
struct Wall {
    gap: Gap,
    ends: [f64; 2],
}

impl Wall {
    fn new(gap: Gap) -> Self {
        let ends = [0, 1].map(|end| least_distance(&gap.beside.end_row(end), &gap.below.end_row(end)));
        Self { gap, ends }
    }
}

impl Region for Wall {
    fn probe(&self) -> Corner {
        let end = usize::from(self.ends[1] < self.ends[0]);
        Corner { value: self.ends[end], x_mm: self.gap.x[end], around: f64::NAN }
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
        let h = self.gap.x[1] - self.gap.x[0];
        let [first, second] = self.gap.motion();
        let near = a.min(b) + first * h;
        let bend = (first * first + near * second) * h * h;
        let least = least_above_chord(a * a, b * b, bend);
        if least > 0.0 { libm::sqrt(least) - 1e-11 } else { f64::NEG_INFINITY }
    }

    fn halves(self) -> (Self, Self) {
        let Gap { x: [from, to], beside, below } = self.gap;
        let mid = 0.5 * (from + to);
        let ((a, b), (c, d)) = (beside.halves_along(), below.halves_along());
        let middle = least_distance(&a.end_row(1), &c.end_row(1));
        (
            Self { gap: Gap { x: [from, mid], beside: a, below: c }, ends: [self.ends[0], middle] },
            Self { gap: Gap { x: [mid, to], beside: b, below: d }, ends: [middle, self.ends[1]] },
        )
    }
}

fn gaps(back: &Back, cuts: &[Cut]) -> impl Iterator<Item = Gap> {
    let of_side = |cut: &Cut, side: Side| {
        let strips = back.strips(side, cut.floor.start(), cut.floor.end(), cut.floor.breaks());
        strips.into_iter().map(|strip| Gap::new(&strip, cut)).collect::<Vec<Gap>>()
    };
    cuts.iter().flat_map(move |cut| back.distinct().iter().flat_map(move |side| of_side(cut, *side)))
}

/// The least wall behind all cuts, proven; `None` where nothing is cut.
pub(super) fn least_wall(back: &Back, cuts: &[Cut], tolerance: f64, budget: usize) -> Option<Proof> {
    least_over(gaps(back, cuts).map(Wall::new), tolerance, budget)
}

/// Whether there is wood behind all cuts everywhere, proven.
pub(super) fn walled(back: &Back, cuts: &[Cut]) -> bool {
    let near = gaps(back, cuts).filter(|gap| !gap.parted()).map(Wall::new);
    nowhere_below(near, f64::MIN_POSITIVE, 1024)
}
