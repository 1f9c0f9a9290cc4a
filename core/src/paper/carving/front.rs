//! The wood seen from the front, with the lines that are marked on its top.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::lying::{PITCH_MM, worth_saying};
use super::marks::Marked;
use super::outline::hatch;
use super::scene::{Drawing, Scene};
use crate::carve::{Datum, Face};
use crate::paper::callout::{self, Callout};
use crate::paper::draft::Draft;
use crate::paper::layer::Layer;
use crate::paper::path::Point;
use crate::paper::plan;
use crate::paper::station::mm;
use crate::shape::Side;

/// A view from the front.
pub(super) struct Front<'a> {
    scene: &'a Scene<'a>,
    pub draft: Draft,
    above: Vec<Callout>,
    below: Vec<Callout>,
    /// What is said above where there is no room for all of it.
    short: Vec<Callout>,
}

fn ends_at(x: f64) -> String {
    if x < 0.0 { format!("{} behind the nut", mm(-x)) } else { format!("{} from the nut", mm(x)) }
}

/// The sides that a line is on: one that is named, or both.
fn sides(m: &Marked<'_>) -> Vec<Side> {
    let named = |side: Side| m.name.contains(&format!("{} side", side.name()));
    let one: Vec<Side> = Side::BOTH.into_iter().filter(|s| named(*s)).collect();
    if one.is_empty() || m.both { Side::BOTH.into() } else { one }
}

impl<'a> Front<'a> {
    pub fn new(scene: &'a Scene<'a>) -> Self {
        let mut view =
            Self { scene, draft: Draft::default(), above: Vec::new(), below: Vec::new(), short: Vec::new() };
        let (before, after) = (scene.before.plan(), scene.after.plan());
        for (b, a) in before.iter().zip(&after).filter(|(b, a)| b != a) {
            hatch(&mut view.draft, Layer::Waste, &[b.clone(), a.clone()], PITCH_MM, true);
        }
        for outline in &before {
            view.draft.closed(Layer::Outline, outline);
        }
        if before != after {
            for outline in after.iter().filter(|a| !before.contains(a)) {
                view.draft.closed(Layer::Left, outline);
            }
        }
        for outline in plan::outlines(scene.neck) {
            view.draft.polyline(Layer::Finished, &outline);
        }
        let [from, to] = scene.reach();
        view.draft.line(Layer::Centreline, [from - 6.0, 0.0], [to + 6.0, 0.0]);
        view
    }

    fn hand(&self) -> f64 {
        self.scene.neck.hand_sign()
    }

    /// The nut's line from edge to edge of what wood there is, where it lies aslant.
    fn slanted_nut(&mut self) {
        let slope = self.scene.neck.layout().nut_line().slope;
        let wood = self.scene.after.wood;
        let ends = Side::BOTH.map(|side| {
            let x = slope * side.sign() * wood.half_width_mm(side, 0.0);
            [x, self.hand() * side.sign() * wood.half_width_mm(side, 0.0)]
        });
        self.draft.line(Layer::CutLine, ends[0], ends[1]);
        for [x, y] in ends {
            let words = format!("nut {}", mm(x));
            let callout = Callout { foot: [x, y], words };
            if y > 0.0 { self.above.push(callout) } else { self.below.push(callout) }
        }
    }

    /// The lines on the top face.
    pub fn lines(&mut self) {
        let scene = self.scene;
        if scene
            .lines
            .iter()
            .any(|m| m.on == Face::Top && m.line.from == Datum::BlankEnd && m.line.marks.len() > 1)
        {
            self.slanted_nut();
        }
        for m in scene.lines.iter().filter(|m| m.on == Face::Top) {
            match m.line.from {
                Datum::Centreline => self.along(m),
                Datum::Nut => self.across(m),
                _ => {}
            }
        }
    }

    fn along(&mut self, m: &Marked<'_>) {
        for side in sides(m) {
            let out = self.hand() * side.sign();
            let marks: Vec<_> = m.line.marks.iter().filter(|k| k.distance_mm.is_finite()).collect();
            let points: Vec<Point> = marks.iter().map(|k| [k.x_mm, out * k.distance_mm]).collect();
            // Between the marks of a curve there is more to it than straight lines.
            if m.line.straight {
                self.draft.polyline(Layer::CutLine, &points);
            }
            for (p, k) in points.iter().zip(marks) {
                self.draft.line(Layer::Dimensions, [p[0], p[1] - 1.2], [p[0], p[1] + 1.2]);
                if !worth_saying(m, k) {
                    continue;
                }
                let callout = Callout { foot: *p, words: format!("{} {}", m.letter, mm(k.distance_mm)) };
                if out > 0.0 { self.above.push(callout) } else { self.below.push(callout) }
            }
        }
    }

    fn across(&mut self, m: &Marked<'_>) {
        let half = |x: f64, side: Side| {
            let reach = self.scene.after.wood.wood_reach_mm();
            self.scene.after.wood.half_width_mm(side, x.clamp(reach[0], reach[1]))
        };
        let sides = [Side::Treble, Side::Bass];
        let [upper, lower] = if self.hand() > 0.0 { sides } else { [sides[1], sides[0]] };
        let ends: Vec<(f64, f64, &crate::carve::Mark)> = m
            .line
            .marks
            .iter()
            .map(|k| (half(k.distance_mm, upper), half(k.distance_mm, lower), k))
            .collect();
        for (up, down, k) in ends {
            let x = k.distance_mm;
            // A slanted nut is drawn as it lies.
            let slanted = x == 0.0 && self.scene.neck.layout().nut_line().slope != 0.0;
            if slanted || self.above.iter().any(|c| c.foot[0] == x) {
                continue;
            }
            self.draft.line(Layer::CutLine, [x, -down], [x, up]);
            // The nut is where all lengths begin.
            let words = if x == 0.0 { String::from("nut") } else { format!("{} {}", k.place, mm(x)) };
            self.above.push(Callout { foot: [x, up], words });
        }
    }

    /// The widths that are to be checked.
    pub fn widths(&mut self) {
        let upper = if self.hand() > 0.0 { Side::Treble } else { Side::Bass };
        for check in &self.scene.stage.checks {
            if let (Some(x), Some(reads)) = (check.x_mm, check.reads_mm) {
                let foot = [x, self.scene.after.wood.half_width_mm(upper, x)];
                self.above.push(Callout { foot, words: format!("{} wide", mm(reads)) });
            }
        }
    }

    /// Slots from end to end, and a slanted nut's line with where it ends.
    pub fn slots(&mut self) {
        let board = self.scene.neck.layout().board();
        let [bass, treble] = board.nut_ends_mm();
        if bass != treble {
            let at = |side: Side, x: f64| [x, self.hand() * side.sign() * 0.5 * board.width_mm(x)];
            let ends = [at(Side::Bass, bass), at(Side::Treble, treble)];
            self.draft.line(Layer::CutLine, ends[0], ends[1]);
            for foot in ends {
                let callout = Callout { foot, words: format!("nut {}", mm(foot[0])) };
                if foot[1] > 0.0 { self.above.push(callout) } else { self.below.push(callout) }
            }
        }
        for fret in self.scene.neck.layout().frets() {
            let (bass, treble) = fret.slot_ends_mm;
            let hand = self.hand();
            self.draft.line(Layer::FretSlots, [bass.0, hand * bass.1], [treble.0, hand * treble.1]);
            let (upper, lower) = if hand > 0.0 { (treble, bass) } else { (bass, treble) };
            let callout = |end: (f64, f64)| Callout {
                foot: [end.0, hand * end.1],
                words: format!("{} {}", fret.number, mm(end.0)),
            };
            let foot = [upper.0, hand * upper.1];
            self.above.push(callout(upper));
            self.short.push(Callout { foot, words: format!("{}", fret.number) });
            // The ends of a slanted slot lie at stations of their own.
            if upper.0 != lower.0 {
                self.below.push(callout(lower));
            }
        }
    }

    /// Channel and pocket.
    pub fn channel(&mut self) {
        for cut in self.scene.neck.rod_cuts() {
            let ([from, to], half) = (cut.reach_mm(), cut.half_width_mm());
            let corners = vec![[from, -half], [to, -half], [to, half], [from, half]];
            hatch(&mut self.draft, Layer::Waste, core::slice::from_ref(&corners), PITCH_MM, true);
            self.draft.closed(Layer::Left, &corners);
            for x in [from, to] {
                if self.below.iter().any(|c| c.foot[0] == x && c.words.contains("nut")) {
                    continue;
                }
                self.below.push(Callout { foot: [x, -half], words: ends_at(x) });
            }
        }
    }

    /// The drawing, its words in place.
    pub fn done(mut self) -> Drawing {
        let [low, high] = self.draft.bounds();
        let mut full = self.draft.clone();
        let left_out = callout::place(&mut full, core::mem::take(&mut self.above), high[1] + 3.0, true);
        if left_out > 0 && !self.short.is_empty() {
            callout::place(&mut self.draft, core::mem::take(&mut self.short), high[1] + 3.0, true);
        } else {
            self.draft = full;
        }
        callout::place(&mut self.draft, core::mem::take(&mut self.below), low[1] - 3.0, false);
        Drawing { draft: self.draft, origin: Some([0.0, 0.0]) }
    }
}
