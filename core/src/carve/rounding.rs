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

    /// A cutter that takes wood which has to stay; the saw's line may have been `refused`.
    fn too_large(&self, radius: f64, most: &Largest, refused: bool) -> Fault {
        let shape = self.stock.cutter.shape;
        let down = libm::floor(most.radius * 100.0) / 100.0;
        let place = whereabouts(&self.neck, most.x);
        let reason = if shape == CutterShape::Ball {
            format!(
                "the back is hollow along the neck, and a ball of this radius cuts into its hollow; the largest that does \
                 not is {down} mm, for the {} side at {place}",
                most.side.name()
            )
        } else {
            let cuts = self.corner(most.side).cuts(shape, radius, self.stock.cutter.paths);
            let cuts = cuts.iter().filter_map(|c| least(c, &[most.side], &self.shaping_back, self.stops));
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
                "a {} of this {} cuts{line} {deep} mm into {stays}; the largest that does not is {down} mm, for the {} side at \
                 {place}",
                shape.name(),
                size_of(shape),
                most.side.name()
            )
        };
        let remedy = if shape == CutterShape::Ball {
            "take a smaller ball, or leave \"rounding\" out of the order"
        } else {
            "take a smaller cutter, saw further from the board, or bring the flat side further down there"
        };
        Fault::new(Kind::TooDeep, PATH, reason).value(told(radius), "mm").range(None, down).remedy(remedy)
    }

    /// A cutter that has no room between the stop lines.
    fn too_long(&self, radius: f64, reach: f64) -> Fault {
        let [from, to] = self.stops;
        let reason = format!(
            "the cutter reaches {} mm to either side, and only {:.1} mm lie between the stop lines",
            told(reach),
            to - from
        );
        let half = 0.5 * (to - from);
        let bearing = 0.5 * self.stock.cutter.bearing.mm();
        let most = match self.stock.cutter.shape {
            CutterShape::Ball => half,
            _ => libm::hypot(half, bearing) - bearing,
        };
        Fault::new(Kind::Conflict, PATH, reason)
            .value(told(radius), "mm")
            .range(None, libm::floor(most * 10.0) / 10.0)
            .remedy("take a smaller cutter, or leave \"rounding\" out of the order")
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
        let largest = self.largest_cutter(shape);
        let usual = || {
            let whole = libm::floor(largest.radius / RADIUS_STEP_MM) * RADIUS_STEP_MM;
            if shape == CutterShape::Ball { whole.min(BALL_MM) } else { whole }
        };
        let radius = cutter.radius.map_or_else(usual, |r| r.mm());
        if radius > largest.radius + SAME_MM {
            let refused = faults.iter().any(|f| f.path.starts_with("saw.shaft_line"));
            faults.push(self.too_large(radius, &largest, refused));
        }
        if radius < RADIUS_STEP_MM {
            let place = whereabouts(&self.neck, largest.x);
            faults.push(
                Fault::new(
                    Kind::TooDeep,
                    PATH,
                    format!("no cutter of this shape is small enough at {place}"),
                )
                .value(told(largest.radius), "mm")
                .remedy("leave \"rounding\" out of the order, or let the saw leave more"),
            );
        }
        let [from, to] = self.stops;
        let bearing = 0.5 * cutter.bearing.mm();
        let reach = reach_along(shape, radius, bearing);
        let run_mm = [from + reach, to - reach];
        if run_mm[0] >= run_mm[1] {
            faults.push(self.too_long(radius, reach));
        }
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
