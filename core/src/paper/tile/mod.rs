//! Sheets on the paper of a printer: on one page where they fit, otherwise on several to be stuck together.

mod grid;
mod marks;
mod strip;
mod words;

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use self::grid::Grid;
use self::strip::{STRIP_MM, Strip};
use super::cut::{Window, holds};
use super::draft::{Draft, Room};
use super::extent::{NOTHING, both, extent, finite};
use super::layer::Layer;
use super::path::{Point, moved};
use super::sheet::{Item, Shape, Sheet};
use crate::measure::{Error, Fault, Kind};
use crate::spec::{PaperOptions, PaperSize};

/// The most pages that a sheet is shared out over.
pub const MAX_PAGES: usize = 400;

/// Kept free around what is drawn, mm: half the heaviest line and a little more.
const INK_MM: f64 = 0.4;

/// One page of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Tile {
    /// Its name: a letter for the row from the top, a number for the column from the left; empty where it is the only one.
    pub name: String,
    /// Its column, from 0 on the left.
    pub column: usize,
    /// Its row, from 0 at the top.
    pub row: usize,
    /// What it shows of the sheet: lower left and upper right corner on the sheet, mm.
    pub window_mm: [Point; 2],
    /// What only it shows when the pages are stuck together: cells lie side by side without gap or overlap.
    pub cell_mm: [Point; 2],
    /// What a place on the sheet has to be moved by to be on the page, mm.
    pub by_mm: Point,
    /// The page.
    pub sheet: Sheet,
}

/// A sheet on pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Tiling {
    /// Number of columns.
    pub columns: usize,
    /// Number of rows.
    pub rows: usize,
    /// The pages on which there is something, row by row from the top, each from the left.
    pub pages: Vec<Tile>,
    /// The names of the pages on which there would be nothing.
    pub left_out: Vec<String>,
}

fn name(column: usize, row: usize) -> String {
    let mut letters = Vec::new();
    let mut n = row + 1;
    while n > 0 {
        letters.push(char::from(b'A' + ((n - 1) % 26) as u8));
        n = (n - 1) / 26;
    }
    format!("{}{}", letters.into_iter().rev().collect::<String>(), column + 1)
}

/// A sheet as the one page that it is.
fn single(sheet: Sheet, by: Point) -> Tiling {
    let window = [[-by[0], -by[1]], [sheet.size_mm[0] - by[0], sheet.size_mm[1] - by[1]]];
    let page =
        Tile { name: String::new(), column: 0, row: 0, window_mm: window, cell_mm: window, by_mm: by, sheet };
    Tiling { columns: 1, rows: 1, pages: vec![page], left_out: Vec::new() }
}

fn shifted(sheet: &Sheet, size: Point, by: Point) -> Sheet {
    Sheet {
        title: sheet.title.clone(),
        size_mm: size,
        origin_mm: sheet.origin_mm.map(|p| moved(p, by)),
        items: sheet.items.iter().cloned().map(|i| i.moved(by)).collect(),
    }
}

/// The whole sheet on one page, with its own bars, where it has them and fits.
fn on_one(sheet: &Sheet, room: &Room, papers: &[Point; 2], margin: f64) -> Option<Tiling> {
    sheet.layer(Layer::CheckBars).next()?;
    let free = |size: &Point| size.map(|s| s - 2.0 * margin + 1e-9);
    let fits = |size: &&Point| (0..2).all(|k| room[1][k] - room[0][k] <= free(size)[k]);
    let size = *papers.iter().filter(fits).max_by_key(|p| **p == sheet.size_mm)?;
    // As it lies, if that keeps clear of the edges; otherwise in the middle.
    let lies = size == sheet.size_mm
        && (0..2).all(|k| room[0][k] >= margin - 1e-9 && room[1][k] <= size[k] - margin + 1e-9);
    let middle = [0, 1].map(|k| 0.5 * (size[k] - room[0][k] - room[1][k]));
    let by = if lies { [0.0; 2] } else { middle };
    Some(single(shifted(sheet, size, by), by))
}

/// A drawing cut up, before the pages are made of it.
struct Cut<'a> {
    sheet: &'a Sheet,
    items: Vec<(&'a Item, Room)>,
    paper: Point,
    margin: f64,
    grid: Grid,
    windows: Vec<Window>,
    cells: Vec<Window>,
    /// What each page shows of the drawing, and whether it is needed.
    pages: Vec<(Vec<Item>, bool)>,
}

impl<'a> Cut<'a> {
    fn new(
        sheet: &'a Sheet,
        items: Vec<(&'a Item, Room)>,
        room: &Room,
        paper: Point,
        options: &PaperOptions,
    ) -> Self {
        let (margin, overlap) = (options.margin.mm(), options.overlap.mm());
        let things: Vec<Room> = items.iter().map(|(_, room)| *room).collect();
        let grid = Grid::new(room, window_size(paper, margin), overlap, &things);
        let places = (0..grid.rows()).flat_map(|row| (0..grid.columns()).map(move |column| (column, row)));
        let windows: Vec<Window> = places.clone().map(|(column, row)| grid.window(column, row)).collect();
        let cells: Vec<Window> = places.map(|(column, row)| grid.cell(column, row)).collect();
        let pages = vec![(Vec::new(), false); windows.len()];
        let mut cut = Self { sheet, items, paper, margin, grid, windows, cells, pages };
        cut.share();
        // An empty sheet is a page, too.
        if let (0, Some(first)) = (cut.needed(), cut.pages.first_mut()) {
            first.1 = true;
        }
        cut
    }

    /// Gives every page what it shows.
    fn share(&mut self) {
        for (item, room) in &self.items {
            let layer = item.layer;
            let touches = |w: &Window| (0..2).all(|k| room[0][k] < w[1][k] && w[0][k] <= room[1][k]);
            let words = item.shape.text().map(|t| (t, words::shared(t, &self.windows, &self.cells)));
            for (i, (page, needed)) in self.pages.iter_mut().enumerate() {
                let (window, cell) = (&self.windows[i], &self.cells[i]);
                if room.iter().all(|p| holds(window, *p)) {
                    page.push((*item).clone());
                    *needed |= touches(cell) && !item.shape.within(*cell).is_empty();
                } else if touches(window) {
                    page.extend(item.shape.within(*window).into_iter().map(|shape| Item { layer, shape }));
                    *needed |= touches(cell) && !item.shape.within(*cell).is_empty();
                    let text = words.as_ref().and_then(|(_, (texts, _))| texts[i].clone());
                    page.extend(text.map(|text| Item { layer, shape: Shape::Text(text) }));
                }
            }
            for i in words.iter().flat_map(|(_, (_, owners))| owners) {
                self.pages[*i].1 = true;
            }
        }
    }

    fn needed(&self) -> usize {
        self.pages.iter().filter(|(_, needed)| *needed).count()
    }

    /// Seams with the pages to the right and below, given to both.
    fn seams(&self, names: &[(String, bool)]) -> Vec<Draft> {
        let mut drawing = Draft::default();
        for (item, _) in &self.items {
            drawing.add(item.layer, item.shape.clone());
        }
        let columns = self.grid.columns();
        let mut marks = vec![Draft::default(); self.windows.len()];
        for i in 0..self.windows.len() {
            let right = ((i + 1) % columns != 0).then_some((i, i + 1, 0));
            let below = (i + columns < self.windows.len()).then_some((i + columns, i, 1));
            for (first, second, axis) in right.into_iter().chain(below) {
                if !(names[first].1 && names[second].1) {
                    continue;
                }
                let both = [names[first].0.as_str(), names[second].0.as_str()];
                let seam = marks::between(&self.windows[first], &self.windows[second], axis, both);
                let common = seam.common(&drawing);
                for (page, beyond) in [(first, 1), (second, 0)] {
                    if let Some(text) = seam.name(&drawing, &common, beyond) {
                        marks[page].add(Layer::PageMarks, Shape::Text(text));
                    }
                    marks[page].take(common.clone(), [0.0; 2]);
                }
            }
        }
        marks
    }

    fn tiling(self) -> Tiling {
        let (columns, rows) = (self.grid.columns(), self.grid.rows());
        let names: Vec<(String, bool)> =
            (0..columns * rows).map(|i| (name(i % columns, i / columns), self.pages[i].1)).collect();
        let marks = self.seams(&names);
        let kept =
            |i: Option<usize>| Some(names.get(i?)?).filter(|(_, kept)| *kept).map(|(name, _)| name.as_str());
        let mut pages = Vec::new();
        for (i, ((items, needed), marks)) in self.pages.into_iter().zip(marks).enumerate() {
            if !needed {
                continue;
            }
            let (column, row) = (i % columns, i / columns);
            let beside = |there: bool, j: usize| kept(there.then_some(j));
            let strip = Strip {
                title: &self.sheet.title,
                columns,
                grid: &names,
                this: i,
                neighbours: [beside(column > 0, i.wrapping_sub(1)), beside(row > 0, i.wrapping_sub(columns))],
                more: beside(column + 1 < columns, i + 1).is_some()
                    || beside(row + 1 < rows, i + columns).is_some(),
            };
            let window = self.windows[i];
            let by = [self.margin - window[0][0], self.margin + STRIP_MM - window[0][1]];
            let mut items: Vec<Item> =
                items.into_iter().chain(marks.into_items()).map(|i| i.moved(by)).collect();
            let strip = strip.draft(self.paper[0] - 2.0 * self.margin);
            items.extend(strip.into_items().into_iter().map(|i| i.moved([self.margin; 2])));
            items.sort_by_key(|i| i.layer);
            let title = if names.len() == 1 {
                self.sheet.title.clone()
            } else {
                format!("{}, {}", self.sheet.title, names[i].0)
            };
            let origin_mm = self.sheet.origin_mm.map(|p| moved(p, by));
            let sheet = Sheet { title, size_mm: self.paper, origin_mm, items };
            let (name, cell_mm) = (names[i].0.clone(), self.cells[i]);
            pages.push(Tile { name, column, row, window_mm: window, cell_mm, by_mm: by, sheet });
        }
        let left_out = names.into_iter().filter(|(_, kept)| !kept).map(|(name, _)| name).collect();
        Tiling { columns, rows, pages, left_out }
    }
}

fn window_size(paper: Point, margin: f64) -> Point {
    [paper[0] - 2.0 * margin, paper[1] - 2.0 * margin - STRIP_MM]
}

/// Puts a sheet on the paper in the printer.
///
/// A sheet that fits is one page with its own bars, and so is every sheet [as drawn](PaperSize::AsDrawn). Others are shared
/// out over pages, upright or lying, whichever takes fewer: each shows a window of the sheet, its lines
/// [cut exactly](Shape::within) at the window's edge, and has what it has in common with the next page as `overlap`.
/// In its middle lies the seam, dotted, with crosses that are at the same place of the drawing on both pages. Pages on which
/// there would be nothing are left out. At the foot of every page, clear of the drawing, are both bars with what to do with
/// them, how the page is to be put to the others, and an overview of the pages; the sheet's own bars are left out.
/// Words are whole on a page or are broken between words; a single word that no page holds is broken where pages meet.
///
/// # Errors
/// - the options out of their bounds.
/// - [`Kind::OutOfRange`] for a sheet with a place that is no finite number.
/// - [`Kind::TooLarge`] for a sheet that would take more than [`MAX_PAGES`].
pub fn tile(sheet: &Sheet, options: &PaperOptions) -> Result<Tiling, Error> {
    options.check()?;
    finite(sheet)?;
    let [wide, high] = match options.paper {
        PaperSize::AsDrawn => return Ok(single(sheet.clone(), [0.0; 2])),
        PaperSize::A4 => [210.0, 297.0],
        PaperSize::Letter => [215.9, 279.4],
    };
    let (papers, margin) = ([[wide, high], [high, wide]], options.margin.mm());
    let items: Vec<(&Item, Room)> = sheet.items.iter().map(|i| (i, extent(&i.shape))).collect();
    let around = |items: &[(&Item, Room)]| {
        let room = items.iter().map(|(_, room)| *room).fold(NOTHING, both);
        let room = if room[0][0] <= room[1][0] { room } else { [[0.0; 2]; 2] };
        [room[0].map(|v| v - INK_MM), room[1].map(|v| v + INK_MM)]
    };
    if let Some(one) = on_one(sheet, &around(&items), &papers, margin) {
        return Ok(one);
    }
    let rest: Vec<(&Item, Room)> = items.into_iter().filter(|(i, _)| i.layer != Layer::CheckBars).collect();
    let room = around(&rest);
    let needed = papers.map(|p| Grid::needed(&room, window_size(p, margin), options.overlap.mm()));
    let fewest = needed[0].min(needed[1]);
    if fewest > MAX_PAGES as f64 {
        let fault = Fault::new(Kind::TooLarge, "sheet", "nobody sticks so many pages together")
            .value(fewest, "pages")
            .range(1.0, MAX_PAGES as f64)
            .remedy("have it printed as drawn (\"as_drawn\") on a plotter");
        return Err(fault.into());
    }
    // Empty pages are only known once the drawing is cut; a grid with many more pages is not worth the work.
    let worth = |n: f64| n <= 2.0 * fewest && n <= MAX_PAGES as f64;
    let cuts = papers.into_iter().zip(needed).filter(|(_, n)| worth(*n));
    let mut cuts = cuts.map(|(paper, _)| Cut::new(sheet, rest.clone(), &room, paper, options));
    let first = cuts.next();
    let best = cuts.fold(first, |best, cut| match best {
        Some(best) if (best.needed(), best.windows.len()) <= (cut.needed(), cut.windows.len()) => Some(best),
        _ => Some(cut),
    });
    Ok(best.map_or_else(|| single(sheet.clone(), [0.0; 2]), Cut::tiling))
}
