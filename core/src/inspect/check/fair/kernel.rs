//! Kernels: the shape of a flat or a bump.

use super::super::basis::Along;

/// Of the width, where the kernel has half its height: `√(1 − √½)`.
pub(crate) const HALF_HEIGHT: f64 = 0.541_196_100_146_197;

/// So much of a kernel has to be left by the fair curve for it to be told from one.
pub(super) const LEFT: f64 = 0.25;

pub(super) fn kernel(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

/// One kernel before anything is asked of it: the first place that it touches, where its values begin in a list, and the sum
/// of their squares.
pub(super) struct Kernel {
    pub(super) centre: f64,
    pub(super) width: f64,
    pub(super) first: usize,
    pub(super) begin: usize,
    pub(super) square: f64,
}

/// One kernel on the places that it touches.
pub(super) struct Spot {
    pub(super) centre: f64,
    pub(super) width: f64,
    pub(super) first: usize,
    /// Where its values begin and end.
    pub(super) values: [usize; 2],
    pub(super) square: f64,
    /// What lies along the basis, and what that leaves of the square.
    pub(super) along: Along,
    pub(super) left: f64,
}
