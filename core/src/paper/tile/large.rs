//! A block that is larger than a page, shared out over several.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::super::cut::{Window, holds};
use super::super::draft::{Draft, Room};
use super::super::extent::extent;
use super::super::layer::Layer;
use super::super::path::Point;
use super::super::sheet::{Item, Shape};
use super::block::Block;
use super::grid::Grid;
use super::{label, marks, words};

/// How much it matters that a seam goes through words, and through a thing no larger than [`SMALL_MM`].
const WORDS: f64 = 50.0;
const SMALL: f64 = 1.0;
const SMALL_MM: f64 = 40.0;

/// A block cut up.
pub(super) struct Large {
    pub number: usize,
    /// The paper that its pages take.
    pub paper: Point,
    grid: Grid,
    items: Vec<Item>,
    pub windows: Vec<Window>,
    pub cells: Vec<Window>,
    /// What each page shows of it, and whether it is needed.
    pub pages: Vec<(Vec<Item>, bool)>,
}

/// The name of a page: a letter for its row, a number for its column.
pub(super) fn name(column: usize, row: usize) -> String {
    let mut letters = Vec::new();
    let mut n = row + 1;
    while n > 0 {
        letters.push(char::from(b'A' + ((n - 1) % 26) as u8));
        n = (n - 1) / 26;
    }
    format!("{}{}", letters.into_iter().rev().collect::<String>(), column + 1)
}

/// What a seam should not go through.
fn things(block: &Block<'_>) -> Vec<(Window, f64)> {
    let mut things: Vec<(Window, f64)> = Vec::new();
    for (item, room) in &block.items {
        things.extend(item.shape.text().map(|t| (t.room(), WORDS)));
        let is_small = (0..2).all(|k| room[1][k] - room[0][k] <= SMALL_MM);
        if is_small && !matches!(item.shape, Shape::Text(_) | Shape::Dimension(_)) {
            things.push((*room, SMALL));
        }
    }
    things
}

impl Large {
    /// `window` is the size of what a page can show.
    pub(super) fn new(block: &Block<'_>, paper: Point, window: Point, overlap: f64) -> Self {
        let grid = Grid::new(&block.room, window, overlap, &things(block));
        let places = (0..grid.rows()).flat_map(|row| (0..grid.columns()).map(move |column| (column, row)));
        let windows: Vec<Window> = places.clone().map(|(column, row)| grid.window(column, row)).collect();
        let cells: Vec<Window> = places.map(|(column, row)| grid.cell(column, row)).collect();
        let mut items: Vec<Item> = block.items.iter().map(|(i, _)| (*i).clone()).collect();
        label::settle(&mut items, &cells);
        let pages = vec![(Vec::new(), false); windows.len()];
        let mut large = Self { number: block.number, paper, grid, items, windows, cells, pages };
        large.share();
        large
    }

    /// Gives every page what it shows.
    fn share(&mut self) {
        for item in &self.items {
            let (room, layer, block): (Room, Layer, usize) = (extent(&item.shape), item.layer, item.block);
            let touches = |w: &Window| (0..2).all(|k| room[0][k] < w[1][k] && w[0][k] <= room[1][k]);
            let words = item.shape.text().map(|t| words::shared(t, &self.windows, &self.cells));
            for (i, (page, needed)) in self.pages.iter_mut().enumerate() {
                let (window, cell) = (&self.windows[i], &self.cells[i]);
                let text = words.as_ref().and_then(|(texts, _)| texts[i].clone());
                if room.iter().all(|p| holds(window, *p)) {
                    page.push(item.clone());
                    *needed |= touches(cell) && !item.shape.within(*cell).is_empty();
                } else if touches(window) {
                    let parts = item.shape.within(*window).into_iter();
                    page.extend(parts.map(|shape| Item { layer, shape, block }));
                    *needed |= touches(cell) && !item.shape.within(*cell).is_empty();
                    page.extend(text.map(|text| Item { layer, shape: Shape::Text(text), block }));
                }
            }
            for i in words.iter().flat_map(|(_, owners)| owners) {
                self.pages[*i].1 = true;
            }
        }
    }

    pub(super) fn needed(&self) -> usize {
        self.pages.iter().filter(|(_, needed)| *needed).count()
    }

    pub(super) fn columns(&self) -> usize {
        self.grid.columns()
    }

    pub(super) fn rows(&self) -> usize {
        self.grid.rows()
    }

    /// The names of its pages, its first row being that of the sheet's rows, and whether they are needed.
    pub(super) fn names(&self, first_row: usize) -> Vec<(String, bool)> {
        let columns = self.columns();
        let name = |i: usize| name(i % columns, first_row + i / columns);
        self.pages.iter().enumerate().map(|(i, (_, needed))| (name(i), *needed)).collect()
    }

    /// Seams with the pages to the right and below, given to both.
    pub(super) fn seams(&self, names: &[(String, bool)]) -> Vec<Draft> {
        let mut drawing = Draft::default();
        for item in &self.items {
            drawing.add(item.layer, item.shape.clone());
        }
        let (columns, rows) = (self.columns(), self.rows());
        let mut seams = Vec::new();
        for i in 0..self.windows.len() {
            let (column, row) = (i % columns, i / columns);
            let right = (column + 1 < columns).then_some((i, i + 1, 0, [row + 1 < rows, row > 0]));
            let below = (row + 1 < rows).then_some((i + columns, i, 1, [column > 0, column + 1 < columns]));
            for (first, second, axis, meets) in right.into_iter().chain(below) {
                if names[first].1 && names[second].1 {
                    let both = [names[first].0.as_str(), names[second].0.as_str()];
                    let seam = marks::between(&self.windows[first], &self.windows[second], axis, both, meets);
                    seams.push((first, second, seam));
                }
            }
        }
        let mut marks = vec![Draft::default(); self.windows.len()];
        let mut taken = drawing;
        // Crosses first: what else is marked keeps clear of them.
        let crosses: Vec<Draft> = seams.iter().map(|(_, _, seam)| seam.crosses(&mut taken)).collect();
        for ((first, second, seam), crosses) in seams.iter().zip(crosses) {
            let line = seam.line(&taken);
            for (page, beyond) in [(*first, 1), (*second, 0)] {
                marks[page].take(line.clone(), [0.0; 2]);
                marks[page].take(crosses.clone(), [0.0; 2]);
                if let Some(text) = seam.name(&taken, &line, beyond) {
                    marks[page].add(Layer::PageMarks, Shape::Text(text));
                }
            }
        }
        marks
    }
}
