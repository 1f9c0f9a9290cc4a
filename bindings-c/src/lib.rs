//! neckwright for C. The contract of every function is in this package's `README.md`.
//!
//! This is the only package with `unsafe` code; it holds no computation.

mod boundary;
mod codes;
mod error;
mod layout;
mod version;

pub use codes::*;
pub use error::*;
pub use layout::*;
pub use version::*;
