//! Whether the edges of a solid lie on the faces that share them: on planes and cylinders, on splines by their traces or on the
//! isolines that bound them.

use neckwright::solid::{Curve, Edge, Face, Knots, Point3, Solid, SplineCurve, SplineSurface, Surface};

use super::enclosed::Line;

/// What rounding leaves of curves that lie on their surfaces exactly, mm.
const ROUNDING_MM: f64 = 1e-9;

fn less(a: Point3, b: Point3) -> Point3 {
    [0, 1, 2].map(|k| a[k] - b[k])
}

fn dot(a: Point3, b: Point3) -> f64 {
    (0..3).map(|k| a[k] * b[k]).sum()
}

fn cross(a: Point3, b: Point3) -> Point3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn length(a: Point3) -> f64 {
    libm::sqrt(dot(a, a))
}

/// Points of an edge, with the parameters of its spline where it has one.
fn along(solid: &Solid, edge: &Edge) -> Vec<(f64, Point3)> {
    let [a, b] = edge.ends.map(|v| solid.vertices[v]);
    let shares = (0..=40).map(|i| f64::from(i) / 40.0);
    match &edge.curve {
        Curve::Line => shares.map(|t| (t, [0, 1, 2].map(|k| a[k] + t * (b[k] - a[k])))).collect(),
        Curve::Arc { centre, axis, radius_mm } => {
            let (p, q) = (less(a, *centre), less(b, *centre));
            assert!(libm::fabs(length(p) - radius_mm) < 1e-9 && libm::fabs(length(q) - radius_mm) < 1e-9);
            assert!(libm::fabs(dot(p, *axis)) < 1e-9 && libm::fabs(dot(q, *axis)) < 1e-9);
            assert!(libm::fabs(length(*axis) - 1.0) < 1e-15);
            // Counter-clockwise about the axis from one end to the other.
            let square = cross(*axis, p);
            let turn = libm::atan2(dot(q, square), dot(q, p)).rem_euclid(core::f64::consts::TAU);
            let on = |t: f64| {
                let (sin, cos) = libm::sincos(t * turn);
                (t, [0, 1, 2].map(|k| centre[k] + cos * p[k] + sin * square[k]))
            };
            let all: Vec<(f64, Point3)> = shares.map(on).collect();
            assert!(length(less(all[40].1, b)) < 1e-9, "{}: an arc misses its end", solid.name);
            all
        }
        Curve::Spline(spline) => {
            let [from, to] = spline.knots.reach();
            // Every part between two knots is looked at.
            let inner = spline
                .knots
                .values
                .windows(2)
                .flat_map(|w| [0.1, 0.37, 0.71, 0.93].map(|t| w[0] + t * (w[1] - w[0])));
            let all: Vec<f64> = shares.map(|t| from + t * (to - from)).chain(inner).collect();
            for (t, v) in [(from, a), (to, b)] {
                let off = length(less(spline.at(t), v));
                assert!(off < 1e-9, "{} {off:e} at {v:?}: {edge:?}", solid.name);
            }
            all.into_iter().map(|t| (t, spline.at(t))).collect()
        }
    }
}

fn at(knots: &Knots, poles: &[[f64; 2]], t: f64) -> [f64; 2] {
    let curve = SplineCurve {
        knots: knots.clone(),
        poles: poles.iter().map(|p| [p[0], p[1], 0.0]).collect(),
        weights: None,
    };
    let [s, u, _] = curve.at(t);
    [s, u]
}

/// The isoline of a surface that an edge without a trace lies on: which parameter stands still, and where; by the edge's ends and
/// its middle, which have to lie on it. What is left is the parameter along, which a kernel holds to be the edge's own.
fn isoline(surface: &SplineSurface, points: &[(f64, Point3)]) -> Option<(usize, f64)> {
    let reach = [0, 1].map(|k| surface.knots[k].reach());
    let (ends, middle) = ([points[0].1, points[40].1], points[20].1);
    let near = |s: f64, u: f64, p: Point3| length(less(surface.at(s, u), p)) < 1e-6;
    // Across: the station stands still; it is the surface's own parameter.
    let x = ends[0][0];
    if libm::fabs(ends[1][0] - x) < 1e-12 {
        return Some((0, x.clamp(reach[0][0], reach[0][1])));
    }
    // Along: one of the two borders around, or of the middle where both sides meet.
    let at = |u: f64| {
        let [from, to] = reach[0];
        [ends[0], middle, ends[1]].into_iter().all(|p| near(p[0].clamp(from, to), u, p))
    };
    reach[1].into_iter().find(|u| at(*u)).map(|u| (1, u))
}

/// How far the points of an edge without a trace are off a spline surface, on the isoline that it goes along. A straight edge may also
/// lie within it: where bounds of a stage's wood meet, or a round one begins.
fn off_isoline(surface: &SplineSurface, curve: &Curve, points: &[(f64, Point3)]) -> f64 {
    // What is no number is as far off as can be.
    let most = |off: &dyn Fn(&(f64, Point3)) -> f64| {
        points
            .iter()
            .map(off)
            .fold(0.0, |most: f64, off| if off.is_nan() { f64::INFINITY } else { most.max(off) })
    };
    let Some((still, place)) = isoline(surface, points) else {
        assert!(matches!(curve, Curve::Line), "no isoline: {:?} to {:?}", points[0], points[40]);
        return most(&|(_, p)| {
            let line = Line::new(surface, p[0]);
            let [y, z, ..] = line.at(line.place(*p));
            length(less([p[0], y, z], *p))
        });
    };
    if still == 1 {
        let [from, to] = surface.knots[0].reach();
        return most(&|(_, p)| length(less(surface.at(p[0].clamp(from, to), place), *p)));
    }
    // The edge goes at the surface's own pace, but for conics, which only lie on it.
    let line = Line::new(surface, place);
    let [(t0, p), (t1, q)] = [points[0], points[40]];
    let [a, b] = [p, q].map(|p| line.place(p));
    let pace =
        |t: f64| if surface.weights.is_none() { Some(a + (b - a) * (t - t0) / (t1 - t0)) } else { None };
    let off = |(t, p): &(f64, Point3)| {
        let [y, z, ..] = line.at(pace(*t).unwrap_or_else(|| line.place(*p)));
        length(less([place, y, z], *p))
    };
    most(&off)
}

/// How far a point that should lie on a face does not; `None` on splines without a trace, whose isolines bound them.
fn off(face: &Face, edge: usize, (t, p): (f64, Point3)) -> Option<f64> {
    match &face.surface {
        Surface::Plane { point, normal, .. } => Some(libm::fabs(dot(less(p, *point), *normal))),
        Surface::Cylinder { point, axis, radius_mm, .. } => {
            let out = less(p, *point);
            let along = dot(out, *axis);
            let square: Point3 = [0, 1, 2].map(|k| out[k] - along * axis[k]);
            Some(libm::fabs(length(square) - radius_mm))
        }
        Surface::Spline(surface) => {
            let trace = face.traces.iter().find(|trace| trace.edge == edge)?;
            let [s, u] = at(&trace.knots, &trace.poles, t);
            Some(length(less(surface.at(s, u), p)))
        }
    }
}

/// How far an edge lies off a face at most: none by more than it says.
pub fn checked(solid: &Solid) -> f64 {
    assert!(solid.is_closed());
    let mut worst: f64 = 0.0;
    for face in &solid.faces {
        for step in face.loops.iter().flatten() {
            let edge = &solid.edges[step.edge];
            let points = along(solid, edge);
            let within = edge.within_mm.max(ROUNDING_MM);
            let traced = face.traces.iter().any(|trace| trace.edge == step.edge);
            if let (Surface::Spline(surface), false) = (&face.surface, traced) {
                let off = off_isoline(surface, &edge.curve, &points);
                assert!(off <= within, "{}: {off:e} of {within:e} on an isoline: {edge:?}", solid.name);
                worst = worst.max(off);
                continue;
            }
            for point in points {
                let off = off(face, step.edge, point).unwrap();
                assert!(
                    off <= within,
                    "{}: {off:e} of {within:e} at {point:?}, face {:?}",
                    solid.name,
                    face.surface
                );
                worst = worst.max(off);
            }
        }
    }
    worst
}
