//! The stage that planes facets by hand.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::clearance::{Clearance, least};
use super::facet::{Bevel, Facet, FacetFacts, FacetMarks, in_line};
use super::mark::{Datum, Face, Line, Place, Waste, marks, places};
use super::pass::Pass;
use super::rounding::{CUTTER_IN, CUTTER_OUT};
use super::setting::Setting;
use super::square::even;
use super::stage::Details;
use super::step::Step;
use super::wood::Wood;
use crate::measure::told;
use crate::shape::Side;

impl Setting {
    /// The marked places of the run, in as many stretches as the cuts before make of it: at the end of a cutter's run the
    /// corner changes at once from square to rounded, and no line goes on across that.
    fn stretches_of_run(&self, wood: &Wood) -> Vec<Vec<Place>> {
        let [from, to] = self.stops;
        let cuts = wood.passes.iter().map(|p| p.zone);
        let mut ends: Vec<(f64, bool)> = cuts.flat_map(|[a, b]| [(a, true), (b, false)]).collect();
        ends.retain(|(x, _)| *x > from && *x < to);
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        ends.dedup();
        let [start, stop] = self.run();
        let (mut all, mut first) = (Vec::new(), start);
        for (x, begins) in ends {
            // The wood right at the end of a cut is still of the cut; a hair's breadth beyond it is not.
            let (here, beyond, name) =
                if begins { (x.next_down(), x, CUTTER_IN) } else { (x, x.next_up(), CUTTER_OUT) };
            all.push(places(&self.neck, &first, &Place::new(here, name)));
            first = Place::new(beyond, name);
        }
        all.push(places(&self.neck, &first, &stop));
        all
    }

    /// The lines of a facet over one stretch: its upper edge, and its lower one but for the back itself, whose lower edge
    /// is the spine. `back` is that facet, planed before all others.
    fn facet_lines(
        &self,
        wood: &Wood,
        [facet, back]: [&Facet; 2],
        stretch: &[Place],
        whole: bool,
    ) -> Vec<Line> {
        let [Some(first), Some(last)] = [stretch.first(), stretch.last()] else { return Vec::new() };
        let own: Vec<&FacetMarks> =
            facet.marks.iter().filter(|m| m.x_mm >= first.x && m.x_mm <= last.x).collect();
        if !whole && own.iter().all(|m| m.upper_mm.is_none()) {
            return Vec::new();
        }
        let side = facet.side;
        let name = |edge: &str| {
            let angle = told(facet.angle_deg);
            let over = if whole { "".into() } else { format!(", {} to {}", first.name, last.name) };
            format!("round {}, {angle} degrees, {} side{over}: {edge}", facet.round, side.name())
        };
        let of = |f: fn(&FacetMarks) -> Option<f64>, x: f64| {
            own.iter().find(|m| m.x_mm == x).and_then(|m| f(m)).unwrap_or(f64::NAN)
        };
        let at: Vec<Place> = own.iter().map(|m| Place::new(m.x_mm, m.place.clone())).collect();
        // Beside a rounded corner even a plane's edges are not straight.
        let straight = |k: usize, f: fn(&FacetMarks) -> Option<[f64; 2]>| {
            let on = own.iter().filter_map(|m| Some([m.x_mm, f(m)?[k]]));
            in_line(&on.collect::<Vec<_>>())
        };
        // On a face only where it still reaches to it: the first facets do, unless a cutter went before.
        const SAME_MM: f64 = 1e-6;
        let on_side = |m: &&FacetMarks| {
            m.upper_mm.is_none_or(|p| self.faces.wood.of(side).value(m.x_mm) - p[0] < SAME_MM)
        };
        let on_back = |m: &&FacetMarks| {
            let planed = back.marks.iter().find(|b| b.x_mm == m.x_mm).and_then(|b| b.upper_mm);
            m.lower_mm.zip(planed).is_none_or(|(p, planed)| libm::fabs(planed[1] - p[1]) < SAME_MM)
        };
        let upper_on = match side {
            _ if !own.iter().all(on_side) => Face::Beside,
            Side::Bass => Face::BassSide,
            Side::Treble => Face::TrebleSide,
        };
        let lower_on = if facet.round == 1 && own.iter().all(on_back) { Face::Back } else { Face::Beside };
        let above = straight(1, |m| m.upper_mm);
        let mut lines = vec![self.side_line(wood, name("upper edge, depth"), (upper_on, above), &at, |x| {
            of(|m| m.upper_mm.map(|p| p[1]), x)
        })];
        if facet.angle_deg != 90.0 {
            lines.push(Line {
                name: name("lower edge, out"),
                on: lower_on,
                from: Datum::Centreline,
                straight: straight(0, |m| m.lower_mm),
                waste: Some(Waste::Greater),
                marks: marks(&at, |x| of(|m| m.lower_mm.map(|p| p[0]), x)),
            });
        }
        lines
    }

    pub(super) fn facets(&self, wood: &Wood) -> Step {
        let stock = &self.stock.facets;
        let allowance = self.stock.allowances.shaping.mm();
        let action = if stock.rounds == 0 {
            String::from("No facets are planed: contouring goes on from the cuts before.")
        } else {
            format!(
                "Plane the back to its line, then facets between the marked lines, {} round{}: first at 45 degrees, then in \
                 between, and again. Every facet leaves {} mm over the finished back; stop at the lines.",
                stock.rounds,
                if stock.rounds == 1 { "" } else { "s" },
                told(allowance)
            )
        };
        let tool = if stock.rounds == 0 {
            "none"
        } else {
            "spokeshave, plane or coarse file between the stop lines"
        };
        let mut step = Step::new(wood, action, tool);
        let stretches = self.stretches_of_run(wood);
        let whole = stretches.len() == 1;
        if !whole && stock.rounds > 0 {
            step.action.push_str(
                " Between a stop and the place where the cutter's axis was set in or lifted out its rim has rounded the \
                 corner part of the way: where a mark for the square corner falls in the air, the plane meets the wood \
                 further in.",
            );
        }
        let mut facts = FacetFacts {
            allowance_mm: allowance,
            run_mm: self.stops,
            facets: Vec::new(),
            most_left_mm: 0.0,
            most_left_x_mm: self.stops[0],
        };
        for side in Side::BOTH {
            let bevel = Bevel {
                side,
                edge: self.faces.wood.of(side),
                base: self.base(),
                finished: &self.finished,
                zone: self.stops,
                allowance,
                straight_within: stock.straight_within.mm(),
            };
            let (facets, made) = bevel.facets(stock.rounds, &stretches, wood);
            for (_, cut) in &made {
                step.wood.passes.push(Pass { zone: self.stops, cut: cut.clone() });
                let [y, z] = self.finished.control_points(side, self.stops[0])[3];
                let own = match least(cut, &[side], &self.finished, self.stops) {
                    Some((least, at_mm)) => Clearance { least, at_mm, needed_mm: allowance },
                    None => even(allowance, self.stops[0], [y, z]),
                };
                step.clearance = match step.clearance {
                    Some(a) if a.least.proven <= own.least.proven => Some(a),
                    _ => Some(own),
                };
            }
            if stock.rounds > 0 {
                let (most, x) = bevel.most_left(&made);
                if most > facts.most_left_mm {
                    (facts.most_left_mm, facts.most_left_x_mm) = (most, x);
                }
            }
            for stretch in &stretches {
                let lines = facets
                    .iter()
                    .flat_map(|facet| self.facet_lines(wood, [facet, &facets[0]], stretch, whole));
                step.lines.extend(lines);
            }
            facts.facets.extend(facets);
        }
        let [start, stop] = self.run();
        for p in &places(&self.neck, &start, &stop) {
            let thick = step.wood.depth_mm(p.x).unwrap_or(f64::NAN);
            step.checks.push(self.caliper(wood, ["thickness at the spine", ""], p, thick));
        }
        step.details = Details::Facets(facts);
        step
    }
}
