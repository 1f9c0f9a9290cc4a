//! The grid of windows that covers a drawing.

use super::super::cut::Window;
use super::super::path::Point;

/// The places that are tried for the windows within their slack.
const PLACES: usize = 60;

/// Windows of one size along one axis, each with a part in common with the next.
#[derive(Clone, Copy, Debug)]
struct Axis {
    start: f64,
    window: f64,
    overlap: f64,
    count: usize,
}

impl Axis {
    /// The fewest windows that cover a stretch, as a whole number that may be too large for one.
    fn needed(length: f64, window: f64, overlap: f64) -> f64 {
        f64::max(1.0, libm::ceil((length - overlap) / (window - overlap)))
    }

    /// Placed within what they reach further than the stretch, so that they cut through the fewest things.
    fn placed(stretch: [f64; 2], window: f64, overlap: f64, things: &[[f64; 2]]) -> Self {
        let count = Self::needed(stretch[1] - stretch[0], window, overlap) as usize;
        let slack = window + (count - 1) as f64 * (window - overlap) - (stretch[1] - stretch[0]);
        let at =
            |k: usize| Self { start: stretch[0] - slack * k as f64 / PLACES as f64, window, overlap, count };
        let cut = |axis: &Self| things.iter().filter(|w| !axis.holds(w)).count();
        let places = (0..=PLACES).map(|k| (cut(&at(k)), (2 * k).abs_diff(PLACES), k));
        at(places.min().map_or(0, |(_, _, k)| k))
    }

    fn window(&self, i: usize) -> [f64; 2] {
        let from = self.start + i as f64 * (self.window - self.overlap);
        [from, from + self.window]
    }

    /// Where window `i` and the one before it meet: the middle of what they have in common.
    fn seam(&self, i: usize) -> f64 {
        self.window(i)[0] + 0.5 * self.overlap
    }

    /// What a window has to itself: up to the seams.
    fn cell(&self, i: usize) -> [f64; 2] {
        let [from, to] = self.window(i);
        [if i == 0 { from } else { self.seam(i) }, if i + 1 == self.count { to } else { self.seam(i + 1) }]
    }

    fn holds(&self, stretch: &[f64; 2]) -> bool {
        (0..self.count).any(|i| {
            let [from, to] = self.window(i);
            from <= stretch[0] && stretch[1] <= to
        })
    }
}

/// Windows in columns and rows; rows are counted from the top, as they are read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    x: Axis,
    y: Axis,
}

impl Grid {
    /// The number of windows, which may be too large to make them.
    pub(super) fn needed(room: &Window, size: Point, overlap: f64) -> f64 {
        let along = |k: usize| Axis::needed(room[1][k] - room[0][k], size[k], overlap);
        along(0) * along(1)
    }

    pub(super) fn new(room: &Window, size: Point, overlap: f64, things: &[Window]) -> Self {
        let along = |k: usize| {
            let things: alloc::vec::Vec<_> = things.iter().map(|w| [w[0][k], w[1][k]]).collect();
            Axis::placed([room[0][k], room[1][k]], size[k], overlap, &things)
        };
        Self { x: along(0), y: along(1) }
    }

    pub(super) fn columns(&self) -> usize {
        self.x.count
    }

    pub(super) fn rows(&self) -> usize {
        self.y.count
    }

    fn rectangle(x: [f64; 2], y: [f64; 2]) -> Window {
        [[x[0], y[0]], [x[1], y[1]]]
    }

    fn up(&self, row: usize) -> usize {
        self.y.count - 1 - row
    }

    /// What a page shows of the drawing.
    pub(super) fn window(&self, column: usize, row: usize) -> Window {
        Self::rectangle(self.x.window(column), self.y.window(self.up(row)))
    }

    /// What it has to itself once all are stuck together; cells lie side by side without a gap.
    pub(super) fn cell(&self, column: usize, row: usize) -> Window {
        Self::rectangle(self.x.cell(column), self.y.cell(self.up(row)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn windows_cover_and_cells_touch() {
        for (length, count) in [(5.0, 1), (100.0, 1), (100.1, 2), (190.0, 2), (190.1, 3), (1000.0, 11)] {
            let axis = Axis::placed([-7.0, length - 7.0], 100.0, 10.0, &[]);
            assert_eq!(axis.count, count, "{length}");
            assert!(axis.window(0)[0] <= -7.0 && axis.window(count - 1)[1] >= length - 7.0);
            for i in 1..count {
                assert!(axis.cell(i - 1)[1].to_bits() == axis.cell(i)[0].to_bits());
                assert!(axis.window(i)[0] < axis.cell(i)[0] && axis.cell(i)[0] < axis.window(i - 1)[1]);
            }
        }
    }

    #[test]
    fn nothing_is_cut_where_there_is_another_place() {
        let words = [[85.0, 115.0]];
        assert!(Axis::placed([0.0, 150.0], 100.0, 10.0, &words).holds(&words[0]));
    }
}
