//! One grit: what it takes off, what stands before it, and what to mind with it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::block::ZoneBlock;
use crate::measure::told;

/// Whose marks a grit takes off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(tag = "what", content = "grit", rename_all = "snake_case")]
pub enum Removes {
    /// Those of rasp and scraper.
    ToolMarks,
    /// The scratches of the grit before, which is this one.
    ScratchesOf(u32),
}

/// One grit of the sequence. All depths are mm, square to the back; on the spine, where nothing else is said.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct GritStep {
    /// Its number.
    pub grit: u32,
    /// Mean size of its grains, µm.
    pub grain_um: f64,
    /// Depth of the scratches that it leaves itself: the next grit's work.
    pub scratch_mm: f64,
    /// Whose marks it takes off.
    pub removes: Removes,
    /// Depth of those marks.
    pub marks_mm: f64,
    /// What it takes off besides, because the allowance is more than the sum of all marks; 0 but for the first grit.
    pub spare_mm: f64,
    /// What it takes off in all: the marks and the spare.
    pub removes_mm: f64,
    /// Allowance still on the spine before this grit: what the caliper reads over the finished thickness.
    pub left_before_mm: f64,
    /// The same when it has done its work; exactly 0 after the last grit.
    pub left_after_mm: f64,
    /// Allowance still on the headstock's back before this grit: what the caliper reads there over the finished thickness.
    /// From the second grit on it is that of the spine.
    pub headstock_before_mm: f64,
    /// Whether the strokes go along the neck only, because no further grit, or one alone, takes its scratches off.
    pub lengthwise: bool,
    /// What every zone is sanded with, in the order of [`Zone::ALL`](super::Zone::ALL); in the plan of a neck, those
    /// zones that it has.
    pub blocks: Vec<ZoneBlock>,
    /// What to mind at this grit, a sentence or two each.
    pub notes: Vec<&'static str>,
}

impl GritStep {
    /// What it takes off, as a sentence; lengths to a thousandth of a millimetre.
    #[must_use]
    pub fn words(&self) -> String {
        let marks = told(self.marks_mm);
        let mut words = match self.removes {
            Removes::ToolMarks => format!("Takes off the marks of rasp and scraper, {marks} mm"),
            Removes::ScratchesOf(grit) => format!("Takes off the scratches of {grit}, {marks} mm"),
        };
        if self.spare_mm > 0.0 {
            let spare = told(self.spare_mm);
            words += &format!(", and {spare} mm that the allowance has over what all grits need");
        }
        words.push('.');
        words
    }
}

/// What to mind at a grit. Common practice, no source.
pub(super) fn notes(first: bool, last: bool, lengthwise: bool, much_spare: bool) -> Vec<&'static str> {
    let mut notes = Vec::new();
    if first {
        notes.push(if last {
            "Scribble over the wood with a pencil; the grit is done where pencil and old marks are gone in light from the \
             side."
        } else {
            "Scribble over the wood with a pencil, here and at each further grit; the grit is done where pencil and old \
             marks are gone in light from the side."
        });
        if much_spare {
            notes.push(
                "More than half of the allowance is no grit's work: a scraper takes it off sooner and truer.",
            );
        }
    } else {
        notes.push("Brush off the dust and the loose grains of the grit before.");
    }
    if lengthwise {
        notes.push("Scratches across the grain show under any finish: strokes go along the neck.");
    }
    if last {
        notes.push(
            "Damp the wood and let it dry before this grit, so that the fibres that would rise later rise now.",
        );
    }
    notes
}
