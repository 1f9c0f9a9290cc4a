//! Whether edges lie on the faces that share them.

use super::super::curve::Curve;
use super::super::shell::Solid;
use super::super::spline::{Point3, SplineCurve};
use super::super::surface::Surface;

/// What is farther off is wrong, mm.
const OFF_MM: f64 = 1e-7;

fn apart(a: Point3, b: Point3) -> f64 {
    libm::sqrt((0..3).map(|k| (a[k] - b[k]) * (a[k] - b[k])).sum())
}

/// Whether curves run from vertex to vertex, and on the planes and spline surfaces of their faces, at a few places of each.
pub(super) fn lies(solid: &Solid) -> bool {
    let ends = solid.edges.iter().all(|edge| match &edge.curve {
        Curve::Line => true,
        Curve::Arc { centre, radius_mm, .. } => {
            edge.ends.iter().all(|v| libm::fabs(apart(solid.vertices[*v], *centre) - radius_mm) <= OFF_MM)
        }
        Curve::Spline(curve) => {
            let reach = curve.knots.reach();
            (0..2).all(|k| apart(curve.at(reach[k]), solid.vertices[edge.ends[k]]) <= OFF_MM)
        }
    });
    let on = |face: &super::super::shell::Face| {
        face.loops.iter().flatten().all(|step| {
            let edge = &solid.edges[step.edge];
            if let (Curve::Arc { .. }, Surface::Spline(surface)) = (&edge.curve, &face.surface) {
                // Across a sheet of arcs it lies on one of them, between that one's ends.
                let ends = edge.ends.map(|v| solid.vertices[v]);
                let whole = [0.0, 1.0].map(|u| surface.at(ends[0][0], u));
                let chord = |p: [Point3; 2]| [p[1][1] - p[0][1], p[1][2] - p[0][2]];
                let [dy, dz] = chord(whole);
                return ends.iter().all(|p| {
                    let [y, z] = chord([whole[0], *p]);
                    (-OFF_MM..=1.0 + OFF_MM).contains(&((y * dy + z * dz) / (dy * dy + dz * dz)))
                });
            }
            let Curve::Spline(curve) = &edge.curve else { return true };
            let [from, to] = curve.knots.reach();
            [0.0, 0.04, 0.3, 0.5, 0.77, 0.96, 1.0].iter().all(|t| {
                let t = from + t * (to - from);
                let p = curve.at(t);
                match &face.surface {
                    Surface::Plane { point, normal, .. } => {
                        libm::fabs((0..3).map(|k| normal[k] * (p[k] - point[k])).sum::<f64>()) <= OFF_MM
                    }
                    Surface::Cylinder { .. } => true,
                    Surface::Spline(surface) => {
                        let Some(trace) = face.traces.iter().find(|trace| trace.edge == step.edge) else {
                            return true;
                        };
                        let poles = trace.poles.iter().map(|p| [p[0], p[1], 0.0]).collect();
                        let [s, u, _] =
                            SplineCurve { knots: trace.knots.clone(), poles, weights: None }.at(t);
                        apart(surface.at(s, u), p) <= OFF_MM
                    }
                }
            })
        })
    };
    ends && solid.faces.iter().all(on)
}
