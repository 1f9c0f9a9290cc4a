//! Blends between two values that join both with slope and curvature.

use alloc::vec;

use super::piecewise::{Law, Piece, Smoothness};

/// The largest second derivative of the unit blend, `10/√3`: a blend of height `h` over a run `r` has a
/// second derivative of at most `5.7735·h/r²`.
pub const BLEND_BEND: f64 = 5.773_502_691_896_258;

/// From 0 before `from` to 1 after `to`: the quintic `6t⁵ − 15t⁴ + 10t³` between, never outside `0..=1`,
/// over the stations `start..=end`. Slope and second derivative are zero at both its ends.
///
/// `None` unless `start ≤ from < to ≤ end`.
#[must_use]
pub fn rise(start: f64, from: f64, to: f64, end: f64) -> Option<Law> {
    with_plateaus(start, from, to, end, 0.0, &[0.0, 0.0, 1.0, 1.0, 1.0])
}

/// From 1 before `from` to 0 after `to`; otherwise as [`rise`].
#[must_use]
pub fn fall(start: f64, from: f64, to: f64, end: f64) -> Option<Law> {
    with_plateaus(start, from, to, end, 1.0, &[1.0, 1.0, 0.0, 0.0, 0.0])
}

fn with_plateaus(start: f64, from: f64, to: f64, end: f64, value: f64, coefs: &[f64]) -> Option<Law> {
    let joint = Smoothness::Curvature;
    let mut pieces = vec![];
    if start < from {
        pieces.push(Piece { to: from, coefs: vec![value], joint });
    }
    pieces.push(Piece { to, coefs: coefs.to_vec(), joint });
    if to < end {
        pieces.push(Piece { to: end, coefs: vec![coefs[coefs.len() - 1]], joint });
    }
    (start <= from && to <= end).then(|| Law::from_pieces(start, value, &pieces)).flatten()
}
