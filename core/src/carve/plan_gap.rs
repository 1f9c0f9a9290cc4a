//! The least distance in plan between what is sawn and the finished outline, proven.

use super::clearance::{CLEARANCE_TOLERANCE, Clearance};
use crate::law::{Bernstein, Corner, Law, Region, least_over};
use crate::shape::{LeastValue, Side};

/// The most pieces that a proof looks at.
const BUDGET: usize = 40_000;
/// What rounding may take from a bound, mm.
const SLACK: f64 = 1e-10;

/// A stretch of the outline against one straight stretch of the saw's way.
#[derive(Clone)]
struct Cell {
    x: [f64; 2],
    /// Whether it lies beside the straight stretch, where it has to be on the inner side of it.
    beside: bool,
    /// Length of the straight stretch.
    length: f64,
    /// How far inside the straight stretch's line, square to it.
    inside: Bernstein,
    /// How far along that line, 0 and 1 at its ends.
    along: Bernstein,
}

impl Cell {
    /// Distance from the straight stretch; less than 0 outside it.
    fn value(&self, t: f64) -> f64 {
        let (inside, along) = (self.inside.eval(t), self.along.eval(t));
        if self.beside && inside < 0.0 {
            return inside;
        }
        libm::hypot(inside, (along - along.clamp(0.0, 1.0)) * self.length)
    }

    /// The least distance from the point of the line at `end`, 0 or 1.
    fn end_gap(&self, end: f64) -> f64 {
        let along = self.along.minus(&Bernstein::constant(end)).times_number(self.length);
        let square = along.times(&along).plus(&self.inside.times(&self.inside));
        libm::sqrt(square.hull().0.max(0.0))
    }
}

impl Region for Cell {
    fn probe(&self) -> Corner {
        let corner = |t: f64| Corner {
            value: self.value(t),
            x_mm: self.x[0] + t * (self.x[1] - self.x[0]),
            around: f64::NAN,
        };
        [0.5, 1.0].map(corner).into_iter().fold(corner(0.0), |a, b| if b.value < a.value { b } else { a })
    }

    fn lower(&self) -> f64 {
        let (low, high) = self.inside.hull();
        let line = if low > 0.0 || self.beside { low } else { (-high).max(0.0) };
        if line < 0.0 {
            return line - SLACK;
        }
        let (first, last) = self.along.hull();
        let end = if last < 0.0 {
            self.end_gap(0.0)
        } else if first > 1.0 {
            self.end_gap(1.0)
        } else {
            0.0
        };
        line.max(end) - SLACK
    }

    fn halves(self) -> (Self, Self) {
        let mid = 0.5 * (self.x[0] + self.x[1]);
        let ((a, b), (c, d)) = (self.inside.split(0.5), self.along.split(0.5));
        (
            Self { x: [self.x[0], mid], inside: a, along: c, ..self },
            Self { x: [mid, self.x[1]], inside: b, along: d, ..self },
        )
    }
}

/// What of a half width lies within a distance of a straight stretch along the neck, piece by piece.
fn cells(half: &Law, [a, b]: [[f64; 2]; 2], within: f64) -> impl Iterator<Item = Cell> + '_ {
    let d = [b[0] - a[0], b[1] - a[1]];
    let length = libm::hypot(d[0], d[1]);
    let bounds = [a[0] - within, a[0], b[0], b[0] + within];
    let parts = half.breaks().windows(2).zip(half.pieces()).flat_map(move |(w, piece)| {
        (0..3).filter_map(move |k| {
            let x = [w[0].max(bounds[k]), w[1].min(bounds[k + 1])];
            let unit = |x: f64| ((x - w[0]) / (w[1] - w[0])).clamp(0.0, 1.0);
            (x[0] < x[1]).then(|| (x, k == 1, piece.restricted(unit(x[0]), unit(x[1]))))
        })
    });
    // A stretch of no length is an end of its neighbours.
    parts.filter(move |_| length > 1e-9).map(move |(x, beside, y)| {
        let (x_off, y_off) =
            (Bernstein::new(x.map(|x| x - a[0]).into()), y.minus(&Bernstein::constant(a[1])));
        let (along, up) = (d[0] / length, d[1] / length);
        Cell {
            x,
            beside,
            length,
            inside: x_off.times_number(up).minus(&y_off.times_number(along)),
            along: x_off.times_number(along / length).plus(&y_off.times_number(up / length)),
        }
    })
}

/// The least distance in plan from the saw's way, straight from corner to corner, to the finished half width of a side,
/// proven. What lies further off along the neck than twice what is needed is not looked at.
pub(super) fn gap(way: &[[f64; 2]], half: &Law, side: Side, needed_mm: f64) -> Option<Clearance> {
    let within = 2.0 * needed_mm + 1.0;
    let all = way.windows(2).flat_map(|w| cells(half, [w[0], w[1]], within));
    let proof = least_over(all, CLEARANCE_TOLERANCE, BUDGET)?;
    let x_mm = proof.least.x_mm;
    let least = LeastValue::mm(proof.least.value, x_mm, proof.bound.min(within));
    Some(Clearance { least, at_mm: [side.sign() * half.value(x_mm), 0.0], needed_mm })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_distance_is_the_true_one() {
        // A hump 10 mm high from 0 to 40 and its foot beyond.
        let half = Law::polyline(&[(0.0, 20.0), (20.0, 30.0), (40.0, 20.0), (60.0, 20.0)]).unwrap();
        let of = |way: &[[f64; 2]]| gap(way, &half, Side::Bass, 3.0).unwrap().least;
        let level = of(&[[0.0, 33.0], [60.0, 33.0]]);
        assert!((level.value - 3.0).abs() < 1e-9 && level.proven <= 3.0 && level.proven > 3.0 - 1e-5);
        assert!((level.x_mm - 20.0).abs() < 1e-3);
        // Moved straight out by 3 mm, it leaves less square to itself.
        let moved = of(&[[0.0, 23.0], [20.0, 33.0], [40.0, 23.0], [60.0, 23.0]]);
        let square = 3.0 * 20.0 / libm::hypot(20.0, 10.0);
        assert!((moved.value - square).abs() < 1e-6 && moved.proven <= square + 1e-9, "{moved:?}");
        // A wall beside the hump: the nearest is a corner of the way.
        let wall = of(&[[0.0, 40.0], [38.0, 40.0], [38.0, 25.0], [60.0, 25.0]]);
        let away = (25.0 - 21.0) * 20.0 / libm::hypot(20.0, 10.0);
        assert!((wall.value - away).abs() < 1e-6, "{wall:?} {away}");
        // One that cuts into it is told to.
        assert!(of(&[[0.0, 29.0], [60.0, 29.0]]).value < -0.9);
    }
}
