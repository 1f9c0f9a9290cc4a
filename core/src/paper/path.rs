//! Paths of lines, cubics and circle arcs.

use alloc::vec;
use alloc::vec::Vec;

/// A point of a sheet: `[x, y]` in mm, `y` upward.
pub type Point = [f64; 2];

/// One segment of a path; it begins where the one before ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight line to a point.
    Line(Point),
    /// A cubic Bézier by its two handles and its end.
    Cubic(Point, Point, Point),
    /// An arc of a circle, less than half of it.
    Arc {
        /// Centre of the circle.
        centre: Point,
        /// Where the arc ends.
        to: Point,
        /// Whether it runs counter-clockwise, `y` being upward.
        counter_clockwise: bool,
    },
}

impl Segment {
    /// Where the segment ends.
    #[must_use]
    pub const fn end(&self) -> Point {
        match *self {
            Self::Line(to) | Self::Cubic(_, _, to) | Self::Arc { to, .. } => to,
        }
    }

    fn moved(self, by: Point) -> Self {
        let shift = |p: Point| moved(p, by);
        match self {
            Self::Line(to) => Self::Line(shift(to)),
            Self::Cubic(a, b, to) => Self::Cubic(shift(a), shift(b), shift(to)),
            Self::Arc { centre, to, counter_clockwise } => {
                Self::Arc { centre: shift(centre), to: shift(to), counter_clockwise }
            }
        }
    }
}

pub(super) fn moved(p: Point, by: Point) -> Point {
    [p[0] + by[0], p[1] + by[1]]
}

/// A line of one or more segments, open or closed.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Where the first segment begins.
    pub start: Point,
    /// The segments in order.
    pub segments: Vec<Segment>,
    /// Whether a straight line leads from the last end back to the start.
    pub closed: bool,
}

impl Path {
    /// A straight line.
    #[must_use]
    pub fn line(from: Point, to: Point) -> Self {
        Self { start: from, segments: vec![Segment::Line(to)], closed: false }
    }

    /// Straight lines from corner to corner; a single point makes an empty path, and none one at the origin.
    #[must_use]
    pub fn polyline(corners: &[Point], closed: bool) -> Self {
        let (start, rest) = corners.split_first().map_or(([0.0; 2], corners), |(p, rest)| (*p, rest));
        Self { start, segments: rest.iter().map(|p| Segment::Line(*p)).collect(), closed }
    }

    /// An ellipse by four cubics, with its axes along the sheet's edges. It leaves the true ellipse by
    /// 0.0273 % of the greater half axis at most (the quarter circle with handles of `4(√2−1)/3`).
    #[must_use]
    pub fn ellipse(centre: Point, half_axes: Point) -> Self {
        const KAPPA: f64 = 0.552_284_749_830_793_4;
        let at = |x: f64, y: f64| [centre[0] + x * half_axes[0], centre[1] + y * half_axes[1]];
        let quarters = [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0], [1.0, 0.0]];
        let segments = quarters
            .windows(2)
            .map(|w| {
                let ([ax, ay], [bx, by]) = (w[0], w[1]);
                Segment::Cubic(
                    at(ax + KAPPA * bx, ay + KAPPA * by),
                    at(bx + KAPPA * ax, by + KAPPA * ay),
                    at(bx, by),
                )
            })
            .collect();
        Self { start: at(1.0, 0.0), segments, closed: true }
    }

    /// The same path elsewhere.
    #[must_use]
    pub fn moved(&self, by: Point) -> Self {
        let segments = self.segments.iter().map(|s| s.moved(by)).collect();
        Self { start: moved(self.start, by), segments, closed: self.closed }
    }

    /// Corners of a polyline along the path, each cubic and arc cut into `parts` pieces.
    #[must_use]
    pub fn corners(&self, parts: u32) -> Vec<Point> {
        let mut corners = vec![self.start];
        let mut from = self.start;
        for segment in &self.segments {
            for i in 1..parts {
                let t = f64::from(i) / f64::from(parts);
                match *segment {
                    Segment::Line(_) => break,
                    Segment::Cubic(a, b, to) => corners.push(on_cubic([from, a, b, to], t)),
                    Segment::Arc { centre, to, counter_clockwise } => {
                        corners.push(on_arc(from, centre, to, counter_clockwise, t));
                    }
                }
            }
            from = segment.end();
            corners.push(from);
        }
        if self.closed && from != self.start {
            corners.push(self.start);
        }
        corners
    }
}

pub(super) fn on_cubic(p: [Point; 4], t: f64) -> Point {
    let s = 1.0 - t;
    let weights = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
    [0, 1].map(|k| weights.iter().zip(&p).map(|(w, p)| w * p[k]).sum())
}

/// The angle that an arc goes through, counter-clockwise above 0.
pub(super) fn turn(from: Point, centre: Point, to: Point, counter_clockwise: bool) -> f64 {
    use core::f64::consts::TAU;
    let angle = |p: Point| libm::atan2(p[1] - centre[1], p[0] - centre[0]);
    let mut turn = angle(to) - angle(from);
    if counter_clockwise && turn < 0.0 {
        turn += TAU;
    } else if !counter_clockwise && turn > 0.0 {
        turn -= TAU;
    }
    turn
}

pub(super) fn on_arc(from: Point, centre: Point, to: Point, counter_clockwise: bool, t: f64) -> Point {
    let radius = libm::hypot(from[0] - centre[0], from[1] - centre[1]);
    let first = libm::atan2(from[1] - centre[1], from[0] - centre[0]);
    let a = first + t * turn(from, centre, to, counter_clockwise);
    [centre[0] + radius * libm::cos(a), centre[1] + radius * libm::sin(a)]
}
