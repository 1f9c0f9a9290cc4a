//! Triangles with what is known at their corners.

use alloc::string::String;
use alloc::vec::Vec;

use crate::measure::Error;
use crate::solid::Point3;

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
    ///
    /// # Errors
    /// - those of [`Mesh::check`].
    pub fn places(&self) -> Result<(Vec<Point3>, Vec<[u32; 3]>), Error> {
        self.check()?;
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
        Ok((corners, triangles))
    }
}
