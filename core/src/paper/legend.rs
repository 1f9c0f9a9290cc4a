//! The bars to measure, and what the lines of a page mean.

use alloc::vec::Vec;

use super::bars::bars;
use super::block::lines_on;
use super::draft::Draft;
use super::flow::COLUMN_MM;
use super::layer::Layer;
use super::path::Point;
use super::sheet::Shape;
use super::table::ROW_MM;
use super::text::{Anchor, TEXT_MM, Text};

const MEASURE: &str = "Measure both bars before you cut. If they are not true, print again at full size (100 %), \
                       not fitted to the page.";

/// Length of a sample, mm.
const SAMPLE_MM: f64 = 22.0;

/// What each layer stands for, where a page has it.
pub(super) type Meaning = &'static [(Layer, &'static str)];

/// On a page of templates.
pub(super) const TEMPLATES: Meaning =
    &[(Layer::Outline, "template, to cut to"), (Layer::Centreline, "centreline, nut")];

/// On a drawing of the whole neck.
pub(super) const NECK: Meaning = &[
    (Layer::Outline, "outline"),
    (Layer::Left, "the blank"),
    (Layer::CutLine, "line to saw along"),
    (Layer::Edges, "visible edge"),
    (Layer::FretSlots, "fret slot"),
    (Layer::Strings, "string"),
    (Layer::Hidden, "hidden"),
    (Layer::Centreline, "centreline"),
    (Layer::Holes, "tuner hole"),
    (Layer::Markers, "centre of a dot"),
];

/// On a map of the back.
pub(super) const MAP: Meaning = &[
    (Layer::Outline, "edge of the map"),
    (Layer::Edges, "carve line"),
    (Layer::CutLine, "ring around a finding"),
    (Layer::Centreline, "spine"),
];

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

/// A sample of a layer around the left end of its middle: as a line, or in the shape that the layer's things have.
fn sample(draft: &mut Draft, layer: Layer, [x, y]: Point) {
    match layer {
        Layer::FretSlots => {
            for i in 0..5 {
                let x = x + 0.25 * SAMPLE_MM * f64::from(i);
                draft.line(layer, [x, y - 1.5], [x, y + 1.5]);
            }
        }
        Layer::Holes => {
            let centre = [x + 0.5 * SAMPLE_MM, y];
            draft.add(layer, Shape::Circle { centre, radius_mm: 1.5 });
        }
        Layer::Markers => {
            let middle = x + 0.5 * SAMPLE_MM;
            for turn in [-1.0, 1.0] {
                draft.line(layer, [middle - 1.5, y - 1.5 * turn], [middle + 1.5, y + 1.5 * turn]);
            }
        }
        _ => draft.line(layer, [x, y], [x + SAMPLE_MM, y]),
    }
}

/// The blocks of the bars and of the samples; `uses` tells whether the page has lines of a layer.
pub(super) fn legend(meaning: Meaning, uses: impl Fn(Layer) -> bool) -> Vec<Draft> {
    let mut measure = Draft::default();
    measure.take(bars(), [0.0, -6.0]);
    // On the bars' layer, so that both are taken or left together.
    lines_on(&mut measure, Layer::CheckBars, MEASURE, [0.0, -21.5], TEXT_MM, COLUMN_MM);
    let mut draft = Draft::default();
    let mut y = 0.0;
    let samples = meaning.iter().filter(|(layer, _)| uses(*layer));
    for (i, (layer, words)) in samples.enumerate() {
        let x = 64.0 * (i % 2) as f64;
        if i > 0 && i % 2 == 0 {
            y -= ROW_MM;
        }
        sample(&mut draft, *layer, [x, y]);
        draft.text(Text::new([x + SAMPLE_MM + 2.0, y - 0.5 * TEXT_MM], Anchor::Start, *words));
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
    Vec::from([measure, draft])
}
