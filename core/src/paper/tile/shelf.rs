//! Blocks that fit a page, put on pages whole: drawings side by side on shelves, prose in columns.

use super::super::cut::Window;
use super::super::flow::COLUMN_MM;
use super::super::path::Point;

/// Between drawings, and between them and prose, mm.
pub(super) const APART_MM: f64 = 6.0;
/// Between blocks of prose: one above the other, and side by side, mm.
const PROSE_MM: Point = [5.0, 3.4];
/// A shelf grows by no more than this for a block that is higher than those before it on it.
const GROWTH: f64 = 1.6;

/// A block to be placed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Size {
    pub mm: Point,
    pub is_prose: bool,
}

/// What lies lowest on a page so far; what comes next goes on in it or below it, so that all is read in its order.
#[derive(Clone, Debug)]
enum Last {
    /// Drawings side by side, their upper edges level: height, and where the next one may begin.
    Shelf { height: f64, right: f64 },
    /// Columns of words: left end and width of the last one, how far down its words reach, how far down those of any.
    Columns { left: f64, width: f64, low: f64, lowest: f64 },
}

/// The free part of a page, filled from the top.
#[derive(Clone, Debug)]
pub(super) struct Room {
    free: Window,
    /// The upper edge of what lies lowest.
    top: f64,
    last: Option<Last>,
}

impl Room {
    pub(super) const fn new(free: Window) -> Self {
        Self { free, top: free[1][1], last: None }
    }

    fn holds(&self, at: Point, size: Point) -> bool {
        let [low, high] = self.free;
        (0..2).all(|k| at[k] >= low[k] - 1e-9 && at[k] + size[k] <= high[k] + 1e-9)
    }

    /// Where the lower left corner of a block comes to, if there is room for it.
    pub(super) fn place(&mut self, size: Size) -> Option<Point> {
        let Size { mm: [wide, high], is_prose } = size;
        // Wider words, such as a title, have a shelf of their own.
        let in_columns = is_prose && wide <= COLUMN_MM + 1.0;
        match self.last.clone() {
            Some(Last::Columns { left, width, low, lowest }) if in_columns => {
                let below = [left, low - PROSE_MM[1] - high];
                let beside = [left + width + PROSE_MM[0], self.top - high];
                let (at, width) = if self.holds(below, [wide, high]) {
                    (below, width.max(wide))
                } else if self.holds(beside, [wide, high]) {
                    (beside, wide)
                } else {
                    return None;
                };
                let lowest = lowest.min(at[1]);
                self.last = Some(Last::Columns { left: at[0], width, low: at[1], lowest });
                return Some(at);
            }
            Some(Last::Shelf { height, right }) if !is_prose => {
                let at = [right, self.top - high];
                if high <= GROWTH * height && self.holds(at, [wide, high]) {
                    self.last =
                        Some(Last::Shelf { height: height.max(high), right: right + wide + APART_MM });
                    return Some(at);
                }
            }
            _ => {}
        }
        let top = match self.last {
            None => self.top,
            Some(Last::Shelf { height, .. }) => self.top - height - APART_MM,
            Some(Last::Columns { lowest, .. }) => lowest - APART_MM,
        };
        let at = [self.free[0][0], top - high];
        self.holds(at, [wide, high]).then(|| {
            self.top = top;
            self.last = Some(if in_columns {
                Last::Columns { left: at[0], width: wide, low: at[1], lowest: at[1] }
            } else {
                // Nothing stands beside a title.
                let right = if is_prose { self.free[1][0] } else { at[0] + wide + APART_MM };
                Last::Shelf { height: high, right }
            });
            at
        })
    }

    /// How many blocks, one after the other, it would take.
    pub(super) fn takes(&self, sizes: impl Iterator<Item = Size>) -> usize {
        let mut room = self.clone();
        sizes.take_while(|size| room.place(*size).is_some()).count()
    }
}

#[cfg(test)]
mod tests {
    use alloc::vec::Vec;

    use super::*;

    #[test]
    fn blocks_lie_side_by_side_and_never_on_each_other() {
        let mut room = Room::new([[10.0, 10.0], [110.0, 210.0]]);
        let sizes = [
            ([90.0, 10.0], true),
            ([40.0, 30.0], false),
            ([40.0, 40.0], false),
            ([50.0, 30.0], false),
            ([40.0, 60.0], true),
            ([30.0, 8.0], true),
            ([45.0, 30.0], true),
        ];
        let sizes = sizes.map(|(mm, is_prose)| Size { mm, is_prose });
        let placed: Vec<(Point, Point)> = sizes.iter().map(|s| (room.place(*s).unwrap(), s.mm)).collect();
        for (i, (a, s)) in placed.iter().enumerate() {
            assert!((0..2).all(|k| a[k] >= 10.0 && a[k] + s[k] <= [110.0, 210.0][k]), "{a:?}");
            for (b, t) in &placed[..i] {
                let apart = (0..2).any(|k| a[k] + s[k] + 3.0 <= b[k] || b[k] + t[k] + 3.0 <= a[k]);
                assert!(apart, "{a:?} {s:?} and {b:?} {t:?}");
            }
        }
        assert_eq!(placed[1].0[1] + 30.0, placed[2].0[1] + 40.0, "their upper edges are level");
        assert_eq!(room.place(Size { mm: [101.0, 1.0], is_prose: false }), None);
        assert_eq!(room.place(Size { mm: [90.0, 90.0], is_prose: true }), None);
    }
}
