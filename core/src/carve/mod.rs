//! The carving plan: from the blank to the last grit.

mod block;
mod grain;
mod sanding;

pub use block::{Block, Zone, ZoneBlock};
pub use grain::grain_um;
pub use sanding::{GritStep, Removes, SandingPlan, sanding_plan};
