//! The rod's channel and its pocket, and how much wood is left behind them.

use alloc::vec::Vec;

use super::back::{Back, Strip};
use super::outline::Point;
use super::sides::Side;
use crate::law::{Bernstein, Corner, Law, Patch, Proof, Region, least_over, nowhere_below};

/// One straight-sided cut from the top of the neck wood down to a floor.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    /// Half the cut's width, mm.
    pub half: f64,
    /// Depth of its floor below the crown plane, over the stations it covers, mm.
    pub floor: Law,
}

impl Cut {
    /// Half width and floor depth at a station, where the cut is there.
    pub fn at(&self, x: f64) -> Option<[f64; 2]> {
        self.floor.covers(x).then(|| [self.half, self.floor.value(x)])
    }
}

/// Signed distance of a point (outward, depth) from a cut that is open upward: negative inside it.
fn distance(out: f64, depth: f64, half: f64, floor: f64) -> f64 {
    let (beside, below) = (out - half, depth - floor);
    if beside > 0.0 && below > 0.0 { libm::hypot(beside, below) } else { beside.max(below) }
}

/// Least distance between a cut and the back in one section, mm: from the floor, its corners and its sides
/// to the carved back and the flat side. Negative where the cut has come through.
///
/// On every stretch where the distance is one smooth function its least value is at an end, at a foot of a
/// perpendicular from the corner (a root of degree 5), or where the curve turns level or upright.
pub(super) fn wall_in_section(p: &[Point; 4], side: Side, half: f64, floor: f64) -> f64 {
    let out = p.iter().map(|p| side.sign() * p[0] - half).collect::<Bernstein>();
    let below = p.iter().map(|p| -p[1] - floor).collect::<Bernstein>();
    let (dout, dbelow) = (out.derivative(), below.derivative());
    let foot = out.times(&dout).plus(&below.times(&dbelow));
    let mut least = out.coefs()[0];
    for p in [&foot, &dout, &dbelow, &out, &below] {
        for u in p.roots().into_iter().chain([0.0, 1.0]) {
            least = least.min(distance(out.eval(u) + half, below.eval(u) + floor, half, floor));
        }
    }
    least
}

/// A piece of the back with the cut that it has to stay clear of.
#[derive(Clone)]
struct Wall {
    x: [f64; 2],
    around: [f64; 2],
    /// How far the back lies outward of the cut's side, and below its floor.
    beside: Patch,
    below: Patch,
}

impl Wall {
    fn new(strip: &Strip, cut: &Cut) -> Option<Self> {
        let floor = cut.floor.restricted(strip.x[0], strip.x[1])?;
        let [piece] = floor.pieces() else { return None };
        let half = Patch::from_columns(&[Bernstein::constant(cut.half)]);
        let floor = Patch::from_columns(core::slice::from_ref(piece));
        Some(Self {
            x: strip.x,
            around: [0.0, 1.0],
            beside: strip.out.combined(1.0, &half, -1.0),
            below: strip.depth.combined(1.0, &floor, -1.0),
        })
    }

    fn corner(&self, i: usize, beside: f64, below: f64) -> Corner {
        Corner { value: distance(beside, below, 0.0, 0.0), x_mm: self.x[i / 2], around: self.around[i % 2] }
    }
}

impl Region for Wall {
    fn probe(&self) -> Corner {
        let (beside, below) = (self.beside.corners(), self.below.corners());
        let mut best = self.corner(0, beside[0], below[0]);
        for i in 1..4 {
            let corner = self.corner(i, beside[i], below[i]);
            if corner.value < best.value {
                best = corner;
            }
        }
        best
    }

    /// The distance from a rectangle's quarter is at least the reach along any direction between "beside"
    /// and "below"; along the direction from the cut to the middle of the piece it is nearly all of it, and
    /// it is linear in the coordinates, so that Bernstein coefficients bound it.
    fn lower(&self, _aim: f64) -> f64 {
        let middle = |p: &Patch| p.corners().iter().sum::<f64>() / 4.0;
        let (mut a, mut b) = (middle(&self.beside).max(0.0), middle(&self.below).max(0.0));
        let size = libm::hypot(a, b);
        if size == 0.0 {
            // Inside the cut: either coordinate alone bounds the distance.
            return self.beside.hull().0.max(self.below.hull().0);
        }
        (a, b) = (a / size, b / size);
        let along = self.beside.coefs().iter().zip(self.below.coefs());
        let reach = along.map(|(x, y)| a * x + b * y).fold(f64::INFINITY, f64::min);
        reach - 1e-12
    }

    fn halves(self) -> (Self, Self) {
        let spread = |a: usize, b: usize| {
            let (p, q) = (self.beside.corners(), self.below.corners());
            libm::hypot(p[a] - p[b], q[a] - q[b])
        };
        if spread(0, 2).max(spread(1, 3)) > spread(0, 1).max(spread(2, 3)) {
            let mid = 0.5 * (self.x[0] + self.x[1]);
            let ((a, b), (c, d)) = (self.beside.halves_along(), self.below.halves_along());
            (
                Self { x: [self.x[0], mid], beside: a, below: c, ..self },
                Self { x: [mid, self.x[1]], beside: b, below: d, ..self },
            )
        } else {
            let mid = 0.5 * (self.around[0] + self.around[1]);
            let ((a, b), (c, d)) = (self.beside.halves_around(), self.below.halves_around());
            (
                Self { around: [self.around[0], mid], beside: a, below: c, ..self },
                Self { around: [mid, self.around[1]], beside: b, below: d, ..self },
            )
        }
    }
}

fn walls(back: &Back, cuts: &[Cut]) -> Vec<Wall> {
    let mut walls: Vec<Wall> = Vec::new();
    for cut in cuts {
        for side in back.distinct() {
            let strips = back.strips(*side, cut.floor.start(), cut.floor.end(), cut.floor.breaks());
            walls.extend(strips.iter().filter_map(|s| Wall::new(s, cut)));
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
