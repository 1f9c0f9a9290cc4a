//! Triangles with what is known at their corners.

use alloc::string::String;
use alloc::vec::Vec;

use super::patch::Corner;
use crate::solid::{Face, Point3, Solid, Surface};

/// The surface of one solid as triangles.
///
/// A vertex belongs to one face of the solid; where faces meet in an edge, each has vertices of its own there, at the same
/// bits of the same place, so that normals do not round the edge over.
#[derive(Clone, Debug, PartialEq)]
pub struct Mesh {
    /// What it is of the neck: the solid's name.
    pub name: String,
    /// Where each vertex lies, mm.
    pub positions_mm: Vec<Point3>,
    /// Square to the face at each vertex, out of the solid, of length 1.
    pub normals: Vec<Point3>,
    /// The station of each vertex, mm from the nut along the centreline, and how far around it lies from 0 to 1: over a carved back
    /// from the bass carve line to the treble one, with the spine at a half, by the parameter of its sections; over any other
    /// face from its most bass place to its most treble one, as far across, or on an upright face along the centreline as far up.
    pub station_girth: Vec<[f64; 2]>,
    /// For each vertex the first one of those at the same place: what makes the mesh watertight.
    pub same_place: Vec<u32>,
    /// Triangles of three vertices each, counter-clockwise as seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// How far at most any point of the faces lies from the triangles, and of the triangles from the faces, mm, proven.
    pub chord_mm: f64,
}

impl Mesh {
    /// The triangles by places: the corners of the mesh, each once, and the triangles between them.
    #[must_use]
    pub fn places(&self) -> (Vec<Point3>, Vec<[u32; 3]>) {
        let mut corners = Vec::new();
        let mut of: Vec<u32> = Vec::with_capacity(self.same_place.len());
        for (i, (first, place)) in self.same_place.iter().zip(&self.positions_mm).enumerate() {
            if *first as usize == i {
                of.push(corners.len() as u32);
                corners.push(*place);
            } else {
                of.push(of[*first as usize]);
            }
        }
        let triangles = self.triangles.iter().map(|t| t.map(|v| of[v as usize])).collect();
        (corners, triangles)
    }
}

/// How far around the corners of a face lie.
pub(super) struct Girth {
    /// Which coordinate counts, where it is 0 and by how much it grows.
    coordinate: usize,
    start: f64,
    per: f64,
    /// For a half of a back whether it is the bass one.
    bass: Option<bool>,
}

impl Girth {
    pub fn new(solid: &Solid, face: &Face, corners: &[Corner], half: bool) -> Self {
        let way = if solid.left_handed { -1.0 } else { 1.0 };
        let reach = |k: usize| {
            let all = corners.iter().map(|c| c.point[k]);
            [all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max)]
        };
        let ([y0, y1], [z0, z1]) = (reach(1), reach(2));
        let bass = match &face.surface {
            Surface::Spline(surface) if half => surface.poles.first().and_then(|row| {
                let [first, last] = [row.first()?, row.last()?];
                Some(way * (last[1] - first[1]) > 0.0)
            }),
            _ => None,
        };
        let (coordinate, from, to) = if y1 - y0 > 1e-6 {
            if solid.left_handed { (1, y1, y0) } else { (1, y0, y1) }
        } else {
            (2, z0, z1)
        };
        Self { coordinate, start: from, per: if from == to { 0.0 } else { 1.0 / (to - from) }, bass }
    }

    pub fn at(&self, corner: &Corner) -> f64 {
        match self.bass {
            Some(true) => 0.5 * corner.at[1],
            Some(false) => 1.0 - 0.5 * corner.at[1],
            None => (corner.point[self.coordinate] - self.start) * self.per,
        }
    }
}
