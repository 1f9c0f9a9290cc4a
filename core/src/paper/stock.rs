//! The blank around a neck seen from the side, and the lines along which its back is sawn.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::callout::{self, Callout};
use super::carving::outline::Piece;
use super::draft::Draft;
use super::layer::Layer;
use super::station::mm;
use crate::carve::{CarvingPlan, Details, SawLine};
use crate::measure::Length;

fn saw_lines(plan: &CarvingPlan) -> impl Iterator<Item = &SawLine> {
    let lines = plan.stages().iter().filter_map(|stage| match &stage.details {
        Details::Sawing(lines) => Some(lines),
        _ => None,
    });
    lines.flatten()
}

/// Draws blank and lines in the frame of the side view.
pub(super) fn draw(draft: &mut Draft, plan: &CarvingPlan) {
    let wood = plan.start();
    let piece = Piece { wood, board: plan.stock().board.glued || wood.is_board_made() };
    draft.closed(Layer::Left, &piece.side([f64::NEG_INFINITY, f64::INFINITY]));
    for line in saw_lines(plan) {
        let at = |k: usize| [line.depth.x_mm[k], -line.depth.value_mm[k]];
        draft.line(Layer::CutLine, at(0), at(1));
    }
}

/// Says below `base` what the saw's lines are; the notes have their depths.
pub(super) fn name(draft: &mut Draft, plan: &CarvingPlan, base: f64) {
    let words = saw_lines(plan).map(|line| {
        // Not in the middle, where other lines have their names.
        let [from, to] = line.depth.x_mm;
        let x = from + 0.36 * (to - from);
        Callout { foot: [x, -line.depth.at_mm(x)], words: format!("saw, {}", line.name) }
    });
    callout::place(draft, words.collect(), base, false);
}

/// The blank's size, and how deep the saw's lines lie.
pub(super) fn notes(plan: &CarvingPlan) -> Vec<String> {
    let [from, to] = plan.start().wood_reach_mm();
    let stock = plan.stock();
    let top = if stock.board.glued { "with the board's blank on it" } else { "without the board" };
    let size = |length: Option<Length>, what: &str| {
        length.map_or(String::new(), |l| format!(", {} {what}", mm(l.mm())))
    };
    let blank = format!(
        "The blank is drawn as it lies around the neck, {top}: {} long{}{}, from {} behind the nut.",
        mm(to - from),
        size(stock.width, "wide"),
        size(stock.thickness, "thick"),
        mm(-from)
    );
    let place = |x: f64| {
        if x < 0.0 { format!("{} behind the nut", mm(-x)) } else { format!("{} from the nut", mm(x)) }
    };
    let line = |line: &SawLine| {
        let [a, b] =
            [0, 1].map(|k| format!("{} ({})", mm(line.depth.value_mm[k]), place(line.depth.x_mm[k])));
        format!("{}, {a} to {b}", line.name)
    };
    let lines: Vec<String> = saw_lines(plan).map(line).collect();
    let mut notes = vec![blank];
    if !lines.is_empty() {
        notes.push(format!("Depths of the saw's lines below the crown line: {}.", lines.join("; ")));
    }
    notes
}
