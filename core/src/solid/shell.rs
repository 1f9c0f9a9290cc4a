//! Closed solids: faces that share their edges.

use alloc::string::String;
use alloc::vec::Vec;

use super::curve::Curve;
use super::spline::{Knots, Point3};
use super::surface::Surface;

/// How far the end of an edge's curve may lie off its vertex, mm.
const ENDS_MM: f64 = 1e-9;
/// How far the square of a direction's length may be off 1.
const UNIT: f64 = 1e-12;

/// An edge, shared by two faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    /// The vertices where it starts and ends.
    pub ends: [usize; 2],
    /// Its curve, from start to end.
    pub curve: Curve,
    /// How far it may lie off either of its faces' surfaces, mm: 0 where it lies on both but for rounding. Of edges that have no
    /// closed form it is how close they were made by a search, looked at where each piece is farthest off: tested, not proven.
    pub within_mm: f64,
}

/// An edge as a face goes along it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Which edge.
    pub edge: usize,
    /// Whether from its start to its end.
    pub forward: bool,
}

/// A face: a part of a surface within closed loops of edges.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// What it lies on.
    pub surface: Surface,
    /// Whether the surface's normal points out of the solid.
    pub outward: bool,
    /// Its loops, each counter-clockwise about the face as seen from outside; the outer one first.
    pub loops: Vec<Vec<Step>>,
    /// For the edges that have one their traces on the surface, where that is a spline and its isolines are not what bounds the
    /// face.
    pub traces: Vec<Trace>,
}

/// An edge in the two parameters of a face's surface, by the parameter of its curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Which edge.
    pub edge: usize,
    /// Its knots.
    pub knots: Knots,
    /// Its poles, along and around.
    pub poles: Vec<[f64; 2]>,
}

/// One closed solid.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// What it is of the neck.
    pub name: String,
    /// Its vertices, mm.
    pub vertices: Vec<Point3>,
    /// Its edges.
    pub edges: Vec<Edge>,
    /// Its faces.
    pub faces: Vec<Face>,
    /// Whether it is of a left-handed neck: its bass side lies at positive `y`.
    pub left_handed: bool,
}

impl Solid {
    /// Whether every edge is gone along once each way, and every loop goes on from where it has come to: what makes it closed
    /// and of one orientation.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        let known = |edge: &Edge| edge.ends.iter().all(|v| *v < self.vertices.len());
        let loops = self.faces.iter().flat_map(|face| &face.loops);
        if !self.edges.iter().all(known) || loops.clone().flatten().any(|s| s.edge >= self.edges.len()) {
            return false;
        }
        let mut gone = alloc::vec![[0_u32; 2]; self.edges.len()];
        let chained = loops.clone().all(|steps| {
            let end = |step: &Step, end: bool| self.edges[step.edge].ends[usize::from(end == step.forward)];
            (0..steps.len()).all(|i| end(&steps[i], true) == end(&steps[(i + 1) % steps.len()], false))
        });
        for step in loops.flatten() {
            gone[step.edge][usize::from(step.forward)] += 1;
        }
        chained && gone.iter().all(|ways| *ways == [1, 1])
    }

    /// Whether it is closed, all its numbers are finite, directions of length 1, radii and weights more than zero, splines have as
    /// many poles as their knots ask for, and edges end in their vertices.
    pub(crate) fn is_sound(&self) -> bool {
        let near = |a: Point3, b: Point3| (0..3).all(|k| libm::fabs(a[k] - b[k]) <= ENDS_MM);
        let round = |radius: f64| radius.is_finite() && radius > 0.0;
        let ends = |edge: &Edge| match &edge.curve {
            Curve::Spline(spline) => {
                let [a, b] = edge.ends.map(|v| self.vertices[v]);
                let [from, to] = spline.knots.reach();
                spline.is_sound() && near(spline.at(from), a) && near(spline.at(to), b)
            }
            Curve::Arc { centre, axis, radius_mm } => {
                let on = |v: usize| {
                    let out: Point3 = [0, 1, 2].map(|k| self.vertices[v][k] - centre[k]);
                    libm::fabs(length(&out) - radius_mm) <= ENDS_MM && libm::fabs(dot(&out, axis)) <= ENDS_MM
                };
                finite(centre) && unit(axis) && round(*radius_mm) && edge.ends.into_iter().all(on)
            }
            Curve::Line => true,
        };
        let surface = |face: &Face| match &face.surface {
            Surface::Plane { point, normal, along } => finite(point) && unit(normal) && unit(along),
            Surface::Cylinder { point, axis, across, radius_mm } => {
                round(*radius_mm) && finite(point) && unit(axis) && unit(across)
            }
            Surface::Spline(spline) => spline.is_sound(),
        };
        let trace = |trace: &Trace| {
            trace.knots.is_sound(trace.poles.len()) && trace.poles.iter().flatten().all(|c| c.is_finite())
        };
        self.is_closed()
            && self.vertices.iter().all(finite)
            && self.edges.iter().all(ends)
            && self.faces.iter().all(|face| surface(face) && face.traces.iter().all(trace))
    }
}

fn finite(p: &Point3) -> bool {
    p.iter().all(|c| c.is_finite())
}

fn dot(a: &Point3, b: &Point3) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn length(a: &Point3) -> f64 {
    libm::sqrt(dot(a, a))
}

/// Whether a direction is of length 1, but for rounding.
fn unit(a: &Point3) -> bool {
    libm::fabs(dot(a, a) - 1.0) <= UNIT
}

/// The same way gone back.
pub(super) fn reversed(steps: &[Step]) -> Vec<Step> {
    steps.iter().rev().map(|s| Step { forward: !s.forward, ..*s }).collect()
}
