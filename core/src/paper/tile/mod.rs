//! Sheets on the paper of a printer: on one page where they fit, otherwise on several.

mod block;
mod grid;
mod label;
mod large;
mod marks;
mod pages;
mod shelf;
mod strip;
mod words;

use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use self::block::{Block, around, blocks, measured};
use self::grid::Grid;
use self::large::Large;
use self::pages::Pages;
use self::strip::STRIP_MM;
use super::draft::Room;
use super::extent::finite;
use super::layer::Layer;
use super::path::{Point, moved};
use super::sheet::Sheet;
use crate::measure::{Error, Fault, Kind};
use crate::spec::{PaperOptions, PaperSize};

/// The most pages that a sheet is shared out over.
pub const MAX_PAGES: usize = 400;

/// A block on a page: all of it, or the part of it that the page shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Tile {
    /// The block's number, as its [items](super::Item::block) have it.
    pub block: usize,
    /// Columns and rows that the block is shared out over; 1 and 1 where it stands whole.
    pub grid: [usize; 2],
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
}

/// A page of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Its name: a letter for the row and a number for the column where it shows a part of a block, otherwise which page it is;
    /// empty where it is the only one.
    pub name: String,
    /// The blocks on it; one that is only partly on it comes first.
    pub tiles: Vec<Tile>,
    /// The page.
    pub sheet: Sheet,
}

/// A sheet on pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Tiling {
    /// The pages on which there is something: those of blocks that are larger than a page, row by row from the top, each from
    /// the left; then those on which whole blocks stand alone. Where the first of these has no room for the title, a page with
    /// words comes before it.
    pub pages: Vec<Page>,
    /// The names of the pages on which there would be nothing.
    pub left_out: Vec<String>,
}

/// A sheet as the one page that it is.
fn single(sheet: Sheet, by: Point) -> Tiling {
    let mut numbers: Vec<usize> = sheet.items.iter().map(|i| i.block).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let window = [[-by[0], -by[1]], [sheet.size_mm[0] - by[0], sheet.size_mm[1] - by[1]]];
    let tile = |block| Tile {
        block,
        grid: [1, 1],
        column: 0,
        row: 0,
        window_mm: window,
        cell_mm: window,
        by_mm: by,
    };
    let page = Page { name: String::new(), tiles: numbers.into_iter().map(tile).collect(), sheet };
    Tiling { pages: vec![page], left_out: Vec::new() }
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

/// What a page has room for above its strip.
fn room_on(paper: Point, margin: f64) -> Point {
    [paper[0] - 2.0 * margin, paper[1] - 2.0 * margin - STRIP_MM]
}

fn too_large(pages: f64) -> Error {
    let fault = Fault::new(Kind::TooLarge, "sheet", "nobody sticks so many pages together");
    let fault = fault.value(pages, "pages").range(1.0, MAX_PAGES as f64);
    fault.remedy("have it printed as drawn (\"as_drawn\") on a plotter").into()
}

/// A block shared out over pages of the paper, upright or lying, that takes fewer.
fn cut(block: &Block<'_>, papers: &[Point; 2], options: &PaperOptions) -> Result<Large, Error> {
    let (margin, overlap) = (options.margin.mm(), options.overlap.mm());
    let [upright, lying] = *papers;
    let needed = |paper: Point| Grid::needed(&block.room, room_on(paper, margin), overlap);
    let fewest = needed(upright).min(needed(lying));
    if fewest > MAX_PAGES as f64 {
        return Err(too_large(fewest));
    }
    let new = |paper: Point| Large::new(block, paper, room_on(paper, margin), overlap);
    // Empty pages are only known once the block is cut; a grid with many more pages is not worth the work.
    let worth = |paper: Point| needed(paper) <= 2.0 * fewest && needed(paper) <= MAX_PAGES as f64;
    if !worth(lying) {
        return Ok(new(upright));
    }
    if !worth(upright) {
        return Ok(new(lying));
    }
    let [a, b] = [new(upright), new(lying)];
    let cost = |l: &Large| (l.needed(), l.windows.len());
    Ok(if cost(&a) <= cost(&b) { a } else { b })
}

/// Puts a sheet on the paper in the printer.
///
/// A sheet that fits is one page with its own bars, and so is every sheet [as drawn](PaperSize::AsDrawn). Of others each
/// [block](super::Item::block) that fits a page stands whole on one, and prose that is higher than a page goes on between two of its
/// lines. Only a block that is larger is shared out over pages, upright or lying, whichever takes fewer: each shows a window
/// of it, its lines [cut exactly](super::Shape::within) at the window's edge, and has what it has in common with the next page
/// as `overlap`. In its middle lies the seam, dotted, with crosses that are at the same place of the drawing on both pages, where
/// nothing else is drawn. Seams lie where they go through the least lettering, and what they would still go through is moved
/// beside them; only words that no page could hold are broken between words. Pages on which there would be nothing are left
/// out. At the foot of every page, clear of all else, are both bars with what to do with them, how the page is to be put to the
/// others, and an overview of the pages; the sheet's own bars are left out.
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
    let items = measured(sheet);
    if let Some(one) = on_one(sheet, &around(&items), &papers, margin) {
        return Ok(one);
    }
    let free = papers.map(|paper| room_on(paper, margin));
    let blocks: Vec<Block<'_>> = blocks(&items).into_iter().flat_map(|block| block.parted(&free)).collect();
    let (whole, large): (Vec<_>, Vec<_>) =
        blocks.into_iter().partition(|block| free.iter().any(|free| block.fits(*free)));
    let mut pages = Pages::new(sheet, papers, margin);
    for block in &large {
        pages.share_out(cut(block, &papers, options)?);
    }
    pages.fill(&whole);
    if pages.count() > MAX_PAGES {
        return Err(too_large(pages.count() as f64));
    }
    Ok(pages.tiling())
}
