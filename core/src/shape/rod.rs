//! The rod's channel and its pocket, and how much wood is left behind them.

use alloc::vec::Vec;

use serde::ser::SerializeStruct;

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

impl serde::Serialize for Cut {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Cut", 3)?;
        out.serialize_field("reach_mm", &self.reach_mm())?;
        out.serialize_field("half_width_mm", &self.half)?;
        out.serialize_field("floor_depth_mm", &self.floor)?;
        out.end()
    }
}

impl Cut {
    /// The same with its floor changed.
    pub(crate) fn with_floor(&self, f: impl Fn(&Law) -> Option<Law>) -> Option<Self> {
        Some(Self { half: self.half, floor: f(&self.floor)? })
    }

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

/// Least distance between a cut and a piece of one side of the back in one section, mm, from how far the piece's
/// control points lie outward of the cut and below its floor: the floor, its corners and its sides against
/// the carved back. Negative where the cut has come through.
///
/// On every stretch where the distance is one smooth function its least value is at an end, at a foot of a
/// perpendicular from the corner (a root of degree 5), where the curve turns level or upright, or where one
/// such stretch meets another.
fn least_distance(beside: &Bernstein, below: &Bernstein) -> f64 {
    let (dbeside, dbelow) = (beside.derivative(), below.derivative());
    let foot = beside.times(&dbeside).plus(&below.times(&dbelow));
    let mut least = f64::INFINITY;
    for u in [0.0, 1.0] {
        least = least.min(distance(beside.eval(u), below.eval(u)));
    }
    for p in [&foot, &dbeside, &dbelow, beside, below, &beside.minus(below)] {
        for u in p.roots() {
            least = least.min(distance(beside.eval(u), below.eval(u)));
        }
    }
    least
}

/// [`least_distance`] for a whole side of a section, with the flat side above its carve line.
fn least_of_side(beside: &Bernstein, below: &Bernstein) -> f64 {
    least_distance(beside, below).min(beside.coefs()[0])
}

/// [`least_of_side`] for a section's control points.
pub(super) fn wall_in_section(p: &[Point; 4], side: Side, half: f64, floor: f64) -> f64 {
    let beside = p.iter().map(|p| side.sign() * p[0] - half).collect();
    let below = p.iter().map(|p| -p[1] - floor).collect();
    least_of_side(&beside, &below)
}

/// How far a strip of the back lies outward of a cut's side, and below its floor, square to it.
fn offsets(strip: &Strip, half: f64, floor: Bernstein, square: f64) -> [Patch; 2] {
    let half = Patch::from_columns(&[Bernstein::constant(half)]);
    let floor = Patch::from_columns(&[floor]);
    [strip.out.combined(1.0, &half, -1.0), strip.depth.combined(square, &floor, -square)]
}

/// [`offsets`] of a strip behind the cut itself.
fn behind(strip: &Strip, cut: &Cut) -> [Patch; 2] {
    // Strips end wherever the floor has a joint, so that one piece of it covers each; were it not so, the
    // deepest floor anywhere would still prove no more wood than there is.
    let floor = cut.floor.restricted(strip.x[0], strip.x[1]).filter(|f| f.pieces().len() == 1);
    let floor = match floor {
        Some(floor) => floor.pieces()[0].clone(),
        None => Bernstein::constant(cut.floor.greatest(1e-6).bound),
    };
    // Square to the steepest part of this piece of the floor: exact on a straight floor, and on a curved one
    // never more than there is.
    let (low, high) = floor.derivative().hull();
    let slope = libm::fabs(low).max(libm::fabs(high)) / (strip.x[1] - strip.x[0]);
    offsets(strip, cut.half, floor, 1.0 / libm::sqrt(1.0 + slope * slope))
}

/// Whether a plane along the cut's corner has all of the strip on its other side, which is quickly told and
/// nearly always so. Where not, there may be wood all the same.
fn parted([beside, below]: &[Patch; 2]) -> bool {
    // The plane is parallel to the chord from the carve line to the spine, each where it is nearest.
    let nearest = |patch: &Patch| {
        let (a, b) = (patch.end_row(0), patch.end_row(1));
        [0, a.degree()].map(|i| a.coefs()[i].min(b.coefs()[i]))
    };
    let (out, down) = (nearest(beside), nearest(below));
    let normal = [down[1] - down[0], out[0] - out[1]];
    // The flat side above the carve line goes straight up from it.
    let around = beside.end_row(0).degree() + 1;
    let side = beside.coefs().iter().step_by(around).all(|c| *c > 0.0);
    side && normal.iter().all(|n| *n >= 0.0) && beside.combined(normal[0], below, normal[1]).hull().0 > 1e-6
}

/// A piece of one side of the back with the cut that it has to stay clear of.
#[derive(Clone)]
struct Wall {
    x: [f64; 2],
    around: [f64; 2],
    /// How far the back lies outward of the cut's side, and below its floor, square to it.
    beside: Patch,
    below: Patch,
    /// The station of the cut's end wall where the piece lies beyond it.
    end_wall: Option<f64>,
    /// The distances at both ends of the piece.
    ends: [f64; 2],
}

impl Wall {
    /// A piece behind the cut itself.
    fn behind(strip: &Strip, cut: &Cut) -> Self {
        let [beside, below] = behind(strip, cut);
        Self::of(strip.x, [0.0, 1.0], beside, below, None)
    }

    /// A piece beyond one of the cut's ends.
    fn beyond(strip: &Strip, cut: &Cut, end_wall: f64) -> Self {
        let floor = Bernstein::constant(cut.floor.value(end_wall));
        let [beside, below] = offsets(strip, cut.half, floor, 1.0);
        Self::of(strip.x, [0.0, 1.0], beside, below, Some(end_wall))
    }

    fn of(x: [f64; 2], around: [f64; 2], beside: Patch, below: Patch, end_wall: Option<f64>) -> Self {
        // The flat side belongs to the piece that begins at the carve line.
        let least = if around[0] == 0.0 { least_of_side } else { least_distance };
        let ends = [0, 1].map(|end| {
            let in_section = least(&beside.end_row(end), &below.end_row(end));
            end_wall.map_or(in_section, |wall| libm::hypot(x[end] - wall, in_section.max(0.0)))
        });
        Self { x, around, beside, below, end_wall, ends }
    }

    /// Bounds of the first derivative of both distances over the piece, and of the size of the second, mm.
    fn motion(&self) -> ([f64; 2], f64) {
        let still = |p: &Patch| if p.hull().1 <= 0.0 { [0.0; 2] } else { p.motion_along() };
        // A distance that is nowhere above zero on the piece takes no part in the whole.
        let (a, b) = (still(&self.beside), still(&self.below));
        ([a[0], b[0]], libm::hypot(a[1], b[1]))
    }
}

impl Region for Wall {
    fn probe(&self) -> Corner {
        let end = usize::from(self.ends[1] < self.ends[0]);
        Corner { value: self.ends[end], x_mm: self.x[end], around: f64::NAN }
    }

    /// Between two stations the squared distance of any one line along the back bends upward by no more than
    /// `2(|v'|² + |v|·|v''|)`, so that the least of all of them lies above the chord between the ends less
    /// `(x − a)(b − x)` times half of that. A line that comes nearer inside the piece than both ends are is
    /// nowhere on it further off than that and what it can move. And the distance is never less than either
    /// of its two parts, which is the better bound where back and floor are parallel.
    fn lower(&self) -> f64 {
        let [a, b] = self.ends;
        // On the flat side, which goes with the carve line, only the way out counts.
        let below = if self.around[0] == 0.0 { f64::NEG_INFINITY } else { self.below.hull().0 };
        let part = self.beside.hull().0.max(below) - 1e-11;
        if a.is_nan() || b.is_nan() || a <= 0.0 || b <= 0.0 {
            return part;
        }
        let ([beside, below], second) = self.motion();
        let along = if self.end_wall.is_some() { self.x[1] - self.x[0] } else { 0.0 };
        let square = along * along + beside * beside + below * below;
        let near = a.min(b) + libm::sqrt(square);
        let least = least_above_chord(a * a, b * b, square + near * second);
        if least > 0.0 { part.max(libm::sqrt(least) - 1e-11) } else { part }
    }

    fn halves(self) -> (Self, Self) {
        let mid = |[a, b]: [f64; 2]| 0.5 * (a + b);
        let ([beside, below], _) = self.motion();
        // Where the sides flare, what is far off moves most: part it from what is near.
        if beside > 2.0 * below && self.around[1] - self.around[0] > 0.04 {
            let mid = mid(self.around);
            let ((a, b), (c, d)) = (self.beside.halves_around(), self.below.halves_around());
            return (
                Self::of(self.x, [self.around[0], mid], a, c, self.end_wall),
                Self::of(self.x, [mid, self.around[1]], b, d, self.end_wall),
            );
        }
        let mid = mid(self.x);
        let ((a, b), (c, d)) = (self.beside.halves_along(), self.below.halves_along());
        (
            Self::of([self.x[0], mid], self.around, a, c, self.end_wall),
            Self::of([mid, self.x[1]], self.around, b, d, self.end_wall),
        )
    }
}

/// The back behind a cut.
fn strips_behind(back: &Back, cut: &Cut) -> Vec<Strip> {
    let [from, to] = cut.reach_mm();
    back.distinct().iter().flat_map(|side| back.strips(*side, from, to, cut.floor.breaks())).collect()
}

/// All pieces of the back beyond the cut's ends that may come nearer to it than `near`.
fn beyond(back: &Back, cut: &Cut, near: f64) -> Vec<Wall> {
    let [from, to] = cut.reach_mm();
    let ([start, end], mut walls) = ([back.spine.start(), back.spine.end()], Vec::new());
    for (end_wall, a, b) in [(from, (from - near).max(start), from), (to, to, (to + near).min(end))] {
        let strips = back.distinct().iter().flat_map(|side| back.strips(*side, a, b, &[]));
        walls.extend(strips.map(|s| Wall::beyond(&s, cut, end_wall)));
    }
    walls
}

/// The least wall around all cuts, in space, proven; `None` where nothing is cut.
pub(super) fn least_wall(back: &Back, cuts: &[Cut], tolerance: f64, budget: usize) -> Option<Proof> {
    let of_cut =
        |cut: &Cut| strips_behind(back, cut).iter().map(|s| Wall::behind(s, cut)).collect::<Vec<Wall>>();
    let mut walls: Vec<Wall> = cuts.iter().flat_map(of_cut).collect();
    let near = walls.iter().map(|w| w.probe().value).fold(f64::INFINITY, f64::min).max(0.0);
    walls.extend(cuts.iter().flat_map(|cut| beyond(back, cut, near)));
    least_over(walls, tolerance, budget)
}

/// Whether there is wood behind all cuts everywhere, proven.
pub(super) fn walled(back: &Back, cuts: &[Cut]) -> bool {
    cuts.iter().all(|cut| {
        let strips = strips_behind(back, cut);
        let near = strips.iter().filter(|strip| !parted(&behind(strip, cut)));
        !strips.is_empty() && nowhere_below(near.map(|s| Wall::behind(s, cut)), f64::MIN_POSITIVE, 1024)
    })
}
