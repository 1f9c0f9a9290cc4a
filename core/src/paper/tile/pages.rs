//! The pages of a sheet while they are being filled.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::cut::Window;
use super::super::path::{Point, moved};
use super::super::sheet::{Item, Sheet};
use super::block::Block;
use super::large::Large;
use super::shelf::{APART_MM, Room, Size};
use super::strip::{STRIP_MM, Strip};
use super::{Page, Tile, Tiling, room_on};

/// Clear space between a seam and what stands beside the drawing, mm.
const BESIDE_MM: f64 = 2.0;

/// The grid that a page is a part of.
struct Part {
    /// Which of the blocks that are larger than a page.
    large: usize,
    /// Its place in the grid, row by row.
    this: usize,
    name: String,
}

/// A page without its strip.
struct Filled {
    paper: Point,
    part: Option<Part>,
    room: Room,
    items: Vec<Item>,
    tiles: Vec<Tile>,
}

/// What a strip has to know of a block that is shared out.
struct Shared {
    columns: usize,
    names: Vec<(String, bool)>,
}

/// All pages.
pub(super) struct Pages<'a> {
    sheet: &'a Sheet,
    papers: [Point; 2],
    margin: f64,
    large: Vec<Shared>,
    /// How many rows have names.
    rows: usize,
    pages: Vec<Filled>,
    /// The block that the sheet's origin lies in.
    home: Option<usize>,
}

impl<'a> Pages<'a> {
    pub(super) fn new(sheet: &'a Sheet, papers: [Point; 2], margin: f64) -> Self {
        Self { sheet, papers, margin, large: Vec::new(), rows: 0, pages: Vec::new(), home: None }
    }

    pub(super) fn count(&self) -> usize {
        self.pages.len()
    }

    /// The lower left corner of what a page has room for.
    fn corner(&self) -> Point {
        [self.margin, self.margin + STRIP_MM]
    }

    /// What a page has room for.
    fn free(&self, paper: Point) -> Window {
        let (corner, size) = (self.corner(), room_on(paper, self.margin));
        [corner, moved(corner, size)]
    }

    fn claim(&mut self, block: usize, room: &Window) {
        let holds = |p: &Point| (0..2).all(|k| room[0][k] <= p[k] && p[k] <= room[1][k]);
        if self.home.is_none() && self.sheet.origin_mm.as_ref().is_some_and(holds) {
            self.home = Some(block);
        }
    }

    /// What is left of a page beside the part of a drawing in its lower left corner: above it or to the right of it, and no
    /// wider than what the page has to itself, so that nothing is cut away or covered when pages are stuck together.
    fn beside(&self, paper: Point, tile: &Tile) -> Window {
        let [low, high] = self.free(paper);
        let [columns, _] = tile.grid;
        let on_page = |p: Point| moved(p, tile.by_mm);
        let (own, upper) = (tile.cell_mm.map(on_page), on_page(tile.window_mm[1]));
        let is_last = tile.column + 1 == columns;
        let above = [
            [if tile.column == 0 { low[0] } else { own[0][0] + BESIDE_MM }, upper[1] + APART_MM],
            [if is_last { high[0] } else { own[1][0] - BESIDE_MM }, high[1]],
        ];
        let right = [
            [upper[0] + APART_MM, if tile.row + 1 == tile.grid[1] { low[1] } else { own[0][1] + BESIDE_MM }],
            [high[0], if tile.row == 0 { high[1] } else { own[1][1] - BESIDE_MM }],
        ];
        let area = |w: &Window| (0..2).map(|k| f64::max(0.0, w[1][k] - w[0][k])).product::<f64>();
        match (tile.row == 0, is_last) {
            (true, true) if area(&above) < area(&right) => right,
            (true, _) => above,
            (false, true) => right,
            (false, false) => [low, low],
        }
    }

    /// Takes the pages of a block that is larger than one.
    pub(super) fn share_out(&mut self, large: Large) {
        let names = large.names(self.rows);
        let columns = large.columns();
        let marks = large.seams(&names);
        let room = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        let room = large.cells.iter().fold(room, |room, c| super::super::extent::both(room, *c));
        self.claim(large.number, &room);
        let (corner, which) = (self.corner(), self.large.len());
        let Large { number, paper, windows, cells, pages, .. } = large;
        let rows = windows.len() / columns.max(1);
        for (i, ((items, needed), marks)) in pages.into_iter().zip(marks).enumerate() {
            if !needed {
                continue;
            }
            let by = [0, 1].map(|k| corner[k] - windows[i][0][k]);
            let tile = Tile {
                block: number,
                grid: [columns, rows],
                column: i % columns,
                row: i / columns,
                window_mm: windows[i],
                cell_mm: cells[i],
                by_mm: by,
            };
            let room = Room::new(self.beside(paper, &tile));
            let items = items.into_iter().chain(marks.into_items()).map(|i| i.moved(by)).collect();
            let part = Some(Part { large: which, this: i, name: names[i].0.clone() });
            self.pages.push(Filled { paper, part, room, items, tiles: Vec::from([tile]) });
        }
        self.rows += rows;
        self.large.push(Shared { columns, names });
    }

    /// Puts a block whole on a page.
    fn put(&mut self, block: &Block<'_>, page: usize, at: Point) {
        let by = [0, 1].map(|k| at[k] - block.room[0][k]);
        let page = &mut self.pages[page];
        page.items.extend(block.items.iter().map(|(i, _)| (*i).clone().moved(by)));
        page.tiles.push(Tile {
            block: block.number,
            grid: [1, 1],
            column: 0,
            row: 0,
            window_mm: block.room,
            cell_mm: block.room,
            by_mm: by,
        });
    }

    /// Puts each block whole on the first page that has room for it behind those before it, or on a new one: upright or lying,
    /// whichever takes more of those that follow. The last ones rather go back to where pages have room for all of them than on
    /// a page of their own; and a title that the first page has no room for comes before it, with what there is to read.
    pub(super) fn fill(&mut self, blocks: &[Block<'_>]) {
        let size = |block: &Block<'_>| Size { mm: block.size(), is_prose: block.is_prose() };
        let sizes: Vec<Size> = blocks.iter().map(size).collect();
        for block in blocks {
            self.claim(block.number, &block.room);
        }
        self.entitle(&sizes);
        let mut first = 0;
        for (i, block) in blocks.iter().enumerate() {
            let size = sizes[i];
            let pages = self.pages.iter_mut().enumerate().skip(first);
            let found = pages.into_iter().find_map(|(k, p)| Some((k, p.room.place(size)?)));
            if let Some((page, at)) = found {
                self.put(block, page, at);
                first = page;
                continue;
            }
            let mut rooms: Vec<Room> = self.pages.iter().map(|p| p.room.clone()).collect();
            let back = |size: &Size| {
                rooms.iter_mut().enumerate().find_map(|(k, room)| Some((k, room.place(*size)?)))
            };
            if let Some(places) = sizes[i..].iter().map(back).collect::<Option<Vec<_>>>() {
                for (block, (page, at)) in blocks[i..].iter().zip(places) {
                    self.put(block, page, at);
                }
                break;
            }
            let mut page = self.empty(&sizes[i..]);
            if let Some(at) = page.room.place(size) {
                first = self.pages.len();
                self.pages.push(page);
                self.put(block, first, at);
            }
        }
        // An empty sheet is a page, too.
        if self.pages.is_empty() {
            self.pages.push(self.empty(&[]));
        }
    }

    /// A page with nothing on it: upright or lying, whichever takes more of such blocks.
    fn empty(&self, sizes: &[Size]) -> Filled {
        let [upright, lying] = self.papers.map(|paper| (paper, Room::new(self.free(paper))));
        let takes = |room: &Room| room.takes(sizes.iter().copied());
        let (paper, room) = if takes(&lying.1) > takes(&upright.1) { lying } else { upright };
        Filled { paper, part: None, room, items: Vec::new(), tiles: Vec::new() }
    }

    /// A page before the others, where the first block that stands whole is words which the first one has no room for.
    fn entitle(&mut self, sizes: &[Size]) {
        let Some(title) = sizes.first().filter(|size| size.is_prose) else { return };
        if self.pages.first().is_some_and(|page| page.room.clone().place(*title).is_none()) {
            self.pages.insert(0, self.empty(sizes));
        }
    }

    fn strip<'s>(&'s self, number: usize, part: Option<&Part>) -> Strip<'s> {
        let pages = [number, self.pages.len()];
        let title = self.sheet.title.as_str();
        let Some(part) = part else {
            return Strip {
                title,
                columns: 0,
                grid: &[],
                this: 0,
                pages,
                neighbours: [None; 2],
                more: false,
            };
        };
        let Shared { columns, names } = &self.large[part.large];
        let (columns, i) = (*columns, part.this);
        let kept =
            |i: Option<usize>| Some(names.get(i?)?).filter(|(_, kept)| *kept).map(|(name, _)| name.as_str());
        let column = i % columns;
        let beside = |there: bool, j: usize| kept(there.then_some(j));
        Strip {
            title,
            columns,
            grid: names,
            this: i,
            pages,
            neighbours: [
                beside(column > 0, i.wrapping_sub(1)),
                beside(i >= columns, i.wrapping_sub(columns)),
            ],
            more: beside(column + 1 < columns, i + 1).or(kept(Some(i + columns))).is_some(),
        }
    }

    /// The pages with their strips.
    pub(super) fn tiling(self) -> Tiling {
        let count = self.pages.len();
        let mut pages = Vec::with_capacity(count);
        for (i, page) in self.pages.iter().enumerate() {
            let strip = self.strip(i + 1, page.part.as_ref());
            let strip = strip.draft(page.paper[0] - 2.0 * self.margin);
            let mut items = page.items.clone();
            items.extend(strip.into_items().into_iter().map(|i| i.moved([self.margin; 2])));
            items.sort_by_key(|i| i.layer);
            let name = match &page.part {
                Some(part) => part.name.clone(),
                None if count > 1 => format!("{}", i + 1),
                None => String::new(),
            };
            let title = &self.sheet.title;
            let title = match (&page.part, name.as_str()) {
                (_, "") => title.clone(),
                (Some(_), name) => format!("{title}, {name}"),
                (None, name) => format!("{title}, page {name}"),
            };
            let home = page.tiles.iter().find(|t| Some(t.block) == self.home);
            let origin_mm = home.and_then(|t| Some(moved(self.sheet.origin_mm?, t.by_mm)));
            let sheet = Sheet { title, size_mm: page.paper, origin_mm, items };
            pages.push(Page { name, tiles: page.tiles.clone(), sheet });
        }
        let names = self.large.into_iter().flat_map(|l| l.names);
        Tiling { pages, left_out: names.filter(|(_, kept)| !kept).map(|(name, _)| name).collect() }
    }
}
