//! The neck seen from the side.

mod measures;

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::block::{Words, blocks};
use super::curve;
use super::draft::Draft;
use super::flow::{flow, lefts};
use super::layer::Layer;
use super::legend::NECK;
use super::path::Point;
use super::sheet::Sheet;
use super::station::mm;
use super::stock;
use crate::carve::CarvingPlan;
use crate::shape::{Neck, Side, sagitta_mm};
use crate::spec::HeadstockKind;

/// The neck seen along `y`: a sheet's point is `[x, z]` of the neck.
struct View<'a> {
    neck: &'a Neck,
    /// The side that is toward the eye.
    near: Side,
    draft: Draft,
}

/// Where the crown line begins: at the nut's front, or behind it where there is no nut on a slant.
fn crown_start(neck: &Neck) -> f64 {
    let start = neck.layout().board().start_mm();
    if neck.normalised().nut.thickness.mm() > 0.0 { 0.0_f64.min(start) } else { start }
}

/// The finished neck's outline, without the nut: face, board, end, back.
pub(super) fn outline(neck: &Neck) -> Vec<Point> {
    let (board, head, heel) = (neck.layout().board(), neck.headstock(), neck.heel());
    let (end, glue, start) = (board.end_mm(), -board.thickness_mm(), crown_start(neck));
    let mut outline = View::depth(neck.laws().face_depth, head.tip_x_mm, head.root_x_mm);
    outline.extend([[start, glue], [start, 0.0], [end, 0.0]]);
    outline.extend([[end, glue], [heel.end_x_mm, glue]]);
    let mut back = View::depth(neck.laws().spine_depth, head.tip_x_mm, heel.end_x_mm);
    back.reverse();
    outline.extend(back);
    outline.dedup();
    outline
}

impl View<'_> {
    /// Height of the neck wood's top at a station: of the headstock's face, or of the glue line.
    fn face(&self, x: f64) -> f64 {
        self.neck.laws().face_depth.at(x).map_or(self.glue(), |depth| -depth)
    }

    fn glue(&self) -> f64 {
        -self.neck.layout().board().thickness_mm()
    }

    fn depth(law: &crate::law::Law, from: f64, to: f64) -> Vec<Point> {
        curve::law(law, from, to).into_iter().map(|p| [p[0], -p[1]]).collect()
    }

    fn outlines(&mut self) {
        let neck = self.neck;
        let (board, heel) = (neck.layout().board(), neck.heel());
        let (end, glue) = (board.end_mm(), self.glue());
        let nut = &neck.normalised().nut;
        let crown_start = crown_start(neck);
        let outline = outline(neck);
        self.draft.closed(Layer::Outline, &outline);
        self.draft.line(Layer::Edges, [crown_start, glue], [end.min(heel.end_x_mm), glue]);
        if nut.thickness.mm() > 0.0 {
            let top = nut.string_height.mm();
            let left = crown_start - nut.thickness.mm();
            self.draft
                .polyline(Layer::Edges, &[[left, glue], [left, top], [crown_start, top], [crown_start, 0.0]]);
        }
        self.edge_top();
    }

    /// The board's top edge, below the crown line by the sagitta, and what the fret slots show there.
    fn edge_top(&mut self) {
        let board = self.neck.layout().board();
        let (start, end) = (board.start_mm().max(0.0), board.end_mm());
        let mut stations: Vec<f64> = board.widths_mm().iter().map(|w| w.0).collect();
        stations.retain(|x| *x > start && *x < end);
        stations.insert(0, start);
        stations.push(end);
        let top =
            |x: f64| board.crown().radius_mm(x).map_or(0.0, |r| -sagitta_mm(r, 0.5 * board.width_mm(x)));
        if !board.crown().is_flat() {
            let line = curve::function(top, &stations);
            self.draft.polyline(Layer::Edges, &line);
        }
        if board.binding_mm() > 0.0 {
            return;
        }
        for fret in self.neck.layout().frets() {
            let (ends, bottoms) = (fret.slot_ends_mm, fret.bottom_depth_at_ends_mm);
            let (x, bottom) = match self.near {
                Side::Bass => (ends.0.0, bottoms.0),
                Side::Treble => (ends.1.0, bottoms.1),
            };
            self.draft.line(Layer::FretSlots, [x, top(x)], [x, -bottom]);
        }
    }

    /// Carve lines, rod channel, tuner holes, dots.
    fn inside(&mut self) {
        let neck = self.neck;
        let laws = neck.laws();
        let (volute, heel) = (neck.volute(), neck.heel());
        let far = if self.near == Side::Bass { Side::Treble } else { Side::Bass };
        for (side, layer) in [(far, Layer::Hidden), (self.near, Layer::Edges)] {
            if side == far && laws.carve_line.bass == laws.carve_line.treble {
                continue;
            }
            let line = Self::depth(laws.carve_line.of(side), volute.start_x_mm, heel.block_x_mm);
            self.draft.polyline(layer, &line);
        }
        for cut in neck.rod_cuts() {
            let [from, to] = cut.reach_mm();
            let mut line = Self::depth(cut.floor_depth(), from, to);
            line.insert(0, [from, self.face(from)]);
            line.push([to, self.glue()]);
            self.draft.polyline(Layer::Hidden, &line);
        }
        self.tuner_axes();
        for marker in neck.layout().side_markers() {
            let layer = if self.near == Side::Bass { Layer::Markers } else { Layer::Hidden };
            let places = if marker.double { vec![-marker.apart_mm, marker.apart_mm] } else { vec![0.0] };
            for apart in places {
                let [x, z] = [marker.x_mm + apart, -marker.depth_mm];
                self.draft.line(layer, [x - 0.8, z - 0.8], [x + 0.8, z + 0.8]);
                self.draft.line(layer, [x - 0.8, z + 0.8], [x + 0.8, z - 0.8]);
            }
        }
    }

    fn tuner_axes(&mut self) {
        let head = self.neck.headstock();
        let angle = head.angle_deg.to_radians();
        let out = [-libm::sin(angle), libm::cos(angle)];
        let mut drawn: Vec<f64> = Vec::new();
        for post in &head.posts {
            if drawn.iter().any(|along| libm::fabs(along - post.along_mm) < 1e-6) {
                continue;
            }
            drawn.push(post.along_mm);
            let face = [post.x_mm, self.face(post.x_mm)];
            let at = |mm: f64| [0, 1].map(|k| face[k] + mm * out[k]);
            self.draft.line(Layer::Centreline, at(4.0), at(-head.thickness_mm - 4.0));
        }
    }
}

fn notes(neck: &Neck, near: Side, left_out: usize) -> Vec<String> {
    let (head, volute, heel) = (neck.headstock(), neck.volute(), neck.heel());
    let spec = neck.normalised();
    let mut notes: Vec<String> = Vec::new();
    notes.push(match head.kind {
        HeadstockKind::Angled => format!(
            "Headstock tilted {} degrees, {} thick square to its face, {} long along it. Thicknesses in the drawing \
             are square to the crown line.",
            mm(head.angle_deg),
            mm(head.thickness_mm),
            mm(head.length_mm)
        ),
        HeadstockKind::Level => format!(
            "Level headstock, its face {} below the glue line, {} thick, {} long.",
            mm(spec.headstock.step.mm()),
            mm(head.thickness_mm),
            mm(head.length_mm)
        ),
    });
    if volute.height_mm > 0.0 {
        notes.push(format!(
            "Volute {} high, from {} to {}, its tip at {}.",
            mm(volute.height_mm),
            mm(volute.start_x_mm),
            mm(volute.end_x_mm),
            mm(volute.tip_x_mm)
        ));
    }
    notes.push(format!(
        "Heel block {} deep below the crown line; from {} on it is glued or bolted and nothing may be taken off.",
        mm(heel.block_depth_mm),
        mm(heel.glued_from_x_mm)
    ));
    let laws = neck.laws();
    let side = if near == Side::Bass { "bass" } else { "treble" };
    let same = laws.carve_line.bass == laws.carve_line.treble;
    let other = if same { "alike on both sides" } else { "the far side's dashed" };
    notes.push(format!(
        "The carve line, where the flat side ends, sinks to the back at headstock and heel: the {side} side's is drawn \
         full, {other}."
    ));
    if spec.rod.fitted {
        notes.push("Dashed: the floor of the rod channel.".into());
    }
    if left_out > 0 {
        notes.push(format!("{left_out} thicknesses found no room here: see the caliper card."));
    }
    notes
}

/// The neck seen from the side: crown line and top edge of the board, glue line, back, carve line, rod channel,
/// headstock, volute and heel, with the thickness at every station for which the specification gives one.
///
/// The bass side of a right-handed neck is seen, the treble side of a left-handed one, so that the nut lies to the
/// left of the heel in both as it does in the plan.
#[must_use]
pub fn side(neck: &Neck) -> Sheet {
    drawn(neck, None)
}

/// The same neck in the blank that a carving plan begins with: its outline, and the lines along which the back is sawn.
#[must_use]
pub fn side_with_stock(plan: &CarvingPlan) -> Sheet {
    drawn(plan.start().neck(), Some(plan))
}

fn drawn(neck: &Neck, plan: Option<&CarvingPlan>) -> Sheet {
    let near = if neck.hand_sign() < 0.0 { Side::Treble } else { Side::Bass };
    let mut view = View { neck, near, draft: Draft::default() };
    view.outlines();
    view.inside();
    if let Some(plan) = plan {
        stock::draw(&mut view.draft, plan);
    }
    let base = view.draft.bounds()[0][1] - 3.0;
    let left_out = view.dimensions();
    let mut notes = notes(neck, near, left_out);
    if let Some(plan) = plan {
        stock::name(&mut view.draft, plan, base);
        notes.extend(stock::notes(plan));
    }
    let mut draft = view.draft;
    let what =
        if near == Side::Bass { "Side, seen from the bass side" } else { "Side, seen from the treble side" };
    let words = Words { what, notes: &notes, meaning: NECK };
    let [low, high] = draft.bounds();
    let columns: Vec<Point> =
        lefts((high[0] - low[0]).clamp(230.0, 420.0)).iter().map(|x| [low[0] + x, low[1] - 9.0]).collect();
    let words = blocks(neck, &words, |layer| draft.uses(layer));
    draft.entitle(|draft| flow(draft, words, &columns));
    let title = if plan.is_some() { "Side of a neck in its blank" } else { "Side of a neck" };
    draft.into_sheet(title, &[], Some([0.0, 0.0]))
}
