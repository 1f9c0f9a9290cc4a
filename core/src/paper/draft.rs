//! A drawing while it is being made: in any frame, with a way to find room for words.

use alloc::string::String;
use alloc::vec::Vec;

use super::dimension::Dimension;
use super::layer::Layer;
use super::path::{Path, Point};
use super::sheet::{Item, Shape, Sheet};
use super::text::Text;

/// Clear space around words, mm.
const CLEAR_MM: f64 = 0.5;
/// Empty edge of the paper, mm: no printer reaches it.
pub(super) const EDGE_MM: f64 = 10.0;

/// A rectangle: lower left and upper right corner.
pub(super) type Room = [Point; 2];

/// Items with the lines and rooms that later words have to stay clear of.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    items: Vec<Item>,
    lines: Vec<[Point; 2]>,
    rooms: Vec<Room>,
    /// How many blocks of their own it has.
    blocks: usize,
}

pub(super) fn overlap(a: &Room, b: &Room) -> bool {
    (0..2).all(|k| a[0][k] < b[1][k] && b[0][k] < a[1][k])
}

/// Whether a straight line comes into a rectangle: the part of it within each pair of sides, by turns
/// (Liang and Barsky's clipping).
pub(super) fn crosses(room: &Room, [a, b]: &[Point; 2]) -> bool {
    let (mut from, mut to) = (0.0, 1.0);
    for k in 0..2 {
        let way = b[k] - a[k];
        let (low, high) = (room[0][k] - a[k], room[1][k] - a[k]);
        if way == 0.0 {
            if low >= 0.0 || high <= 0.0 {
                return false;
            }
        } else {
            let (enter, leave) = if way > 0.0 { (low / way, high / way) } else { (high / way, low / way) };
            from = f64::max(from, enter);
            to = f64::min(to, leave);
        }
    }
    from < to
}

impl Draft {
    pub fn add(&mut self, layer: Layer, shape: Shape) {
        for corners in shape.lines(16) {
            self.lines.extend(corners.windows(2).map(|w| [w[0], w[1]]));
        }
        self.rooms.extend(shape.text().map(|t| t.room()));
        self.items.push(Item::new(layer, shape));
    }

    /// Keeps a rectangle free.
    pub fn keep(&mut self, room: Room) {
        self.rooms.push(room);
    }

    pub fn path(&mut self, layer: Layer, path: Path) {
        self.add(layer, Shape::Path(path));
    }

    pub fn line(&mut self, layer: Layer, from: Point, to: Point) {
        self.path(layer, Path::line(from, to));
    }

    pub fn polyline(&mut self, layer: Layer, corners: &[Point]) {
        self.path(layer, Path::polyline(corners, false));
    }

    pub fn closed(&mut self, layer: Layer, corners: &[Point]) {
        self.path(layer, Path::polyline(corners, true));
    }

    pub fn text(&mut self, text: Text) {
        self.add(Layer::Words, Shape::Text(text));
    }

    pub fn dimension(&mut self, dimension: Dimension) {
        self.add(Layer::Dimensions, Shape::Dimension(dimension));
    }

    /// Whether anything is drawn on a layer.
    pub fn uses(&self, layer: Layer) -> bool {
        self.items.iter().any(|i| i.layer == layer)
    }

    /// Whether words would lie on no line and on no other words.
    pub fn is_free(&self, text: &Text) -> bool {
        let [low, high] = text.room();
        self.is_open(&[low.map(|v| v - CLEAR_MM), high.map(|v| v + CLEAR_MM)])
    }

    /// Whether a rectangle has nothing in it.
    pub fn is_open(&self, room: &Room) -> bool {
        self.has_no_words(room) && !self.lines.iter().any(|l| crosses(room, l))
    }

    /// Whether a rectangle has no words in it, nor anything that is kept free.
    pub fn has_no_words(&self, room: &Room) -> bool {
        !self.rooms.iter().any(|r| overlap(r, room))
    }

    /// Whether a line would cross no words.
    pub fn is_clear(&self, line: &[Point; 2]) -> bool {
        let wide = |r: &Room| [r[0].map(|v| v - CLEAR_MM), r[1].map(|v| v + CLEAR_MM)];
        !self.rooms.iter().any(|r| crosses(&wide(r), line))
    }

    /// Puts words at the first of several places where there is room; whether there was one.
    pub fn place(&mut self, places: impl IntoIterator<Item = Text>) -> bool {
        let found = places.into_iter().find(|t| self.is_free(t));
        let placed = found.is_some();
        if let Some(text) = found {
            self.text(text);
        }
        placed
    }

    /// Puts a dimension at the first of several places where its lines and its words have room; at the last
    /// one where none has. Whether there was room.
    pub fn place_dimension(&mut self, places: &[Dimension]) -> bool {
        let free = |dimension: &&Dimension| {
            let clear = |p: &Path| p.corners(1).windows(2).all(|w| self.is_clear(&[w[0], w[1]]));
            self.is_free(&dimension.text) && dimension.strokes().iter().all(clear)
        };
        let found = places.iter().find(free);
        let placed = found.is_some();
        if let Some(dimension) = found.or(places.last()) {
            self.dimension(dimension.clone());
        }
        placed
    }

    /// Puts dimensions, each with its places, in the first of several orders in which all of them have room; in the
    /// last one where none will do. An order without dimensions is passed over.
    pub fn place_dimensions(&mut self, orders: &[Vec<Vec<Dimension>>]) {
        let mut tried = None;
        for order in orders.iter().filter(|o| !o.is_empty()) {
            let mut draft = self.clone();
            let mut all = true;
            for places in order {
                all &= draft.place_dimension(places);
            }
            tried = Some(draft);
            if all {
                break;
            }
        }
        if let Some(draft) = tried {
            *self = draft;
        }
    }

    /// The least rectangle around all that is drawn.
    pub fn bounds(&self) -> Room {
        let corners = self.lines.iter().chain(&self.rooms).flatten();
        let mut room = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        for p in corners {
            for k in 0..2 {
                room[0][k] = room[0][k].min(p[k]);
                room[1][k] = room[1][k].max(p[k]);
            }
        }
        if room[0][0] > room[1][0] { [[0.0; 2]; 2] } else { room }
    }

    /// All that is drawn.
    pub fn into_items(self) -> Vec<Item> {
        self.items
    }

    /// Takes over another draft, moved: a part of this drawing, but for blocks of its own, which stay what they are.
    pub fn take(&mut self, other: Self, by: Point) {
        self.join(other, by, 0);
    }

    /// Takes over another draft, moved, as a block of its own: what belongs together on paper, and to nothing else.
    pub fn stand(&mut self, other: Self, by: Point) {
        self.blocks += 1;
        self.join(other, by, self.blocks);
    }

    /// Draws the next block that stands by itself, and those after it; on pages the next one comes before all that has stood
    /// there so far, as a title does.
    pub fn entitle(&mut self, blocks: impl FnOnce(&mut Self)) {
        let title = self.blocks + 1;
        blocks(self);
        for item in &mut self.items {
            item.block = match item.block {
                block if block == title => 1,
                block if block > 0 && block < title => block + 1,
                block => block,
            };
        }
    }

    fn join(&mut self, other: Self, by: Point, loose: usize) {
        let before = self.blocks;
        self.blocks += other.blocks;
        for item in other.items {
            let block = if item.block == 0 { loose } else { before + item.block };
            let Item { layer, shape, .. } = item.moved(by);
            self.add(layer, shape);
            if let Some(item) = self.items.last_mut() {
                item.block = block;
            }
        }
    }

    /// The sheet: all items moved so that they keep clear of the paper's edge, in the order of their layers. Of
    /// the paper sizes the first is taken that is large enough; otherwise it is as large as it has to be, in whole
    /// mm. `origin` is the neck's own origin, where there is one.
    pub fn into_sheet(self, title: &str, papers: &[Point], origin: Option<Point>) -> Sheet {
        let [low, high] = self.bounds();
        let need = [0, 1].map(|k| high[k] - low[k] + 2.0 * EDGE_MM);
        let fits = |paper: &&Point| (0..2).all(|k| need[k] <= paper[k] + 1e-9);
        let size_mm = papers.iter().find(fits).copied().unwrap_or(need.map(libm::ceil));
        // What paper is left over goes to both sides alike, and below.
        let by = [0.5 * (size_mm[0] - high[0] - low[0]), size_mm[1] - EDGE_MM - high[1]];
        let mut items: Vec<Item> = self.items.into_iter().map(|i| i.moved(by)).collect();
        items.sort_by_key(|i| i.layer);
        Sheet {
            title: String::from(title),
            size_mm,
            origin_mm: origin.map(|p| super::path::moved(p, by)),
            items,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::text::Anchor;
    use super::*;

    #[test]
    fn words_find_room_beside_lines_and_words() {
        let mut draft = Draft::default();
        draft.line(Layer::Edges, [0.0, 0.0], [100.0, 0.0]);
        draft.line(Layer::Edges, [50.0, -50.0], [50.0, 50.0]);
        let at = |x: f64, y: f64| Text::new([x, y], Anchor::Middle, "fret 12");
        assert!(!draft.is_free(&at(20.0, -1.0)), "across the level line");
        assert!(!draft.is_free(&at(50.0, 20.0)), "across the upright line");
        assert!(draft.is_free(&at(20.0, 5.0)));
        assert!(draft.place([at(20.0, 0.0), at(20.0, 5.0)]));
        assert!(!draft.is_free(&at(22.0, 5.0)), "on the words");
        assert!(!draft.is_clear(&[[0.0, 6.0], [100.0, 6.0]]));
        assert!(draft.is_clear(&[[0.0, 12.0], [100.0, 12.0]]));
        assert!(!draft.place([at(20.0, 5.0)]));
    }

    #[test]
    fn slanted_lines_are_seen_where_they_pass_and_nowhere_else() {
        let room = [[0.0, 0.0], [10.0, 5.0]];
        assert!(crosses(&room, &[[-5.0, -5.0], [10.0, 10.0]]));
        assert!(crosses(&room, &[[4.0, 1.0], [5.0, 2.0]]), "wholly inside");
        assert!(!crosses(&room, &[[-5.0, 3.0], [3.0, 11.0]]));
        assert!(!crosses(&room, &[[20.0, 1.0], [30.0, 2.0]]));
    }
}
