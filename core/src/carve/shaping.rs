//! The stages that give the back its shape.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::clearance::{CLEARANCE_TOLERANCE, Clearance, least};
use super::mark::{Check, Datum, Face, Line, Place, marks, places};
use super::pass::Cut;
use super::sawing::{too_deep, whereabouts};
use super::setting::Setting;
use super::stage::Details;
use super::step::Step;
use super::target::targets;
use super::template::templates;
use super::wood::{Shaped, Wood};
use crate::measure::{Fault, told};
use crate::shape::{LeastValue, Side};

impl Setting {
    pub(super) fn stop_lines(&self, wood: &Wood) -> Step {
        let mut step = Step::new(
            wood,
            "Square the stop lines all around shaft, sides and back. Every cut along the shaft ends on them, so that its \
             profile runs neither into the heel nor into the headstock; what is left beyond them is rasped in later. Hatch \
             the glued zone: nothing may touch it.",
            "square, knife or pencil",
        );
        let heel = self.neck.heel();
        let [volute, shaft] = self.run();
        let mut all = vec![volute, shaft];
        let glued = Place::new(heel.glued_from_x_mm, "glued from here");
        all.push(glued);
        step.lines.push(Line {
            name: String::from("stop lines and the glued zone"),
            on: Face::BothSides,
            from: Datum::Nut,
            straight: true,
            marks: marks(&all, |x| x),
        });
        for side in Side::BOTH {
            let on = if side == Side::Bass { Face::BassSide } else { Face::TrebleSide };
            let run = self.run();
            let all = places(&self.neck, &run[0], &run[1]);
            let carve = self.neck.laws().carve_line;
            let name = format!("carve line, {} side", side.name());
            let depth = |x: f64| carve.of(side).at(x).unwrap_or(f64::NAN);
            step.lines.push(self.side_line(wood, name, (on, false), &all, depth));
        }
        step.checks.push(Check::by_eye(
            "no line lies in the glued zone, and both stops are on the shaft's even part",
        ));
        step
    }

    pub(super) fn contouring(&self, wood: &Wood, faults: &mut Vec<Fault>) -> Step {
        let mut step = Step::new(
            wood,
            format!(
                "Work the shaft between the stops round from facet to facet and fair along its length, down to the readings \
                 below: {:.2} mm over the finished thickness at the spine, running out to nothing at the carve line. Stroke \
                 along the neck, turn it often, and look along it against the light.",
                self.contour
            ),
            "rasp, scraper, a long flat block with coarse paper",
        );
        let back = &self.contour_back;
        self.prove_inside(wood, self.stops, faults);
        step.wood.shaped.push(Shaped { zone: self.stops, back: back.clone() });
        step.clearance = self.over_the_spine(self.stops, self.contour);
        let run = self.run();
        let all = places(&self.neck, &run[0], &run[1]);
        let targets = targets(&self.neck, back, self.contour, self.stops, &all);
        for row in &targets.rows {
            let place = Place::new(row.x_mm, row.place.clone());
            step.checks.push(Check::reading("thickness at the spine, caliper", &place, row.thickness_mm));
        }
        step.checks.push(Check::by_eye(format!(
            "a flat would show first {}: look there with a straight edge across and with raking light",
            whereabouts(&self.neck, targets.flattest.x_mm)
        )));
        step.details = Details::Targets(targets);
        step
    }

    /// The shape to contour to has to lie in the wood that all cuts before have left. It does, as each of them leaves a
    /// greater allowance; this proves it over the whole zone all the same.
    fn prove_inside(&self, wood: &Wood, zone: [f64; 2], faults: &mut Vec<Fault>) {
        let back = &self.contour_back;
        for pass in &wood.passes {
            let over = [zone[0].max(pass.zone[0]), zone[1].min(pass.zone[1])];
            if over[0] >= over[1] || !faults.is_empty() {
                continue;
            }
            let near = match &pass.cut {
                Cut::Round { side, .. } | Cut::Cove { side, .. } => least(&pass.cut, &[*side], back, over),
                cut => least(cut, &Side::BOTH, back, over),
            };
            if let Some((least, at_mm)) = near {
                let clearance = Clearance { least, at_mm, needed_mm: 0.0 };
                if !clearance.holds() {
                    let remedy = "leave more for shaping, or less for the grits";
                    faults.push(too_deep(&self.neck, "allowances.shaping", 0.0, &clearance, remedy));
                }
            }
        }
    }

    /// The least wood that an allowance leaves at the spine.
    fn over_the_spine(&self, [from, to]: [f64; 2], needed_mm: f64) -> Option<Clearance> {
        let over = self
            .contour_back
            .spine
            .restricted(from, to)?
            .minus(&self.finished.spine.restricted(from, to)?)?;
        let least = over.least(CLEARANCE_TOLERANCE);
        let value = LeastValue { value: least.value, x_mm: least.x_mm, proven: least.bound };
        let at = self.finished.control_points(Side::Bass, least.x_mm)[3];
        Some(Clearance { least: value, at_mm: at, needed_mm })
    }

    pub(super) fn transitions(&self, wood: &Wood, faults: &mut Vec<Fault>) -> Step {
        let mut step = Step::new(
            wood,
            format!(
                "Rasp the volute into headstock and shaft and the heel's sweep into the block, to the templates and {:.2} mm \
                 over them, and blend them into the shaft across the stop lines. Keep out of the glued zone.",
                self.contour
            ),
            "half-round rasp, round file, curved scraper",
        );
        let start = self.neck.volute().start_x_mm;
        // Slab and block are planed up to their ends: those stations are theirs.
        for zone in [[start.next_up(), self.stops[0]], [self.stops[1], self.block.next_down()]] {
            if zone[0] < zone[1] {
                self.prove_inside(wood, zone, faults);
                step.wood.shaped.push(Shaped { zone, back: self.contour_back.clone() });
            }
        }
        step.clearance = self.over_the_spine([start, self.block], self.contour);
        let all = templates(&self.neck, self.stops, self.block);
        let reference = self.reference(wood);
        for (name, from, to) in [("volute", start, self.stops[0]), ("heel", self.stops[1], self.block)] {
            let steps = |i: i32| from + (to - from) * f64::from(i) / 6.0;
            let all: Vec<Place> = (0..=6).map(steps).map(|x| Place::at(told(x))).collect();
            let spine = |x: f64| self.contour_back.spine.value(x);
            let words = format!("{name}: the spine with its allowance");
            step.lines.push(self.side_line(wood, words, (Face::BothSides, false), &all, spine));
            for side in Side::BOTH {
                let on = if side == Side::Bass { Face::BassSide } else { Face::TrebleSide };
                let carve = self.neck.laws().carve_line;
                let depth = |x: f64| carve.of(side).at(x).unwrap_or(f64::NAN);
                let words = format!("{name}: carve line, {} side", side.name());
                step.lines.push(self.side_line(wood, words, (on, false), &all, depth));
            }
        }
        let volute = Place::new(self.neck.volute().tip_x_mm, "volute's tip");
        let over = self.contour_back.spine.value(volute.x) - reference.depth;
        step.checks.push(Check::reading("depth of the back, caliper", &volute, over));
        step.checks
            .push(Check::by_eye("each template touches all along, less the allowance, without rocking"));
        step.details = Details::Templates(all);
        step
    }

    pub(super) fn sanding(&self, wood: &Wood) -> Step {
        let plan = &self.sanding;
        let grits: Vec<String> = plan.steps.iter().map(|s| format!("{}", s.grit)).collect();
        let mut step = Step::new(
            wood,
            format!(
                "Sand through {}: each grit takes off the scratches of the one before, {:.2} mm in all along the spine.",
                grits.join(", "),
                plan.total_mm
            ),
            "abrasive on the block that suits the zone",
        );
        // The last of all: nothing but the finished neck is left.
        let reach = step.wood.reach_mm();
        step.wood.shaped.push(Shaped { zone: reach, back: self.finished.clone() });
        let run = self.run();
        let middle = Place::at(told(0.5 * (run[0].x + run[1].x)));
        let finished = self.finished.spine.value(middle.x);
        for grit in &plan.steps {
            step.checks.push(Check::reading(
                format!("thickness at the spine before grit {}, caliper", grit.grit),
                &middle,
                finished + grit.left_before_mm,
            ));
        }
        step.checks.push(Check::reading("finished thickness at the spine, caliper", &middle, finished));
        step.details = Details::Sanding(plan.clone());
        step
    }
}
