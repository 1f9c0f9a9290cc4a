//! neckwright for C. The contract of every function is in this package's `README.md`.
//!
//! This is the only package with `unsafe` code; it holds no computation.

#[cfg(not(panic = "unwind"))]
compile_error!("build it with `panic = \"unwind\"`: otherwise a panic would end the host's program");

mod argument;
mod boundary;
mod bytes;
mod codes;
mod colour;
mod document;
mod error;
mod handle;
mod hook;
mod inspect;
mod layout;
mod measure;
mod mesh;
mod neck;
mod plan;
mod section;
mod sheets;
mod solid;
mod subject;
mod tree;
mod version;

pub use bytes::*;
pub use codes::*;
pub use document::*;
pub use error::*;
pub use inspect::*;
pub use layout::*;
pub use measure::*;
pub use mesh::*;
pub use neck::*;
pub use plan::*;
pub use section::*;
pub use sheets::*;
pub use solid::*;
pub use subject::*;
pub use version::*;
