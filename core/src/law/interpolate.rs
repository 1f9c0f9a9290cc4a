//! A fair curve through given points that never dips between two of them.

use alloc::vec;
use alloc::vec::Vec;

use super::bernstein::Bernstein;
use super::piecewise::{Law, Piece, Smoothness};

/// What the curve does at one of its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EndSlope {
    /// The slope follows from the points; the second derivative is zero.
    Natural,
    /// This slope, and a second derivative of zero, so that a straight line of this slope goes on
    /// smoothly. The curve may leave the points' range next to an end whose slope points out of it.
    Given(f64),
}

/// The piecewise quintic through `(station, value)` points, continuous to the second derivative.
///
/// Between two points it never leaves the range of their values, so it has no dip and no bump that the
/// points have not (a [`EndSlope::Given`] slope that points out of it aside). Points on one line give
/// that line to the last bit or two. The slopes and second derivatives are those of parabolas through three neighbours, drawn back
/// until the Bernstein coefficients of every piece rise or fall in order, which is enough for monotony
/// (the idea of Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238, carried to quintics).
///
/// `None` for fewer than two points, stations that do not rise, or numbers that are not finite.
#[must_use]
pub fn through(points: &[(f64, f64)], left: EndSlope, right: EndSlope) -> Option<Law> {
    let n = points.len();
    let rising = points.windows(2).all(|w| w[0].0 < w[1].0);
    if n < 2 || !rising {
        return None;
    }
    let h: Vec<f64> = points.windows(2).map(|w| w[1].0 - w[0].0).collect();
    let m: Vec<f64> = points.windows(2).map(|w| (w[1].1 - w[0].1) / (w[1].0 - w[0].0)).collect();
    let on_line: Vec<bool> = (0..n).map(|i| i == 0 || i == n - 1 || on_a_line(points, i)).collect();
    let (d, c) = shape_preserving(&h, &m, &on_line, left, right);
    let mut pieces = Vec::with_capacity(n - 1);
    for i in 0..n - 1 {
        let (f0, f1) = (points[i].1, points[i + 1].1);
        let straight = on_line[i] && on_line[i + 1] && c[i] == 0.0 && c[i + 1] == 0.0;
        let free = |end: EndSlope, slope: f64| match end {
            EndSlope::Natural => true,
            EndSlope::Given(_) => slope == m[i],
        };
        let straight = straight && (i > 0 || free(left, d[0])) && (i + 2 < n || free(right, d[n - 1]));
        let coefs = if straight {
            vec![f1]
        } else {
            let full = Bernstein::hermite(
                [f0, h[i] * d[i], h[i] * h[i] * c[i]],
                [f1, h[i] * d[i + 1], h[i] * h[i] * c[i + 1]],
            );
            full.coefs()[1..].to_vec()
        };
        pieces.push(Piece { to: points[i + 1].0, coefs, joint: Smoothness::Curvature });
    }
    Law::from_pieces(points[0].0, points[0].1, &pieces)
}

/// Whether an inner point lies on the line through its neighbours, as well as rounding can tell.
fn on_a_line(points: &[(f64, f64)], i: usize) -> bool {
    let ((x0, f0), (x1, f1), (x2, f2)) = (points[i - 1], points[i], points[i + 1]);
    let line = f0 + (f2 - f0) * ((x1 - x0) / (x2 - x0));
    libm::fabs(f1 - line) <= 3.0 * f64::EPSILON * libm::fabs(f0).max(libm::fabs(f2))
}

/// Slopes and second derivatives at the points.
fn shape_preserving(
    h: &[f64],
    m: &[f64],
    on_line: &[bool],
    left: EndSlope,
    right: EndSlope,
) -> (Vec<f64>, Vec<f64>) {
    let n = h.len() + 1;
    let mut d = vec![0.0; n];
    let mut c = vec![0.0; n];
    for i in 1..n - 1 {
        let (a, b) = (m[i - 1], m[i]);
        if a * b > 0.0 {
            let parabola = (a * h[i] + b * h[i - 1]) / (h[i - 1] + h[i]);
            d[i] = limited(parabola, if libm::fabs(a) < libm::fabs(b) { a } else { b });
        }
        c[i] = if on_line[i] { 0.0 } else { 2.0 * (b - a) / (h[i - 1] + h[i]) };
    }
    let end = |given: EndSlope, secant: f64, inner: f64| match given {
        EndSlope::Given(slope) => slope,
        EndSlope::Natural if n == 2 => secant,
        EndSlope::Natural => {
            let free = 1.5 * secant - 0.5 * inner;
            if free * secant > 0.0 { limited(free, secant) } else { 0.0 }
        }
    };
    d[0] = end(left, m[0], d[1]);
    d[n - 1] = end(right, m[n - 2], d[n - 2]);
    draw_back(h, m, &d, &mut c);
    (d, c)
}

/// The slope, no steeper than 1.25 of the secant: two such ends leave the middle coefficients in order.
fn limited(slope: f64, secant: f64) -> f64 {
    if libm::fabs(slope) <= 1.25 * libm::fabs(secant) { slope } else { 1.25 * secant }
}

/// Shrinks the second derivatives until the coefficients of every piece are in order.
fn draw_back(h: &[f64], m: &[f64], d: &[f64], c: &mut [f64]) {
    // b1 ≤ b2 and b3 ≤ b4 bound each second derivative alone.
    for i in 0..h.len() {
        let sign = if m[i] < 0.0 { -1.0 } else { 1.0 };
        let floor = -4.0 * (sign * d[i]).max(0.0) / h[i];
        let roof = 4.0 * (sign * d[i + 1]).max(0.0) / h[i];
        c[i] = sign * (sign * c[i]).max(floor);
        c[i + 1] = sign * (sign * c[i + 1]).min(roof);
    }
    // b2 ≤ b3 bounds the two ends together; both are scaled by what there is room for.
    let mut scale = vec![1.0_f64; c.len()];
    for i in 0..h.len() {
        let sign = if m[i] < 0.0 { -1.0 } else { 1.0 };
        let room = (sign * (m[i] - 0.4 * (d[i] + d[i + 1]))).max(0.0);
        let need = h[i] * ((sign * c[i]).max(0.0) + (-sign * c[i + 1]).max(0.0)) / 20.0;
        if need > room {
            let k = room / need;
            scale[i] = scale[i].min(k);
            scale[i + 1] = scale[i + 1].min(k);
        }
    }
    for (c, k) in c.iter_mut().zip(&scale) {
        *c *= k;
    }
}
