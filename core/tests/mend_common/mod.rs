//! What the tests of mending share.
#![allow(dead_code, missing_docs)]

pub mod fair;
pub mod planted;
pub mod solver;
