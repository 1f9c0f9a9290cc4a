//! The bars to measure before cutting.

use super::draft::Draft;
use super::layer::Layer;
use super::sheet::Shape;
use super::text::{Anchor, Text};

/// The bars: their length in mm, into how many parts strokes divide them, what they say.
const BARS: [(f64, u32, &str); 2] = [(100.0, 10, "100 mm"), (101.6, 16, "4 in (101.6 mm)")];
const PITCH_MM: f64 = 11.0;

/// Both bars, the upper one's left end at `(0, 0)`, with their words above them. The line of each bar is one
/// path on its layer, the strokes across it are paths of their own.
pub(super) fn bars() -> Draft {
    let mut draft = Draft::default();
    for (row, (length, parts, words)) in BARS.into_iter().enumerate() {
        let y = -PITCH_MM * row as f64;
        draft.line(Layer::CheckBars, [0.0, y], [length, y]);
        for i in 0..=parts {
            let x = length * f64::from(i) / f64::from(parts);
            let reach = match (i == 0 || i == parts, i % 4 == 0 && parts == 16) {
                (true, _) => 2.5,
                (false, true) => 1.5,
                _ => 0.8,
            };
            draft.line(Layer::CheckBars, [x, y - reach], [x, y + reach]);
        }
        let text = Text::new([0.5 * length, y + 3.0], Anchor::Middle, words);
        // On the bars' layer, so that bars and words are taken or left together.
        draft.add(Layer::CheckBars, Shape::Text(text));
    }
    draft
}
