//! Lettering that a seam would cut is put beside it.

use alloc::vec::Vec;

use super::super::cut::{Window, holds};
use super::super::dimension::Dimension;
use super::super::draft::{Room, crosses, overlap};
use super::super::path::Point;
use super::super::sheet::{Item, Shape};
use super::super::text::Text;
use super::grid::CLEAR_MM;

/// Clear space around words, mm.
const APART_MM: f64 = 0.5;
/// How much further than their own width words go along, and how far up or down, mm.
const REACH_MM: f64 = 20.0;
const ACROSS_MM: f64 = 12.0;
/// Between two places that are tried, mm.
const STEP_MM: f64 = 1.0;
const LEVEL_MM: f64 = 1.5;
/// How much nearer a place on another page has to be, mm.
const AWAY_MM: f64 = 18.0;

fn wider(room: &Room, by: f64) -> Room {
    [room[0].map(|v| v - by), room[1].map(|v| v + by)]
}

/// Whether a rectangle lies wholly in a window.
pub(super) fn inside(room: &Room, window: &Window) -> bool {
    (0..2).all(|k| window[0][k] <= room[0][k] && room[1][k] <= window[1][k])
}

/// All that words have to keep clear of.
struct Field {
    lines: Vec<[Point; 2]>,
    rooms: Vec<Option<Room>>,
}

impl Field {
    fn new(items: &[Item]) -> Self {
        let lines = items.iter().flat_map(|i| i.shape.lines(16));
        let lines = lines.flat_map(|l| l.windows(2).map(|w| [w[0], w[1]]).collect::<Vec<_>>()).collect();
        Self { lines, rooms: items.iter().map(|i| i.shape.text().map(|t| t.room())).collect() }
    }

    /// What of it lies near.
    fn near(&self, room: &Room, but: usize) -> Self {
        let lines = self.lines.iter().filter(|l| crosses(room, l)).copied().collect();
        let others = self.rooms.iter().enumerate().filter(|(i, _)| *i != but);
        Self {
            lines,
            rooms: others.map(|(_, r)| r.filter(|r| overlap(r, room))).filter(Option::is_some).collect(),
        }
    }

    fn is_clear_of_words(&self, room: &Room) -> bool {
        !self.rooms.iter().flatten().any(|r| overlap(r, room))
    }

    fn is_free(&self, room: &Room) -> bool {
        self.is_clear_of_words(room) && !self.lines.iter().any(|l| crosses(room, l))
    }
}

/// The ways that words may be moved so that one cell holds them, the shortest first. Words of a dimension rather stay on its
/// line's height, and all on the page that shows what they belong to, which lies where they begin.
fn ways(room: &Room, text: &Text, cells: &[Window], is_dimension: bool) -> Vec<Point> {
    let width = room[1][0] - room[0][0];
    let clear = wider(room, CLEAR_MM);
    let (along, levels) = ((width + REACH_MM) / STEP_MM, ACROSS_MM / LEVEL_MM);
    let mut ways: Vec<(f64, Point)> = Vec::new();
    let mut offer = |by: Point| {
        let moved = clear.map(|p| [p[0] + by[0], p[1] + by[1]]);
        if let Some(cell) = cells.iter().find(|c| inside(&moved, c)) {
            let across = if is_dimension { 6.0 } else { 2.0 };
            let away = if holds(cell, text.at) { 0.0 } else { AWAY_MM };
            ways.push((libm::fabs(by[0]) + across * libm::fabs(by[1]) + away, by));
        }
    };
    // Just as far as a cell asks for.
    let least = |k: usize, cell: &Window| {
        let (low, high) = (cell[0][k] - clear[0][k], cell[1][k] - clear[1][k]);
        // A hair more, so that rounding leaves them in it.
        if low > 0.0 {
            low + 1e-9
        } else if high < 0.0 {
            high - 1e-9
        } else {
            0.0
        }
    };
    for cell in cells {
        offer([least(0, cell), least(1, cell)]);
    }
    let (along, levels) = (libm::ceil(along) as i32, libm::ceil(levels) as i32);
    let aside: Vec<f64> = cells.iter().map(|c| least(0, c)).collect();
    for level in -levels..=levels {
        let up = LEVEL_MM * f64::from(level);
        for k in -along..=along {
            offer([STEP_MM * f64::from(k), up]);
        }
        for x in &aside {
            offer([*x, up]);
        }
    }
    ways.sort_by(|a, b| a.0.total_cmp(&b.0));
    ways.into_iter().map(|(_, by)| by).collect()
}

/// Moves words that a seam goes through so that one cell holds them: to the nearest place where nothing else is, or where no
/// words are. Words that no cell can hold stay where they are.
pub(super) fn settle(items: &mut [Item], cells: &[Window]) {
    let mut field = Field::new(items);
    for (i, item) in items.iter_mut().enumerate() {
        let Some(room) = field.rooms[i] else { continue };
        let clear = wider(&room, CLEAR_MM);
        // Words at the drawing's own rim need no clear space beyond it.
        let cut = |c: &Window| (0..2).all(|k| clear[0][k] < c[1][k] && c[0][k] < clear[1][k]);
        if cells.iter().filter(|c| cut(c)).count() < 2 {
            continue;
        }
        let near: Vec<Window> = cells
            .iter()
            .filter(|c| overlap(c, &wider(&room, room[1][0] - room[0][0] + REACH_MM)))
            .copied()
            .collect();
        let is_dimension = matches!(item.shape, Shape::Dimension(_));
        let ways = item.shape.text().map_or_else(Vec::new, |text| ways(&room, text, &near, is_dimension));
        let around = wider(&room, room[1][0] - room[0][0] + REACH_MM + ACROSS_MM);
        let others = field.near(&around, i);
        let at = |by: &Point| wider(&room.map(|p| [p[0] + by[0], p[1] + by[1]]), APART_MM);
        let found = ways.iter().find(|by| others.is_free(&at(by)));
        let found =
            found.or_else(|| ways.iter().find(|by| others.is_clear_of_words(&at(by)))).or(ways.first());
        if let Some(by) = found
            && let Shape::Text(text) | Shape::Dimension(Dimension { text, .. }) = &mut item.shape
        {
            text.at = [text.at[0] + by[0], text.at[1] + by[1]];
            field.rooms[i] = Some(text.room());
        }
    }
}
