//! What other programs read: STEP; meshes as STL, 3MF and glTF.

mod gltf;
mod parts;
mod step;
mod stl;
mod threemf;
mod xml;
mod zip;

pub use gltf::gltf;
pub use parts::ColouredMesh;
pub use step::{Coloured, StepOptions, StepProtocol, step};
pub use stl::stl;
pub use threemf::threemf;
pub(crate) use xml::escaped;
