//! Entities: what is drawn.

use alloc::vec::Vec;

use super::spline::joined;
use super::tags::{Tags, handle};
use super::words::encoded;
use crate::paper::draft::Room;
use crate::paper::extent::{NOTHING, both, extent};
use crate::paper::layer::Layer;
use crate::paper::path::{Path, Point, Segment, turn};
use crate::paper::sheet::Shape;
use crate::paper::text::{Anchor, Text};

/// A part of a path that is one entity.
enum Run {
    /// Lines and arcs: every corner with the bulge of what follows it.
    Corners(Vec<(Point, f64)>, bool),
    /// One arc by itself.
    Arc {
        from: Point,
        centre: Point,
        to: Point,
        counter_clockwise: bool,
    },
    Cubics(Point, Vec<[Point; 3]>),
}

/// The tangent of a quarter of the turn, the format's measure of an arc.
fn bulge(from: Point, segment: &Segment) -> f64 {
    match *segment {
        Segment::Arc { centre, to, counter_clockwise } => {
            libm::tan(0.25 * turn(from, centre, to, counter_clockwise))
        }
        _ => 0.0,
    }
}

fn runs(path: &Path) -> Vec<Run> {
    let straight = path.segments.iter().all(|s| !matches!(s, Segment::Cubic(..)));
    let end = path.segments.last().map_or(path.start, Segment::end);
    let mut legs: Vec<(Point, Segment)> = Vec::with_capacity(path.segments.len() + 1);
    let mut from = path.start;
    for segment in &path.segments {
        legs.push((from, *segment));
        from = segment.end();
    }
    if path.closed && straight && !legs.is_empty() {
        let mut corners: Vec<(Point, f64)> = legs.iter().map(|(p, s)| (*p, bulge(*p, s))).collect();
        if end != path.start {
            corners.push((end, 0.0));
        }
        return alloc::vec![Run::Corners(corners, true)];
    }
    if path.closed && end != path.start {
        legs.push((end, Segment::Line(path.start)));
    }
    let cubic = |s: &Segment| matches!(s, Segment::Cubic(..));
    let one = |run: &[(Point, Segment)]| match run {
        [(from, Segment::Arc { centre, to, counter_clockwise })] => {
            Run::Arc { from: *from, centre: *centre, to: *to, counter_clockwise: *counter_clockwise }
        }
        [(from, Segment::Cubic(..)), ..] => {
            let cubics = run.iter().filter_map(|(_, s)| match *s {
                Segment::Cubic(a, b, to) => Some([a, b, to]),
                _ => None,
            });
            Run::Cubics(*from, cubics.collect())
        }
        _ => {
            let mut corners: Vec<(Point, f64)> = run.iter().map(|(p, s)| (*p, bulge(*p, s))).collect();
            corners.extend(run.last().map(|(_, s)| (s.end(), 0.0)));
            Run::Corners(corners, false)
        }
    };
    legs.chunk_by(|(_, a), (_, b)| cubic(a) == cubic(b)).map(one).collect()
}

/// The entities written so far.
pub(super) struct Entities {
    pub tags: Tags,
    pub next: u32,
    /// Around all of them, in the drawing's unit.
    pub room: Room,
    /// The length of the drawing's unit, mm.
    pub unit_mm: f64,
}

impl Entities {
    pub fn new(unit_mm: f64) -> Self {
        Self { tags: Tags::default(), next: handle::FIRST_ENTITY, room: NOTHING, unit_mm }
    }

    fn scaled(&self, mm: f64) -> f64 {
        mm / self.unit_mm
    }

    fn place(&self, p: Point) -> Point {
        p.map(|v| self.scaled(v))
    }

    fn begin(&mut self, kind: &str, layer: Layer, class: &str) {
        self.tags.object(kind, self.next, handle::MODEL);
        self.next += 1;
        self.tags.class("AcDbEntity");
        self.tags.text(8, layer.name());
        self.tags.class(class);
    }

    fn run(&mut self, layer: Layer, run: &Run) {
        match run {
            Run::Corners(corners, false) if corners.len() == 2 && corners[0].1 == 0.0 => {
                self.begin("LINE", layer, "AcDbLine");
                for (code, (p, _)) in [10, 11].into_iter().zip(corners) {
                    let p = self.place(*p);
                    self.tags.point(code, p);
                }
            }
            Run::Corners(corners, closed) => {
                self.begin("LWPOLYLINE", layer, "AcDbPolyline");
                self.tags.int(90, corners.len() as i64);
                self.tags.int(70, i64::from(*closed));
                self.tags.real(43, 0.0);
                for (p, bulge) in corners {
                    let p = self.place(*p);
                    self.tags.flat(10, p);
                    if *bulge != 0.0 {
                        self.tags.real(42, *bulge);
                    }
                }
            }
            Run::Arc { from, centre, to, counter_clockwise } => {
                let (begin, end) = if *counter_clockwise { (from, to) } else { (to, from) };
                let radius = libm::hypot(from[0] - centre[0], from[1] - centre[1]);
                self.circle("ARC", layer, *centre, radius);
                self.tags.class("AcDbArc");
                for (code, p) in [(50, begin), (51, end)] {
                    let angle = libm::atan2(p[1] - centre[1], p[0] - centre[0]).to_degrees();
                    self.tags.real(code, if angle < 0.0 { angle + 360.0 } else { angle });
                }
            }
            Run::Cubics(start, cubics) => {
                let spline = joined(*start, cubics);
                self.begin("SPLINE", layer, "AcDbSpline");
                self.tags.normal();
                // In a plane; of degree 3.
                self.tags.int(70, 8);
                self.tags.int(71, 3);
                self.tags.int(72, spline.knots.len() as i64);
                self.tags.int(73, spline.poles.len() as i64);
                self.tags.int(74, 0);
                self.tags.real(42, 1e-9);
                self.tags.real(43, 1e-10);
                spline.knots.iter().for_each(|k| self.tags.real(40, *k));
                for p in spline.poles {
                    let p = self.place(p);
                    self.tags.point(10, p);
                }
            }
        }
    }

    fn circle(&mut self, kind: &str, layer: Layer, centre: Point, radius: f64) {
        self.begin(kind, layer, "AcDbCircle");
        let centre = self.place(centre);
        self.tags.point(10, centre);
        let radius = self.scaled(radius);
        self.tags.real(40, radius);
    }

    fn path(&mut self, layer: Layer, path: &Path) {
        for run in runs(path) {
            self.run(layer, &run);
        }
    }

    fn text(&mut self, layer: Layer, text: &Text) {
        if text.words.is_empty() {
            return;
        }
        self.begin("TEXT", layer, "AcDbText");
        let at = self.place(text.at);
        self.tags.point(10, at);
        let height = self.scaled(text.height_mm);
        self.tags.real(40, height);
        self.tags.text(1, &encoded(&text.words));
        self.tags.text(7, "Standard");
        let anchor = match text.anchor {
            Anchor::Start => 0,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        self.tags.int(72, anchor);
        if anchor != 0 {
            self.tags.point(11, at);
        }
        self.tags.class("AcDbText");
        self.tags.int(73, 0);
    }

    pub fn shape(&mut self, layer: Layer, shape: &Shape) {
        self.room = both(self.room, extent(shape).map(|p| self.place(p)));
        match shape {
            Shape::Path(path) => self.path(layer, path),
            Shape::Circle { centre, radius_mm } => {
                self.circle("CIRCLE", layer, *centre, libm::fabs(*radius_mm))
            }
            Shape::Dimension(dimension) => {
                for stroke in dimension.strokes() {
                    self.path(layer, &stroke);
                }
                self.text(layer, &dimension.text);
            }
            Shape::Text(text) => self.text(layer, text),
        }
    }
}
