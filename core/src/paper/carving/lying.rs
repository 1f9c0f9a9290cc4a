//! The wood seen from the side, with the lines that are marked on its sides.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::marks::Marked;
use super::outline::{clipped, draw, hatch};
use super::scene::{Drawing, Scene};
use crate::carve::{Datum, Face, Mark, TimberFacts};
use crate::paper::callout::{self, Callout};
use crate::paper::dimension::Dimension;
use crate::paper::draft::Draft;
use crate::paper::layer::Layer;
use crate::paper::path::Point;
use crate::paper::side;
use crate::paper::station::mm;
use crate::spec::Construction;

/// Between the strokes of a hatching, mm.
pub(super) const PITCH_MM: f64 = 2.5;
/// Half a stroke where a line is measured.
const STROKE_MM: f64 = 0.9;

/// A view from the side, of the whole wood or of its headstock's end.
pub(super) struct Lying<'a> {
    scene: &'a Scene<'a>,
    pub draft: Draft,
    /// Where the drawing breaks off.
    breaks: f64,
    above: Vec<Callout>,
    below: Vec<Callout>,
}

/// Whether a distance is told in the drawing: one that is the same as all others of its line is told at its ends only.
pub(super) fn worth_saying(m: &Marked<'_>, mark: &Mark) -> bool {
    let marks = &m.line.marks;
    let near = |a: f64, b: f64| libm::fabs(a - b) < 5e-3;
    let even = marks.iter().all(|k| near(k.distance_mm, marks[0].distance_mm));
    !even || near(mark.x_mm, marks[0].x_mm) || near(mark.x_mm, marks[marks.len() - 1].x_mm)
}

/// A point of a line, and the point of the face that it is measured from.
struct Foot {
    on: Point,
    from: Point,
}

impl<'a> Lying<'a> {
    /// The whole wood.
    pub fn whole(scene: &'a Scene<'a>) -> Self {
        Self::to(scene, f64::INFINITY)
    }

    /// The wood up to a station, where the drawing breaks off.
    pub fn to(scene: &'a Scene<'a>, breaks: f64) -> Self {
        let mut view = Self { scene, draft: Draft::default(), breaks, above: Vec::new(), below: Vec::new() };
        view.wood();
        view
    }

    fn wood(&mut self) {
        let within = [f64::NEG_INFINITY, self.breaks];
        let (scene, breaks) = (self.scene, self.breaks);
        let (before, after) = (scene.before.side(within), scene.after.side(within));
        let finished = clipped(&side::outline(scene.neck), 0, breaks.min(1e9));
        if before != after && scene.before.board == scene.after.board {
            hatch(&mut self.draft, Layer::Waste, &[before.clone(), after.clone()], PITCH_MM, true);
        }
        draw(&mut self.draft, Layer::Outline, &before, breaks);
        if before != after {
            draw(&mut self.draft, Layer::Left, &after, breaks);
        }
        draw(&mut self.draft, Layer::Finished, &finished, breaks);
        let glue = -scene.neck.layout().board().thickness_mm();
        if scene.after.wood.is_board_made() {
            let edge = scene.after.edge(within);
            if edge.iter().any(|p| p[1] < -0.05) {
                self.draft.polyline(Layer::Edges, &edge);
            }
        }
        if scene.after.board {
            let [from, to] = scene.after.wood.board_reach_mm();
            let to = to.min(scene.after.wood.wood_reach_mm()[1]).min(breaks);
            if from < to {
                self.draft.line(Layer::Edges, [from, glue], [to, glue]);
            }
        }
        if breaks.is_finite() {
            let ends = before.iter().chain(&after).filter(|p| p[0] >= breaks - 1e-6).map(|p| p[1]);
            let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |a, z| (a.0.min(z), a.1.max(z)));
            if low < high {
                let middle = 0.5 * (low + high);
                let zigzag = [
                    [breaks, high + 2.0],
                    [breaks, middle + 1.5],
                    [breaks + 1.2, middle + 0.7],
                    [breaks - 1.2, middle - 0.7],
                    [breaks, middle - 1.5],
                    [breaks, low - 2.0],
                ];
                self.draft.polyline(Layer::Dimensions, &zigzag);
            }
        }
    }

    /// Depth below the crown plane of what distances from the top are measured from.
    fn reference(&self, datum: Datum, x: f64) -> f64 {
        match datum {
            Datum::BoardEdge => self.scene.before.wood.board_edge_mm(x),
            Datum::BoardTop => self.scene.before.wood.board_top_mm(),
            _ => self.scene.neck.layout().board().thickness_mm(),
        }
    }

    fn foot(&self, datum: Datum, x: f64, distance: f64) -> Foot {
        match datum {
            Datum::HeadstockFace => {
                let head = &self.scene.neck.built().head;
                let face = head.back_depth(x, 0.0);
                let on = [x, -face - distance / head.cos];
                // Back up square to the face.
                let from = [x - distance * head.sin, on[1] + distance * head.cos];
                Foot { on, from }
            }
            datum => {
                let reference = -self.reference(datum, x);
                Foot { on: [x, reference - distance], from: [x, reference] }
            }
        }
    }

    /// Draws the lines that are marked on the sides, with their distances where there is room.
    pub fn lines(&mut self) {
        let scene = self.scene;
        for m in &scene.lines {
            match m.line.from {
                Datum::BlankHeelEnd if m.on == Face::Back => self.underneath(m),
                _ if matches!(m.on, Face::Top | Face::HeadstockFace | Face::Back) => {}
                Datum::Nut => self.across(m),
                // What is measured from the blank's ends is drawn on the blank as it comes.
                Datum::Centreline | Datum::BlankEnd | Datum::BlankHeelEnd => {}
                _ => self.along(m),
            }
        }
    }

    fn along(&mut self, m: &Marked<'_>) {
        let mut points = Vec::new();
        for mark in m.line.marks.iter().filter(|k| k.distance_mm.is_finite() && k.x_mm <= self.breaks) {
            let foot = self.foot(m.line.from, mark.x_mm, mark.distance_mm);
            for [x, z] in [foot.on, foot.from] {
                let ends = [[x - STROKE_MM, z - STROKE_MM], [x + STROKE_MM, z + STROKE_MM]];
                self.draft.line(Layer::Dimensions, ends[0], ends[1]);
            }
            self.draft.line(Layer::Dimensions, foot.from, foot.on);
            points.push(foot.on);
            if worth_saying(m, mark) {
                let words = format!("{} {}", m.letter, mm(mark.distance_mm));
                self.below.push(Callout { foot: foot.on, words });
            }
        }
        // Between the marks of a curve there is more to it than straight lines.
        if m.line.straight {
            let wood = self.scene.before;
            let mut drawn: Vec<Point> = Vec::new();
            for p in &points {
                if let Some(last) = drawn.last() {
                    // Between two marks it may run below the wood, before a block that is glued under it.
                    let [x, z] = [0, 1].map(|k| 0.5 * (last[k] + p[k]));
                    if z < wood.bottom(x) - 1e-3 {
                        self.draft.polyline(Layer::CutLine, &core::mem::take(&mut drawn));
                    }
                }
                drawn.push(*p);
            }
            self.draft.polyline(Layer::CutLine, &drawn);
        }
    }

    /// A mark squared across the underside.
    fn underneath(&mut self, m: &Marked<'_>) {
        for mark in m.line.marks.iter().filter(|k| k.distance_mm.is_finite()) {
            let low = self.scene.before.bottom(mark.x_mm);
            let glue = -self.scene.neck.layout().board().thickness_mm();
            self.draft.line(Layer::CutLine, [mark.x_mm, low - 2.0], [mark.x_mm, glue]);
            let words = format!("{} {} from the end at the heel", m.letter, mm(mark.distance_mm));
            self.below.push(Callout { foot: [mark.x_mm, low - 2.0], words });
        }
    }

    fn across(&mut self, m: &Marked<'_>) {
        let [low, high] = self.draft.bounds();
        for mark in m.line.marks.iter().filter(|k| k.distance_mm.is_finite()) {
            let x = mark.distance_mm;
            let (top, bottom) = (high[1] + 2.0, low[1] - 2.0);
            self.draft.line(Layer::CutLine, [x, bottom], [x, top]);
            let words = format!("{} {}: {}", m.letter, mm(x), mark.place);
            self.above.push(Callout { foot: [x, top], words });
        }
    }

    /// The carve line on the side toward the eye, where it has to be marked, and on the far one where it differs.
    pub fn carve_line(&mut self) {
        let [from, to] = self.scene.plan.stops_mm();
        let carve = self.scene.neck.laws().carve_line;
        let lines =
            if carve.bass == carve.treble { vec![carve.bass] } else { vec![carve.bass, carve.treble] };
        for law in lines {
            let line: Vec<Point> =
                crate::paper::curve::law(law, from, to).iter().map(|p| [p[0], -p[1]]).collect();
            self.draft.polyline(Layer::CutLine, &line);
        }
    }

    /// The sizes of the blank, and where the nut lies in it.
    pub fn sizes(&mut self) {
        let [from, to] = self.scene.before.wood.wood_reach_mm();
        let glue = -self.scene.neck.layout().board().thickness_mm();
        let bottom = self.scene.before.bottom(0.0);
        let low = self.draft.bounds()[0];
        let level = |to: f64, words: String, row: f64| {
            Dimension::level([[from, bottom], [to, bottom]], low[1] - 7.0 * row, words)
        };
        self.draft.dimension(level(0.0, format!("end to nut: {}", mm(-from)), 1.0));
        let glued = self.scene.plan.stock().construction == Construction::Scarf;
        let length = if glued { "length as glued" } else { "length" };
        self.draft.dimension(level(to, format!("{length}: {}", mm(to - from)), 2.0));
        let upright = [[to, bottom], [to, glue]];
        self.draft.dimension(Dimension::upright(upright, to + 7.0, mm(glue - bottom)));
    }

    /// The joint of the heel's block that is glued on, and how thick it is.
    pub fn heel_block(&mut self, facts: &TimberFacts) {
        let Some(block) = facts.heel_block else { return };
        let [length, _, thickness] = block.size_mm;
        let joint = self.scene.before.bottom(0.0);
        let (from, to) = (block.from_x_mm, block.from_x_mm + length);
        self.draft.line(Layer::Edges, [from, joint], [to, joint]);
        let ends = [[to, joint - thickness], [to, joint]];
        self.draft.dimension(Dimension::upright(ends, to + block.short_of_end_mm + 7.0, mm(thickness)));
    }

    /// Says something of a place, above the wood.
    pub fn say_above(&mut self, foot: Point, words: impl Into<String>) {
        self.above.push(Callout { foot, words: words.into() });
    }

    /// The zone that is glued, crossed through.
    pub fn glued(&mut self) {
        let from = self.scene.plan.glued_from_mm();
        let turned: Vec<Point> =
            self.scene.after.side([f64::NEG_INFINITY, f64::INFINITY]).iter().map(|p| [-p[0], p[1]]).collect();
        let zone: Vec<Point> = clipped(&turned, 0, -from).iter().map(|p| [-p[0], p[1]]).collect();
        for rising in [true, false] {
            hatch(&mut self.draft, Layer::Kept, core::slice::from_ref(&zone), 3.0, rising);
        }
    }

    /// The axes of the tuner holes.
    pub fn holes(&mut self) {
        let head = &self.scene.neck.built().head;
        let out = [-head.sin, head.cos];
        let posts = self.scene.neck.headstock().posts;
        let thick = self.scene.neck.headstock().thickness_mm;
        let mut drawn: Vec<f64> = Vec::new();
        for post in posts {
            if drawn.iter().any(|along| libm::fabs(along - post.along_mm) < 1e-6) {
                continue;
            }
            drawn.push(post.along_mm);
            let face = [post.x_mm, -head.back_depth(post.x_mm, 0.0)];
            let at = |mm: f64| [0, 1].map(|k| face[k] + mm * out[k]);
            self.draft.line(Layer::Centreline, at(4.0), at(-thick - 6.0));
        }
    }

    /// The floors of channel and pocket.
    pub fn channel(&mut self, layer: Layer) {
        let glue = -self.scene.neck.layout().board().thickness_mm();
        for cut in self.scene.neck.rod_cuts() {
            let [from, to] = cut.reach_mm();
            let floor = crate::paper::curve::law(cut.floor_depth(), from, to);
            let mut line = vec![[from, -self.scene.after.wood.wood_top_mm(from)]];
            line.extend(floor.iter().map(|p| [p[0], -p[1]]));
            line.push([to, glue]);
            self.draft.polyline(layer, &line);
        }
    }

    /// The drawing, its words in place.
    pub fn done(mut self) -> Drawing {
        let [low, high] = self.draft.bounds();
        callout::place(&mut self.draft, core::mem::take(&mut self.above), high[1] + 3.0, true);
        callout::place(&mut self.draft, core::mem::take(&mut self.below), low[1] - 3.0, false);
        Drawing { draft: self.draft, origin: Some([0.0, 0.0]) }
    }
}
