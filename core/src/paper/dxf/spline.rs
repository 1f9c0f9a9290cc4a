//! Cubics that run on from each other, as one B-spline.

use alloc::vec;
use alloc::vec::Vec;

use super::super::path::Point;

/// How far the joint may lie off the place where a spline without it would have it, mm: less than what a coordinate of a
/// metre's drawing is rounded by in a reader with 15 digits.
const SMOOTH_MM: f64 = 1e-11;
/// Lengths of knot spans do not differ by more than this from their neighbour's and from the first one's.
const RATIO: f64 = 1e3;

/// A cubic B-spline: control points, and knots with the end ones four times.
pub(super) struct Spline {
    pub poles: Vec<Point>,
    pub knots: Vec<f64>,
}

/// The B-spline of a run of cubics. A joint through which both handles lead straight on takes two knots and no control
/// point, the spans being as long as the handles are; any other takes three knots and its point: either way the curve is
/// the same.
pub(super) fn joined(start: Point, cubics: &[[Point; 3]]) -> Spline {
    let mut poles = vec![start];
    let mut knots = vec![0.0; 4];
    let (mut span, mut knot) = (1.0, 0.0);
    for (i, [a, b, to]) in cubics.iter().enumerate() {
        poles.extend([*a, *b]);
        knot += span;
        let Some([next, ..]) = cubics.get(i + 1) else {
            poles.push(*to);
            break;
        };
        let [before, after] = [[b, to], [to, next]].map(|[p, q]| libm::hypot(q[0] - p[0], q[1] - p[1]));
        let ratio = after / before;
        let share = before / (before + after);
        let off = [0, 1].map(|k| b[k] + share * (next[k] - b[k]) - to[k]);
        let bounded = |v: f64| (1.0 / RATIO..=RATIO).contains(&v);
        let next_span = span * ratio;
        if libm::hypot(off[0], off[1]) <= SMOOTH_MM && bounded(ratio) && bounded(next_span) {
            span = next_span;
            knots.extend([knot; 2]);
        } else {
            span = 1.0;
            knots.extend([knot; 3]);
            poles.push(*to);
        }
    }
    knots.extend([knot; 4]);
    Spline { poles, knots }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// De Boor's algorithm.
    fn at(spline: &Spline, u: f64) -> Point {
        let knots = &spline.knots;
        let k = (3..knots.len() - 4).rev().find(|k| knots[*k] <= u && knots[*k] < knots[k + 1]).unwrap();
        let mut d: Vec<Point> = (0..4).map(|j| spline.poles[k - 3 + j]).collect();
        for r in 1..4 {
            for j in (r..4).rev() {
                let (low, high) = (knots[j + k - 3], knots[j + 1 + k - r]);
                let t = (u - low) / (high - low);
                d[j] = [0, 1].map(|i| (1.0 - t) * d[j - 1][i] + t * d[j][i]);
            }
        }
        d[3]
    }

    #[test]
    fn the_spline_is_the_cubics() {
        // Straight on through the first joint with handles of 2 and 1, a corner in the second.
        let cubics = [
            [[1.0, 0.0], [2.0, 1.0], [2.0, 3.0]],
            [[2.0, 4.0], [3.0, 5.0], [4.0, 5.0]],
            [[4.0, 4.0], [5.0, 3.0], [6.0, 3.0]],
        ];
        let spline = joined([0.0, 0.0], &cubics);
        assert_eq!(spline.knots, [0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.5, 1.5, 1.5, 2.5, 2.5, 2.5, 2.5]);
        assert_eq!(spline.poles.len() + 4, spline.knots.len());
        let mut from = [0.0, 0.0];
        for (cubic, span) in cubics.iter().zip([[0.0, 1.0], [1.0, 1.5], [1.5, 2.5]]) {
            for i in 0..10 {
                let t = f64::from(i) / 10.0;
                let [x, y] = at(&spline, span[0] + t * (span[1] - span[0]));
                let p = crate::paper::path::on_cubic([from, cubic[0], cubic[1], cubic[2]], t);
                assert_abs_diff_eq!(x, p[0], epsilon = 1e-14);
                assert_abs_diff_eq!(y, p[1], epsilon = 1e-14);
            }
            from = cubic[2];
        }
    }
}
