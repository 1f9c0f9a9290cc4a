//! Charts: faces laid out flat, so that what is close to a shape's own proportions there makes good triangles.

use alloc::vec::Vec;

use super::bezier::minus;
use super::course::Course;
use super::deviation::Triangle;
use super::grid::{MOST_COLUMNS, Net};
use super::patches::{Patches, cross, dot};
use crate::solid::{Face, Point3, Solid, Surface};

/// How many columns wide a band of a chart is high: so much that every edge goes from row to row.
const BAND: f64 = 1.5;

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
        columns: Vec<f64>,
        reach: [f64; 2],
    },
    Spline {
        patches: Patches,
        net: Net,
    },
}

impl Chart {
    pub fn plane(point: Point3, normal: Point3, along: Point3) -> Self {
        Self::Plane { point, first: along, second: cross(normal, along), normal }
    }

    /// A part of a cylinder that goes less than once round.
    pub fn cylinder(solid: &Solid, face: &Face, courses: &[Course], chord: f64) -> Option<Self> {
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
        let length = super::bezier::size(&sum);
        if length < 1e-6 {
            return None;
        }
        let first = sum.map(|x| x / length);
        let second = cross(*axis, first);
        let angle = |p: &Point3| {
            let r = radial(*p);
            libm::atan2(dot(r, second), dot(r, first))
        };
        let (mut round, mut reach) = ([f64::INFINITY, f64::NEG_INFINITY], [f64::INFINITY, f64::NEG_INFINITY]);
        let ends =
            face.loops.iter().flatten().flat_map(|s| solid.edges[s.edge].ends).map(|v| solid.vertices[v]);
        for p in points.iter().copied().chain(ends) {
            let (a, up) = (angle(&p), dot(minus(&p, point), *axis));
            round = [round[0].min(a), round[1].max(a)];
            reach = [reach[0].min(up), reach[1].max(up)];
        }
        let widest = libm::sqrt(8.0 * chord / radius_mm).min(1.0) * (1.0 - 1e-9);
        let count = libm::ceil((round[1] - round[0]) / widest - 1e-9).max(1.0) as usize;
        if count > MOST_COLUMNS {
            return None;
        }
        let columns =
            (0..=count).map(|j| round[0] + (round[1] - round[0]) * j as f64 / count as f64).collect();
        Some(Self::Cylinder { point: *point, axis: *axis, first, second, radius: *radius_mm, columns, reach })
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

    /// Place in the chart.
    pub fn place(&self, at: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Plane { .. } => at,
            Self::Cylinder { columns, reach, .. } => {
                let width = columns[1] - columns[0];
                [(at[0] - columns[0]) / width, BAND * (at[1] - reach[0]) / (reach[1] - reach[0]).max(1e-9)]
            }
            Self::Spline { net, .. } => {
                let rows = &net.rows;
                let i = rows.partition_point(|r| *r <= at[0]).saturating_sub(1).min(rows.len() - 2);
                let share = (at[0] - rows[i]) / (rows[i + 1] - rows[i]);
                let [from, to] = net.around;
                [BAND * (i as f64 + share), (net.columns.len() - 1) as f64 * (at[1] - from) / (to - from)]
            }
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

    /// Bound of how far a plane or a cylinder lies from a triangle, mm.
    pub fn off(&self, triangle: &Triangle) -> f64 {
        match self {
            // The chord of an angle lies r·(1 − cos ½α) ≤ ⅛r·α² inside.
            Self::Cylinder { radius, .. } => {
                let all = triangle.at.map(|c| c[0]);
                let angle = all[0].max(all[1]).max(all[2]) - all[0].min(all[1]).min(all[2]);
                0.125 * radius * angle * angle
            }
            Self::Plane { .. } | Self::Spline { .. } => 0.0,
        }
    }
}
