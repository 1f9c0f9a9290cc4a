//! What every sheet of templates has besides its drawing: what it is, the bars, cautions, what the lines mean.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::paper::block::{HEADING_MM, lines as write, paragraph};
use crate::paper::draft::{Draft, EDGE_MM};
use crate::paper::flow::{flow, lefts};
use crate::paper::layer::Layer;
use crate::paper::legend::{Meaning, legend};
use crate::paper::path::Point;
use crate::paper::sheet::Sheet;
use crate::paper::station::mm;
use crate::shape::Neck;
use crate::spec::{Hand, TemplateOptions};

/// A4 and A3, lying and standing, mm.
const PAPERS: [Point; 4] = [[297.0, 210.0], [210.0, 297.0], [420.0, 297.0], [297.0, 420.0]];

const MEANING: Meaning = &[
    (Layer::Outline, "outline, to cut to"),
    (Layer::CutLine, "way of the cutter"),
    (Layer::Edges, "edge, glue line, nut"),
    (Layer::FretSlots, "fret slot"),
    (Layer::Strings, "string"),
    (Layer::Hidden, "edge of the board"),
    (Layer::Centreline, "centreline, axis"),
    (Layer::Holes, "tuner hole"),
    (Layer::Markers, "centre of a dot"),
];

const CAUTION: &str = "Blades, cutters and wood dust injure: follow the machine's manual, your local rules and the advice of \
                       qualified people, and keep the dust out of your lungs. Paper shrinks and stretches: check every measure \
                       on the wood itself before you cut it.";

/// A sheet before it has its words.
pub(super) struct Frame<'a> {
    pub title: &'a str,
    pub what: String,
    /// What else to know, a sentence or two each.
    pub notes: Vec<String>,
    /// What is drawn, no wider than asked if it can be.
    pub drawing: Box<dyn Fn(f64) -> Draft + 'a>,
    pub tables: Vec<Draft>,
    /// Whether the drawing's origin is the neck's own.
    pub placed: bool,
}

/// What is to be said of the ways of a cutter, where they are drawn.
fn ways(options: &TemplateOptions) -> Option<String> {
    let offset = options.offset.mm();
    (offset > 0.0).then(|| {
        format!(
            "Long strokes with two dots: the way of the middle of a cutter, a saw's kerf or a beam, {} beside the line, outside \
             outlines and inside holes. A round cutter leaves inner corners round, and a hole that it does not fit into has no \
             way.",
            mm(offset)
        )
    })
}

impl Frame<'_> {
    /// Words, a block each.
    fn words(&self, neck: &Neck, options: &TemplateOptions) -> Vec<Draft> {
        let hand = if neck.normalised().hand == Hand::Left { "Left-handed" } else { "Right-handed" };
        let scale = format!("{hand}. Full size, 1:1. All measures in millimetres.");
        let all = core::iter::once(scale).chain(self.notes.iter().cloned()).chain(ways(options));
        all.chain([CAUTION.into()]).map(|note| paragraph(&note)).collect()
    }

    /// Title, drawing, and below it the words and tables in columns; where the drawing's origin has come to.
    fn laid(&self, neck: &Neck, options: &TemplateOptions, drawing: Draft, width: f64) -> (Draft, Point) {
        let spec = neck.normalised();
        let name = if spec.name.trim().is_empty() { "A neck without a name" } else { spec.name.as_str() };
        let (mut draft, mut heading) = (Draft::default(), Draft::default());
        let mut y = write(&mut heading, &self.what, 0.0, 0.0, 4.5, width.min(HEADING_MM));
        y = write(&mut heading, name, 0.0, y + 1.0, 3.2, width.min(HEADING_MM));
        draft.stand(heading, [0.0; 2]);
        let [low, high] = drawing.bounds();
        let by = [-low[0], y - 2.0 - high[1]];
        let mut blocks = self.words(neck, options);
        blocks.extend(legend(MEANING, |layer| drawing.uses(layer)));
        blocks.extend(self.tables.iter().cloned());
        draft.stand(drawing, by);
        let top = draft.bounds()[0][1] - 6.0;
        let columns: Vec<Point> = lefts(width).into_iter().map(|x| [x, top]).collect();
        flow(&mut draft, blocks, &columns);
        (draft, by)
    }

    /// The sheet, on the first paper that holds it.
    pub fn sheet(self, neck: &Neck, options: &TemplateOptions) -> Sheet {
        let size = |draft: &Draft| {
            let [low, high] = draft.bounds();
            [0, 1].map(|k| high[k] - low[k])
        };
        for paper in PAPERS {
            let room = paper.map(|v| v - 2.0 * EDGE_MM + 1e-9);
            let drawing = (self.drawing)(room[0]);
            if size(&drawing)[0] <= room[0] {
                let (draft, by) = self.laid(neck, options, drawing, room[0]);
                if (0..2).all(|k| size(&draft)[k] <= room[k]) {
                    return draft.into_sheet(self.title, &PAPERS, self.placed.then_some(by));
                }
            }
        }
        // No paper holds it: as wide as the drawing, which leaves room for two columns at least.
        let least = PAPERS[2][0] - 2.0 * EDGE_MM;
        let drawing = (self.drawing)(least);
        let width = size(&drawing)[0].max(least);
        let (draft, by) = self.laid(neck, options, drawing, width);
        draft.into_sheet(self.title, &[], self.placed.then_some(by))
    }
}
