//! The carving plan: from the blank to the last grit.

mod block;
mod caution;
mod grain;
mod sanding;
mod species;
mod workshop;

pub use block::{Block, Zone, ZoneBlock};
pub use caution::{Caution, Topic, cautions};
pub use grain::grain_um;
pub use sanding::{GritStep, Removes, SandingPlan, sanding_plan};
