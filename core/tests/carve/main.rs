//! The carving plan.

mod areas;
mod ball;
mod bench;
#[path = "../carve_common/mod.rs"]
mod carve_common;
#[path = "../common/mod.rs"]
mod common;
mod cutter;
mod envelopes;
mod facets;
mod finish;
mod practice;
mod remedies;
mod sawing;
mod volumes;
