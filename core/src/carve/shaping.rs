//! The stages that give the back its shape.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::clearance::{CLEARANCE_TOLERANCE, Clearance, least};
use super::cutter::{BALL_MM, Corner, CutterFacts, CutterRow, path_stations, reach_along};
use super::facet::{Bevel, FacetFacts, FacetMarks, in_line};
use super::fence::Straight;
use super::mark::{Check, Datum, Face, Line, Mark, Place, marks, places};
use super::pass::{Cut, Pass};
use super::sawing::{too_deep, whereabouts};
use super::setting::Setting;
use super::square::even;
use super::stage::Details;
use super::step::Step;
use super::target::targets;
use super::template::templates;
use super::wood::{Shaped, Wood};
use crate::measure::{Fault, Kind, told};
use crate::shape::{LeastValue, Side, Sides};
use crate::spec::CutterShape;

/// Radii that nobody chose go down to whole steps of this, mm.
const RADIUS_STEP_MM: f64 = 0.5;
/// A radius this little over the limit is the limit, written in inches, mm.
const SAME_MM: f64 = 1e-6;

impl Setting {
    /// The sawn back that the cutter rides on.
    fn base(&self) -> Straight {
        let line = self.back_lines.iter().find(|l| l.name == "shaft");
        line.map_or(Straight { x_mm: self.stops, value_mm: [0.0; 2] }, |l| l.depth)
    }

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

    fn corner(&self, side: Side) -> Corner<'_> {
        Corner {
            side,
            edge: self.edges.of(side),
            base: self.base(),
            target: &self.shaping_back,
            zone: self.stops,
        }
    }

    pub(super) fn rounding(&self, wood: &Wood, faults: &mut Vec<Fault>) -> Step {
        let cutter = &self.stock.cutter;
        let shape = cutter.shape;
        let limits = Sides::each(|side| self.corner(side).largest_over(shape));
        let side = if limits.treble.0 < limits.bass.0 { Side::Treble } else { Side::Bass };
        let (largest, at) = *limits.of(side);
        let radius = cutter.radius.map_or_else(
            || {
                if largest.is_finite() {
                    libm::floor(largest / RADIUS_STEP_MM) * RADIUS_STEP_MM
                } else {
                    BALL_MM
                }
            },
            |r| r.mm(),
        );
        let (path, place) = ("cutter.radius", whereabouts(&self.neck, at));
        if radius > largest + SAME_MM {
            let down = libm::floor(largest * 100.0) / 100.0;
            let cuts = self.corner(side).cuts(shape, radius, cutter.paths);
            let cuts = cuts.iter().filter_map(|f| least(f, &[side], &self.shaping_back, self.stops));
            let deep = match cuts.map(|(least, _)| -least.value).fold(0.0, f64::max) {
                deep if deep < 0.01 => String::from("less than 0.01"),
                deep => format!("up to {deep:.2}"),
            };
            let reason = format!(
                "a {} of this radius cuts {deep} mm into the {} mm that are to stay on the finished neck; the \
                 largest that does not is {down} mm, for the {} side at {place}",
                shape.name(),
                told(self.stock.allowances.shaping.mm()),
                side.name()
            );
            faults.push(
                Fault::new(Kind::TooDeep, path, reason)
                    .value(told(radius), "mm")
                    .range(None, down)
                    .remedy("take a smaller cutter, saw further from the board, or bring the flat side further down there"),
            );
        }
        if radius < RADIUS_STEP_MM {
            let reason = format!("no cutter of this shape is small enough at {place}");
            faults.push(
                Fault::new(Kind::TooDeep, path, reason)
                    .value(told(largest), "mm")
                    .remedy("leave \"rounding\" out of the order, or let the saw leave more"),
            );
        }
        let [from, to] = self.stops;
        let bearing = 0.5 * cutter.bearing.mm();
        let reach = reach_along(shape, radius, bearing);
        let run_mm = [from + reach, to - reach];
        if run_mm[0] >= run_mm[1] {
            let reason = format!(
                "the cutter reaches {} mm to either side, and only {:.1} mm lie between the stop lines",
                told(reach),
                to - from
            );
            let half = 0.5 * (to - from);
            let most = match shape {
                CutterShape::Ball => half,
                _ => libm::hypot(half, bearing) - bearing,
            };
            faults.push(
                Fault::new(Kind::Conflict, path, reason)
                    .value(told(radius), "mm")
                    .range(None, libm::floor(most * 10.0) / 10.0)
                    .remedy("take a smaller cutter, or leave \"rounding\" out of the order"),
            );
        }
        let mut step = Step::new(
            wood,
            format!(
                "Run a {} of {} mm along both lower corners, set in and lifted out at the marked places, in several shallow \
                 passes; it rides on the true side face and on the sawn back.",
                shape.name(),
                told(radius)
            ),
            "router in a table, with a bearing on the side face",
        );
        if !faults.is_empty() {
            return step;
        }
        let mut paths = Vec::new();
        let all =
            places(&self.neck, &Place::new(run_mm[0], "cutter in"), &Place::new(run_mm[1], "cutter out"));
        let mut by_side = Vec::new();
        for side in Side::BOTH {
            let corner = self.corner(side);
            let cuts = corner.cuts(shape, radius, cutter.paths);
            for cut in &cuts {
                step.wood.passes.push(Pass { zone: run_mm, cut: cut.clone() });
                // The cutter's own roundness reaches on to the stop lines, so the proof goes as far.
                let own = least(cut, &[side], &self.shaping_back, self.stops)
                    .map(|(least, at_mm)| Clearance { least, at_mm, needed_mm: 0.0 });
                step.clearance = match (step.clearance, own) {
                    (Some(a), Some(b)) if a.least.proven <= b.least.proven => Some(a),
                    (a, b) => b.or(a),
                };
            }
            paths.extend(corner.paths(bearing, &cuts, &path_stations(&all), self.neck.hand_sign()));
            by_side.push((corner, cuts));
        }
        if shape == CutterShape::Ball {
            step.clearance = Some(Clearance { needed_mm: 0.0, ..even(0.0, run_mm[0], [0.0; 2]) });
        }
        let rows = all.iter().map(|p| CutterRow {
            x_mm: p.x,
            place: p.name.clone(),
            largest_mm: Sides::each(|side| {
                Some(self.corner(side).largest(shape, p.x)).filter(|r| r.is_finite())
            }),
            left_mm: Sides::each(|side| {
                let (corner, cuts) = &by_side[usize::from(side == Side::Treble)];
                corner.left(&self.finished, cuts, p.x)
            }),
        });
        let rows: Vec<CutterRow> = rows.collect();
        step.lines.push(Line {
            name: String::from("cutter's axis in and out"),
            on: Face::BothSides,
            from: Datum::Nut,
            straight: true,
            marks: vec![
                Mark { x_mm: run_mm[0], place: "in".into(), distance_mm: run_mm[0] },
                Mark { x_mm: run_mm[1], place: "out".into(), distance_mm: run_mm[1] },
            ],
        });
        step.checks.push(Check::by_eye(
            "the cutter leaves the flat side untouched above the carve line, on both sides",
        ));
        step.details = Details::Cutter(CutterFacts {
            shape,
            radius_mm: radius,
            largest_mm: Some(largest).filter(|r| r.is_finite()),
            largest_x_mm: at,
            largest_side: side,
            run_mm,
            rows,
            paths,
        });
        step
    }

    pub(super) fn facets(&self, wood: &Wood) -> Step {
        let stock = &self.stock.facets;
        let allowance = self.stock.allowances.shaping.mm();
        let mut step = Step::new(
            wood,
            format!(
                "Plane the back to its line, then facets between the marked lines, {} round{}: first at 45 degrees, then in \
                 between, and again. Every facet leaves {} mm over the finished back; stop at the lines.",
                stock.rounds,
                if stock.rounds == 1 { "" } else { "s" },
                told(allowance)
            ),
            "spokeshave, plane or coarse file between the stop lines",
        );
        let run = self.run();
        let all = places(&self.neck, &run[0], &run[1]);
        let reference = self.reference(wood);
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
                edge: self.edges.of(side),
                base: self.base(),
                finished: &self.finished,
                zone: self.stops,
                allowance,
                straight_within: stock.straight_within.mm(),
            };
            let (facets, made) = bevel.facets(stock.rounds, &all, wood);
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
            let on = if side == Side::Bass { Face::BassSide } else { Face::TrebleSide };
            for facet in &facets {
                let name = |edge: &str| {
                    format!(
                        "round {}, {} degrees, {} side: {edge}",
                        facet.round,
                        told(facet.angle_deg),
                        side.name()
                    )
                };
                let of = |f: fn(&FacetMarks) -> Option<f64>, x: f64| {
                    facet.marks.iter().find(|m| m.x_mm == x).and_then(f).unwrap_or(f64::NAN)
                };
                let upper = |x: f64| of(|m| m.upper_mm.map(|p| p[1]), x);
                // Beside a rounded corner even a plane's edges are not straight.
                let straight = |k: usize, f: fn(&FacetMarks) -> Option<[f64; 2]>| {
                    let on = facet.marks.iter().filter_map(|m| Some([m.x_mm, f(m)?[k]]));
                    in_line(&on.collect::<Vec<_>>())
                };
                let (above, below) = (straight(1, |m| m.upper_mm), straight(0, |m| m.lower_mm));
                // On a face only where it still reaches to it: the first facets do, unless a cutter went before.
                let edge = |m: &FacetMarks| {
                    m.upper_mm.is_none_or(|p| self.edges.of(side).value(m.x_mm) - p[0] < 1e-6)
                };
                let upper_on = if facet.marks.iter().all(edge) { on } else { Face::Beside };
                let lower_on = if facet.round == 1 { Face::Back } else { Face::Beside };
                step.lines.push(self.side_line(
                    wood,
                    name("upper edge, depth"),
                    (upper_on, above),
                    &all,
                    upper,
                ));
                if facet.angle_deg != 90.0 {
                    step.lines.push(Line {
                        name: name("lower edge, out"),
                        on: lower_on,
                        from: Datum::Centreline,
                        straight: below,
                        marks: marks(&all, |x| of(|m| m.lower_mm.map(|p| p[0]), x)),
                    });
                }
            }
            facts.facets.extend(facets);
        }
        for p in &all {
            let thick = step.wood.depth_mm(p.x).unwrap_or(f64::NAN);
            step.checks.push(Check::reading("thickness at the spine, caliper", p, thick - reference.depth));
        }
        step.details = Details::Facets(facts);
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
        let targets = targets(&self.neck, back, self.contour, &all);
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
