//! How round the back is at its flattest, over a whole stretch of the neck, proven.

use alloc::vec::Vec;

use super::back::{Back, Strip};
use crate::law::{Corner, Patch, Proof, Region, least_over};

/// A piece of the back: the curvature across the neck is `turn / speed^(3/2)`.
#[derive(Clone)]
struct Roundness {
    x: [f64; 2],
    around: [f64; 2],
    turn: Patch,
    speed: Patch,
}

impl Roundness {
    fn new(strip: &Strip) -> Self {
        let (dy, dz) = (strip.out.derivative_around(), strip.depth.derivative_around());
        let (ddy, ddz) = (dy.derivative_around(), dz.derivative_around());
        Self {
            x: strip.x,
            around: [0.0, 1.0],
            turn: dy.times(&ddz).combined(1.0, &dz.times(&ddy), -1.0),
            speed: dy.times(&dy).combined(1.0, &dz.times(&dz), 1.0),
        }
    }
}

fn power(speed: f64) -> f64 {
    speed * libm::sqrt(speed.max(0.0))
}

impl Region for Roundness {
    fn probe(&self) -> Corner {
        let (turn, speed) = (self.turn.corners(), self.speed.corners());
        let value = |i: usize| turn[i] / power(speed[i]);
        let i = (0..4).filter(|i| speed[*i] > 0.0).min_by(|a, b| value(*a).total_cmp(&value(*b)));
        i.map_or(Corner { value: f64::INFINITY, x_mm: self.x[0], around: self.around[0] }, |i| Corner {
            value: value(i),
            x_mm: self.x[i / 2],
            around: self.around[i % 2],
        })
    }

    /// `turn ≥ m·speed^(3/2)` is what has to be shown. The power is convex, so on the piece's range of
    /// speeds it lies under its chord and over its tangent; with the one that is safe for the sign of `m`
    /// the claim becomes linear in two polynomials, and Bernstein coefficients decide it.
    fn lower(&self, aim: f64) -> f64 {
        let (lo, hi) = self.speed.hull();
        let lo = lo.max(0.0);
        let (slope, value) = if aim > 0.0 {
            let slope = if hi > lo { (power(hi) - power(lo)) / (hi - lo) } else { 1.5 * libm::sqrt(lo) };
            (slope, power(lo) - slope * lo)
        } else {
            let mid = 0.5 * (lo + hi);
            (1.5 * libm::sqrt(mid), power(mid) - 1.5 * libm::sqrt(mid) * mid)
        };
        let claim = self.turn.combined(1.0, &self.speed, -aim * slope);
        let slack = 1e-13 * (self.turn.hull().1.abs() + libm::fabs(aim) * power(hi));
        if claim.hull().0 - aim * value >= slack {
            return aim;
        }
        let turn = self.turn.hull().0 - slack;
        let least_power = if turn < 0.0 { power(lo) } else { power(hi) };
        if least_power > 0.0 { turn / least_power } else { f64::NEG_INFINITY }
    }

    fn halves(self) -> (Self, Self) {
        let spread = |p: &Patch, a: usize, b: usize| libm::fabs(p.corners()[a] - p.corners()[b]);
        let of = |a: usize, b: usize| {
            let (t, s) = (self.turn.hull(), self.speed.hull());
            let part =
                |p: &Patch, r: (f64, f64)| spread(p, a, b) / (libm::fabs(r.0) + libm::fabs(r.1)).max(1e-300);
            part(&self.turn, t).max(part(&self.speed, s))
        };
        if of(0, 2).max(of(1, 3)) > of(0, 1).max(of(2, 3)) {
            let mid = 0.5 * (self.x[0] + self.x[1]);
            let ((a, b), (c, d)) = (self.turn.halves_along(), self.speed.halves_along());
            (
                Self { x: [self.x[0], mid], turn: a, speed: c, ..self },
                Self { x: [mid, self.x[1]], turn: b, speed: d, ..self },
            )
        } else {
            let mid = 0.5 * (self.around[0] + self.around[1]);
            let ((a, b), (c, d)) = (self.turn.halves_around(), self.speed.halves_around());
            (
                Self { around: [self.around[0], mid], turn: a, speed: c, ..self },
                Self { around: [mid, self.around[1]], turn: b, speed: d, ..self },
            )
        }
    }
}

/// The least curvature across the back between two stations, 1/mm, proven.
pub(super) fn least_curvature(
    back: &Back,
    [from, to]: [f64; 2],
    tolerance: f64,
    budget: usize,
) -> Option<Proof> {
    let strips = back.distinct().iter().flat_map(|side| back.strips(*side, from, to, &[]));
    let pieces: Vec<Roundness> = strips.map(|s| Roundness::new(&s)).collect();
    least_over(pieces, tolerance, budget)
}
