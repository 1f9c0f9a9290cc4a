//! A solid as triangles.

mod triangles;

pub use triangles::Mesh;
