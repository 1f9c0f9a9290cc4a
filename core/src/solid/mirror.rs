//! The mirror image of a solid: a right-handed neck's is the left-handed one.

use alloc::vec::Vec;

use super::curve::Curve;
use super::shell::{Edge, Face, Solid, Step, reversed};
use super::spline::{Point3, SplineCurve};
use super::surface::Surface;

fn flip([x, y, z]: Point3) -> Point3 {
    [x, -y, z]
}

fn back([x, y, z]: Point3) -> Point3 {
    [-x, -y, -z]
}

fn curve(curve: Curve) -> Curve {
    match curve {
        Curve::Line => Curve::Line,
        // What turns one way turns the other way in a mirror.
        Curve::Arc { centre, axis, radius_mm } => {
            Curve::Arc { centre: flip(centre), axis: back(flip(axis)), radius_mm }
        }
        Curve::Spline(spline) => {
            let poles = spline.poles.into_iter().map(flip).collect();
            Curve::Spline(SplineCurve { poles, ..spline })
        }
    }
}

fn face(face: Face) -> Face {
    let mut outward = face.outward;
    let surface = match face.surface.clone() {
        Surface::Plane { point, normal, along } => {
            Surface::Plane { point: flip(point), normal: flip(normal), along: flip(along) }
        }
        Surface::Cylinder { point, axis, across, radius_mm } => {
            Surface::Cylinder { point: flip(point), axis: flip(axis), across: flip(across), radius_mm }
        }
        Surface::Spline(mut spline) => {
            spline.poles.iter_mut().flatten().for_each(|p| *p = flip(*p));
            // Its normal is that of its two directions, which a mirror turns round.
            outward = !outward;
            Surface::Spline(spline)
        }
    };
    let turned = |steps: &Vec<Step>| reversed(steps);
    Face { surface, outward, loops: face.loops.iter().map(turned).collect(), ..face }
}

impl Solid {
    /// Its mirror image: `y` changes its sign.
    #[must_use]
    pub fn mirrored(mut self) -> Self {
        self.vertices.iter_mut().for_each(|v| *v = flip(*v));
        self.edges = self.edges.into_iter().map(|e| Edge { curve: curve(e.curve), ..e }).collect();
        self.faces = self.faces.into_iter().map(face).collect();
        self.left_handed = !self.left_handed;
        self
    }
}
