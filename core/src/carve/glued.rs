//! What is glued before anything else is cut: the scarf, and the heel's block.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::heel_block::HeelBlock;
use super::mark::{Check, Datum, Face, Line, Mark, Place};
use super::setting::Setting;
use crate::measure::told;

impl Setting {
    /// What is done, to go on with in a sentence of its own.
    pub(super) fn glued_words(&self) -> String {
        let facts = &self.timber.facts;
        let mut words = String::new();
        if let Some([run, face]) = facts.scarf_mm {
            words.push_str(&format!(
                " Saw the scarf at {} degrees, {run:.1} mm along the blank and {face:.1} mm along the cut, with the saw's \
                 cut on the headstock's side of its line; turn the piece that comes off over, its end still away from the \
                 shaft, plane both slopes in one, and glue it under the shaft so that its face and the slope lie in one \
                 plane.",
                told(self.neck.headstock().angle_deg),
            ));
        }
        if let Some(HeelBlock { size_mm, short_of_end_mm, .. }) = facts.heel_block {
            let [length, width, thickness] = size_mm.map(|mm| libm::round(mm * 10.0) / 10.0);
            let end = if short_of_end_mm > 0.05 {
                format!("its other end {short_of_end_mm:.1} mm short of the blank's")
            } else {
                String::from("its other end flush with the blank's")
            };
            words.push_str(&format!(
                " Bring the heel's block to {length} x {width} x {thickness} mm, its grain along its length and its front \
                 end square; plane its top and the blank's underside to fit without a gap, and glue it under the blank, \
                 grain along the neck, in the middle of the width, its front end on its line and {end}.",
            ));
        }
        words
    }

    /// The lines for it.
    pub(super) fn glued_lines(&self) -> Vec<Line> {
        let (facts, root) = (&self.timber.facts, self.neck.headstock().root_x_mm);
        let mark = |x_mm: f64, place: &str, distance_mm: f64| Mark { x_mm, place: place.into(), distance_mm };
        let mut lines = Vec::new();
        if let (Some([top, under]), Some([run, _])) = (facts.scarf_from_end_mm, facts.scarf_mm) {
            lines.push(Line {
                name: String::from(
                    "scarf's cut along both edges, its ends squared across top face and underside",
                ),
                on: Face::BothSides,
                from: Datum::BlankHeelEnd,
                straight: true,
                waste: None,
                marks: vec![mark(root - run, "at the underside", under), mark(root, "at the top face", top)],
            });
        }
        if let Some(block) = facts.heel_block {
            lines.push(Line {
                name: String::from(
                    "front end of the heel's block, square across the underside and up both edges",
                ),
                on: Face::Back,
                from: Datum::BlankHeelEnd,
                straight: true,
                waste: None,
                marks: vec![mark(block.from_x_mm, "front end of the heel's block", block.from_end_mm)],
            });
        }
        lines
    }

    /// What to check of it.
    pub(super) fn glued_checks(&self) -> Vec<Check> {
        let facts = &self.timber.facts;
        let head = self.neck.headstock();
        let mut checks = Vec::new();
        if let Some([_, face]) = facts.scarf_mm {
            checks.push(Check {
                what: String::from("scarf: length of the slope along the cut, rule"),
                x_mm: None,
                place: String::from("both edges"),
                reads_mm: Some(face),
            });
            checks.push(Check::by_eye(format!(
                "a bevel set to {} degrees ({:.1} up on 100 along) fits the sharp edge of both pieces, at either end of \
                 the cut",
                told(head.angle_deg),
                100.0 * libm::tan(head.angle_deg.to_radians())
            )));
        }
        if let Some(block) = facts.heel_block {
            let place = Place::new(block.from_x_mm, "block's front end");
            let [_, _, thickness] = facts.blank_mm;
            checks.push(Check::reading(
                "blank and heel's block together, caliper",
                &place,
                thickness + block.size_mm[2],
            ));
            checks.push(Check::by_eye(
                "the joint between blank and heel's block shows no gap all around, and its grain runs along the neck",
            ));
        }
        checks
    }
}
