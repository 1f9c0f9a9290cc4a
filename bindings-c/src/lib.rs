//! neckwright for C. The contract of every function is in this package's `README.md`.
//!
//! This is the only package with `unsafe` code; it holds no computation.

#[cfg(not(panic = "unwind"))]
compile_error!("build it with `panic = \"unwind\"`: otherwise a panic would end the host's program");

mod along;
mod argument;
mod boundary;
mod bytes;
mod cloud;
mod codes;
mod colour;
mod compare;
mod copied;
mod document;
mod edge;
mod error;
mod face;
mod facts;
mod grid;
mod handle;
mod hook;
mod inspection;
mod layout;
mod measure;
mod mending;
mod mesh;
mod mesh_file;
mod neck;
mod plan;
mod positions;
mod readings;
mod section;
mod sheets;
mod solid;
mod spline;
mod step;
mod subject;
mod trace;
mod tree;
mod version;

pub use along::*;
pub use bytes::*;
pub use cloud::*;
pub use codes::*;
pub use compare::*;
pub use copied::*;
pub use document::*;
pub use edge::*;
pub use error::*;
pub use face::*;
pub use facts::*;
pub use grid::*;
pub use inspection::*;
pub use layout::*;
pub use measure::*;
pub use mending::*;
pub use mesh::*;
pub use mesh_file::*;
pub use neck::*;
pub use plan::*;
pub use positions::*;
pub use readings::*;
pub use section::*;
pub use sheets::*;
pub use solid::*;
pub use step::*;
pub use subject::*;
pub use trace::*;
pub use version::*;
