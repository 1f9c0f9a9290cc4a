//! Curves on which edges lie.

use super::spline::{Knots, Point3, SplineCurve};

/// The curve of an edge, from its start to its end.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// A straight line between the edge's ends.
    Line,
    /// An arc of a circle, counter-clockwise about its axis, of less than a whole turn.
    Arc {
        /// The circle's centre, mm.
        centre: Point3,
        /// Its axis, of length 1.
        axis: Point3,
        /// Its radius, mm.
        radius_mm: f64,
    },
    /// A spline, whose parameter runs from its first knot to its last.
    Spline(SplineCurve),
}

/// A cubic Bézier as a spline.
pub(super) fn cubic(poles: [Point3; 4]) -> Curve {
    Curve::Spline(SplineCurve { knots: Knots::of_one(3, [0.0, 1.0]), poles: poles.into(), weights: None })
}

/// A conic by its ends, the point where its tangents there meet, and that point's weight.
pub(super) fn conic([start, middle, end]: [Point3; 3], weight: f64) -> Curve {
    let knots = Knots::of_one(2, [0.0, 1.0]);
    Curve::Spline(SplineCurve {
        knots,
        poles: [start, middle, end].into(),
        weights: Some([1.0, weight, 1.0].into()),
    })
}
