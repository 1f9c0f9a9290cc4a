//! The least value of a polynomial, proven.

use alloc::vec;
use alloc::vec::Vec;

use super::bernstein::Bernstein;

/// A least (or greatest) value, the station where it is taken, and the bound it is proven to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// A value that is really taken, at [`x_mm`](Self::x_mm).
    pub value: f64,
    /// Station where it is taken, mm from the nut.
    pub x_mm: f64,
    /// No value anywhere lies beyond this: below it for a least, above it for a greatest value.
    pub bound: f64,
}

/// Least value over the unit interval: `(value, where, bound)`, the bound within `tolerance` of the value, or
/// within what rounding leaves where the coefficients are so large that this is more.
pub(crate) fn least_on_unit(p: &Bernstein, tolerance: f64) -> (f64, f64, f64) {
    let n = p.degree();
    let (low, high) = p.hull();
    // What rounding may take from a coefficient while the interval is halved, and from an evaluation.
    let slack = 4.0 * (n + 16) as f64 * f64::EPSILON * libm::fabs(low).max(libm::fabs(high));
    let ends = [(p.coefs()[0], 0.0), (p.coefs()[n], 1.0)];
    let mut best = if ends[1].0 < ends[0].0 { ends[1] } else { ends[0] };
    if low >= best.0 {
        return (best.0, best.1, best.0 - slack);
    }
    // Asked for less than rounding leaves, the search would not end.
    let tolerance = tolerance.max(2.0 * slack);
    let mut open: Vec<(Bernstein, f64, f64)> = vec![(p.clone(), 0.0, 1.0)];
    let mut bound = best.0;
    while let Some((q, a, b)) = open.pop() {
        let low = q.hull().0;
        let n = q.degree();
        for (v, t) in [(q.coefs()[0], a), (q.coefs()[n], b)] {
            if v < best.0 {
                best = (v, t);
            }
        }
        if low >= best.0 - tolerance + slack || b - a < 1e-12 {
            bound = bound.min(low);
            continue;
        }
        let (left, right) = q.split(0.5);
        let mid = 0.5 * (a + b);
        open.push((left, a, mid));
        open.push((right, mid, b));
    }
    (best.0, best.1, bound.min(best.0) - slack)
}
