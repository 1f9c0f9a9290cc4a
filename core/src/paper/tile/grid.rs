//! The grid of windows that covers a drawing.

use alloc::vec;
use alloc::vec::Vec;

use super::super::cut::Window;
use super::super::path::Point;

/// The places that are tried for a seam to either side of where all windows are alike.
const PLACES: i32 = 60;
/// Least distance between them, mm.
const STEP_MM: f64 = 1.0;
/// A seam this close to a thing cuts it, mm.
pub(super) const CLEAR_MM: f64 = 0.8;
/// Left free around a drawing where there is paper for it, mm: marks stand there.
const AROUND_MM: f64 = 9.0;
/// The least length of a seam where there is paper for it, mm: pages have to be turned by the marks on it.
const SEAM_MM: f64 = 62.0;

/// A stretch that a seam should not go through, and how much it matters.
pub(super) type Thing = ([f64; 2], f64);

/// Windows along one axis, each with a part in common with the next; in the middle of that lies the seam.
#[derive(Clone, Debug)]
struct Axis {
    ends: [f64; 2],
    overlap: f64,
    seams: Vec<f64>,
}

/// What it costs to put a seam at a place: all things it would cut.
struct Cost {
    begins: Vec<(f64, f64)>,
    ends: Vec<(f64, f64)>,
}

impl Cost {
    /// Places in order, each with the sum of the weights up to it.
    fn summed(mut at: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
        at.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut sum = 0.0;
        for (_, weight) in &mut at {
            sum += *weight;
            *weight = sum;
        }
        at
    }

    fn new(things: &[Thing]) -> Self {
        let of =
            |k: usize| Self::summed(things.iter().map(|(stretch, weight)| (stretch[k], *weight)).collect());
        Self { begins: of(0), ends: of(1) }
    }

    fn at(&self, seam: f64) -> f64 {
        let sum = |of: &[(f64, f64)], at: f64| {
            of.partition_point(|(p, _)| *p < at).checked_sub(1).map_or(0.0, |i| of[i].1)
        };
        sum(&self.begins, seam + CLEAR_MM) - sum(&self.ends, seam - CLEAR_MM)
    }
}

impl Axis {
    /// The fewest windows that cover a stretch, as a whole number that may be too large for one.
    fn needed(length: f64, window: f64, overlap: f64) -> f64 {
        f64::max(1.0, libm::ceil((length - overlap) / (window - overlap) - 1e-12))
    }

    /// As many windows as are needed and no larger than they have to be, with seams where they cut the least: of all rows of
    /// seams that leave no window too large the best one, found from left to right.
    fn placed(stretch: [f64; 2], window: f64, overlap: f64, things: &[Thing]) -> Self {
        let count = Self::needed(stretch[1] - stretch[0], window, overlap) as usize;
        let net = window - overlap;
        let slack = f64::max(0.0, count as f64 * net + overlap - (stretch[1] - stretch[0]));
        let length = stretch[1] - stretch[0];
        let around = if count > 1 { AROUND_MM } else { f64::max(AROUND_MM, 0.5 * (SEAM_MM - length)) };
        let around = around.min(0.5 * slack);
        let ends = [stretch[0] - around, stretch[1] + around];
        let slack = slack - 2.0 * around;
        let alike = (ends[1] - ends[0] - overlap) / count as f64;
        let step = f64::max(STEP_MM, slack / f64::from(PLACES));
        let reach = (libm::floor(slack / step) as i32).min(PLACES);
        let shifts: Vec<f64> = (-reach..=reach).map(|k| step * f64::from(k)).collect();
        let cost = Cost::new(things);
        let even = |i: usize| ends[0] + 0.5 * overlap + alike * (i + 1) as f64;
        // The first window has half an overlap more to itself, and so has the last.
        let first = |s: f64| s - ends[0] <= window - 0.5 * overlap + 1e-9 && s - ends[0] >= 0.5 * overlap;
        let last = |s: f64| ends[1] - s <= window - 0.5 * overlap + 1e-9 && ends[1] - s >= 0.5 * overlap;
        // Far less than the least thing: of places that cut the same the one nearest to where all windows are alike.
        let price =
            |i: usize, shift: f64| cost.at(even(i) + shift) + 1e-6 * shift * shift / (1.0 + slack * slack);
        let mut rows: Vec<Vec<(f64, usize)>> = Vec::new();
        for i in 0..count.saturating_sub(1) {
            let row = shifts.iter().map(|shift| {
                let at = even(i) + shift;
                if i + 2 == count && !last(at) {
                    return (f64::INFINITY, 0);
                }
                let before = match rows.last() {
                    None if first(at) => (0.0, 0),
                    None => (f64::INFINITY, 0),
                    Some(row) => {
                        let fits = |j: &usize| {
                            let own = at - even(i - 1) - shifts[*j];
                            own <= net + 1e-9 && own >= overlap.min(alike)
                        };
                        let all = (0..row.len()).filter(fits).map(|j| (row[j].0, j));
                        all.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((f64::INFINITY, 0))
                    }
                };
                (before.0 + price(i, *shift), before.1)
            });
            let row = row.collect();
            rows.push(row);
        }
        let mut seams = vec![0.0; rows.len()];
        let mut place = rows.last().and_then(|row| {
            (0..row.len()).min_by(|a, b| row[*a].0.total_cmp(&row[*b].0)).filter(|j| row[*j].0.is_finite())
        });
        for (i, row) in rows.iter().enumerate().rev() {
            // With no place at all, which rounding alone could do, all windows are alike.
            seams[i] = even(i) + place.map_or(0.0, |j| shifts[j]);
            place = place.map(|j| row[j].1);
        }
        Self { ends, overlap, seams }
    }

    fn count(&self) -> usize {
        self.seams.len() + 1
    }

    /// What a window has to itself: up to the seams.
    fn cell(&self, i: usize) -> [f64; 2] {
        let seam = |i: Option<usize>, end: f64| i.and_then(|i| self.seams.get(i)).copied().unwrap_or(end);
        [seam(i.checked_sub(1), self.ends[0]), seam(Some(i), self.ends[1])]
    }

    fn window(&self, i: usize) -> [f64; 2] {
        let [from, to] = self.cell(i);
        let half = 0.5 * self.overlap;
        [if i == 0 { from } else { from - half }, if i + 1 == self.count() { to } else { to + half }]
    }
}

/// Windows in columns and rows; rows are counted from the top, as they are read.
#[derive(Clone, Debug)]
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

    /// Of the things given each has a weight.
    pub(super) fn new(room: &Window, size: Point, overlap: f64, things: &[(Window, f64)]) -> Self {
        let along = |k: usize| {
            let things: Vec<Thing> = things.iter().map(|(w, weight)| ([w[0][k], w[1][k]], *weight)).collect();
            Axis::placed([room[0][k], room[1][k]], size[k], overlap, &things)
        };
        Self { x: along(0), y: along(1) }
    }

    pub(super) fn columns(&self) -> usize {
        self.x.count()
    }

    pub(super) fn rows(&self) -> usize {
        self.y.count()
    }

    fn rectangle(x: [f64; 2], y: [f64; 2]) -> Window {
        [[x[0], y[0]], [x[1], y[1]]]
    }

    fn up(&self, row: usize) -> usize {
        self.y.count() - 1 - row
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
        let words = [([33.0, 36.0], 1.0), ([88.0, 97.0], 50.0), ([180.0, 240.0], 50.0)];
        for (length, count) in [(5.0, 1), (100.0, 1), (100.1, 2), (190.0, 2), (190.1, 3), (1000.0, 11)] {
            let axis = Axis::placed([-7.0, length - 7.0], 100.0, 10.0, &words);
            assert_eq!(axis.count(), count, "{length}");
            assert!(axis.window(0)[0] <= -7.0 && axis.window(count - 1)[1] >= length - 7.0);
            for i in 0..count {
                let [from, to] = axis.window(i);
                assert!(to - from <= 100.0 + 1e-6, "{length}: window {i} is {} wide", to - from);
            }
            for i in 1..count {
                assert!(axis.cell(i - 1)[1].to_bits() == axis.cell(i)[0].to_bits());
                let common = axis.window(i - 1)[1] - axis.window(i)[0];
                assert!((common - 10.0).abs() < 1e-9, "{length}: {common} in common");
            }
        }
    }

    #[test]
    fn nothing_is_cut_where_there_is_another_place() {
        // Marks have their room first: what paper there is beyond that lets the seam move from 75 to between 53 and 97.
        let things = [([70.0, 115.0], 50.0), ([58.0, 62.0], 50.0), ([135.0, 139.0], 1.0)];
        let axis = Axis::placed([0.0, 150.0], 100.0, 10.0, &things);
        let [_, seam] = axis.cell(0);
        assert!(things.iter().all(|(w, _)| seam <= w[0] - CLEAR_MM || seam >= w[1] + CLEAR_MM), "{seam}");
    }
}
