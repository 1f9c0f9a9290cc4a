//! The neck seen from the front.

mod measures;

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::block::{Words, blocks};
use super::curve;
use super::draft::Draft;
use super::face;
use super::flow::{COLUMN_MM, flow, lefts};
use super::layer::Layer;
use super::legend::NECK;
use super::path::{Path, Point};
use super::sheet::{Shape, Sheet};
use super::station::mm;
use crate::shape::{Neck, Side};
use crate::spec::{BlockWidth, HeadstockKind};

/// How far centreline and strings run past what they belong to, mm.
const PAST_MM: f64 = 6.0;

/// The neck seen from the front, in right-handed coordinates until a point is drawn.
pub(super) struct View<'a> {
    neck: &'a Neck,
    hand: f64,
    pub draft: Draft,
}

/// The finished neck's outline, and the sides of a heel block of its own width.
pub(super) fn outlines(neck: &Neck) -> Vec<Vec<Point>> {
    let view = View::new(neck);
    let mut all = vec![view.outline()];
    if view.own_block() {
        let (half, heel) = (neck.laws().half_width, neck.heel());
        all.extend(Side::BOTH.into_iter().map(|side| {
            let law = curve::law(half.of(side), heel.start_x_mm, heel.end_x_mm);
            law.iter().map(|p| view.at(p[0], side.sign() * p[1])).collect()
        }));
    }
    all
}

impl<'a> View<'a> {
    pub fn new(neck: &'a Neck) -> Self {
        Self { neck, hand: neck.hand_sign(), draft: Draft::default() }
    }

    fn at(&self, x: f64, y: f64) -> Point {
        [x, self.hand * y]
    }

    fn line(&mut self, layer: Layer, from: (f64, f64), to: (f64, f64)) {
        let (from, to) = (self.at(from.0, from.1), self.at(to.0, to.1));
        self.draft.line(layer, from, to);
    }

    /// The side that lies lower on the sheet.
    fn lower(&self) -> Side {
        if self.hand < 0.0 { Side::Treble } else { Side::Bass }
    }

    /// Distance of the outline from the centreline at a station.
    fn half(&self, side: Side, x: f64) -> f64 {
        let board = self.neck.layout().board();
        if x >= 0.0 && x <= board.end_mm() {
            0.5 * board.width_mm(x)
        } else {
            self.neck.laws().half_width.of(side).value(x)
        }
    }

    /// Where the nut's line meets both edges of the board, bass and treble.
    fn nut_ends(&self) -> [(f64, f64); 2] {
        let board = self.neck.layout().board();
        let [bass, treble] = board.nut_ends_mm();
        [(bass, -0.5 * board.width_mm(bass)), (treble, 0.5 * board.width_mm(treble))]
    }

    /// One side of the outline, from the tip to the end.
    fn edge(&self, side: Side) -> Vec<Point> {
        let (neck, board) = (self.neck, self.neck.layout().board());
        let half = neck.laws().half_width;
        let (tip, root) = (neck.headstock().tip_x_mm, neck.headstock().root_x_mm);
        let mut edge = curve::law(half.of(side), tip, root);
        let inner = board.widths_mm().iter().skip(1).filter(|(x, _)| *x < board.end_mm());
        edge.extend(inner.map(|&(x, width)| [x, 0.5 * width]));
        edge.push([board.end_mm(), 0.5 * board.width_mm(board.end_mm())]);
        let end = neck.heel().end_x_mm;
        if end > board.end_mm() && !self.own_block() {
            edge.push([end, half.of(side).value(end)]);
        }
        edge.iter().map(|p| self.at(p[0], side.sign() * p[1])).collect()
    }

    /// The whole outline.
    fn outline(&self) -> Vec<Point> {
        let mut outline = self.edge(Side::Bass);
        outline.extend(self.edge(Side::Treble).into_iter().rev());
        outline
    }

    fn own_block(&self) -> bool {
        self.neck.normalised().heel.block_width != BlockWidth::Board
    }

    fn outlines(&mut self) {
        let neck = self.neck;
        let board = neck.layout().board();
        let outline = self.outline();
        self.draft.closed(Layer::Outline, &outline);
        let nut = self.nut_ends();
        self.line(Layer::Edges, nut[0], nut[1]);
        let thickness = neck.normalised().nut.thickness.mm();
        if thickness > 0.0 {
            let behind = nut.map(|(x, y)| (x - thickness, y));
            for (from, to) in [(behind[0], behind[1]), (nut[0], behind[0]), (nut[1], behind[1])] {
                self.line(Layer::Edges, from, to);
            }
        }
        let root = neck.headstock().root_x_mm;
        if root < -thickness - 1e-9 {
            // Behind a slanted nut the headstock's face begins further off.
            self.line(
                Layer::Edges,
                (root, -self.half(Side::Bass, root)),
                (root, self.half(Side::Treble, root)),
            );
        }
        let heel = neck.heel();
        if heel.end_x_mm > board.end_mm() {
            let half = 0.5 * board.width_mm(board.end_mm());
            self.line(Layer::Edges, (board.end_mm(), -half), (board.end_mm(), half));
        }
        self.binding();
        self.heel();
    }

    pub fn binding(&mut self) {
        let board = self.neck.layout().board();
        let width = board.binding_mm();
        if width <= 0.0 {
            return;
        }
        let nut = self.nut_ends();
        for (side, (x, y)) in Side::BOTH.into_iter().zip(nut) {
            let inside = |x: f64, y: f64| self.at(x, side.sign() * (libm::fabs(y) - width));
            let mut line = vec![inside(x, y)];
            let stations = board.widths_mm().iter().map(|w| w.0).filter(|s| *s > x && *s < board.end_mm());
            line.extend(stations.chain([board.end_mm()]).map(|x| inside(x, 0.5 * board.width_mm(x))));
            self.draft.polyline(Layer::Edges, &line);
        }
    }

    /// Where the heel begins and its block, from below; a block of its own width with its sides.
    fn heel(&mut self) {
        let (neck, heel) = (self.neck, self.neck.heel());
        let half = neck.laws().half_width;
        let mut places = vec![heel.start_x_mm, heel.block_x_mm, heel.end_x_mm];
        if !places.iter().any(|x| libm::fabs(x - heel.glued_from_x_mm) < 1e-6) {
            places.push(heel.glued_from_x_mm);
        }
        for x in places {
            let (b, t) = (half.bass.value(x), half.treble.value(x));
            self.line(Layer::Hidden, (x, -b), (x, t));
        }
        if self.own_block() {
            let board = 0.5 * neck.layout().board().width_mm(heel.end_x_mm);
            let layer = if half.bass.value(heel.end_x_mm) > board { Layer::Edges } else { Layer::Hidden };
            for side in Side::BOTH {
                let law = curve::law(half.of(side), heel.start_x_mm, heel.end_x_mm);
                let points: Vec<Point> = law.iter().map(|p| self.at(p[0], side.sign() * p[1])).collect();
                self.draft.polyline(layer, &points);
            }
        }
    }

    fn frets(&mut self) {
        for fret in self.neck.layout().frets() {
            let (bass, treble) = fret.slot_ends_mm;
            self.line(Layer::FretSlots, bass, treble);
        }
        self.markers();
    }

    pub fn markers(&mut self) {
        // A cross for each dot: how large it is, the builder knows.
        for marker in self.neck.layout().face_markers() {
            let both = [-marker.y_mm, marker.y_mm];
            for y in &both[..if marker.double { 2 } else { 1 }] {
                for turn in [-1.0, 1.0] {
                    let (from, to) =
                        ((marker.x_mm - 1.5, y - 1.5 * turn), (marker.x_mm + 1.5, y + 1.5 * turn));
                    self.line(Layer::Markers, from, to);
                }
            }
        }
    }

    fn strings(&mut self) {
        let neck = self.neck;
        let to = neck.reach_mm()[1] + PAST_MM;
        for string in neck.layout().strings() {
            let x = to.min(string.bridge_mm.0);
            self.line(Layer::Strings, string.nut_mm, (x, string.y_mm(x)));
        }
        for path in neck.string_paths() {
            // Seen from the hand's own side already.
            self.draft.line(
                Layer::Strings,
                [path.nut_mm[0], path.nut_mm[1]],
                [path.post_mm[0], path.post_mm[1]],
            );
        }
        let [from, to] = neck.reach_mm();
        self.line(Layer::Centreline, (from - PAST_MM, 0.0), (to + PAST_MM, 0.0));
    }

    fn holes(&mut self) {
        let spec = &self.neck.normalised().headstock;
        let head = self.neck.headstock();
        let seen = libm::cos(head.angle_deg.to_radians());
        let radii = [(Layer::Holes, spec.hole_diameter), (Layer::Edges, spec.post_diameter)];
        for post in &head.posts {
            for (layer, diameter) in radii {
                let (centre, radius_mm) = ([post.x_mm, post.y_mm], 0.5 * diameter.mm());
                let shape = if seen == 1.0 {
                    Shape::Circle { centre, radius_mm }
                } else {
                    Shape::Path(Path::ellipse(centre, [seen * radius_mm, radius_mm]))
                };
                self.draft.add(layer, shape);
            }
        }
        for cut in self.neck.rod_cuts() {
            let [a, b] = cut.reach_mm();
            let corners =
                [(a, -1.0), (b, -1.0), (b, 1.0), (a, 1.0)].map(|(x, y)| self.at(x, y * cut.half_width_mm()));
            self.draft.closed(Layer::Hidden, &corners);
        }
    }
}

fn notes(neck: &Neck) -> Vec<String> {
    let mut notes: Vec<String> = vec!["Lengths run along the centreline from the front of the nut.".into()];
    if neck.normalised().frets.count > 0 {
        notes.push("Numbers stand before their frets; crosses are the centres of dots.".into());
    }
    let layout = neck.layout();
    if layout.fan().is_fanned() {
        let square = neck.normalised().scale.square_fret;
        notes.push(format!(
            "Fanned frets, square to the centreline at fret {square}: measure each slot at both its ends."
        ));
    }
    let heel = neck.heel();
    notes.push(format!(
        "Between {} and {} the heel is glued or bolted: nothing may be taken off there.",
        mm(heel.glued_from_x_mm),
        mm(heel.end_x_mm)
    ));
    if let Some(channel) = neck.rod_cuts().first() {
        notes.push(format!(
            "Rod channel {} wide, from {} to {}.",
            mm(2.0 * channel.half_width_mm()),
            mm(channel.reach_mm()[0]),
            mm(channel.reach_mm()[1])
        ));
    }
    notes
}

/// The neck seen from the front: outline of board and headstock, nut, fret slots from end to end, strings, tuner
/// holes, dots, what is hidden of rod channel and heel, and, where the headstock is tilted, its face as a template
/// sees it.
///
/// A left-handed neck is drawn as the mirror image, with its words to be read.
#[must_use]
pub fn plan(neck: &Neck) -> Sheet {
    let mut view = View::new(neck);
    view.outlines();
    view.frets();
    view.strings();
    view.holes();
    view.dimensions();
    view.numbers();
    let mut draft = view.draft;
    let angled = neck.headstock().kind == HeadstockKind::Angled && neck.headstock().angle_deg > 0.0;
    if !angled {
        let radius = 0.5 * neck.normalised().headstock.hole_diameter.mm();
        face::number_posts(&mut draft, &face::places(neck, false), radius);
    }
    let [low, high] = draft.bounds();
    let top = low[1] - 9.0;
    let mut left = low[0];
    if angled {
        let face = face::face(neck, Draft::default());
        let [a, b] = face.bounds();
        draft.stand(face, [left - a[0], top - b[1]]);
        left += b[0] - a[0] + 14.0;
    }
    let table = face::table(neck);
    let [a, b] = table.bounds();
    draft.stand(table, [left - a[0], top - b[1]]);
    left += b[0] - a[0] + 14.0;
    let words = Words { what: "Plan, seen from the front", notes: &notes(neck), meaning: NECK };
    let width = high[0] - left;
    let beside = width >= COLUMN_MM;
    let (width, corner) = if beside {
        (width, [left, top])
    } else {
        ((high[0] - low[0]).max(COLUMN_MM), [low[0], draft.bounds()[0][1] - 9.0])
    };
    let columns: Vec<Point> = lefts(width).iter().map(|x| [corner[0] + x, corner[1]]).collect();
    let words = blocks(neck, &words, |layer| draft.uses(layer));
    draft.entitle(|draft| flow(draft, words, &columns));
    draft.into_sheet("Plan of a neck", &[], Some([0.0, 0.0]))
}
