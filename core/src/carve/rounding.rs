//! The stage that rounds the lower corners over with a cutter.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::clearance::{Clearance, least};
use super::cutter::{BALL_MM, Corner, CutterFacts, CutterRow, path_stations, reach_along};
use super::fence::Straight;
use super::mark::{Check, Datum, Face, Line, Mark, Place, places};
use super::pass::Pass;
use super::sawing::whereabouts;
use super::setting::Setting;
use super::square::even;
use super::stage::Details;
use super::step::Step;
use super::wood::Wood;
use crate::measure::{Fault, Kind, told};
use crate::shape::{Side, Sides};
use crate::spec::CutterShape;

/// Radii that nobody chose go down to whole steps of this, mm.
const RADIUS_STEP_MM: f64 = 0.5;
/// The smallest and the largest that a stock may have, mm.
const LEAST_MM: f64 = 0.5;
const LARGEST_MM: f64 = 60.0;
/// A radius this little over the limit is the limit, written in inches, mm.
const SAME_MM: f64 = 1e-6;
const PATH: &str = "cutter.radius";
/// The places where a cutter's axis is set in and lifted out.
pub(super) const CUTTER_IN: &str = "cutter in";
pub(super) const CUTTER_OUT: &str = "cutter out";

/// The largest size that is safe over the whole run, and where its limit comes from.
struct Largest {
    radius: f64,
    x: f64,
    side: Side,
}

/// What a cutter's size is called.
pub(super) const fn size_of(shape: CutterShape) -> &'static str {
    match shape {
        CutterShape::Chamfer => "width",
        _ => "radius",
    }
}

impl Setting {
    /// The sawn back that the cutter rides on.
    pub(super) fn base(&self) -> Straight {
        let line = self.back_lines.iter().find(|l| l.name == "shaft");
        line.map_or(Straight { x_mm: self.stops, value_mm: [0.0; 2] }, |l| l.depth)
    }

    fn corner(&self, side: Side) -> Corner<'_> {
        Corner {
            side,
            edge: self.faces.wood.of(side),
            base: self.base(),
            target: &self.shaping_back,
            zone: self.stops,
        }
    }

    fn largest_cutter(&self, shape: CutterShape) -> Largest {
        let of = |side: Side| {
            let (radius, x) = self.corner(side).largest_over(shape);
            Largest { radius, x, side }
        };
        let [bass, treble] = Side::BOTH.map(of);
        if treble.radius < bass.radius { treble } else { bass }
    }

    /// The largest radius whose rim stays between the stop lines.
    fn longest_cutter(&self) -> f64 {
        // What is left between in and out at the least, mm.
        const RUN_MM: f64 = 1.0;
        let half = 0.5 * (self.stops[1] - self.stops[0] - RUN_MM);
        let bearing = 0.5 * self.stock.cutter.bearing.mm();
        match self.stock.cutter.shape {
            // On a back that rises its centre lies beyond the place that it touches, by no more than the rise's share.
            CutterShape::Ball => half / (1.0 + self.steepest()),
            _ => libm::hypot(half.max(0.0), bearing) - bearing,
        }
    }

    /// The most that the shape to round to rises or falls along the neck anywhere on the run, as a slope.
    fn steepest(&self) -> f64 {
        Side::BOTH.map(|side| self.corner(side).steepest()).into_iter().fold(0.0, f64::max)
    }

    /// A cutter that takes wood which has to stay, or that has no room between the stop lines.
    /// `most` is the largest that does neither; the saw's line may have been `refused`.
    fn too_large(&self, radius: f64, largest: &Largest, longest: f64, refused: bool) -> Fault {
        let shape = self.stock.cutter.shape;
        let most = libm::floor(largest.radius.min(longest).min(LARGEST_MM) * 100.0) / 100.0;
        let (kind, reason, remedy) = if radius <= largest.radius + SAME_MM {
            let reason = format!(
                "only {:.1} mm lie between the stop lines, and the cutter reaches so far to either side of its axis that it \
                 would cut beyond them",
                self.stops[1] - self.stops[0]
            );
            (Kind::Conflict, reason, "take a smaller cutter")
        } else if shape == CutterShape::Ball {
            let reason = format!(
                "the back is hollow along the neck, and a ball of this radius cuts into its hollow, on the {} side at {}",
                largest.side.name(),
                whereabouts(&self.neck, largest.x)
            );
            (Kind::TooDeep, reason, "take a smaller ball")
        } else {
            let reason = self.what_it_cuts(radius, largest, refused);
            let remedy = "take a smaller cutter, saw further from the board, or bring the flat side further down there";
            (Kind::TooDeep, reason, remedy)
        };
        let fault = Fault::new(kind, PATH, reason).value(told(radius), "mm");
        if most < LEAST_MM {
            fault.remedy("leave \"rounding\" out of the order: no cutter is small enough")
        } else {
            fault.range(None, most).remedy(format!("{remedy}, or leave \"rounding\" out of the order"))
        }
    }

    /// How deep a guided cutter of this size would come into what stays, and the largest that would not.
    fn what_it_cuts(&self, radius: f64, largest: &Largest, refused: bool) -> String {
        let shape = self.stock.cutter.shape;
        let down = libm::floor(largest.radius * 100.0) / 100.0;
        let cuts = self.corner(largest.side).cuts(shape, radius, self.stock.cutter.paths);
        let cuts = cuts.iter().filter_map(|c| least(c, &[largest.side], &self.shaping_back, self.stops));
        let deep = match cuts.map(|(least, _)| -least.value).fold(0.0, f64::max) {
            deep if deep < 0.01 => String::from("less than 0.01"),
            deep => format!("up to {deep:.2}"),
        };
        let stays = match self.stock.allowances.shaping.mm() {
            0.0 => String::from("the finished neck"),
            left => format!("the {} mm that are to stay on the finished neck", told(left)),
        };
        let line = if refused { ", from a saw line that leaves its allowance," } else { "" };
        format!(
            "a {} of this {} cuts{line} {deep} mm into {stays}; the largest that does not is {down} mm, for the {} side at {}",
            shape.name(),
            size_of(shape),
            largest.side.name(),
            whereabouts(&self.neck, largest.x)
        )
    }

    /// Where a cutter's axis is set in and lifted out, so that its rim stays between the stop lines; a ball's is where it
    /// touches, its centre lying beyond that on a back that rises.
    fn run_of(&self, radius: f64) -> [f64; 2] {
        let [from, to] = self.stops;
        let cutter = &self.stock.cutter;
        let reach = reach_along(cutter.shape, radius, 0.5 * cutter.bearing.mm());
        let reach = if cutter.shape == CutterShape::Ball { reach * (1.0 + self.steepest()) } else { reach };
        [from + reach, to - reach]
    }

    fn rounding_step(&self, wood: &Wood, radius: f64) -> Step {
        let shape = self.stock.cutter.shape;
        if shape == CutterShape::Ball {
            let action = format!(
                "Let a ball of {} mm radius follow the paths, {} on either side from the carve line to the spine, each \
                 tangent to the back with its shaping allowance on; between them ridges stand, which facets and rasp take \
                 off.",
                told(radius),
                self.stock.cutter.paths
            );
            return Step::new(
                wood,
                action,
                "router on a carriage, or a machine, that follows points in space",
            );
        }
        let action = format!(
            "Run a {} of {} mm {} along both lower corners, set in and lifted out at the marked places, in several shallow \
             passes; it rides on the true side face and on the sawn back.",
            shape.name(),
            told(radius),
            size_of(shape)
        );
        Step::new(wood, action, "router in a table, with a bearing on the side face")
    }

    pub(super) fn rounding(&self, wood: &Wood, faults: &mut Vec<Fault>) -> Step {
        let cutter = &self.stock.cutter;
        let shape = cutter.shape;
        if shape == CutterShape::Ball && !self.shaping_back.is_convex(self.stops) {
            let reason =
                "with its allowance on, the back is hollow across, and a ball would cut into its hollow";
            faults.push(
                Fault::new(Kind::TooDeep, "cutter.shape", reason)
                    .value(shape.name(), "")
                    .remedy("take another shape, or leave \"rounding\" out of the order"),
            );
            return self.rounding_step(wood, 0.0);
        }
        let (largest, longest) = (self.largest_cutter(shape), self.longest_cutter());
        let usual = || {
            let most = largest.radius.min(longest).min(if shape == CutterShape::Ball {
                BALL_MM
            } else {
                LARGEST_MM
            });
            // Whole steps, or what there is where not even one fits.
            match libm::floor(most / RADIUS_STEP_MM) * RADIUS_STEP_MM {
                0.0 => most,
                whole => whole,
            }
        };
        let radius = cutter.radius.map_or_else(usual, |r| r.mm());
        if radius > largest.radius.min(longest) + SAME_MM || radius < LEAST_MM {
            let refused = faults.iter().any(|f| f.path.starts_with("saw.shaft_line"));
            faults.push(self.too_large(radius, &largest, longest, refused));
        }
        let run_mm = self.run_of(radius);
        let bearing = 0.5 * cutter.bearing.mm();
        let mut step = self.rounding_step(wood, radius);
        if !faults.is_empty() {
            return step;
        }
        let mut paths = Vec::new();
        let [set_in, out] = [Place::new(run_mm[0], CUTTER_IN), Place::new(run_mm[1], CUTTER_OUT)];
        let all = places(&self.neck, &set_in, &out);
        let mut by_side = Vec::new();
        for side in Side::BOTH {
            let corner = self.corner(side);
            let cuts = corner.cuts(shape, radius, cutter.paths);
            for cut in &cuts {
                step.wood.passes.push(Pass { zone: run_mm, cut: cut.clone() });
                // The cutter's own roundness reaches on to the stop lines, so the proof goes as far.
                let own = match least(cut, &[side], &self.shaping_back, self.stops) {
                    Some((least, at_mm)) => Clearance { least, at_mm, needed_mm: 0.0 },
                    None => {
                        let [y, z] = self.shaping_back.control_points(side, run_mm[0])[0];
                        even(0.0, run_mm[0], [y, z])
                    }
                };
                step.clearance = match step.clearance {
                    Some(a) if a.least.proven <= own.least.proven => Some(a),
                    _ => Some(own),
                };
            }
            paths.extend(corner.paths(bearing, &cuts, &path_stations(&all), self.neck.hand_sign()));
            by_side.push((corner, cuts));
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
            waste: None,
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
            largest_mm: Some(largest.radius).filter(|r| r.is_finite()),
            largest_x_mm: largest.x,
            largest_side: largest.side,
            run_mm,
            rows,
            paths,
        });
        step
    }
}
