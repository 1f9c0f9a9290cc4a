//! How round the back is at its flattest, over a whole stretch of the neck, proven.

use alloc::vec::Vec;

use super::back::{Back, Strip};
use crate::law::{Bernstein, Corner, Patch, Proof, Region, least_above_chord, least_over};

/// A piece of the back: the curvature across the neck is `turn / speed^(3/2)`.
#[derive(Clone)]
struct Roundness {
    x: [f64; 2],
    around: [f64; 2],
    turn: Patch,
    speed: Patch,
    /// The least curvature at both ends of the stretch, and where around the section it is.
    ends: [[f64; 2]; 2],
}

/// Least curvature around one section and where, over the unit interval: at an end or at a root of
/// `N'S − (3/2)·N·S'`.
fn least_around(turn: &Bernstein, speed: &Bernstein) -> [f64; 2] {
    let extreme = turn.derivative().times(speed).minus(&turn.times(&speed.derivative()).times_number(1.5));
    let mut least = [f64::INFINITY, 0.0];
    for u in [0.0, 1.0].into_iter().chain(extreme.roots()) {
        let v = speed.eval(u);
        let curvature = turn.eval(u) / (v * libm::sqrt(v));
        if v > 0.0 && curvature < least[0] {
            least = [curvature, u];
        }
    }
    least
}

impl Roundness {
    fn new(strip: &Strip) -> Self {
        let (dy, dz) = (strip.out.derivative_around(), strip.depth.derivative_around());
        let (ddy, ddz) = (dy.derivative_around(), dz.derivative_around());
        let turn = dy.times(&ddz).combined(1.0, &dz.times(&ddy), -1.0);
        let speed = dy.times(&dy).combined(1.0, &dz.times(&dz), 1.0);
        Self::of(strip.x, [0.0, 1.0], turn, speed)
    }

    fn of(x: [f64; 2], around: [f64; 2], turn: Patch, speed: Patch) -> Self {
        let ends = [0, 1].map(|end| {
            let [least, u] = least_around(&turn.end_row(end), &speed.end_row(end));
            [least, around[0] + u * (around[1] - around[0])]
        });
        Self { x, around, turn, speed, ends }
    }

    /// Whether the speed varies too much over the piece for a bound of the curvature's second derivative.
    fn uneven(&self) -> bool {
        let (slow, fast) = self.speed.hull();
        slow < 0.25 * fast
    }
}

impl Region for Roundness {
    fn probe(&self) -> Corner {
        let end = usize::from(self.ends[1][0] < self.ends[0][0]);
        Corner { value: self.ends[end][0], x_mm: self.x[end], around: self.ends[end][1] }
    }

    /// Along the neck, at one place around it, the curvature `N·S^(−3/2)` bends upward by no more than
    /// `|N''|·S^(−3/2) + 3|N'||S'|·S^(−5/2) + (3/2)|N||S''|·S^(−5/2) + (15/4)|N|S'²·S^(−7/2)`; so the least of all
    /// places lies above the chord between the ends less a parabola.
    fn lower(&self) -> f64 {
        let slow = self.speed.hull().0;
        if self.uneven() || slow <= 0.0 {
            return f64::NEG_INFINITY;
        }
        let (low, high) = self.turn.hull();
        let n = libm::fabs(low).max(libm::fabs(high));
        let ([n1, n2], [s1, s2]) = (self.turn.motion_along(), self.speed.motion_along());
        let ratio = s1 / slow;
        let bend = n2 + 3.0 * n1 * ratio + 1.5 * n * s2 / slow + 3.75 * n * ratio * ratio;
        let power = slow * libm::sqrt(slow);
        least_above_chord(self.ends[0][0], self.ends[1][0], 0.5 * bend / power) - 1e-12
    }

    fn halves(self) -> (Self, Self) {
        let mid = |[a, b]: [f64; 2]| 0.5 * (a + b);
        let [along, around] = self.speed.spreads();
        if self.uneven() && around > along {
            let mid = mid(self.around);
            let ((a, b), (c, d)) = (self.turn.halves_around(), self.speed.halves_around());
            (Self::of(self.x, [self.around[0], mid], a, c), Self::of(self.x, [mid, self.around[1]], b, d))
        } else {
            let mid = mid(self.x);
            let ((a, b), (c, d)) = (self.turn.halves_along(), self.speed.halves_along());
            (Self::of([self.x[0], mid], self.around, a, c), Self::of([mid, self.x[1]], self.around, b, d))
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
