//! Words with a line that leads to a place of the drawing.

use alloc::string::String;
use alloc::vec::Vec;

use super::draft::Draft;
use super::layer::Layer;
use super::path::{Path, Point};
use super::sheet::Shape;
use super::text::{Anchor, TEXT_MM, Text};

/// From one row of words to the next, mm.
const ROW_MM: f64 = 4.5;
const ROWS: usize = 9;

/// One of them: the place it leads to and what it says.
pub(super) struct Callout {
    pub foot: Point,
    pub words: String,
}

/// Puts callouts in rows above (or below) the height `base`, each in the nearest row where it crosses nothing;
/// returns how many found no room.
pub(super) fn place(draft: &mut Draft, mut callouts: Vec<Callout>, base: f64, above: bool) -> usize {
    let up = if above { 1.0 } else { -1.0 };
    // From the right: words run to the right of their line, so those further left go to rows further out.
    callouts.sort_by(|a, b| b.foot[0].total_cmp(&a.foot[0]));
    let feet: Vec<f64> = callouts.iter().map(|c| c.foot[0]).collect();
    let mut left_out = 0;
    for (i, Callout { foot, words }) in callouts.into_iter().enumerate() {
        let rows = (0..ROWS).flat_map(|row| [(row, Anchor::Start, 1.2), (row, Anchor::End, -1.2)]);
        let found = rows.into_iter().find_map(|(row, anchor, beside)| {
            let y = base + up * ROW_MM * row as f64 + if above { 0.0 } else { -TEXT_MM };
            let text = Text::new([foot[0] + beside, y], anchor, words.as_str());
            let end = if above { y + TEXT_MM } else { y };
            let line = [foot, [foot[0], end]];
            // Words to the left must not bar the way of the lines that are still to come.
            let barred = text.room()[0][0] - 1.0;
            let bars = anchor == Anchor::End && feet[i + 1..].iter().any(|x| *x > barred);
            (!bars && draft.is_free(&text) && draft.is_clear(&line)).then_some((text, line))
        });
        match found {
            Some((text, [from, to])) => {
                draft.path(Layer::Dimensions, Path::line(from, to));
                draft.add(Layer::Dimensions, Shape::Text(text));
            }
            None => left_out += 1,
        }
    }
    left_out
}
