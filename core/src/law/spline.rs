//! The natural and the clamped cubic spline through given points.

use alloc::vec;
use alloc::vec::Vec;

use super::piecewise::{Law, Piece, Smoothness};

/// The natural cubic spline through `(station, value)` points: of all curves through them with a continuous second
/// derivative the one that bends least (`∫f″²` is least; Holladay's theorem), its second derivative zero at both ends.
///
/// It is linear in the values, so that what is asked of the values may be asked of the curve. It can leave their range
/// between two points: [`through`](super::through) never does.
///
/// `None` for fewer than two points, stations that do not rise, or numbers that are not finite.
#[must_use]
pub fn natural_spline(points: &[(f64, f64)]) -> Option<Law> {
    spline(points, None)
}

/// The cubic spline through `(station, value)` points that has the given slopes at both ends: with a continuous second
/// derivative, and off a smooth curve with those values and slopes by `5/384·h⁴·max|f⁗|` at most (Hall, J. Approximation
/// Theory 1 (1968) 209).
///
/// `None` for fewer than two points, stations that do not rise, or numbers that are not finite.
#[must_use]
pub fn clamped_spline(points: &[(f64, f64)], slopes: [f64; 2]) -> Option<Law> {
    spline(points, Some(slopes))
}

fn spline(points: &[(f64, f64)], slopes: Option<[f64; 2]>) -> Option<Law> {
    let rising = points.windows(2).all(|w| w[0].0 < w[1].0);
    if points.len() < 2 || !rising {
        return None;
    }
    let bends = second_derivatives(points, slopes);
    let joint = Smoothness::Curvature;
    let pieces: Vec<Piece> = points
        .windows(2)
        .zip(bends.windows(2))
        .map(|(w, bend)| {
            let ((x0, f0), (x1, f1)) = (w[0], w[1]);
            let (h, secant) = (x1 - x0, (f1 - f0) / (x1 - x0));
            let coefs = if bend[0] == 0.0 && bend[1] == 0.0 {
                vec![f1]
            } else {
                let start = secant - h * (2.0 * bend[0] + bend[1]) / 6.0;
                let end = secant + h * (bend[0] + 2.0 * bend[1]) / 6.0;
                vec![f0 + h * start / 3.0, f1 - h * end / 3.0, f1]
            };
            Piece { to: x1, coefs, joint }
        })
        .collect();
    Law::from_pieces(points[0].0, points[0].1, &pieces)
}

/// The second derivatives at the points, from the tridiagonal equations that make the slopes continuous; at the ends those
/// that give the slopes there, or none.
fn second_derivatives(points: &[(f64, f64)], slopes: Option<[f64; 2]>) -> Vec<f64> {
    let n = points.len();
    let h: Vec<f64> = points.windows(2).map(|w| w[1].0 - w[0].0).collect();
    let m: Vec<f64> = points.windows(2).map(|w| (w[1].1 - w[0].1) / (w[1].0 - w[0].0)).collect();
    let (mut bends, mut upper) = (vec![0.0; n], vec![0.0; n]);
    if let Some([first, _]) = slopes {
        // 2h·b₀ + h·b₁ = 6(m₀ − slope)
        (bends[0], upper[0]) = (3.0 * (m[0] - first) / h[0], 0.5);
    }
    for i in 1..n - 1 {
        let pivot = 2.0 * (h[i - 1] + h[i]) - h[i - 1] * upper[i - 1];
        upper[i] = h[i] / pivot;
        bends[i] = (6.0 * (m[i] - m[i - 1]) - h[i - 1] * bends[i - 1]) / pivot;
    }
    if let Some([_, last]) = slopes {
        let (h, m) = (h[n - 2], m[n - 2]);
        bends[n - 1] = (6.0 * (last - m) / h - bends[n - 2]) / (2.0 - upper[n - 2]);
    }
    for i in (0..n - 1).rev() {
        bends[i] -= upper[i] * bends[i + 1];
    }
    bends
}
