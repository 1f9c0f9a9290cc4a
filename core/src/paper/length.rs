//! Lengths of what is drawn.

use super::path::{Path, Point, Segment, turn};
use super::sheet::Shape;
use crate::law::adaptive;

/// What a cubic's length may be wrong by, as a part of the way along its handles.
const CLOSE: f64 = 1e-14;

fn apart(a: Point, b: Point) -> f64 {
    libm::hypot(b[0] - a[0], b[1] - a[1])
}

impl Segment {
    fn length_mm(&self, from: Point) -> f64 {
        match *self {
            Self::Line(to) => apart(from, to),
            Self::Cubic(a, b, to) => {
                let hull = apart(from, a) + apart(a, b) + apart(b, to);
                let sides = [[from, a], [a, b], [b, to]].map(|[p, q]| [q[0] - p[0], q[1] - p[1]]);
                let mut speed = |t: f64| {
                    let s = 1.0 - t;
                    let [x, y] =
                        [0, 1].map(|k| s * s * sides[0][k] + 2.0 * s * t * sides[1][k] + t * t * sides[2][k]);
                    3.0 * libm::hypot(x, y)
                };
                if hull > 0.0 { adaptive(0.0, 1.0, CLOSE * hull, &mut speed) } else { 0.0 }
            }
            Self::Arc { centre, to, counter_clockwise } => {
                apart(centre, from) * libm::fabs(turn(from, centre, to, counter_clockwise))
            }
        }
    }
}

impl Path {
    /// Its length, mm, with the straight line that closes it. Exact to some 1e-14 of itself.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        let (mut from, mut sum) = (self.start, 0.0);
        for segment in &self.segments {
            sum += segment.length_mm(from);
            from = segment.end();
        }
        if self.closed { sum + apart(from, self.start) } else { sum }
    }
}

impl Shape {
    /// The length of all its lines, mm; words have none.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        match self {
            Self::Path(path) => path.length_mm(),
            Self::Circle { radius_mm, .. } => core::f64::consts::TAU * libm::fabs(*radius_mm),
            Self::Dimension(dimension) => dimension.strokes().iter().map(Path::length_mm).sum(),
            Self::Text(_) => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::PI;

    #[test]
    fn lengths_known_by_heart() {
        let arc = Segment::Arc { centre: [0.0, 0.0], to: [0.0, 3.0], counter_clockwise: true };
        let path = Path { start: [3.0, 0.0], segments: alloc::vec![arc], closed: true };
        approx::assert_relative_eq!(path.length_mm(), 1.5 * PI + libm::sqrt(18.0), max_relative = 1e-15);
        // A parabola as a cubic: y = x² from 0 to 1, length (2√5 + asinh 2)/4.
        let (a, b) = ([1.0 / 3.0, 0.0], [2.0 / 3.0, 1.0 / 3.0]);
        let path =
            Path { start: [0.0; 2], segments: alloc::vec![Segment::Cubic(a, b, [1.0, 1.0])], closed: false };
        let known = 0.25 * (2.0 * libm::sqrt(5.0) + libm::asinh(2.0));
        approx::assert_relative_eq!(path.length_mm(), known, max_relative = 1e-14);
    }
}
