//! The words that every drawing carries: what it is, what to know, the bars, what the lines mean.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::draft::Draft;
use super::flow::COLUMN_MM;
use super::layer::Layer;
use super::legend::{Meaning, legend};
use super::sheet::Shape;
use super::text::{Anchor, TEXT_MM, Text, wrapped};
use crate::shape::Neck;
use crate::spec::Hand;

/// From one line of words to the next, as a multiple of their height.
const LEADING: f64 = 1.8;
/// The widest that words may run: so that they stand whole on an upright page with the widest margins.
pub(super) const HEADING_MM: f64 = 168.0;

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
    /// What its lines mean.
    pub meaning: Meaning,
}

/// Writes lines of words from a height downward; returns where the next line would stand.
pub(super) fn lines(draft: &mut Draft, words: &str, left: f64, top: f64, height: f64, width: f64) -> f64 {
    lines_on(draft, Layer::Words, words, [left, top], height, width)
}

/// The same on a layer, from the upper left corner `at`.
pub(super) fn lines_on(
    draft: &mut Draft,
    layer: Layer,
    words: &str,
    at: [f64; 2],
    height: f64,
    width: f64,
) -> f64 {
    let mut y = at[1] - height;
    for line in wrapped(words, height, width) {
        draft.add(layer, Shape::Text(Text::new([at[0], y], Anchor::Start, line).high(height)));
        y -= LEADING * height;
    }
    y + height
}

/// The blocks, none wider than a column; `uses` tells whether the drawing has lines of a layer.
pub(super) fn blocks(neck: &Neck, words: &Words<'_>, uses: impl Fn(Layer) -> bool) -> Vec<Draft> {
    let mut draft = Draft::default();
    let spec = neck.normalised();
    let name = if spec.name.trim().is_empty() { "A neck without a name" } else { spec.name.as_str() };
    let hand = if spec.hand == Hand::Left { "Left-handed" } else { "Right-handed" };
    let y = lines(&mut draft, name, 0.0, 0.0, 4.5, COLUMN_MM);
    lines(&mut draft, words.what, 0.0, y + 1.0, 3.2, COLUMN_MM);
    let scale = format!("{hand}. Full size, 1:1. All measures in millimetres.");
    let caution = format!("{CAUTION}{}.", if spec.rod.fitted { ROD } else { "" });
    let mut blocks = Vec::from([draft, paragraph(&scale)]);
    blocks.extend(words.notes.iter().chain([&caution]).map(|note| paragraph(note)));
    blocks.extend(legend(words.meaning, uses));
    blocks
}

/// A block of words as wide as a column.
pub(super) fn paragraph(words: &str) -> Draft {
    let mut draft = Draft::default();
    lines(&mut draft, words, 0.0, 0.0, TEXT_MM, COLUMN_MM);
    draft
}
