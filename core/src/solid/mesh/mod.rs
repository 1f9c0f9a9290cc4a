//! A solid as triangles, none of them further from it than a tolerance that is proven.

#[cfg(feature = "std")]
mod bending;
#[cfg(feature = "std")]
mod bezier;
#[cfg(feature = "std")]
mod build;
#[cfg(feature = "std")]
mod chart;
#[cfg(feature = "std")]
mod course;
#[cfg(feature = "std")]
mod deviation;
#[cfg(feature = "std")]
mod facet;
#[cfg(feature = "std")]
mod fit;
#[cfg(feature = "std")]
mod girth;
mod into;
#[cfg(feature = "std")]
mod patch;
#[cfg(feature = "std")]
mod patches;
#[cfg(feature = "std")]
mod polyline;
#[cfg(feature = "std")]
mod quotient;
#[cfg(feature = "std")]
mod rim;
#[cfg(feature = "std")]
mod settle;
#[cfg(feature = "std")]
mod star;
#[cfg(feature = "std")]
mod strips;
mod triangles;
#[cfg(feature = "std")]
mod turns;
#[cfg(feature = "std")]
mod web;
mod whole;

pub use into::Real;
pub(super) use into::sized;
pub use triangles::Mesh;

#[cfg(feature = "std")]
use crate::measure::{Error, Fault, Kind};
#[cfg(feature = "std")]
use crate::solid::Solid;
#[cfg(feature = "std")]
use crate::spec::MeshOptions;

#[cfg(feature = "std")]
impl Solid {
    /// The solid as triangles. Needs the feature `std`.
    ///
    /// No point of its faces lies further from the triangles than [`MeshOptions::chord`], nor any point of the triangles from the
    /// faces: bounds of the surfaces' second derivatives, from differences of their Bernstein coefficients, prove it, and
    /// [`Mesh::chord_mm`] is what they prove. Vertices lie on the faces, those on an edge on its curve. The mesh is closed: by
    /// [`Mesh::same_place`] each side of a triangle is that of one other, gone along the other way.
    ///
    /// Triangles are as long as the surface lets them be, so they are long and thin where it is straight one way. None looks the other
    /// way than the surface at any of its corners, and none is lower than 1e-6 mm, but for those no longer than 0.001 mm where edges of
    /// the solid come as close to each other: these are higher than 1e-9 mm.
    ///
    /// Known fault: the wood after rounding or facets takes seconds in about one of fifteen random plans.
    ///
    /// # Errors
    /// - options out of their bounds;
    /// - a solid that is not closed, with numbers that are none, or whose curves, surfaces and edges contradict each other; or a face
    ///   that crosses itself, or takes more corners than memory has room for: none that this library makes.
    pub fn mesh(&self, options: &MeshOptions) -> Result<Mesh, Error> {
        options.check()?;
        fit::checked(self)?;
        let chord = options.chord.mm();
        if let Some(mesh) = build::mesh(self, chord) {
            return Ok(mesh);
        }
        Err(Fault::new(Kind::Geometry, "solid", alloc::format!("the {} could not be made a mesh", self.name))
            .remedy("please report the specification; it passed every check before this one")
            .into())
    }
}
