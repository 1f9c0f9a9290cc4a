//! Dimension lines.

use alloc::string::String;
use alloc::vec::Vec;

use super::path::{Path, Point, moved};
use super::text::{Anchor, Text};

/// Gap between a point and its witness line, and how far that runs past the dimension line, mm.
const GAP_MM: f64 = 1.0;
const PAST_MM: f64 = 1.5;
/// Half the length of the stroke across the dimension line at its ends, along either axis, mm.
const STROKE_MM: f64 = 0.9;

/// A straight dimension: between two points, along one of the sheet's axes.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// The two points that it measures between.
    pub between: [Point; 2],
    /// The ends of the dimension line.
    pub line: [Point; 2],
    /// What it says, and where.
    pub text: Text,
}

impl Dimension {
    /// A level dimension whose line lies at height `y`, its words above the middle of the line, or beyond its right
    /// end where the line is too short for them.
    #[must_use]
    pub fn level(between: [Point; 2], y: f64, words: impl Into<String>) -> Self {
        let line = between.map(|p| [p[0], y]);
        let (left, right) = (line[0][0].min(line[1][0]), line[0][0].max(line[1][0]));
        let text = Text::new([0.5 * (left + right), y + 0.9], Anchor::Middle, words);
        if text.width_mm() + 2.0 <= right - left {
            return Self { between, line, text };
        }
        let text = Text { at: [right + 2.0, y - 0.5 * text.height_mm], anchor: Anchor::Start, ..text };
        Self { between, line, text }
    }

    /// The same with its words beyond the left end of a level line.
    #[must_use]
    pub(super) fn words_left(mut self) -> Self {
        let left = self.line[0][0].min(self.line[1][0]);
        self.text.anchor = Anchor::End;
        self.text.at = [left - 2.0, self.line[0][1] - 0.5 * self.text.height_mm];
        self
    }

    /// An upright dimension whose line lies at `x`, its words to the right of the middle of the line.
    #[must_use]
    pub fn upright(between: [Point; 2], x: f64, words: impl Into<String>) -> Self {
        let line = between.map(|p| [x, p[1]]);
        let text = Text::new([x + 1.5, 0.0], Anchor::Start, words);
        let at = [text.at[0], 0.5 * (line[0][1] + line[1][1]) - 0.5 * text.height_mm];
        Self { between, line, text: Text { at, ..text } }
    }

    /// The lines that it is drawn with: two witness lines where there is room for them, the dimension line, and
    /// a slanted stroke over each of its ends.
    #[must_use]
    pub fn strokes(&self) -> Vec<Path> {
        let mut strokes = Vec::with_capacity(5);
        for (p, end) in self.between.iter().zip(self.line) {
            let way = [end[0] - p[0], end[1] - p[1]];
            let length = libm::hypot(way[0], way[1]);
            if length > GAP_MM {
                let on = |mm: f64| [p[0] + way[0] * mm / length, p[1] + way[1] * mm / length];
                strokes.push(Path::line(on(GAP_MM), on(length + PAST_MM)));
            }
            let stroke = [STROKE_MM, STROKE_MM];
            strokes.push(Path::line(moved(end, stroke.map(|s| -s)), moved(end, stroke)));
        }
        strokes.push(Path::line(self.line[0], self.line[1]));
        strokes
    }

    pub(super) fn moved(self, by: Point) -> Self {
        let shift = |p: Point| moved(p, by);
        Self { between: self.between.map(shift), line: self.line.map(shift), text: self.text.moved(by) }
    }
}
