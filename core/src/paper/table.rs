//! Tables with fixed columns.

use alloc::string::String;
use alloc::vec::Vec;

use super::draft::Draft;
use super::layer::Layer;
use super::text::{Anchor, TEXT_MM, Text, wrapped};

/// From one line of words to the next.
pub(super) const ROW_MM: f64 = 4.2;
/// Between a column's words and the next column's.
const GAP_MM: f64 = 2.0;

/// A column: its width, and whether its words stand on the left or, as numbers do, on the right.
#[derive(Clone, Copy)]
pub(super) enum Column {
    Words(f64),
    Number(f64),
}

impl Column {
    const fn width(self) -> f64 {
        match self {
            Self::Words(width) | Self::Number(width) => width,
        }
    }
}

/// A table, its upper left corner at `(0, 0)`; a line under its first row, words wrapped in their columns.
pub(super) fn table(columns: &[Column], rows: &[Vec<String>]) -> Draft {
    let mut draft = Draft::default();
    let whole: f64 = columns.iter().map(|c| c.width()).sum();
    let mut y = 0.0;
    for (i, row) in rows.iter().enumerate() {
        let (mut left, mut low): (f64, f64) = (0.0, y);
        for (cell, column) in row.iter().zip(columns) {
            let mut line = y - TEXT_MM;
            for words in wrapped(cell, TEXT_MM, column.width() - GAP_MM) {
                let (x, anchor) = match column {
                    Column::Words(_) => (left, Anchor::Start),
                    Column::Number(width) => (left + width - GAP_MM, Anchor::End),
                };
                draft.text(Text::new([x, line], anchor, words));
                low = low.min(line);
                line -= ROW_MM;
            }
            left += column.width();
        }
        if low == y {
            continue;
        }
        y = low - (ROW_MM - TEXT_MM);
        if i == 0 {
            let rule = low - 0.55 * (ROW_MM - TEXT_MM) - 0.3;
            draft.line(Layer::Dimensions, [0.0, rule], [whole - GAP_MM, rule]);
            y -= 0.8;
        }
    }
    draft
}
