//! One stage of the plan.

use alloc::boxed::Box;
use alloc::string::String;
use alloc::vec::Vec;

use super::caution::Caution;
use super::clearance::Clearance;
use super::cutter::CutterFacts;
use super::facet::FacetFacts;
use super::mark::{Check, Line};
use super::sanding::SandingPlan;
use super::sawing::SawLine;
use super::target::Targets;
use super::template::Template;
use super::timber::TimberFacts;
use super::wood::Wood;
use crate::spec::StageName;

/// What only some stages have.
#[derive(Clone, Debug, serde::Serialize)]
#[serde(tag = "kind", content = "facts", rename_all = "snake_case")]
pub enum Details {
    /// Nothing further.
    None,
    /// The blank.
    Timber(Box<TimberFacts>),
    /// The saw's lines in side view.
    Sawing(Vec<SawLine>),
    /// The cutter.
    Cutter(CutterFacts),
    /// The facets.
    Facets(FacetFacts),
    /// The readings that contouring works to.
    Targets(Targets),
    /// Templates.
    Templates(Vec<Template>),
    /// The grits.
    Sanding(SandingPlan),
}

/// One stage: what to mark, what to cut, what to check.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Stage {
    /// Which one.
    pub name: StageName,
    /// What is done.
    pub action: String,
    /// With what kind of tool.
    pub tool: String,
    /// The lines to mark before it.
    pub lines: Vec<Line>,
    /// What to check after it, before going on.
    pub checks: Vec<Check>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Wood that this stage takes off, mm³.
    pub removed_mm3: f64,
    /// Wood that is left after it, board and neck together, mm³.
    pub left_mm3: f64,
    /// The least wood between this stage's cut and the finished neck (or, where an allowance runs out at the carve
    /// line, the neck with that allowance still on), proven; of contouring and the transitions, whose allowance runs out
    /// at the carve line, straight down along the spine. `None` for a stage that takes nothing, or that cuts faces to
    /// their finished place.
    pub clearance: Option<Clearance>,
    /// The wood after it.
    #[serde(skip)]
    pub wood: Wood,
    /// What only this stage has.
    pub details: Details,
}
