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
use super::wood::{Shaped, Wood};
use super::work::has_facets;
use crate::measure::Fault;
use crate::shape::{LeastValue, Side};

impl Setting {
    pub(super) fn stop_lines(&self, wood: &Wood) -> Step {
        let touched = match self.glued_sweep() {
            Some(_) => "but for its sweep, which is rasped in with the transitions, nothing may touch it",
            None => "nothing may touch it",
        };
        let mut step = Step::new(
            wood,
            format!(
                "Square the stop lines all around shaft, sides and back. Every cut along the shaft ends on them, so that its \
                 profile runs neither into the heel nor into the headstock; what is left beyond them is rasped in later. \
                 Hatch the glued zone: {touched}."
            ),
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
            waste: None,
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
                "Work the shaft between the stops round{} and fair along its length, down to the readings below: {:.2} mm \
                 over the finished thickness at the spine, running out to nothing at the carve line. Stroke along the neck, \
                 turn it often, and look along it against the light.",
                if has_facets(&self.stock) { " from facet to facet" } else { "" },
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
            step.checks.push(self.caliper(wood, ["thickness at the spine", ""], &place, row.thickness_mm));
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
    pub(super) fn prove_inside(&self, wood: &Wood, zone: [f64; 2], faults: &mut Vec<Fault>) {
        let back = &self.contour_back;
        for pass in &wood.passes {
            let over = [zone[0].max(pass.zone[0]), zone[1].min(pass.zone[1])];
            if over[0] >= over[1] || !faults.is_empty() {
                continue;
            }
            let near = match &pass.cut {
                Cut::Round { side, .. } | Cut::Chamfer { side, .. } | Cut::Cove { side, .. } => {
                    least(&pass.cut, &[*side], back, over)
                }
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
    pub(super) fn over_the_spine(&self, [from, to]: [f64; 2], needed_mm: f64) -> Option<Clearance> {
        let over = self
            .contour_back
            .spine
            .restricted(from, to)?
            .minus(&self.finished.spine.restricted(from, to)?)?;
        let least = over.least(CLEARANCE_TOLERANCE);
        let value = LeastValue::mm(least.value, least.x_mm, least.bound);
        let at = self.finished.control_points(Side::Bass, least.x_mm)[3];
        Some(Clearance { least: value, at_mm: at, needed_mm })
    }
}
