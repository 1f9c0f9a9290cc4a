//! The pages of a carving plan: one stage a page, the drawing beside the numbers, at full size.

mod front;
mod lying;
mod marks;
pub(super) mod outline;
mod page;
mod rounded;
mod sanded;
pub(super) mod scene;
pub(super) mod templates;
mod timber;
mod words;

use alloc::vec::Vec;

use super::sheet::Sheet;
use crate::carve::CarvingPlan;

/// The page of one stage of a carving plan, by its place in [`CarvingPlan::stages`]: the wood before it, what it takes
/// off and leaves, the finished neck within, and the lines to mark, at full size; beside it what to do and with what,
/// the distances of the lines in millimetres and to a 64th of an inch, the readings to check, the volumes, the
/// least clearance that is proven, and the cautions. `None` where the plan has no such stage.
///
/// The wood of a left-handed neck is drawn as the mirror image, with its words to be read.
#[must_use]
pub fn carving_page(plan: &CarvingPlan, index: usize) -> Option<Sheet> {
    Some(page::page(&scene::Scene::new(plan, index)?))
}

/// The pages of all stages, in the order in which the stages are done.
#[must_use]
pub fn carving_pages(plan: &CarvingPlan) -> Vec<Sheet> {
    (0..plan.stages().len()).filter_map(|i| carving_page(plan, i)).collect()
}
