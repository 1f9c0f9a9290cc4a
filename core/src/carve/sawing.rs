//! The saw's lines: straight, as close to the neck as the allowance lets them be, and nowhere closer.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::clearance::{Clearance, least};
use super::fence::{Straight, outside};
use super::pass::Cut;
use crate::law::Law;
use crate::measure::{Fault, Kind, Station, told};
use crate::shape::Neck;
use crate::spec::{LineAt, Stock};

/// A straight line in side view that the back is sawn along.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct SawLine {
    /// The part of the neck that it belongs to.
    pub name: &'static str,
    /// Depth below the crown plane over its stretch of the neck.
    pub depth: Straight,
    /// Whether the builder chose it; otherwise it is the closest straight line that leaves the allowance.
    pub chosen: bool,
    /// The least wood between the line and the finished back, square to the line.
    pub clearance: Clearance,
}

/// The names of the stretches, from the headstock's end on.
pub(super) const STRETCHES: [&str; 5] = ["headstock", "volute", "shaft", "heel sweep", "heel block"];

/// Where the stretches begin and end: each cut of the back ends as far before the next part of the neck as the
/// allowance is, so that the wall at its end leaves the allowance too.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretches {
    pub ends: [f64; 6],
}

impl Stretches {
    pub fn new(neck: &Neck, allowance: f64) -> Self {
        let (volute, heel) = (neck.volute(), neck.heel());
        let [tip, end] = neck.wood_reach_mm();
        let clear = |x: f64| x.clamp(tip, end);
        Self {
            ends: [
                tip,
                clear(volute.start_x_mm - allowance),
                clear(volute.end_x_mm + allowance),
                clear(heel.start_x_mm - allowance),
                clear(heel.block_x_mm + allowance),
                end,
            ],
        }
    }

    pub fn of(&self, i: usize) -> [f64; 2] {
        [self.ends[i], self.ends[i + 1]]
    }
}

/// A plane through a line in side view.
pub(super) fn plane(depth: Straight) -> Cut {
    Cut::Plane { across: 0.0, down: 1.0, height: depth }
}

/// How near a line in side view comes to the finished back over its stretch and `beyond` on either side of it.
fn clearance_of(neck: &Neck, depth: &Straight, beyond: f64, needed_mm: f64) -> Option<Clearance> {
    let back = &neck.built().back;
    let reach = beyond_ends(neck, depth.x_mm, beyond);
    let (least, at_mm) = least(&plane(*depth), back.distinct(), back, reach)?;
    Some(Clearance { least, at_mm, needed_mm })
}

fn beyond_ends(neck: &Neck, [from, to]: [f64; 2], beyond: f64) -> [f64; 2] {
    let [tip, end] = neck.wood_reach_mm();
    [(from - beyond).max(tip), (to + beyond).min(end)]
}

/// The place of a station in words, for a message.
pub(super) fn whereabouts(neck: &Neck, x: f64) -> String {
    match neck.fret_at(x) {
        Ok(fret) if fret > 0.05 => format!("{} mm from the nut (fret {:.1})", told(x), fret),
        _ if x < 0.0 => format!("{} mm behind the nut", told(-x)),
        _ => format!("{} mm from the nut", told(x)),
    }
}

/// The line that the builder chose along the shaft.
fn chosen(neck: &Neck, at: &[LineAt], zone: [f64; 2], faults: &mut Vec<Fault>) -> Option<Straight> {
    let mut points = Vec::new();
    for (i, line) in at.iter().enumerate() {
        match neck.layout().station_at(&line.at, &format!("saw.shaft_line[{i}].at")) {
            Ok(x) => points.push((x, line.depth.mm())),
            Err(error) => faults.extend_from_slice(error.faults()),
        }
    }
    match *points.as_slice() {
        [(_, depth)] => Some(Straight { x_mm: zone, value_mm: [depth; 2] }),
        [(a, v), (b, w)] if b - a >= Station::LEAST_GAP_MM => {
            Some(Straight { x_mm: [a, b], value_mm: [v, w] }.over(zone))
        }
        [(a, _), (b, _)] => {
            let reason = format!("not beyond the one before it, at {} mm", told(a));
            faults.push(
                Fault::new(Kind::Conflict, "saw.shaft_line[1].at", reason)
                    .value(told(b), "mm")
                    .range(a + Station::LEAST_GAP_MM, None)
                    .remedy("give the two stations in order along the neck"),
            );
            None
        }
        _ => None,
    }
}

/// A cut that a builder chose and that comes too near.
pub(super) fn too_deep(
    neck: &Neck,
    path: &str,
    value: f64,
    clearance: &Clearance,
    remedy: impl Into<String>,
) -> Fault {
    let left = clearance.least.value;
    let place = whereabouts(neck, clearance.least.x_mm);
    let reason = if left < 0.0 {
        format!("cuts {:.2} mm into the finished neck at {place}", -left)
    } else {
        format!(
            "leaves {left:.2} mm over the finished neck at {place}, and {} mm are to be left",
            told(clearance.needed_mm)
        )
    };
    Fault::new(Kind::TooDeep, path, reason).value(told(value), "mm").remedy(remedy)
}

/// All lines of the back, from the headstock's end on.
pub(super) fn back_lines(
    neck: &Neck,
    stock: &Stock,
    stretches: &Stretches,
    faults: &mut Vec<Fault>,
) -> Vec<SawLine> {
    let allowance = stock.allowances.saw.mm();
    let spine = &neck.built().back.spine;
    let mut lines = Vec::new();
    for (i, name) in STRETCHES.into_iter().enumerate() {
        let name = if i == 1 { super::step::hump(neck) } else { name };
        let zone = stretches.of(i);
        if zone[1] - zone[0] < Station::LEAST_GAP_MM {
            continue;
        }
        let given = match (i, &stock.saw.shaft_line, stock.saw.headstock_thickness) {
            (0, _, Some(thickness)) => Some(parallel(neck, zone, thickness.mm())),
            (2, Some(at), _) => match chosen(neck, at, zone, faults) {
                Some(line) => Some(line),
                None => continue,
            },
            _ => None,
        };
        let reach = beyond_ends(neck, zone, allowance);
        let best = || {
            let line = outside(&|x| spine.value(x), reach[0], reach[1], spine.breaks());
            line.moved(allowance * line.steepness()).over(zone)
        };
        let mut depth = given.unwrap_or_else(best);
        let Some(mut clearance) = clearance_of(neck, &depth, allowance, allowance) else { continue };
        if given.is_some() && !clearance.holds() {
            // Straight down, the line has to go by what is missing square to it.
            let missing = (allowance - clearance.least.value) * depth.steepness();
            faults.push(if i == 0 {
                let thickness = stock.saw.headstock_thickness.unwrap_or_default().mm();
                let least = neck.headstock().thickness_mm + allowance;
                too_deep(
                    neck,
                    "saw.headstock_thickness",
                    thickness,
                    &clearance,
                    "leave it thicker, or allow the saw less",
                )
                .range(least, None)
            } else {
                // What was given: one depth, or two that make a slanted line.
                let given = stock.saw.shaft_line.iter().flatten();
                let given: Vec<String> = given.map(|line| format!("{}", told(line.depth.mm()))).collect();
                let remedy = format!(
                    "draw it {:.2} mm further from the board, there at {:.2} mm or more below its crown, or allow the saw less",
                    libm::ceil(missing * 100.0) / 100.0,
                    libm::ceil((depth.at_mm(clearance.least.x_mm) + missing) * 100.0) / 100.0
                );
                too_deep(neck, "saw.shaft_line", 0.0, &clearance, remedy).value(given.join(" and "), "mm")
            });
            // What comes after is judged by the line as it has to be.
            depth = depth.moved(missing);
            clearance = clearance_of(neck, &depth, allowance, allowance).unwrap_or(clearance);
        }
        lines.push(SawLine { name, depth, chosen: given.is_some(), clearance });
    }
    lines
}

/// The line at a thickness under the headstock's face, parallel to it (for a level headstock, to its level part).
pub(super) fn parallel(neck: &Neck, zone: [f64; 2], thickness: f64) -> Straight {
    let head = &neck.built().head;
    let depth = |x: f64| head.back_depth(x, thickness);
    Straight { x_mm: zone, value_mm: zone.map(depth) }
}

/// The closest straight line outside a half width over a stretch, the allowance square to it.
pub(super) fn plan_line(
    half: &dyn Fn(f64) -> f64,
    zone: [f64; 2],
    kinks: &[f64],
    allowance: f64,
) -> Straight {
    let line = outside(half, zone[0], zone[1], kinks);
    line.moved(allowance * line.steepness())
}

/// The least distance from a plan line to a half width, square to the line, proven.
pub(super) fn plan_clearance(line: &Straight, half: &Law, needed_mm: f64) -> Option<Clearance> {
    let (from, to) = (line.x_mm[0].max(half.start()), line.x_mm[1].min(half.end()));
    let straight = Law::polyline(&[(from, line.at_mm(from)), (to, line.at_mm(to))])?;
    let gap = straight.minus(&half.restricted(from, to)?)?.times_number(1.0 / line.steepness());
    let least = gap.least(super::clearance::CLEARANCE_TOLERANCE);
    let value = crate::shape::LeastValue::mm(least.value, least.x_mm, least.bound);
    Some(Clearance { least: value, at_mm: [half.value(least.x_mm), 0.0], needed_mm })
}
