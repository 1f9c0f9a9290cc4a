//! The last stages: the transitions into headstock and heel, and the grits.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::mark::{Check, Curve, FAIR_MM, Face, Keep, Place, places, points};
use super::setting::Setting;
use super::square::slab_places;
use super::stage::Details;
use super::step::Step;
use super::template::templates;
use super::wood::{Shaped, Wood};
use crate::measure::{Fault, told};
use crate::shape::{Back, Side};

impl Setting {
    /// Where the heel's sweep lies in the glued zone: from the glued line to the block; `None` where all of it is free.
    pub(super) fn glued_sweep(&self) -> Option<[f64; 2]> {
        // A hair's breadth of it is rounding.
        const NEAR_MM: f64 = 1e-6;
        let from = self.neck.heel().glued_from_x_mm;
        (from < self.block - NEAR_MM).then_some([from, self.block])
    }

    /// Where the transitions are worked with the allowance on: from the slab's planed back to the stop, and from the other
    /// stop to the block, or to the glued line where that comes first.
    fn transition_zones(&self) -> [[f64; 2]; 2] {
        let heel = self.glued_sweep().map_or(self.block, |[from, _]| from);
        [[self.slab_end(), self.stops[0]], [self.stops[1], heel]]
    }

    /// What is said of the glued zone while the transitions are worked.
    fn words_of_glued_zone(&self) -> String {
        match self.glued_sweep() {
            None => String::from("Keep out of the glued zone."),
            Some([from, _]) => format!(
                "From the glued line, {} mm from the nut, the sweep goes on into the glued zone: there bring it to its \
                 finished shape now, with no allowance, before the neck is fitted; nothing touches it afterwards.",
                told(from)
            ),
        }
    }

    pub(super) fn transitions(&self, wood: &Wood, faults: &mut Vec<Fault>) -> Step {
        let allowance = format!("{:.2} mm", self.contour);
        let mut step = Step::new(
            wood,
            format!(
                "Rasp the {} into headstock and shaft and the heel's sweep into the block, to the templates, and blend \
                 them into the shaft across the stop lines. Lines and templates are of the shape with the {allowance} for the \
                 grits still on at the spine; straight from mark to mark a line leaves {} mm more at the most. {}",
                self.hump(),
                told(FAIR_MM),
                self.words_of_glued_zone()
            ),
            "half-round rasp, round file, curved scraper",
        );
        let back = &self.contour_back;
        let zones = self.transition_zones();
        // Slab and block are planed up to their ends: those stations are theirs, and so is the glued line the zone's.
        let mut shapes = Vec::from([
            ([zones[0][0].next_up(), zones[0][1]], back),
            ([zones[1][0], zones[1][1].next_down()], back),
        ]);
        let glued = self.glued_sweep();
        shapes.extend(glued.map(|[from, to]| ([from, to.next_down()], &self.finished)));
        for (zone, back) in shapes {
            if zone[0] < zone[1] {
                // What is finished lies within what has an allowance.
                self.prove_inside(wood, zone, faults);
                step.wood.shaped.push(Shaped { zone, back: back.clone() });
            }
        }
        step.clearance = self.over_the_spine([zones[0][0], zones[1][1]], self.contour);
        let free = [
            (self.hump(), "the spine with its allowance", zones[0], back),
            ("heel", "the spine with its allowance", zones[1], back),
        ];
        let glued = glued.map(|zone| ("heel, glued zone", "the finished spine", zone, &self.finished));
        for (name, what, [from, to], back) in free.into_iter().chain(glued) {
            let spine = |x: f64| back.spine.value(x);
            let carve = Side::BOTH.map(|side| move |x: f64| back.flanks.of(side).depth[0].value(x));
            // Wood that is to go lies deeper than the lines.
            let curves: [Curve<'_>; 3] =
                [(&spine, Keep::Over), (&carve[0], Keep::Over), (&carve[1], Keep::Over)];
            let found = points(&curves, from, to, FAIR_MM);
            let all: Vec<Place> = found.iter().map(|(x, _)| Place::at(*x)).collect();
            let line = |step: &mut Step, words: String, on: Face, k: usize| {
                let depth = |x: f64| found.iter().find(|p| p.0 == x).map_or(f64::NAN, |p| p.1[k]);
                step.lines.push(self.side_line(wood, words, (on, false), &all, depth));
            };
            line(&mut step, format!("{name}: {what}"), Face::BothSides, 0);
            for (k, side) in Side::BOTH.into_iter().enumerate() {
                let on = if side == Side::Bass { Face::BassSide } else { Face::TrebleSide };
                line(&mut step, format!("{name}: carve line, {} side", side.name()), on, k + 1);
            }
        }
        let spine = |x: f64| back.spine.value(x);
        let deep = match self.hump() {
            "volute" => Place::new(self.neck.volute().tip_x_mm, "volute's tip"),
            _ => Place::new(0.0, "nut"),
        };
        step.checks.push(self.caliper(wood, ["thickness", ""], &deep, spine(deep.x)));
        step.checks.push(Check::by_eye("each template touches all along without rocking"));
        let backs: [&Back; 2] = [back, &self.finished];
        let all = templates(&self.neck, backs, self.contour, zones, self.glued_sweep());
        step.details = Details::Templates(all);
        step
    }

    /// Where the spine is read between the grits: at both ends of the shaft's run and about its middle, on the board and at
    /// marked frets where there are such.
    fn read_at(&self) -> Vec<Place> {
        let [from, to] = self.run();
        let board_end = self.neck.layout().board().end_mm();
        let all: Vec<Place> =
            places(&self.neck, &from, &to).into_iter().filter(|p| (0.0..=board_end).contains(&p.x)).collect();
        let (Some(first), Some(last)) = (all.first(), all.last()) else { return alloc::vec![from, to] };
        let middle = 0.5 * (first.x + last.x);
        let off = |p: &&Place| libm::fabs(p.x - middle);
        let fret = all
            .iter()
            .filter(|p| off(p) < 0.25 * (last.x - first.x))
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .cloned();
        alloc::vec![first.clone(), fret.unwrap_or_else(|| Place::at(told(middle))), last.clone()]
    }

    pub(super) fn sanding(&self, wood: &Wood) -> Step {
        let plan = &self.sanding;
        let grits: Vec<String> = plan.steps.iter().map(|s| format!("{}", s.grit)).collect();
        let mut action = format!(
            "Sand the shaft, both transitions and the headstock's back through {}: each grit takes off the scratches of the \
             one before, {:.2} mm in all at the spine.",
            grits.join(", "),
            plan.total_mm
        );
        for (spare, whole, on) in [
            (plan.spare_mm, plan.allowance_mm, "Along the spine"),
            (plan.headstock_spare_mm, plan.headstock_mm, "On the headstock's back"),
        ] {
            if spare > 0.0 {
                action.push_str(&format!(
                    " {on} {} mm stand, {} mm more than all grits take: scraper or first grit take them too.",
                    told(whole),
                    told(spare)
                ));
            }
        }
        if let Some(last) = grits.last() {
            action.push_str(&format!(
                " Faces that are finished already (the headstock's face, all sides and edges, the planed heel block) have no \
                 allowance: they are planed or scraped clean and get {last} alone, a few strokes along the grain, which take \
                 less than that grit's own scratches are deep, {} mm.",
                told(plan.scratches_left_mm)
            ));
        }
        let glued = self.neck.heel().glued_from_x_mm;
        if glued < self.neck.wood_reach_mm()[1] {
            action.push_str(&format!(
                " No grit goes beyond the glued line, {} mm from the nut: what is glued stays as it is.",
                told(glued)
            ));
        }
        let mut step = Step::new(wood, action, "abrasive on the block that suits the zone");
        // The last of all: nothing but the finished neck is left.
        let reach = step.wood.reach_mm();
        step.wood.shaped.push(Shaped { zone: reach, back: self.finished.clone() });
        step.wood.bored_mm3 -= self.tuner_holes_mm3(plan.headstock_mm) - self.tuner_holes_mm3(0.0);
        let spine = self.read_at();
        let slab = slab_places(self);
        let slab = &slab[slab.len() / 2];
        let thick = self.neck.headstock().thickness_mm;
        let mut read = |what: [&str; 2], when: &str, over: [f64; 2]| {
            for place in &spine {
                let depth = self.finished.spine.value(place.x) + over[0];
                step.checks.push(self.caliper(wood, [what[0], when], place, depth));
            }
            let what = format!("{}, caliper{when}", what[1]);
            step.checks.push(Check::reading(what, slab, thick + over[1]));
        };
        for grit in &plan.steps {
            let when = format!(", before grit {}", grit.grit);
            let over = [grit.left_before_mm, grit.headstock_before_mm];
            read(["thickness at the spine", "headstock's thickness"], &when, over);
        }
        read(["finished thickness at the spine", "finished thickness of the headstock"], "", [0.0; 2]);
        step.details = Details::Sanding(plan.clone());
        step
    }
}
