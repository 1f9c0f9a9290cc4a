//! Whether edges lie on the faces that share them.

use alloc::vec::Vec;

use super::super::curve::Curve;
use super::super::shell::{Edge, Face, Solid};
use super::super::spline::{Point3, SplineCurve, SplineSurface};
use super::super::surface::Surface;

/// How far edges may lie off that lie on both their faces but for rounding, mm.
const ROUNDING_MM: f64 = 1e-9;
/// The places of each edge that are looked at, as shares of its parameter.
const PLACES: [f64; 7] = [0.0, 0.04, 0.3, 0.5, 0.77, 0.96, 1.0];
/// How many places of a row are looked at for that next to a point, and steps from there.
const LOOK: usize = 8;
const STEPS: usize = 48;

fn less(a: Point3, b: Point3) -> Point3 {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn dot(a: Point3, b: Point3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Point3, b: Point3) -> Point3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn length(a: Point3) -> f64 {
    libm::sqrt(dot(a, a))
}

fn apart(a: Point3, b: Point3) -> f64 {
    length(less(a, b))
}

/// The greater of two; what is no number is as far off as can be.
fn farther(a: f64, b: f64) -> f64 {
    if b.is_nan() { f64::INFINITY } else { a.max(b) }
}

/// Places of an edge: the parameter of its curve, and the point.
fn places(solid: &Solid, edge: &Edge) -> [(f64, Point3); 7] {
    let [a, b] = edge.ends.map(|v| solid.vertices[v]);
    match &edge.curve {
        Curve::Line => PLACES.map(|t| (t, [0, 1, 2].map(|k| a[k] + t * (b[k] - a[k])))),
        Curve::Arc { centre, axis, .. } => {
            // Counter-clockwise about the axis.
            let (p, q) = (less(a, *centre), less(b, *centre));
            let square = cross(*axis, p);
            let turn = libm::atan2(dot(q, square), dot(q, p));
            let turn = if turn > 0.0 { turn } else { turn + core::f64::consts::TAU };
            PLACES.map(|t| {
                let (sin, cos) = libm::sincos(t * turn);
                (t, [0, 1, 2].map(|k| centre[k] + cos * p[k] + sin * square[k]))
            })
        }
        Curve::Spline(curve) => {
            let [from, to] = curve.knots.reach();
            PLACES.map(|t| {
                let t = from + t * (to - from);
                (t, curve.at(t))
            })
        }
    }
}

/// How far a point lies off a curve: from the nearest of some of its places on by Gauss's and Newton's method.
fn off_curve(curve: &SplineCurve, p: Point3) -> f64 {
    let [from, to] = curve.knots.reach();
    let off = |u: f64| apart(curve.at(u), p);
    let at = |i: usize| from + (to - from) * i as f64 / LOOK as f64;
    let mut best = (f64::INFINITY, from);
    for i in 0..=LOOK {
        let own = off(at(i));
        if own < best.0 {
            best = (own, at(i));
        }
    }
    let mut u = best.1;
    let h = 1e-5 * (to - from);
    for _ in 0..STEPS {
        let ends = [(u - h).max(from), (u + h).min(to)];
        let [a, b] = ends.map(|u| curve.at(u));
        let slope = less(b, a).map(|d| d / (ends[1] - ends[0]));
        let step = dot(less(p, curve.at(u)), slope) / dot(slope, slope);
        let next = (u + step).clamp(from, to);
        let step = libm::fabs(next - u);
        if step <= 1e-15 * (to - from) || step.is_nan() {
            break;
        }
        u = next;
        best.0 = best.0.min(off(u));
    }
    best.0
}

/// How far places that have no trace lie off a spline surface, whose first parameter is the station: off its lines across at theirs.
fn off_lines(surface: &SplineSurface, places: &[(f64, Point3)]) -> f64 {
    let [from, to] = surface.knots[0].reach();
    let mut row: Option<(f64, SplineCurve)> = None;
    let mut most: f64 = 0.0;
    for (_, p) in places {
        // A station that rounding has put beyond the surface's end is that; how far beyond counts, since the line lies at the end.
        let s = p[0].clamp(from, to);
        if row.as_ref().is_none_or(|(own, _)| *own != s) {
            row = surface.line_across(s).map(|line| (s, line));
        }
        let Some((_, line)) = &row else { return f64::INFINITY };
        most = farther(most, off_curve(line, *p));
    }
    most
}

/// How far an edge lies off a face at its places, mm.
fn off(face: &Face, edge: usize, places: &[(f64, Point3)]) -> f64 {
    let most = |off: &dyn Fn(f64, Point3) -> f64| places.iter().map(|(t, p)| off(*t, *p)).fold(0.0, farther);
    match &face.surface {
        Surface::Plane { point, normal, .. } => most(&|_, p| libm::fabs(dot(less(p, *point), *normal))),
        Surface::Cylinder { point, axis, radius_mm, .. } => most(&|_, p| {
            let out = less(p, *point);
            let along = dot(out, *axis);
            let square = [0, 1, 2].map(|k| out[k] - along * axis[k]);
            libm::fabs(length(square) - radius_mm)
        }),
        Surface::Spline(surface) => match face.traces.iter().find(|trace| trace.edge == edge) {
            Some(trace) => {
                let poles: Vec<Point3> = trace.poles.iter().map(|p| [p[0], p[1], 0.0]).collect();
                let trace = SplineCurve { knots: trace.knots.clone(), poles, weights: None };
                most(&|t, p| {
                    let [s, u, _] = trace.at(t);
                    apart(surface.at(s, u), p)
                })
            }
            None => off_lines(surface, places),
        },
    }
}

/// Whether edges lie on the faces on either side as closely as they say, at a few places of each. Of a sound solid.
pub(super) fn lies(solid: &Solid) -> bool {
    let on = |face: &Face, edge: usize| {
        let made = &solid.edges[edge];
        off(face, edge, &places(solid, made)) <= made.within_mm.max(ROUNDING_MM)
    };
    solid.faces.iter().all(|face| face.loops.iter().flatten().all(|step| on(face, step.edge)))
}
