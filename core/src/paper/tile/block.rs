//! The blocks that a sheet is made of.

use alloc::collections::BTreeMap;
use alloc::vec;
use alloc::vec::Vec;

use super::super::cut::Window;
use super::super::draft::Room;
use super::super::extent::{NOTHING, both, extent};
use super::super::layer::Layer;
use super::super::path::Point;
use super::super::sheet::{Item, Sheet};

/// Kept free around what is drawn, mm: half the heaviest line and a little more.
const INK_MM: f64 = 0.4;

/// What is kept together on a page where it fits.
#[derive(Clone)]
pub(super) struct Block<'a> {
    pub number: usize,
    pub items: Vec<(&'a Item, Room)>,
    pub room: Room,
}

/// The rectangle around items and their lines' weight.
pub(super) fn around(items: &[(&Item, Room)]) -> Window {
    let room = items.iter().map(|(_, room)| *room).fold(NOTHING, both);
    let room = if room[0][0] <= room[1][0] { room } else { [[0.0; 2]; 2] };
    [room[0].map(|v| v - INK_MM), room[1].map(|v| v + INK_MM)]
}

/// Items with how far they reach.
pub(super) fn measured(sheet: &Sheet) -> Vec<(&Item, Room)> {
    sheet.items.iter().map(|i| (i, extent(&i.shape))).collect()
}

/// The blocks of a sheet in the order of their numbers, without its bars.
pub(super) fn blocks<'a>(items: &[(&'a Item, Room)]) -> Vec<Block<'a>> {
    let mut all: BTreeMap<usize, Vec<(&Item, Room)>> = BTreeMap::new();
    for (item, room) in items.iter().filter(|(i, _)| i.layer != Layer::CheckBars) {
        all.entry(item.block).or_default().push((item, *room));
    }
    all.into_iter().map(|(number, items)| Block { number, room: around(&items), items }).collect()
}

impl<'a> Block<'a> {
    pub(super) fn size(&self) -> Point {
        [0, 1].map(|k| self.room[1][k] - self.room[0][k])
    }

    /// Whether it fits a rectangle.
    pub(super) fn fits(&self, free: Point) -> bool {
        (0..2).all(|k| self.size()[k] <= free[k] + 1e-9)
    }

    /// Words alone, with the rules of their tables.
    pub(super) fn is_prose(&self) -> bool {
        self.items.iter().all(|(i, _)| matches!(i.layer, Layer::Words | Layer::Dimensions))
    }

    /// Prose that no page holds, parted between its lines into blocks that one does.
    pub(super) fn parted(self, free: &[Point; 2]) -> Vec<Self> {
        let width = self.size()[0];
        let high = free.iter().filter(|free| width <= free[0]).map(|free| free[1]).reduce(f64::max);
        let Some(height) = high.filter(|_| self.is_prose() && !free.iter().any(|free| self.fits(*free)))
        else {
            return vec![self];
        };
        let number = self.number;
        let mut items = self.items;
        items.sort_by(|a, b| b.1[1][1].total_cmp(&a.1[1][1]));
        // Lines: items that share some height.
        let mut lines: Vec<Vec<(&'a Item, Room)>> = Vec::new();
        let mut low = f64::NEG_INFINITY;
        for (item, room) in items {
            match lines.last_mut() {
                Some(line) if room[1][1] > low => {
                    line.push((item, room));
                    low = low.min(room[0][1]);
                }
                _ => {
                    lines.push(vec![(item, room)]);
                    low = room[0][1];
                }
            }
        }
        let mut parts: Vec<Self> = Vec::new();
        for line in lines {
            let joined = parts.last().map(|part| {
                let items: Vec<_> = part.items.iter().chain(&line).copied().collect();
                Self { number, room: around(&items), items }
            });
            match (parts.last_mut(), joined) {
                (Some(part), Some(joined)) if joined.size()[1] <= height => *part = joined,
                _ => parts.push(Self { number, room: around(&line), items: line }),
            }
        }
        parts
    }
}
