//! Surfaces on which faces lie.

use super::spline::{Point3, SplineSurface};

/// The surface of a face.
#[derive(Clone, Debug, PartialEq)]
pub enum Surface {
    /// A plane.
    Plane {
        /// A point of it, mm.
        point: Point3,
        /// Square to it, of length 1.
        normal: Point3,
        /// A direction in it, of length 1.
        along: Point3,
    },
    /// A round cylinder.
    Cylinder {
        /// A point of its axis, mm.
        point: Point3,
        /// Its axis, of length 1.
        axis: Point3,
        /// Square to the axis, of length 1.
        across: Point3,
        /// Its radius, mm.
        radius_mm: f64,
    },
    /// A spline surface.
    Spline(SplineSurface),
}
