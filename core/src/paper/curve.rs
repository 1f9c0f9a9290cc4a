//! Curves along the neck as polylines.

use alloc::vec;
use alloc::vec::Vec;

use super::path::Point;
use crate::law::{Bernstein, Law};

/// How far a drawn curve along the neck may lie off the true one, mm.
pub const CHORD_MM: f64 = 0.0005;

/// Equal pieces that bring a chord error which falls with their square below [`CHORD_MM`].
fn pieces(error: f64) -> usize {
    let n = libm::ceil(libm::sqrt(error / CHORD_MM));
    if n.is_nan() { 1 } else { n.clamp(1.0, 2048.0) as usize }
}

/// Stations and values of a law from one station to another, so close together that the straight lines between them
/// lie within [`CHORD_MM`] of it. On a piece of degree `d` the second derivative is no greater than `d(d − 1)` times
/// the greatest second difference of the coefficients, and a chord over `1/n` of it errs by an eighth of that over `n²`.
pub(super) fn law(law: &Law, from: f64, to: f64) -> Vec<Point> {
    let Some(part) = law.restricted(from, to) else { return Vec::new() };
    let mut points = vec![[from, part.value(from)]];
    for (x, piece) in part.breaks().windows(2).zip(part.pieces()) {
        let n = pieces(bend(piece) / 8.0);
        for i in 1..=n {
            let t = i as f64 / n as f64;
            points.push([if i == n { x[1] } else { x[0] + t * (x[1] - x[0]) }, piece.eval(t)]);
        }
    }
    points
}

fn bend(piece: &Bernstein) -> f64 {
    let d = piece.degree() as f64;
    let second = piece.coefs().windows(3).map(|c| libm::fabs(c[0] - 2.0 * c[1] + c[2]));
    d * (d - 1.0) * second.fold(0.0, f64::max)
}

/// The same for a function that is no law, smooth between the stations given: the second derivative is taken from
/// the second differences of 64 pieces, and twice the greatest is allowed for.
pub(super) fn function(f: impl Fn(f64) -> f64, stations: &[f64]) -> Vec<Point> {
    const LOOK: usize = 64;
    let mut points: Vec<Point> = Vec::new();
    for w in stations.windows(2).filter(|w| w[0] < w[1]) {
        let at = |i: usize, n: usize| if i == n { w[1] } else { w[0] + (w[1] - w[0]) * i as f64 / n as f64 };
        let seen: Vec<f64> = (0..=LOOK).map(|i| f(at(i, LOOK))).collect();
        let second = seen.windows(3).map(|v| libm::fabs(v[0] - 2.0 * v[1] + v[2])).fold(0.0, f64::max);
        // What rounding leaves of a straight line is not a bend.
        let second = if second < 1e-9 { 0.0 } else { 2.0 * second };
        let n = pieces(second * (LOOK * LOOK) as f64 / 8.0);
        for i in usize::from(!points.is_empty())..=n {
            let x = at(i, n);
            points.push([x, f(x)]);
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::law::rise;

    fn worst(points: &[Point], f: impl Fn(f64) -> f64) -> f64 {
        let mut worst = 0.0;
        for w in points.windows(2) {
            for i in 0..=8 {
                let t = f64::from(i) / 8.0;
                let [x, y] = [0, 1].map(|k| w[0][k] + t * (w[1][k] - w[0][k]));
                worst = f64::max(worst, libm::fabs(y - f(x)));
            }
        }
        worst
    }

    #[test]
    fn chords_keep_their_promise() {
        let blend = rise(0.0, 10.0, 40.0, 60.0).unwrap().times_number(25.0);
        let points = law(&blend, 5.0, 55.0);
        assert!(worst(&points, |x| blend.value(x)) <= CHORD_MM);
        assert!(points.len() < 400, "{} points are needlessly many", points.len());
        let round = |x: f64| libm::sqrt(305.0 * 305.0 - x * x);
        let points = function(round, &[-30.0, 0.0, 30.0]);
        assert!(worst(&points, round) <= CHORD_MM);
        assert_eq!(function(|x| 3.0 - x, &[0.0, 10.0]).len(), 2);
    }
}
