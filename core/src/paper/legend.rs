//! The bars to measure, and what the lines of a page mean.

use super::bars::bars;
use super::block::lines as write;
use super::draft::Draft;
use super::flow::COLUMN_MM;
use super::layer::Layer;
use super::table::ROW_MM;
use super::text::{Anchor, TEXT_MM, Text};

const MEASURE: &str = "Measure both bars before you cut. If they are not true, print again at full size (100 %), \
                       not fitted to the page.";

/// What each layer stands for, where a page has it.
pub(super) type Meaning = &'static [(Layer, &'static str)];

/// On a page of templates.
pub(super) const TEMPLATES: Meaning =
    &[(Layer::Outline, "template, to cut to"), (Layer::Centreline, "centreline, nut")];

/// On a page that shows the wood.
pub(super) const WOOD: Meaning = &[
    (Layer::Outline, "the wood before"),
    (Layer::Left, "what is left after"),
    (Layer::Finished, "the finished neck"),
    (Layer::CutLine, "line to mark"),
    (Layer::Edges, "edge"),
    (Layer::Hidden, "hidden"),
    (Layer::Centreline, "centreline, axis"),
    (Layer::FretSlots, "fret slot"),
    (Layer::Holes, "tuner hole"),
];

/// The block of the bars; `uses` tells whether the page has lines of a layer.
pub(super) fn legend(meaning: Meaning, uses: impl Fn(Layer) -> bool) -> Draft {
    let mut draft = Draft::default();
    draft.take(bars(), [0.0, -6.0]);
    let mut y = write(&mut draft, MEASURE, 0.0, -21.5, TEXT_MM, COLUMN_MM) - 3.0;
    let samples = meaning.iter().filter(|(layer, _)| uses(*layer));
    for (i, (layer, words)) in samples.enumerate() {
        let x = 64.0 * (i % 2) as f64;
        if i > 0 && i % 2 == 0 {
            y -= ROW_MM;
        }
        draft.line(*layer, [x, y], [x + 22.0, y]);
        draft.text(Text::new([x + 24.0, y - 0.5 * TEXT_MM], Anchor::Start, *words));
    }
    for (layer, words) in [
        (Layer::Waste, "Slanted strokes: the wood that goes."),
        (Layer::Kept, "Crossed strokes: nothing may touch it."),
    ] {
        if uses(layer) {
            y -= ROW_MM;
            draft.text(Text::new([0.0, y - 0.5 * TEXT_MM], Anchor::Start, words));
        }
    }
    draft
}
