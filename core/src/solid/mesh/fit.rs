//! What a solid has to be to be made a mesh: solids are open to their makers.

use alloc::format;
use alloc::string::String;

use super::bezier::{minus, size};
use super::patches::dot;
use crate::measure::{Error, Fault, Kind};
use crate::solid::{Curve, Knots, Point3, Solid, Surface};

/// The highest degree of a spline: far more than this library makes, and little enough for its sums to be exact.
const MOST_DEGREE: usize = 64;
/// The furthest that anything of a solid may lie from the origin, mm: what a neck and its curves never get to.
const FURTHEST_MM: f64 = 1e7;
/// How far a direction's length may be from 1, or a point off what it lies on, mm.
const NEAR: f64 = 1e-6;

/// Whether knots are of a degree that is one, and count inside no more often than leaves the spline in one piece.
fn whole(knots: &Knots) -> bool {
    let last = knots.multiplicities.len().saturating_sub(1);
    let counts = knots.multiplicities.iter().enumerate().all(|(i, times)| {
        let most = if i == 0 || i == last { knots.degree.saturating_add(1) } else { knots.degree };
        *times <= most
    });
    (1..=MOST_DEGREE).contains(&knots.degree) && counts
}

fn close(p: &Point3) -> bool {
    p.iter().all(|c| libm::fabs(*c) <= FURTHEST_MM)
}

fn direction(d: &Point3) -> bool {
    libm::fabs(dot(*d, *d) - 1.0) <= NEAR
}

fn square(a: &Point3, b: &Point3) -> bool {
    direction(a) && direction(b) && libm::fabs(dot(*a, *b)) <= NEAR
}

fn radius(mm: f64) -> bool {
    mm > 0.0 && mm <= FURTHEST_MM
}

fn weights<'a>(all: impl IntoIterator<Item = &'a f64>) -> bool {
    all.into_iter().all(|w| *w > 0.0)
}

/// The first that is not as it should be, by its place.
fn first<T>(all: &[T], list: &str, fits: impl Fn(&T) -> bool) -> Option<String> {
    all.iter().position(|own| !fits(own)).map(|i| format!("{list}[{i}]"))
}

/// What of the splines' knots is no spline: looked at before anything is read by them.
fn bad_knots(solid: &Solid) -> Option<String> {
    let edge = first(&solid.edges, "edges", |edge| match &edge.curve {
        Curve::Spline(curve) => whole(&curve.knots),
        _ => true,
    });
    edge.or_else(|| {
        first(&solid.faces, "faces", |face| {
            let surface = match &face.surface {
                Surface::Spline(surface) => surface.knots.iter().all(whole),
                _ => true,
            };
            surface && face.traces.iter().all(|trace| whole(&trace.knots))
        })
    })
}

/// An edge whose curve is none, or does not end where the edge does.
fn bad_edge(solid: &Solid) -> Option<String> {
    first(&solid.edges, "edges", |edge| {
        let ends = edge.ends.map(|v| solid.vertices[v]);
        let curve = match &edge.curve {
            Curve::Line => size(&minus(&ends[0], &ends[1])) > 0.0,
            Curve::Arc { centre, axis, radius_mm } => {
                let on = |p: &Point3| {
                    let off = minus(p, centre);
                    libm::fabs(dot(off, *axis)) <= NEAR && libm::fabs(size(&off) - radius_mm) <= NEAR
                };
                close(centre) && direction(axis) && radius(*radius_mm) && ends.iter().all(on)
            }
            Curve::Spline(curve) => curve.poles.iter().all(close) && weights(curve.weights.iter().flatten()),
        };
        curve && edge.within_mm >= 0.0 && edge.within_mm.is_finite()
    })
}

/// A face without a boundary, on a surface that is none, or with a trace that is not by the parameter of its edge.
fn bad_face(solid: &Solid) -> Option<String> {
    first(&solid.faces, "faces", |face| {
        let surface = match &face.surface {
            Surface::Plane { point, normal, along } => close(point) && square(normal, along),
            Surface::Cylinder { point, axis, across, radius_mm } => {
                close(point) && square(axis, across) && radius(*radius_mm)
            }
            Surface::Spline(surface) => {
                surface.poles.iter().flatten().all(close)
                    && weights(surface.weights.iter().flatten().flatten())
            }
        };
        let traces = face.traces.iter().all(|trace| {
            solid.edges.get(trace.edge).is_some_and(|edge| {
                let reach = match &edge.curve {
                    Curve::Spline(curve) => curve.knots.reach(),
                    _ => [0.0, 1.0],
                };
                let off = minus(&reach, &trace.knots.reach());
                off.iter().all(|x| libm::fabs(*x) <= 1e-9 * (reach[1] - reach[0]))
            })
        });
        surface && traces && !face.loops.is_empty() && face.loops.iter().all(|steps| !steps.is_empty())
    })
}

fn refused(reason: impl Into<String>) -> Fault {
    Fault::new(Kind::Geometry, "solid", reason)
        .remedy("make a mesh of a solid as the library made it, or change all that belongs together")
}

/// Refuses a solid that is not closed, or of whose parts one is not what it should be.
pub(super) fn checked(solid: &Solid) -> Result<(), Error> {
    let name = &solid.name;
    if let Some(which) = bad_knots(solid) {
        let reason = format!("{which} of the {name} has knots that are no spline's");
        return Err(refused(reason).into());
    }
    if !solid.is_closed() {
        let reason =
            format!("the edges of the {name} do not close it: each has to be gone along once each way");
        return Err(refused(reason).into());
    }
    if !solid.is_sound() || !solid.vertices.iter().all(close) {
        let reason = format!(
            "the {name} has numbers that are none, poles that its knots do not ask for, or edges that end beside their vertices"
        );
        return Err(refused(reason).into());
    }
    if let Some(which) = bad_edge(solid).or_else(|| bad_face(solid)) {
        let reason =
            format!("{which} of the {name} is none: its curve, surface or loops contradict themselves");
        return Err(refused(reason).into());
    }
    Ok(())
}
