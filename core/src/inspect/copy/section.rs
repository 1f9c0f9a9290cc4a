//! A section by its few quantities: what an instrument reads of it, and how that changes with each of them.

use alloc::vec::Vec;
use core::cell::OnceCell;

use crate::inspect::Measured;
use crate::law::gauss16;
use crate::shape::{Point, Side, cubic_at, cubic_foot, cubic_shares, cubic_slope};

/// The quantities of a section.
pub(super) const LOCALS: usize = 13;
pub(super) type Local = [f64; LOCALS];
pub(super) const HALF: usize = 0;
pub(super) const SPINE: usize = 1;
pub(super) const BASS_LINE: usize = 2;
pub(super) const TREBLE_LINE: usize = 3;
pub(super) const SHOULDER: usize = 4;
pub(super) const BELLY: usize = 5;
pub(super) const LEAN: usize = 6;
pub(super) const OFFSET: usize = 7;
pub(super) const RATIO: usize = 8;
pub(super) const TREBLE_SHOULDER: usize = 9;
pub(super) const TREBLE_BELLY: usize = 10;
pub(super) const TREBLE_LEAN: usize = 11;
/// One over the board's radius.
pub(super) const CROWN: usize = 12;

/// How the treble side follows from the bass side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Treble {
    Mirror,
    Smooth,
    Creased,
}

/// The four control points of either side, `[outward, depth]`, as the neck has them.
pub(super) fn control_points(l: &Local, treble: Treble) -> [[Point; 4]; 2] {
    let (w, t, y0) = (l[HALF], l[SPINE], l[OFFSET]);
    let flank = |s: f64, rise: f64, reach: f64, lean: f64, ridge: f64| {
        [[w, s], [(1.0 - lean) * w, t - rise], [ridge + reach, t], [ridge, t]]
    };
    let (rise, reach) = ((1.0 - l[SHOULDER]) * (t - l[BASS_LINE]), l[BELLY] * (w + y0));
    let s = l[TREBLE_LINE];
    let other = match treble {
        Treble::Mirror => flank(s, rise, reach, l[LEAN], y0),
        Treble::Smooth => flank(s, l[RATIO] * l[RATIO] * rise, l[RATIO] * reach, l[TREBLE_LEAN], y0),
        Treble::Creased => {
            flank(s, (1.0 - l[TREBLE_SHOULDER]) * (t - s), l[TREBLE_BELLY] * (w - y0), l[TREBLE_LEAN], y0)
        }
    };
    [flank(l[BASS_LINE], rise, reach, l[LEAN], -y0), other]
}

/// Whether a side turns the wrong way at its first handle.
pub(super) fn is_hollow(sides: &[[Point; 4]; 2]) -> bool {
    sides
        .iter()
        .any(|p| (p[1][0] - p[0][0]) * (p[2][1] - p[1][1]) < (p[1][1] - p[0][1]) * (p[2][0] - p[1][0]))
}

/// A step in each quantity for differences: small enough for what bends, large enough for what rounds.
const STEPS: Local = [1e-5, 1e-5, 1e-5, 1e-5, 1e-6, 1e-6, 1e-6, 1e-5, 1e-6, 1e-6, 1e-6, 1e-6, 1e-9];

/// Parts of a side's cubic.
const PARTS: usize = 8;

/// A quantity, and how a side's control points go with it.
type Turn = (usize, [Point; 4]);

/// A section ready to be read.
pub(super) struct Cut {
    local: Local,
    treble: Treble,
    points: [[Point; 4]; 2],
    /// Places of either side where the search for a nearest one begins; made when the first point is read.
    begun: [OnceCell<[Point; PARTS + 1]>; 2],
    /// How the control points of either side go with the quantities that move them; only where it is asked for.
    turns: Option<[Vec<Turn>; 2]>,
}

/// The outward normal of a side at a place.
fn normal(p: &[Point; 4], u: f64) -> Option<Point> {
    let t = cubic_slope(p, u);
    let size = libm::hypot(t[0], t[1]);
    (size > 0.0).then(|| [t[1] / size, -t[0] / size])
}

fn length(p: &[Point; 4]) -> f64 {
    let speed = |u: f64| {
        let t = cubic_slope(p, u);
        libm::hypot(t[0], t[1])
    };
    gauss16(0.0, 0.5, speed) + gauss16(0.5, 1.0, speed)
}

/// The depth of a circle of this curvature below its top.
fn sagitta(curvature: f64, y: f64) -> f64 {
    let k = curvature * y;
    curvature * y * y / (1.0 + libm::sqrt((1.0 - k) * (1.0 + k)))
}

impl Cut {
    pub fn new(local: &Local, treble: Treble, with_turns: bool) -> Self {
        let points = control_points(local, treble);
        let turns = with_turns.then(|| {
            let mut turns = [0, 1].map(|_| Vec::<Turn>::with_capacity(LOCALS));
            for i in 0..LOCALS {
                let mut moved = *local;
                moved[i] += STEPS[i];
                let there = control_points(&moved, treble);
                let step = moved[i] - local[i];
                for (side, turns) in turns.iter_mut().enumerate() {
                    let (here, there) = (points[side], there[side]);
                    if here != there {
                        let turn = |k: usize| [0, 1].map(|c| (there[k][c] - here[k][c]) / step);
                        turns.push((i, core::array::from_fn(turn)));
                    }
                }
            }
            turns
        });
        Self { local: *local, treble, points, begun: [const { OnceCell::new() }; 2], turns }
    }

    /// How far a place of a side goes outward with each quantity.
    fn outward(&self, side: usize, u: f64, n: Point) -> Local {
        let mut out = [0.0; LOCALS];
        let Some(turns) = &self.turns else { return out };
        let b = cubic_shares(u);
        for (i, turn) in &turns[side] {
            out[*i] = (0..4).map(|k| b[k] * (n[0] * turn[k][0] + n[1] * turn[k][1])).sum();
        }
        out
    }

    /// A place of a side's surface, `[across, depth]`, and how far it goes outward with each quantity.
    pub fn surface(&self, side: Side, u: f64) -> Option<(Point, Local)> {
        let i = usize::from(side == Side::Treble);
        let p = &self.points[i];
        let [y, q] = cubic_at(*p, u);
        Some(([side.sign() * y, q], self.outward(i, u, normal(p, u)?)))
    }

    /// What is left of a reading over what the section gives, mm, and how what it gives changes with each quantity (all
    /// zero unless asked for). Of a point it is the distance from the outline, positive outside.
    pub fn compare(&self, measured: &Measured, value: f64) -> (f64, Local) {
        let l = &self.local;
        let one = |i: usize, d: f64| {
            let mut turn = [0.0; LOCALS];
            turn[i] = d;
            turn
        };
        match measured {
            Measured::Thickness => (value - l[SPINE], one(SPINE, 1.0)),
            Measured::Width => (value - 2.0 * l[HALF], one(HALF, 2.0)),
            Measured::CarveLine(Side::Bass) => (value - l[BASS_LINE], one(BASS_LINE, 1.0)),
            Measured::CarveLine(Side::Treble) => (value - l[TREBLE_LINE], one(TREBLE_LINE, 1.0)),
            Measured::Radius => {
                let radius = 1.0 / l[CROWN];
                (value - radius, one(CROWN, -radius * radius))
            }
            Measured::Girth => {
                let girth = self.girth();
                let turn = if self.turns.is_some() {
                    core::array::from_fn(|i| {
                        let mut moved = *l;
                        moved[i] += STEPS[i];
                        let step = moved[i] - l[i];
                        (Self::new(&moved, self.treble, false).girth() - girth) / step
                    })
                } else {
                    [0.0; LOCALS]
                };
                (value - girth, turn)
            }
            Measured::Point { across_mm } => self.distance(*across_mm, value),
        }
    }

    fn girth(&self) -> f64 {
        let l = &self.local;
        let top = sagitta(l[CROWN], l[HALF]);
        let flat = |line: f64| line - top;
        flat(l[BASS_LINE]) + flat(l[TREBLE_LINE]) + length(&self.points[0]) + length(&self.points[1])
    }

    /// The place of a side nearest to a point: the best of nine, then the foot of the perpendicular between its neighbours.
    fn nearest(&self, side: usize, [y, q]: Point) -> f64 {
        let p = &self.points[side];
        let at = |i: usize| i as f64 / PARTS as f64;
        let begun = self.begun[side].get_or_init(|| core::array::from_fn(|i| cubic_at(*p, at(i))));
        let gaps = begun.map(|[v, w]| (v - y) * (v - y) + (w - q) * (w - q));
        let (mut best, mut least) = (0, f64::INFINITY);
        for (i, gap) in gaps.into_iter().enumerate() {
            if gap < least {
                (best, least) = (i, gap);
            }
        }
        cubic_foot(p, [y, q], at(best), [at(best.saturating_sub(1)), at((best + 1).min(PARTS))])
    }

    fn distance(&self, across: f64, depth: f64) -> (f64, Local) {
        let l = &self.local;
        let treble = across >= l[OFFSET];
        let (side, y) = if treble { (1, across) } else { (0, -across) };
        let p = &self.points[side];
        let w = l[HALF];
        // The carved part.
        let u = self.nearest(side, [y, depth]);
        let foot = cubic_at(*p, u);
        let away = [y - foot[0], depth - foot[1]];
        let carved = libm::hypot(away[0], away[1]);
        // The flat part of the side, and the board's face above it.
        let top = sagitta(l[CROWN], w);
        let beside = depth.max(top.min(p[0][1])).min(p[0][1]);
        let flat = libm::hypot(y - w, depth - beside);
        let face = (libm::fabs(across) < w).then(|| face_distance(l[CROWN], across, depth));
        if let Some((off, turn)) = face
            && libm::fabs(off) < flat
            && libm::fabs(off) < carved
        {
            let mut all = [0.0; LOCALS];
            all[CROWN] = turn;
            return (off, all);
        }
        let mut turn = [0.0; LOCALS];
        if flat < carved {
            if beside == depth {
                turn[HALF] = 1.0;
                return (y - w, turn);
            }
            // Nearest to the edge's corner.
            let n = [(y - w) / flat, (depth - beside) / flat];
            turn[HALF] = n[0];
            return (flat, turn);
        }
        if u <= 0.0 && carved > 0.0 && flat <= carved {
            // Nearest to the corner at the carve line.
            let n = [away[0] / carved, away[1] / carved];
            return (carved, self.outward(side, 0.0, n));
        }
        let Some(n) = normal(p, u) else { return (carved, turn) };
        let off = away[0] * n[0] + away[1] * n[1];
        (off, self.outward(side, u, n))
    }
}

/// Distance above the board's face, positive outside, in the form that loses no digits where it is nearly flat, and how the
/// face rises with its curvature.
fn face_distance(curvature: f64, y: f64, depth: f64) -> (f64, f64) {
    let off =
        |k: f64| (k * (y * y + depth * depth) - 2.0 * depth) / (libm::hypot(k * y, k * depth - 1.0) + 1.0);
    let step = STEPS[CROWN];
    let here = off(curvature);
    (here, -(off(curvature + step) - here) / step)
}
