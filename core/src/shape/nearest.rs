//! The way around a section, and the place on it that is nearest to a point.

use alloc::vec::Vec;

use super::cubic::{cubic_at, cubic_foot, cubic_slope};
use super::outline::{Outline, Point, Segment};

/// Parts into which a cubic is cut to begin the search, and by whose chords it is measured.
const PARTS: usize = 12;

/// A handle shorter than this share of its cubic's chord makes it turn at once; how many halvings look at the turn.
const SHORT: f64 = 0.12;
const CLOSER: u32 = 12;

/// One edge of the way. A section has few, and its two cubics are what is asked most.
#[allow(clippy::large_enum_variant)]
#[derive(Clone, Debug)]
pub(crate) enum Edge {
    /// A straight line.
    Line([Point; 2]),
    /// A cubic, with its points at equal steps of its parameter (all across, then all up, the last one twice, so that they
    /// come in pairs), the longest step, and the chords added up.
    Cubic {
        control: [Point; 4],
        points: [[f64; PARTS + 2]; 2],
        step: f64,
        along: [f64; PARTS + 1],
        /// Whether the handle at either end is so short that the curve turns at once.
        short: [bool; 2],
    },
    /// An arc that has one point at each place across: the lower half of its circle or the upper, and the wood on the
    /// centre's side or beyond.
    Arc { ends: [Point; 2], centre: Point, radius: f64, lower: bool, wood_within: bool },
}

/// The nearest place of the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Foot {
    /// Distance from the way, positive outside the wood, mm.
    pub distance: f64,
    /// Which edge it lies on.
    pub edge: usize,
    /// Where on that edge, from 0 to 1.
    pub u: f64,
    /// How far along the way from its start, mm.
    pub along: f64,
    /// Square to the way there, out of the wood, of length 1.
    pub normal: Point,
}

/// A closed way around a section, the wood on its left.
#[derive(Clone, Debug)]
pub(crate) struct Path {
    pub edges: Vec<Edge>,
    /// Length of the way up to each edge, and of all of it.
    pub starts: Vec<f64>,
    /// What each edge lies within.
    within: Vec<[Point; 2]>,
}

/// No less is how far a point lies from what is within this, squared.
fn least_off(q: Point, [[left, right], [low, high]]: [Point; 2]) -> f64 {
    let (y, z) = ((left - q[0]).max(q[0] - right).max(0.0), (low - q[1]).max(q[1] - high).max(0.0));
    y * y + z * z
}

fn minus(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn length(a: Point) -> f64 {
    libm::sqrt(dot(a, a))
}

fn unit(a: Point) -> Point {
    let size = length(a);
    if size > 0.0 { [a[0] / size, a[1] / size] } else { [0.0; 2] }
}

impl Edge {
    pub fn cubic(control: [Point; 4]) -> Self {
        let (mut points, mut along) = ([[0.0; PARTS + 2]; 2], [0.0; PARTS + 1]);
        (points[0][0], points[1][0]) = (control[0][0], control[0][1]);
        (points[0][PARTS + 1], points[1][PARTS + 1]) = (control[3][0], control[3][1]);
        let mut step: f64 = 0.0;
        let mut last = control[0];
        for i in 1..=PARTS {
            let p = if i == PARTS { control[3] } else { cubic_at(control, i as f64 / PARTS as f64) };
            (points[0][i], points[1][i]) = (p[0], p[1]);
            let chord = length(minus(p, last));
            last = p;
            along[i] = along[i - 1] + chord;
            step = step.max(chord);
        }
        let whole = length(minus(control[3], control[0]));
        let short = [[0, 1], [2, 3]].map(|[a, b]| length(minus(control[b], control[a])) < SHORT * whole);
        Self::Cubic { control, points, step, along, short }
    }

    fn ends(&self) -> [Point; 2] {
        match self {
            Self::Line(ends) | Self::Arc { ends, .. } => *ends,
            Self::Cubic { control, .. } => [control[0], control[3]],
        }
    }

    pub fn length(&self) -> f64 {
        self.along(1.0)
    }

    /// Length from the edge's start.
    fn along(&self, u: f64) -> f64 {
        match self {
            Self::Line([a, b]) => u * length(minus(*b, *a)),
            Self::Cubic { along, .. } => {
                let at = (u * PARTS as f64).clamp(0.0, PARTS as f64 - 1.0);
                let i = at as usize;
                along[i] + (u * PARTS as f64 - i as f64) * (along[i + 1] - along[i])
            }
            Self::Arc { ends: [a, b], centre, radius, .. } => {
                let angle = |y: f64| libm::asin(((y - centre[0]) / radius).clamp(-1.0, 1.0));
                radius * libm::fabs(angle(a[0] + u * (b[0] - a[0])) - angle(a[0]))
            }
        }
    }

    /// Square to the edge, out of the wood.
    fn normal(&self, u: f64) -> Point {
        let right = |t: Point| unit([t[1], -t[0]]);
        match self {
            Self::Line([a, b]) => right(minus(*b, *a)),
            Self::Cubic { control: p, .. } => {
                let slope = cubic_slope(p, u);
                // Where a handle lies on its end the slope is none, and the next handle tells the direction.
                let tiny = 1e-12 * length(minus(p[3], p[0]));
                if length(slope) > tiny {
                    right(slope)
                } else if u < 0.5 {
                    right(minus(p[2], p[0]))
                } else {
                    right(minus(p[3], p[1]))
                }
            }
            Self::Arc { ends: [a, b], centre, radius, lower, wood_within } => {
                let y = a[0] + u * (b[0] - a[0]) - centre[0];
                let down = libm::sqrt((radius * radius - y * y).max(0.0));
                let out = unit([y, if *lower { -down } else { down }]);
                if *wood_within { out } else { [-out[0], -out[1]] }
            }
        }
    }

    /// Squared distances from a cubic's points.
    fn far([across, up]: &[[f64; PARTS + 2]; 2], q: Point) -> [f64; PARTS + 2] {
        let mut far = [0.0; PARTS + 2];
        for i in 0..PARTS + 2 {
            let (y, z) = (q[0] - across[i], q[1] - up[i]);
            far[i] = y * y + z * z;
        }
        far
    }

    /// The least squared distance from a cubic's points; infinite of other edges.
    fn least_far(&self, q: Point) -> f64 {
        let Self::Cubic { points, .. } = self else { return f64::INFINITY };
        let less = |a: f64, b: f64| if b < a { b } else { a };
        let far = Self::far(points, q);
        let pairs = far.chunks_exact(2).fold([f64::INFINITY; 2], |[a, b], p| [less(a, p[0]), less(b, p[1])]);
        less(pairs[0], pairs[1])
    }

    /// What all of it lies within: the least and the greatest across, and up.
    fn within(&self) -> [Point; 2] {
        let of = |points: &[Point]| {
            [0, 1].map(|k| {
                let range = |[a, b]: [f64; 2], p: &Point| [a.min(p[k]), b.max(p[k])];
                points.iter().fold([f64::INFINITY, f64::NEG_INFINITY], range)
            })
        };
        match self {
            Self::Line(ends) => of(ends),
            // A cubic lies between its control points.
            Self::Cubic { control, .. } => of(control),
            // The upper half of a circle lies above the lower one of two of its points, the lower half below the upper one.
            Self::Arc { ends, lower, .. } => {
                let [_, [low, high]] = of(ends);
                let everywhere = [f64::NEG_INFINITY, f64::INFINITY];
                [everywhere, if *lower { [everywhere[0], high] } else { [low, everywhere[1]] }]
            }
        }
    }

    /// The nearest place of this edge, if nearer than `best` (a squared distance): squared distance, parameter and place.
    /// A cubic is not searched where it lies further off than `most`.
    fn nearest(&self, q: Point, [best, most]: [f64; 2]) -> Option<(f64, f64, Point)> {
        let closer = |u: f64, p: Point| {
            let d = minus(q, p);
            let square = dot(d, d);
            (square < best).then_some((square, u, p))
        };
        match self {
            Self::Line([a, b]) => {
                let d = minus(*b, *a);
                let size = dot(d, d);
                let u = if size > 0.0 { (dot(minus(q, *a), d) / size).clamp(0.0, 1.0) } else { 0.0 };
                let p = if u == 1.0 { *b } else { [a[0] + u * d[0], a[1] + u * d[1]] };
                closer(u, p)
            }
            Self::Arc { ends: [a, b], centre, radius, lower, .. } => {
                let out = unit(minus(q, *centre));
                let p = [centre[0] + radius * out[0], centre[1] + radius * out[1]];
                let u = (p[0] - a[0]) / (b[0] - a[0]);
                if (out[1] < 0.0) == *lower && (0.0..=1.0).contains(&u) {
                    return closer(u, p);
                }
                let far = |p: Point| dot(minus(q, p), minus(q, p));
                if far(*a) <= far(*b) { closer(0.0, *a) } else { closer(1.0, *b) }
            }
            Self::Cubic { control, points, step, short, .. } => {
                let far = Self::far(points, q);
                let mut found: Option<(f64, f64, Point)> = None;
                // Between a point and its neighbours the curve is nearer by no more than about a step.
                let reach_of = |square: f64| {
                    let reach = libm::sqrt(square) + step;
                    reach * reach
                };
                let mut reach = reach_of(most.min(best));
                for i in 0..=PARTS {
                    if far[i] > reach {
                        continue;
                    }
                    let (before, after) = (i.saturating_sub(1), (i + 1).min(PARTS));
                    if far[i] > far[before] || far[i] > far[after] {
                        continue;
                    }
                    let mut try_from = |start: f64, low: f64, high: f64| {
                        let u = cubic_foot(control, q, start, [low, high]);
                        let p = cubic_at(*control, u);
                        let square = dot(minus(q, p), minus(q, p));
                        if square < found.map_or(best, |f| f.0) {
                            found = Some((square, u, p));
                        }
                    };
                    // The vertex of a parabola through the three is near the foot.
                    let (fall, bend) = (far[before] - far[after], far[before] - 2.0 * far[i] + far[after]);
                    let beside = if before < i && i < after && bend > 0.0 { 0.5 * fall / bend } else { 0.0 };
                    let [low, high] = [before, after].map(|i| i as f64 / PARTS as f64);
                    let start = (i as f64 + beside) / PARTS as f64;
                    match (before == 0, after == PARTS) {
                        (true, _) if short[0] => {
                            // The curve turns at once: there it is looked at more and more closely.
                            for k in 0..CLOSER {
                                let reach = high * libm::exp2(-f64::from(k));
                                try_from(0.75 * reach, 0.5 * reach, reach);
                            }
                            try_from(0.0, 0.0, high * libm::exp2(-f64::from(CLOSER)));
                        }
                        (_, true) if short[1] => {
                            for k in 0..CLOSER {
                                let reach = (1.0 - low) * libm::exp2(-f64::from(k));
                                try_from(1.0 - 0.75 * reach, 1.0 - reach, 1.0 - 0.5 * reach);
                            }
                            try_from(1.0, 1.0 - (1.0 - low) * libm::exp2(-f64::from(CLOSER)), 1.0);
                        }
                        _ => try_from(start, low, high),
                    }
                    if let Some((square, ..)) = found {
                        reach = reach_of(most.min(square));
                    }
                }
                found
            }
        }
    }
}

impl Path {
    /// From its edges, each of which begins where the one before ends; those without a length are left out.
    pub fn new(mut edges: Vec<Edge>) -> Self {
        edges.retain(|e| e.length() > 1e-9);
        let mut starts = Vec::with_capacity(edges.len() + 1);
        let mut sum = 0.0;
        starts.push(sum);
        for edge in &edges {
            sum += edge.length();
            starts.push(sum);
        }
        let within = edges.iter().map(Edge::within).collect();
        Self { edges, starts, within }
    }

    pub fn of_outline(outline: &Outline) -> Self {
        let edge = |(start, segment): (Point, &Segment)| match *segment {
            Segment::Line(end) => Edge::Line([start, end]),
            Segment::Cubic(a, b, end) => Edge::cubic([start, a, b, end]),
            Segment::Crown { radius, .. } => Edge::Arc {
                ends: [start, segment.end()],
                centre: [0.0, -radius],
                radius,
                lower: false,
                wood_within: true,
            },
        };
        let mut edges = Vec::with_capacity(outline.segments.len());
        edges.extend(outline.walk().map(edge));
        Self::new(edges)
    }

    /// The foot of a point: exact but for rounding on lines and arcs, and on cubics that turn by less than half a circle.
    /// `None` on a way without edges.
    pub fn foot(&self, q: Point) -> Option<Foot> {
        let mut best = (f64::INFINITY, 0.0, [0.0; 2]);
        let mut at = 0;
        // Nothing is searched that lies further off than a point of a cubic.
        let mut most = f64::INFINITY;
        for (edge, within) in self.edges.iter().zip(&self.within) {
            if matches!(edge, Edge::Cubic { .. }) && least_off(q, *within) < most {
                most = most.min(edge.least_far(q));
            }
        }
        for (i, (edge, within)) in self.edges.iter().zip(&self.within).enumerate() {
            if least_off(q, *within) > most {
                continue;
            }
            if let Some(found) = edge.nearest(q, [best.0, most]) {
                (best, at) = (found, i);
            }
        }
        let edge = self.edges.get(at)?;
        let (square, u, p) = best;
        if !square.is_finite() {
            return None;
        }
        let mut normal = edge.normal(u);
        // At a corner two edges are as near, and the side is that of both their normals together.
        let n = self.edges.len();
        let other = if u <= 0.0 {
            self.edges.get((at + n - 1) % n).map(|e| (e, 1.0))
        } else if u >= 1.0 {
            self.edges.get((at + 1) % n).map(|e| (e, 0.0))
        } else {
            None
        };
        if let Some((other, end)) = other
            && length(minus(other.ends()[if end > 0.5 { 1 } else { 0 }], p)) < 1e-6
        {
            let beside = other.normal(end);
            let both = unit([normal[0] + beside[0], normal[1] + beside[1]]);
            if both != [0.0; 2] {
                normal = both;
            }
        }
        let size = libm::sqrt(square);
        let distance = if dot(minus(q, p), normal) < 0.0 { -size } else { size };
        Some(Foot { distance, edge: at, u, along: self.starts.get(at)? + edge.along(u), normal })
    }
}
