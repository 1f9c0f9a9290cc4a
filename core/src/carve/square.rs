//! The stages that are done while the faces are flat and square.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::clearance::{CLEARANCE_TOLERANCE, Clearance, least};
use super::mark::{Check, Datum, FAIR_MM, Face, Keep, Line, Mark, Place, Waste, marks, places, points};
use super::pass::{Cut, Pass};
use super::sawing::{SawLine, parallel, plan_clearance, plane, too_deep};
use super::setting::Setting;
use super::stage::Details;
use super::step::Step;
use super::wood::{Width, Wood};
use crate::measure::{Fault, told};
use crate::shape::{Headstock, LeastValue, Side};
use crate::spec::{Construction, HeadstockKind};

/// Places along the headstock's slab, where face and back are parallel, for marks square to its face.
pub(super) fn slab_places(setting: &Setting) -> Vec<Place> {
    let head = &setting.neck.built().head;
    // A level face comes down its step first.
    let inner = setting.stretches.ends[1].min(head.root - head.step_run).max(head.tip());
    [head.tip(), halfway(head, inner), inner].into_iter().map(|x| on_face(head, x)).collect()
}

/// A whole millimetre along the face about halfway between the tip and another place.
fn halfway(head: &Headstock, x: f64) -> f64 {
    let along = |x: f64| (head.root - x) / head.cos;
    let middle = libm::round(0.5 * (head.length + along(x)));
    // On a face of a few millimetres there may be none.
    head.x(middle.clamp(along(x).min(head.length), head.length))
}

/// A station on the headstock's face, told along it.
fn on_face(head: &Headstock, x: f64) -> Place {
    Place::new(x, format!("{:.1} mm along the face", (head.root - x) / head.cos))
}

/// The lesser of two clearances, each against what it needs.
fn nearer(a: Option<Clearance>, b: Option<Clearance>) -> Option<Clearance> {
    match (a, b) {
        (Some(a), Some(b)) => Some(if b.spare_mm() < a.spare_mm() { b } else { a }),
        (a, b) => a.or(b),
    }
}

impl Setting {
    pub(super) fn blank(&self, wood: &Wood) -> Step {
        let facts = &self.timber.facts;
        let [length, width, thickness] = facts.blank_mm;
        let top = if self.stock.board.glued {
            "Plane the top of the glued board flat: from it all is measured. Square one edge to it, bring the wood below the \
             board"
        } else {
            "Plane one face of the blank flat: it becomes the top, on which the board is glued and from which all is \
             measured. Square one edge to it, bring the blank"
        };
        let mut action = format!(
            "{top} to {} x {} x {} mm and draw the centreline along the top and over both ends.",
            told(length),
            told(width),
            told(thickness)
        );
        action.push_str(&self.glued_words());
        let glued = facts.scarf_mm.is_some() || facts.heel_block.is_some();
        let mut step =
            Step::new(wood, action, if glued { "plane, square, saw, clamps" } else { "plane, square" });
        step.lines.push(self.nut_line());
        let frets = places(
            &self.neck,
            &Place::new(0.0, "nut"),
            &Place::new(self.neck.wood_reach_mm()[1], "heel's end"),
        );
        step.lines.push(Line {
            name: String::from("stations along the centreline"),
            on: Face::Top,
            from: Datum::Nut,
            straight: true,
            waste: None,
            marks: marks(&frets, |x| x),
        });
        step.lines.extend(self.glued_lines());
        step.checks.extend(self.glued_checks());
        step.checks.push(Check::by_eye(
            "a straight edge along the top face shows no light, along, across and corner to corner",
        ));
        step.checks.push(Check::by_eye(
            "the grain on the edge runs along the blank, or rises toward the headstock's end on the back",
        ));
        step.details = Details::Timber(Box::new(super::timber::TimberFacts {
            waste_mm3: facts.stock_mm3 - {
                let v = self.neck.volume_mm3();
                v.fretboard_mm3 + v.neck_wood_mm3
            },
            ..facts.clone()
        }));
        step
    }

    pub(super) fn rod_channel(&self, wood: &Wood) -> Step {
        let mut step = Step::new(
            wood,
            "Rout the channel for the rod along the centreline in the flat top face",
            "straight cutter with a fence on the square edge",
        );
        step.action.push_str(match (self.neck.rod_cuts().len(), wood.faced) {
            (0 | 1, _) => ".",
            (_, true) => ", and its pocket in the headstock's face.",
            (_, false) => ", and its pocket behind the nut once the headstock's face is cut.",
        });
        step.wood.bored_mm3 += self.neck.volume_mm3().rod_channel_mm3;
        let glue = self.neck.layout().board().thickness_mm();
        for (i, cut) in self.neck.rod_cuts().iter().enumerate() {
            let [from, to] = cut.reach_mm();
            let ends = [Place::new(from, "start"), Place::new(to, "end")];
            let all = if i == 0 { places(&self.neck, &ends[0], &ends[1]) } else { ends.to_vec() };
            let what = if i == 0 { "channel" } else { "pocket" };
            step.lines.push(Line {
                name: format!("{what}: both edges from the centreline"),
                on: Face::Top,
                from: Datum::Centreline,
                straight: true,
                waste: None,
                marks: marks(&all, |_| cut.half_width_mm()),
            });
            let floor = |x: f64| cut.floor_depth().value(x);
            if i > 0 {
                let name = "pocket: its floor";
                step.lines.push(self.side_line(wood, name, (Face::BothSides, false), &all, floor));
            }
            // Where the headstock's face is cut already, there is no top face over the pocket.
            let over =
                if i > 0 { "a straight edge along the blank's top face" } else { "the blank's top face" };
            for p in &all {
                let what = format!("{what}'s depth below {over}, depth gauge");
                step.checks.push(Check::reading(what, p, floor(p.x) - glue));
            }
            if i > 0 {
                step.checks.push(Check::reading(
                    "pocket's depth square to the headstock's face, depth gauge",
                    &ends[0],
                    self.neck.normalised().rod.pocket_depth.mm(),
                ));
            }
        }
        if self.neck.rod_cuts().is_empty() {
            (step.action, step.tool) = (String::from("This neck has no rod: nothing is cut."), "none");
        }
        step
    }

    pub(super) fn headstock_face(&self, wood: &Wood) -> Step {
        let head = self.neck.headstock();
        let scarf = self.stock.construction == Construction::Scarf;
        let action = match (head.kind, scarf) {
            (_, true) => format!(
                "Plane the headstock's face, which the scarf has left at {} degrees, true and square to the edges.",
                told(head.angle_deg)
            ),
            (HeadstockKind::Angled, false) if head.angle_deg == 0.0 => String::from(
                "Plane the headstock's face true and parallel to the board's top, in line with the face under the board.",
            ),
            (HeadstockKind::Angled, false) => format!(
                "Saw the headstock's face at {} degrees, falling from behind the nut, and plane it true to the line.",
                told(head.angle_deg)
            ),
            (HeadstockKind::Level, false) => format!(
                "Step the headstock's face down from the board's plane, with its radius behind the nut, parallel to the top. \
                 The marks stand so close that the saw may go straight from one to the next: that leaves {} mm or less over \
                 the face, for plane and file.",
                told(FAIR_MM)
            ),
        };
        let action = action + " It is finished then: the last grit is the only one that touches it.";
        // A scarf has sawn the face already.
        let tool = if scarf { "plane" } else { "bandsaw or hand saw, plane" };
        let mut step = Step::new(wood, action, tool);
        step.wood.faced = true;
        let reference = self.reference(wood);
        let face = &self.neck.laws().face_depth;
        let built = &self.neck.built().head;
        let depth = |x: f64| face.at(x).unwrap_or(f64::NAN) - reference.depth;
        let marked = if head.kind == HeadstockKind::Angled {
            // There is no face yet to measure along: the places are on the blank.
            let middle = libm::round(0.5 * (built.tip() + built.root));
            marks(&[built.tip(), middle, built.root].map(Place::at), depth)
        } else {
            let down = |along: f64| depth(built.x(along).max(built.tip()));
            // What is deeper than the face stays.
            let found = points(&[(&down, Keep::Under)], 0.0, built.length, FAIR_MM);
            let mark = |(along, values): &(f64, Vec<f64>)| {
                let Place { x, name } = on_face(built, built.x(*along));
                values.first().map(|v| Mark { x_mm: x, place: name, distance_mm: *v })
            };
            found.iter().rev().filter_map(mark).collect()
        };
        step.lines.push(Line {
            name: String::from("headstock's face; the wood above it is waste"),
            on: Face::HeadstockSides,
            from: reference.datum,
            straight: head.kind == HeadstockKind::Angled,
            waste: Some(Waste::Less),
            marks: marked,
        });
        if head.kind == HeadstockKind::Level {
            let tip = on_face(built, built.tip());
            let what = "depth of the level face below the top, depth gauge";
            step.checks.push(Check::reading(what, &tip, depth(tip.x)));
        }
        step.checks.push(Check::by_eye(match head.kind {
            HeadstockKind::Angled => "the line where face and top meet is square to the centreline and crisp",
            HeadstockKind::Level => {
                "the step runs square across, its radius even from edge to edge and fair into the face"
            }
        }));
        step
    }

    pub(super) fn sawn_taper(&self, wood: &Wood) -> Step {
        let out = self.taper.out;
        let mut step = Step::new(
            wood,
            format!(
                "Saw the taper along straight lines and the headstock around its outline, straight from mark to mark: {} mm \
                 outside the finished edges, square to them, and up to {} mm more around the headstock. The {} mm of the \
                 saw's cut lie on the waste side of the line. Cut both ends to length.",
                told(out),
                told(FAIR_MM),
                told(self.stock.saw.kerf.mm())
            ),
            "bandsaw",
        );
        step.wood.width = Width::Sawn(self.taper.clone());
        let [_, end] = self.neck.wood_reach_mm();
        for side in Side::BOTH {
            let on = Face::Top;
            let sawn = self.taper.sides.of(side);
            for line in &sawn.lines {
                let [from, to] = line.x_mm;
                let ends = [self.named(from), self.named(to)];
                step.lines.push(Line {
                    name: format!("taper, {} side", side.name()),
                    on,
                    from: Datum::Centreline,
                    straight: true,
                    waste: Some(Waste::Greater),
                    marks: marks(&places(&self.neck, &ends[0], &ends[1]), |x| line.at_mm(x)),
                });
            }
            step.clearance = nearer(step.clearance, sawn.clearance);
            step.lines.push(Line {
                name: format!("headstock's outline, {} side", side.name()),
                on,
                from: Datum::Centreline,
                straight: false,
                waste: Some(Waste::Greater),
                marks: self.outline_marks(&sawn.outline),
            });
        }
        step.clearance = nearer(step.clearance, plan_clearance(&self.taper.board, &self.faces.board, out));
        for p in [Place::new(0.0, "nut"), Place::new(end, "heel's end")] {
            let wide = step.wood.half(Side::Bass, p.x) + step.wood.half(Side::Treble, p.x);
            step.checks.push(Check::reading("width as sawn, caliper", &p, wide));
        }
        step
    }

    /// The corners of a headstock's sawn outline, told along its face.
    fn outline_marks(&self, corners: &[[f64; 2]]) -> Vec<Mark> {
        let head = &self.neck.built().head;
        let last = corners.len().saturating_sub(1);
        let mark = |(i, [x, half]): (usize, &[f64; 2])| {
            let place = match i {
                0 => format!("sawn end, {}", on_face(head, *x).name),
                _ if i == last && *x > head.root => self.named(*x).name,
                _ => on_face(head, *x).name,
            };
            Mark { x_mm: *x, place, distance_mm: *half }
        };
        corners.iter().enumerate().map(mark).collect()
    }

    pub(super) fn sides(&self, wood: &Wood) -> Step {
        let mut step = Step::new(
            wood,
            "Plane or rout both side faces of shaft and headstock true to the finished outline, square to the top. They are \
             finished now: from here on every line on the side is measured on them, and the last grit is the only one that \
             touches them, and none does in the glued zone.",
            "plane, or a bearing-guided cutter along a template",
        );
        step.wood.width = Width::True;
        let [tip, end] = self.neck.wood_reach_mm();
        let all = places(&self.neck, &Place::new(0.0, "nut"), &Place::new(end, "heel's end"));
        for p in &all {
            let wide = step.wood.half(Side::Bass, p.x) + step.wood.half(Side::Treble, p.x);
            step.checks.push(Check::reading("width, caliper", p, wide));
        }
        let tip = Place::new(tip, "headstock's tip");
        step.checks.push(Check::reading("width, caliper", &tip, self.neck.headstock().tip_width_mm));
        step.checks.push(Check::by_eye("a square on the top face shows no light along the sides"));
        step
    }

    pub(super) fn sawn_back(&self, wood: &Wood) -> Step {
        let mut step = Step::new(
            wood,
            format!(
                "Saw the back along the marked straight lines, on their waste side: {} mm of cut below the line. Saw in from \
                 the heel's end to the stop and from the headstock's end to the {}, back out, and free the waste with \
                 short cuts across.",
                told(self.stock.saw.kerf.mm()),
                self.hump()
            ),
            "bandsaw with the flat top face or a side on its table",
        );
        let [_, end] = self.neck.wood_reach_mm();
        for line in &self.back_lines {
            let [from, to] = line.depth.x_mm;
            step.wood.passes.push(Pass { zone: self.to_the_ends(line.depth.x_mm), cut: plane(line.depth) });
            let ends = [self.named(from), self.named(to)];
            let all = if to <= 0.0 { ends.to_vec() } else { places(&self.neck, &ends[0], &ends[1]) };
            let all = self.on_the_wood(wood, &all, |x| line.depth.at_mm(x));
            let name = format!("sawing line, {}", line.name);
            step.lines
                .push(self.side_line(wood, name, (Face::BothSides, true), &all, |x| line.depth.at_mm(x)));
            step.clearance = nearer(step.clearance, Some(line.clearance));
        }
        if let Some(line) = self.back_lines.iter().find(|l| l.name == "headstock") {
            let all = slab_places(self);
            step.lines.push(Line {
                name: String::from("sawing line, headstock"),
                on: Face::HeadstockSides,
                from: Datum::HeadstockFace,
                straight: true,
                waste: Some(Waste::Greater),
                marks: marks(&all, |x| self.under_the_face(line, x)),
            });
        }
        let [stop, heel] = self.run();
        for place in [Place::new(0.0, "nut"), stop, heel, Place::new(end, "heel's end")] {
            let x = place.x;
            if let (Ok(depth), true) = (step.wood.depth_mm(x), x <= end) {
                let over = depth - self.finished.spine.value(x);
                let finished = self.caliper(wood, [""; 2], &place, depth - over).reads_mm.unwrap_or(f64::NAN);
                let note = format!(" ({over:.2} mm over the finished {finished:.2})");
                if over >= 0.0 {
                    step.checks.push(self.caliper(wood, ["thickness as sawn", &note], &place, depth));
                }
            }
        }
        // What is told of a place is on the neck's own hand.
        let told_on_hand = |line: &SawLine| SawLine {
            clearance: line.clearance.on_hand(self.neck.hand_sign()),
            ..line.clone()
        };
        step.details = Details::Sawing(self.back_lines.iter().map(told_on_hand).collect());
        step
    }

    /// A zone that ends with the finished wood goes on to the end of what wood there is.
    fn to_the_ends(&self, [from, to]: [f64; 2]) -> [f64; 2] {
        let [tip, end] = self.neck.wood_reach_mm();
        let blank = self.timber.blank.x;
        [if from <= tip { blank[0] } else { from }, if to >= end { blank[1] } else { to }]
    }

    fn under_the_face(&self, line: &SawLine, x: f64) -> f64 {
        let head = &self.neck.built().head;
        (line.depth.at_mm(x) - head.back_depth(x, 0.0)) * head.cos
    }

    /// Where the headstock's back stops being planed: as far before the volute as the allowance is.
    pub(super) fn slab_end(&self) -> f64 {
        let head = &self.neck.built().head;
        (self.neck.volute().start_x_mm - self.stock.allowances.headstock.mm()).max(head.tip())
    }

    /// What the tuner holes take from a slab that is so much thicker than the finished one.
    pub(super) fn tuner_holes_mm3(&self, over: f64) -> f64 {
        let finished = self.neck.built().head.thickness;
        self.neck.volume_mm3().tuner_holes_mm3 * ((finished + over) / finished)
    }

    /// What is done to the heel's block while it is square.
    fn words_of_block(&self) -> String {
        let (glued, end) = (self.neck.heel().glued_from_x_mm, self.neck.wood_reach_mm()[1]);
        if self.block >= end {
            return String::new();
        }
        let touched = match self.glued_sweep() {
            Some(_) => "nothing touches it any more",
            None if glued < end => "from the glued line on nothing touches it any more",
            None => "the last grit is the only one that touches it",
        };
        let sweep =
            "Plane the heel block to its finished depth while it is square, from the end of its sweep on";
        format!("{sweep}; {touched}.")
    }

    pub(super) fn headstock_thickness(&self, wood: &Wood, faults: &mut Vec<Fault>) -> Step {
        let head = self.neck.headstock();
        let left = self.stock.allowances.headstock.mm();
        let thick = head.thickness_mm + left;
        let end = self.neck.wood_reach_mm()[1];
        let mut step = Step::new(
            wood,
            format!(
                "Bring the headstock to {} mm, {} mm over its finished {}, from its back and parallel to its face, and stop \
                 where the {} begins: it is rasped into the slab later. {}{}",
                told(thick),
                told(left),
                told(head.thickness_mm),
                self.hump(),
                self.boring(),
                self.words_of_block()
            ),
            if head.posts.is_empty() {
                "thicknessing sander, or plane"
            } else {
                "thicknessing sander, or plane; drill with a brad point and a backing board"
            },
        );
        let to = self.slab_end();
        let depth = parallel(&self.neck, [head.tip_x_mm, to], thick);
        step.wood.passes.push(Pass { zone: self.to_the_ends(depth.x_mm), cut: plane(depth) });
        let back = &self.finished;
        if let Some((least, at_mm)) = least(&plane(depth), back.distinct(), back, [head.tip_x_mm, to]) {
            let clearance = Clearance { least, at_mm, needed_mm: left };
            if !clearance.holds() {
                faults.push(too_deep(
                    &self.neck,
                    "allowances.headstock",
                    left,
                    &clearance,
                    "leave more for sanding",
                ));
            }
            step.clearance = Some(clearance);
        }
        if self.block < end {
            let value_mm = [self.block, end].map(|x| back.spine.value(x));
            let height = super::fence::Straight { x_mm: [self.block, end], value_mm };
            step.wood.passes.push(Pass {
                zone: self.to_the_ends(height.x_mm),
                cut: Cut::Plane { across: 0.0, down: 1.0, height },
            });
        }
        step.wood.bored_mm3 += self.tuner_holes_mm3(left);
        let all = slab_places(self);
        step.lines.push(Line {
            name: String::from("headstock's thickness"),
            on: Face::HeadstockSides,
            from: Datum::HeadstockFace,
            straight: true,
            waste: Some(Waste::Greater),
            marks: marks(&all, |_| thick),
        });
        step.lines.extend(self.tuner_holes());
        for p in &all {
            step.checks.push(Check::reading("headstock's thickness square to its face, caliper", p, thick));
        }
        if self.block < end {
            let place = Place::new(end, "heel's end");
            let deep = self.neck.heel().block_depth_mm;
            step.checks.push(self.caliper(wood, ["thickness of the heel with its block", ""], &place, deep));
        }
        step
    }
}

/// A clearance that is the same all along by construction.
pub(super) fn even(value: f64, x: f64, at_mm: [f64; 2]) -> Clearance {
    let least = LeastValue::mm(value, x, value - CLEARANCE_TOLERANCE);
    Clearance { least, at_mm, needed_mm: value }
}
