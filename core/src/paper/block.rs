//! The block of words that every sheet carries: what it is, what to know, the bars, what the lines mean.

use alloc::format;
use alloc::string::String;

use super::bars::bars;
use super::draft::Draft;
use super::layer::Layer;
use super::path::Point;
use super::text::{Anchor, TEXT_MM, Text, wrapped};
use crate::shape::Neck;
use crate::spec::Hand;

/// From one line of words to the next, as a multiple of their height.
const LEADING: f64 = 1.8;
/// Width of the column with the bars.
const BARS_MM: f64 = 104.0;
const GUTTER_MM: f64 = 10.0;
/// The narrowest column of words beside the bars.
const WORDS_MM: f64 = 110.0;

const MEASURE: &str = "Measure both bars before you cut. If they are not true, print again at full size (100 %), \
                       not fitted to the page.";
const CAUTION: &str = "Blades, cutters and wood dust injure: follow the machine's manual, your local rules and the \
                       advice of qualified people, and keep the dust out of your lungs. Check every measure on the \
                       wood itself";
const ROD: &str = ", above all how much is left over the rod";

/// What a sheet says of itself.
pub(super) struct Words<'a> {
    /// What is drawn and how it is seen.
    pub what: &'a str,
    /// What else to know, a sentence each.
    pub notes: &'a [String],
}

/// Writes lines of words from a height downward; returns where the next line would stand.
pub(super) fn lines(draft: &mut Draft, words: &str, left: f64, top: f64, height: f64, width: f64) -> f64 {
    let mut y = top - height;
    for line in wrapped(words, height, width) {
        draft.text(Text::new([left, y], Anchor::Start, line).high(height));
        y -= LEADING * height;
    }
    y + height
}

/// The block, its upper left corner at `(0, 0)` and no wider than asked, but for the width of the bars.
pub(super) fn block(neck: &Neck, words: &Words<'_>, width: f64) -> Draft {
    let mut draft = Draft::default();
    let beside = width >= WORDS_MM + GUTTER_MM + BARS_MM;
    let column = if beside { width - GUTTER_MM - BARS_MM } else { width.max(BARS_MM) };
    let spec = neck.normalised();
    let name = if spec.name.trim().is_empty() { "A neck without a name" } else { spec.name.as_str() };
    let hand = if spec.hand == Hand::Left { "Left-handed" } else { "Right-handed" };
    let mut y = lines(&mut draft, name, 0.0, 0.0, 4.5, column);
    y = lines(&mut draft, words.what, 0.0, y + 1.0, 3.2, column);
    let scale = format!("{hand}. Full size, 1:1. All measures in millimetres.");
    let caution = format!("{CAUTION}{}.", if spec.rod.fitted { ROD } else { "" });
    for note in core::iter::once(scale.as_str())
        .chain(words.notes.iter().map(String::as_str))
        .chain([caution.as_str()])
    {
        y = lines(&mut draft, note, 0.0, y, TEXT_MM, column) - 0.6;
    }
    let corner = if beside { [width - BARS_MM, 0.0] } else { [0.0, y - 2.0] };
    draft.take(measure(), corner);
    draft
}

/// The bars, what to do with them, and what the lines mean; the upper left corner at `(0, 0)`.
fn measure() -> Draft {
    let mut draft = Draft::default();
    draft.take(bars(), [0.0, -6.0]);
    let y = lines(&mut draft, MEASURE, 0.0, -21.5, TEXT_MM, BARS_MM);
    let samples = [
        (Layer::Outline, "outline"),
        (Layer::Edges, "visible edge"),
        (Layer::Hidden, "hidden"),
        (Layer::Centreline, "centreline"),
    ];
    for (i, (layer, words)) in samples.into_iter().enumerate() {
        let x = 52.0 * (i % 2) as f64;
        let at: Point = [x, y - 3.0 - LEADING * TEXT_MM * (i / 2) as f64];
        draft.line(layer, at, [x + 22.0, at[1]]);
        draft.text(Text::new([x + 24.0, at[1] - 0.5 * TEXT_MM], Anchor::Start, words));
    }
    draft
}
