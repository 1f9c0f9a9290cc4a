//! Lines cut at the edges of a window.

use alloc::vec;
use alloc::vec::Vec;
use core::f64::consts::TAU;

use super::path::{Path, Point, Segment, on_arc, on_cubic, turn};
use super::sheet::Shape;
use crate::law::Bernstein;

/// A rectangle: lower left and upper right corner. A point on the lower or the left edge lies in it, one on the upper or
/// the right edge in the next: windows side by side share nothing and lose nothing.
pub(super) type Window = [Point; 2];

/// Whether a point lies in a window.
pub(super) fn holds(window: &Window, p: Point) -> bool {
    (0..2).all(|k| window[0][k] <= p[k] && p[k] < window[1][k])
}

/// Places along a segment closer together than this are one.
const ONE: f64 = 1e-13;

/// Where a segment crosses an edge: how far along, and the point.
type Crossing = (f64, Point);

fn cubic(p: [Point; 4], axis: usize, edge: f64) -> Vec<Crossing> {
    let roots = Bernstein::new(p.iter().map(|p| p[axis] - edge).collect()).roots();
    let at = |t: f64| {
        let mut q = on_cubic(p, t);
        q[axis] = edge;
        (t, q)
    };
    roots.into_iter().map(at).collect()
}

fn arc(from: Point, centre: Point, way: f64, axis: usize, edge: f64) -> Vec<Crossing> {
    let radius = libm::hypot(from[0] - centre[0], from[1] - centre[1]);
    let off = edge - centre[axis];
    let rest = radius * radius - off * off;
    // An edge that only touches the circle cuts nothing.
    if rest.is_nan() || rest <= 0.0 || way == 0.0 {
        return Vec::new();
    }
    let begins = libm::atan2(from[1] - centre[1], from[0] - centre[0]);
    let across = libm::sqrt(rest);
    let at = |across: f64| {
        let mut d = [across; 2];
        d[axis] = off;
        let mut by = libm::atan2(d[1], d[0]) - begins;
        // Into one turn along the way the arc runs.
        while by * way < 0.0 {
            by += if way > 0.0 { TAU } else { -TAU };
        }
        while libm::fabs(by) >= TAU {
            by -= if way > 0.0 { TAU } else { -TAU };
        }
        let mut p = [centre[0] + d[0], centre[1] + d[1]];
        p[axis] = edge;
        (by / way, p)
    };
    vec![at(across), at(-across)]
}

/// A segment with where it begins.
#[derive(Clone, Copy)]
struct Leg {
    from: Point,
    segment: Segment,
}

impl Leg {
    /// The corners of its hull; for an arc those of the square around its circle.
    fn hull(&self) -> Vec<Point> {
        match self.segment {
            Segment::Line(to) => vec![self.from, to],
            Segment::Cubic(a, b, to) => vec![self.from, a, b, to],
            Segment::Arc { centre, .. } => {
                // Rounding may put the ends a little off the circle.
                let r = 1.000_001 * libm::hypot(self.from[0] - centre[0], self.from[1] - centre[1]);
                vec![[centre[0] - r, centre[1] - r], [centre[0] + r, centre[1] + r]]
            }
        }
    }

    fn crossings(&self, axis: usize, edge: f64) -> Vec<Crossing> {
        match self.segment {
            Segment::Line(to) => {
                let t = (edge - self.from[axis]) / (to[axis] - self.from[axis]);
                let mut p = [0, 1].map(|k| self.from[k] + t * (to[k] - self.from[k]));
                p[axis] = edge;
                vec![(t, p)]
            }
            Segment::Cubic(a, b, to) => cubic([self.from, a, b, to], axis, edge),
            Segment::Arc { centre, to, counter_clockwise } => {
                arc(self.from, centre, turn(self.from, centre, to, counter_clockwise), axis, edge)
            }
        }
    }

    fn middle(&self) -> Point {
        match self.segment {
            Segment::Line(to) => [0, 1].map(|k| 0.5 * (self.from[k] + to[k])),
            Segment::Cubic(a, b, to) => on_cubic([self.from, a, b, to], 0.5),
            Segment::Arc { centre, to, counter_clockwise } => {
                on_arc(self.from, centre, to, counter_clockwise, 0.5)
            }
        }
    }

    /// The part of it between two places along it.
    fn between(&self, a: Crossing, b: Crossing) -> Self {
        let (from, to) = (a.1, b.1);
        let segment = match self.segment {
            Segment::Line(_) => Segment::Line(to),
            Segment::Cubic(p, q, end) => {
                let axis = |k: usize| {
                    let whole = Bernstein::new(vec![self.from[k], p[k], q[k], end[k]]);
                    let part = whole.restricted(a.0, b.0);
                    [part.coefs()[1], part.coefs()[2]]
                };
                let [x, y] = [axis(0), axis(1)];
                Segment::Cubic([x[0], y[0]], [x[1], y[1]], to)
            }
            Segment::Arc { centre, counter_clockwise, .. } => Segment::Arc { centre, to, counter_clockwise },
        };
        Self { from, segment }
    }

    /// Its parts, cut wherever it crosses an edge of the window.
    fn parts(self, window: &Window) -> Vec<Self> {
        let hull = self.hull();
        let mut at: Vec<Crossing> = Vec::new();
        for axis in 0..2 {
            for edge in [window[0][axis], window[1][axis]] {
                let (below, above) =
                    (hull.iter().any(|p| p[axis] < edge), hull.iter().any(|p| p[axis] > edge));
                if below && above {
                    at.extend(
                        self.crossings(axis, edge).into_iter().filter(|(t, _)| *t > ONE && *t < 1.0 - ONE),
                    );
                }
            }
        }
        if at.is_empty() {
            return vec![self];
        }
        at.sort_by(|a, b| a.0.total_cmp(&b.0));
        at.dedup_by(|b, a| b.0 - a.0 < ONE);
        at.insert(0, (0.0, self.from));
        at.push((1.0, self.segment.end()));
        at.windows(2).map(|w| self.between(w[0], w[1])).collect()
    }
}

/// The parts of a path that lie in a window, in order; a path that lies in it altogether stays as it is.
pub(super) fn path(whole: &Path, window: &Window) -> Vec<Path> {
    let mut legs: Vec<Leg> = Vec::with_capacity(whole.segments.len() + 1);
    let mut from = whole.start;
    for segment in &whole.segments {
        legs.push(Leg { from, segment: *segment });
        from = segment.end();
    }
    if whole.closed && from != whole.start {
        legs.push(Leg { from, segment: Segment::Line(whole.start) });
    }
    let mut pieces: Vec<Path> = Vec::new();
    let (mut open, mut outside) = (false, false);
    let mut first = false;
    for (i, leg) in legs.into_iter().enumerate() {
        for (j, part) in leg.parts(window).into_iter().enumerate() {
            let inside = holds(window, part.middle());
            if i == 0 && j == 0 {
                first = inside;
            }
            match pieces.last_mut() {
                Some(piece) if inside && open => piece.segments.push(part.segment),
                _ if inside => {
                    pieces.push(Path { start: part.from, segments: vec![part.segment], closed: false });
                }
                _ => outside = true,
            }
            open = inside;
        }
    }
    if !outside {
        return if pieces.is_empty() { Vec::new() } else { vec![whole.clone()] };
    }
    // A closed path that begins within the window goes on over its start.
    if whole.closed && first && open && pieces.len() > 1 {
        let head = pieces.remove(0);
        if let Some(tail) = pieces.last_mut() {
            tail.segments.extend(head.segments);
        }
    }
    pieces
}

/// A circle as four arcs from its rightmost point.
pub(super) fn arcs(centre: Point, radius: f64) -> Path {
    let at = |x: f64, y: f64| [centre[0] + radius * x, centre[1] + radius * y];
    let to = [at(0.0, 1.0), at(-1.0, 0.0), at(0.0, -1.0), at(1.0, 0.0)];
    let segments = to.map(|to| Segment::Arc { centre, to, counter_clockwise: true });
    Path { start: at(1.0, 0.0), segments: segments.to_vec(), closed: true }
}

impl Shape {
    /// The parts of its lines that lie in a window, cut exactly at its edges: lines, cubics and arcs stay what they are.
    /// The window is given by its lower left and its upper right corner; what lies along its lower or left edge is
    /// in it, what lies along the others is not, so that windows side by side take each line once. Words have no lines.
    #[must_use]
    pub fn within(&self, window: [Point; 2]) -> Vec<Self> {
        let cut = |paths: &[Path]| -> Vec<Self> {
            paths.iter().flat_map(|p| path(p, &window)).map(Self::Path).collect()
        };
        match self {
            Self::Path(path) => cut(core::slice::from_ref(path)),
            Self::Circle { centre, radius_mm } => {
                let r = libm::fabs(*radius_mm);
                let corners = [centre.map(|c| c - r), centre.map(|c| c + r)];
                if corners.iter().all(|p| holds(&window, *p)) {
                    vec![self.clone()]
                } else {
                    cut(&[arcs(*centre, r)])
                }
            }
            Self::Dimension(dimension) => cut(&dimension.strokes()),
            Self::Text(_) => Vec::new(),
        }
    }
}
