//! From the blank to the last grit: the stages of the work, the lines to mark before each and the readings to check
//! after it, and the proof that no cut comes into the finished neck.
//!
//! [`Neck::carving_plan`](crate::shape::Neck::carving_plan) makes a [`CarvingPlan`] from a
//! [`Stock`](crate::spec::Stock): the piece of timber, the tools and the allowances. Every stage's [`Wood`] lies inside
//! the wood before it and around the finished neck.

mod across;
mod allowance;
mod blank;
mod block;
mod caution;
mod channel;
mod clearance;
mod cutter;
mod dust;
mod face;
mod facet;
mod fence;
mod finish;
mod glued;
mod grain;
mod grit;
mod heel_block;
mod limit;
mod mark;
mod offer;
mod pass;
mod plan;
mod plan_gap;
mod planing;
mod rounding;
mod sanding;
mod sawing;
mod seen;
mod setting;
mod shaping;
mod species;
mod square;
mod stage;
mod step;
mod taper;
mod target;
mod template;
mod thickness;
mod timber;
mod tuner;
mod volume;
mod way;
mod wood;
mod work;
mod workshop;

pub(crate) use blank::Blank;
pub use block::{Block, Zone, ZoneBlock};
#[cfg(feature = "std")]
pub(crate) use caution::cautions_of_mending;
pub use caution::{Caution, Topic, cautions};
pub use clearance::{CLEARANCE_TOLERANCE, Clearance};
pub use cutter::{CutterFacts, CutterPath, CutterRow};
pub(crate) use face::WoodFace;
pub use facet::{Facet, FacetFacts, FacetMarks};
pub use fence::Straight;
pub use grain::grain_um;
pub use grit::{GritStep, Removes};
pub use heel_block::HeelBlock;
pub(crate) use limit::{Contour, Limit};
pub use mark::{Check, Datum, Face, Line, Mark, Waste};
pub(crate) use pass::{Cut, Pass, support};
pub use plan::CarvingPlan;
pub use sanding::{SandingPlan, sanding_plan};
pub use sawing::SawLine;
pub use stage::{Details, Stage};
pub use target::{TargetRow, Targets};
pub(crate) use template::of_neck as templates_of_neck;
pub use template::{Template, TemplatePlane};
pub use timber::TimberFacts;
pub use way::{Grain, Turned, Way};
pub use wood::Wood;
pub(crate) use wood::{Board, Width};
pub use work::Work;
