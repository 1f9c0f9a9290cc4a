//! The strip at the foot of a page: the bars, what page it is, how to put it to the others.

use alloc::format;
use alloc::string::String;

use super::super::bars::bars;
use super::super::block;
use super::super::draft::Draft;
use super::super::layer::Layer;
use super::super::letters;
use super::super::path::Point;
use super::super::sheet::Shape;
use super::super::text::{Anchor, CAPITAL, Text, width_mm};

/// Height of the strip, mm.
pub(super) const STRIP_MM: f64 = 29.0;

/// From the page's left edge to the words beside the bars, mm.
const WORDS_MM: f64 = 106.0;
/// Height of the page's name, mm.
const NAME_MM: f64 = 4.0;
/// Greatest size of the overview and of one page in it, mm.
const OVERVIEW_MM: Point = [28.0, 20.0];
const CELL_MM: Point = [7.0, 5.0];
/// Heights of the names in the overview, mm; in smaller pages they are left out.
const NAMES_MM: [f64; 2] = [1.8, 1.5];
/// Heights of the words, mm: the first in which they have room is taken.
const HEIGHTS_MM: [f64; 4] = [2.2, 2.0, 1.8, 1.6];

const MEASURE: &str = "Measure both bars with a rule before you cut. Print at 100 %, not fitted to the page.";

/// What a strip says.
pub(super) struct Strip<'a> {
    pub title: &'a str,
    pub columns: usize,
    /// The name of every page of the grid, row by row, and whether it is printed; empty on a page that is no part of one.
    pub grid: &'a [(String, bool)],
    /// Which of them this one is.
    pub this: usize,
    /// Which of the sheet's pages it is, and how many there are.
    pub pages: [usize; 2],
    /// The pages to the left of it and above it.
    pub neighbours: [Option<&'a str>; 2],
    /// Whether there is one to the right or below.
    pub more: bool,
}

impl Strip<'_> {
    fn stick(&self) -> String {
        let lay = |where_: &str, on: &str| {
            format!(
                "Cut along the dotted line{where_}, and lay the edge on that of {on} so that the crosses meet."
            )
        };
        match self.neighbours {
            [Some(left), Some(above)] => {
                lay("s on the left and at the top", &format!("{left} and of {above}"))
            }
            [Some(left), None] => lay(" on the left", left),
            [None, Some(above)] => lay(" at the top", above),
            [None, None] if self.more => {
                String::from("Lay the next pages on the dotted lines so that the crosses meet.")
            }
            [None, None] => String::new(),
        }
    }

    fn left_out(&self) -> &'static str {
        if self.grid.iter().all(|(_, kept)| *kept) {
            ""
        } else {
            "Nothing is on the dashed pages: they are left out."
        }
    }

    /// All pages in their places, this one with a heavy frame, those that are left out dashed and in brackets; its upper
    /// right corner at `(0, 0)`. Returns its width.
    fn overview(&self, draft: &mut Draft) -> f64 {
        let rows = self.grid.len() / self.columns.max(1);
        let count = [self.columns as f64, rows as f64];
        let cell = [0, 1].map(|k| CELL_MM[k].min(OVERVIEW_MM[k] / count[k]));
        let corner = |column: f64, row: f64| [(column - count[0]) * cell[0], -row * cell[1]];
        for (i, (name, kept)) in self.grid.iter().enumerate() {
            let (column, row) = ((i % self.columns.max(1)) as f64, (i / self.columns.max(1)) as f64);
            let inset = |by: f64| {
                let ([l, t], [r, b]) = (corner(column, row), corner(column + 1.0, row + 1.0));
                [[l + by, b + by], [r - by, b + by], [r - by, t - by], [l + by, t - by]]
            };
            let layer = if *kept { Layer::PageMarks } else { Layer::Seams };
            draft.closed(layer, &inset(0.25));
            if i == self.this {
                for by in [0.45, 0.65] {
                    draft.closed(Layer::PageMarks, &inset(by));
                }
            }
            let words = if *kept { name.clone() } else { format!("({name})") };
            let fits =
                |h: &f64| letters::width_mm(&words, h / CAPITAL) <= cell[0] - 0.8 && h + 1.6 <= cell[1];
            if let Some(height) = NAMES_MM.into_iter().find(fits) {
                let [l, t] = corner(column + 0.5, row + 0.5);
                let text = Text::new([l, t - 0.5 * height], Anchor::Middle, words).high(height);
                draft.add(Layer::PageMarks, Shape::Text(text));
            }
        }
        count[0] * cell[0]
    }

    /// The words from their upper left corner on, if they have room.
    fn words(&self, height: f64, size: Point) -> Option<Draft> {
        let mut draft = Draft::default();
        let mut beside = 0.0;
        if let Some((name, _)) = self.grid.get(self.this) {
            let text = Text::new([0.0, -NAME_MM], Anchor::Start, name.as_str()).high(NAME_MM);
            beside = text.width_mm() + 2.0;
            draft.add(Layer::PageMarks, Shape::Text(text));
        }
        let [number, all] = self.pages;
        let page =
            Text::new([beside, -NAME_MM], Anchor::Start, format!("page {number} of {all}")).high(height);
        if beside + page.width_mm() > size[0] {
            return None;
        }
        if all > 1 {
            draft.text(page);
        }
        let mut y = -NAME_MM - f64::max(0.8 * height, 0.37 * NAME_MM);
        let first = self.grid.iter().take(self.this).all(|(_, kept)| !kept);
        let left_out = if first { self.left_out() } else { "" };
        for words in [self.title, &self.stick(), left_out] {
            if !words.is_empty() {
                y = block::lines(&mut draft, words, 0.0, y, height, size[0]) - 0.2 * height;
            }
        }
        (y >= -size[1]).then_some(draft)
    }

    /// The strip, its lower left corner at `(0, 0)`.
    pub(super) fn draft(&self, width: f64) -> Draft {
        let mut draft = Draft::default();
        draft.line(Layer::PageMarks, [0.0, STRIP_MM - 1.0], [width, STRIP_MM - 1.0]);
        let height = HEIGHTS_MM.into_iter().find(|h| width_mm(MEASURE, *h) <= width);
        let measure = Text::new([0.0, STRIP_MM - 4.6], Anchor::Start, MEASURE);
        draft.add(Layer::CheckBars, Shape::Text(measure.high(height.unwrap_or(1.6))));
        draft.take(bars(), [0.0, 16.0]);
        let mut overview = Draft::default();
        let wide = self.overview(&mut overview);
        draft.take(overview, [width, 21.5]);
        let room = [width - wide - 2.0 - WORDS_MM, 21.5];
        // The smallest always has room but for a title of many words, and then that is left out.
        let words = HEIGHTS_MM.into_iter().find_map(|h| self.words(h, room));
        let untitled = || Strip { title: "", ..*self }.words(HEIGHTS_MM[3], [room[0], f64::INFINITY]);
        if let Some(words) = words.or_else(untitled) {
            draft.take(words, [WORDS_MM, 21.5]);
        }
        draft
    }
}
