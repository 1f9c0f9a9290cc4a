//! Charts: faces laid out flat, so that what is close to a shape's own proportions there makes good triangles.

use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::course::Course;
use super::deviation::{Deviation, Triangle};
use super::patches::{Patches, cross, dot};
use super::strips::Strips;
use crate::solid::{Face, Point3, SplineSurface, Surface};

/// In how many places each way a spline is measured.
const SAMPLES: usize = 4;

/// A face's surface with what it is laid out by.
pub(super) enum Chart {
    Plane {
        point: Point3,
        first: Point3,
        second: Point3,
        normal: Point3,
    },
    Cylinder {
        point: Point3,
        axis: Point3,
        first: Point3,
        second: Point3,
        radius: f64,
    },
    Spline {
        patches: Patches,
        strips: Strips,
        /// How long both parameters are, mm for one of them.
        scale: [f64; 2],
    },
}

impl Chart {
    pub fn plane(point: Point3, normal: Point3, along: Point3) -> Self {
        Self::Plane { point, first: along, second: cross(normal, along), normal }
    }

    /// A part of a cylinder that goes less than once round.
    pub fn cylinder(face: &Face, courses: &[Course]) -> Option<Self> {
        let Surface::Cylinder { point, axis, radius_mm, .. } = &face.surface else { return None };
        let radial = |p: Point3| {
            let off = minus(&p, point);
            let up = dot(off, *axis);
            [0, 1, 2].map(|k| (off[k] - up * axis[k]) / radius_mm)
        };
        let steps = face.loops.iter().flatten();
        let points: Vec<Point3> = steps
            .flat_map(|s| {
                let course = &courses[s.edge];
                let [from, to] = course.reach();
                [0.0, 0.25, 0.5, 0.75].map(|t| course.at(from + t * (to - from)))
            })
            .collect();
        let sum =
            points.iter().map(|p| radial(*p)).fold([0.0; 3], |s, r| [s[0] + r[0], s[1] + r[1], s[2] + r[2]]);
        let length = size(&sum);
        if length < 1e-6 {
            return None;
        }
        let first = sum.map(|x| x / length);
        let second = cross(*axis, first);
        Some(Self::Cylinder { point: *point, axis: *axis, first, second, radius: *radius_mm })
    }

    /// A spline; `None` where it is creased around, or has no extent.
    pub fn spline(surface: &SplineSurface) -> Option<Self> {
        let patches = Patches::new(surface);
        let [along, around] = patches.reach();
        let (mut scale, mut count) = ([0.0; 2], 0.0);
        for i in 0..SAMPLES {
            let share =
                |i: usize, [from, to]: [f64; 2]| from + (to - from) * (i as f64 + 0.5) / SAMPLES as f64;
            let row = patches.across(share(i, along));
            for j in 0..SAMPLES {
                let [_, s, u] = row.at(share(j, around));
                scale = [scale[0] + size(&s), scale[1] + size(&u)];
                count += 1.0;
            }
        }
        let scale = scale.map(|x| x / count);
        let good = patches.creases[1].is_empty() && scale.iter().all(|x| x.is_finite() && *x > 0.0);
        good.then(|| Self::Spline { patches, strips: Strips::default(), scale })
    }

    /// Parameters of a point of a plane or a cylinder; on a spline they are looked for along an edge instead.
    pub fn of_point(&self, p: Point3) -> Option<[f64; 2]> {
        match self {
            Self::Plane { point, first, second, .. } => {
                let off = minus(&p, point);
                Some([dot(off, *first), dot(off, *second)])
            }
            Self::Cylinder { point, axis, first, second, .. } => {
                let off = minus(&p, point);
                Some([libm::atan2(dot(off, *second), dot(off, *first)), dot(off, *axis)])
            }
            Self::Spline { .. } => None,
        }
    }

    /// Place in the chart, mm.
    pub fn place(&self, at: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Plane { .. } => at,
            Self::Cylinder { radius, .. } => [radius * at[0], at[1]],
            Self::Spline { scale, .. } => [scale[0] * at[0], scale[1] * at[1]],
        }
    }

    /// The point at a place of its parameters, and the surface's normal there.
    pub fn point(&self, at: [f64; 2]) -> (Point3, Point3) {
        match self {
            Self::Plane { point, first, second, normal } => {
                ([0, 1, 2].map(|k| point[k] + at[0] * first[k] + at[1] * second[k]), *normal)
            }
            Self::Cylinder { point, axis, radius, .. } => {
                let out = self.normal(at);
                ([0, 1, 2].map(|k| point[k] + radius * out[k] + at[1] * axis[k]), out)
            }
            Self::Spline { patches, .. } => patches.across(at[0]).with_normal(at[1]),
        }
    }

    /// The surface's normal at a place of its parameters.
    pub fn normal(&self, at: [f64; 2]) -> Point3 {
        match self {
            Self::Plane { normal, .. } => *normal,
            Self::Cylinder { first, second, .. } => {
                let (sin, cos) = libm::sincos(at[0]);
                [0, 1, 2].map(|k| cos * first[k] + sin * second[k])
            }
            Self::Spline { patches, .. } => patches.across(at[0]).with_normal(at[1]).1,
        }
    }

    /// How far the surface lies off a triangle.
    pub fn deviation(&self, triangle: &Triangle) -> Deviation {
        match self {
            Self::Plane { .. } => Deviation::NONE,
            // The chord of an angle lies r·(1 − cos ½α) ≤ ⅛r·α² inside.
            Self::Cylinder { radius, .. } => {
                let side = |k: usize| libm::fabs(triangle.at[(k + 1) % 3][0] - triangle.at[k][0]);
                let worst = (1..3).fold(0, |best, k| if side(k) > side(best) { k } else { best });
                Deviation::by_side(0.125 * radius * side(worst) * side(worst), worst)
            }
            Self::Spline { patches, strips, .. } => triangle.deviation(patches, strips),
        }
    }
}
