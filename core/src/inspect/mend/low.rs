//! Low places: where the wood that is still there lies inside the finished neck.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::inspect::Measured;
use crate::inspect::readings::Placed;
use crate::shape::{Neck, Side};
use crate::spec::MendLimits;

/// What is low there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Place {
    /// The spine.
    Spine,
    /// The back of a side, `u` from its carve line (0) to the spine (1).
    Back(Side, f64),
    /// The carve line of a side.
    Carve(Side),
    /// The board's edges.
    Edges,
}

/// A place where the neck has to come down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Low {
    pub x: f64,
    pub place: Place,
    /// How far the wood that is still there, less the margin, ends inside the design, mm of depth or width.
    pub by: f64,
    pub uncertainty: f64,
    /// Which of the readings.
    pub index: usize,
}

/// The low places among readings, and what is to be said of those that ask nothing.
pub(super) struct Lows {
    pub lows: Vec<Low>,
    pub notes: Vec<String>,
}

/// Where a point across lies on the back: side and place around, or `None` beyond the edge.
fn around(neck: &Neck, x: f64, across: f64) -> Option<(Side, f64)> {
    let built = neck.built();
    let side = if across >= built.form.profile.spine_offset.value(x) { Side::Treble } else { Side::Bass };
    let outward = side.sign() * across;
    let out: crate::law::Bernstein =
        built.back.flanks.of(side).out.iter().map(|law| law.value(x) - outward).collect();
    if out.coefs().first().is_none_or(|edge| *edge <= 0.0) {
        return None;
    }
    Some((side, out.roots().first().copied().unwrap_or(1.0)))
}

/// Finds the low places.
pub(super) fn lows(neck: &Neck, readings: &[Placed], limits: &MendLimits) -> Lows {
    let built = neck.built();
    let mut found = Lows { lows: Vec::new(), notes: Vec::new() };
    for (index, Placed { x_mm: x, reading }) in readings.iter().enumerate() {
        let x = *x;
        let wood = x <= built.end;
        let mut note = |what: &str| {
            if found.notes.len() < crate::measure::MAX_FAULTS {
                found.notes.push(format!("low[{index}]: {what}"));
            }
        };
        let value = reading.value_mm;
        // The design there, and the reading in the same measure.
        let (place, design, value) = match reading.measured {
            Measured::Thickness => {
                let thickness = neck.thickness(x);
                let spine = if wood { built.back.spine.value(x) } else { built.head.glue };
                (Place::Spine, spine, value + (spine - thickness))
            }
            Measured::Width => (Place::Edges, neck.width(x), value),
            Measured::CarveLine(side) => (Place::Carve(side), neck.carve_line(side, x), value),
            Measured::Point { across_mm } => match around(neck, x, across_mm) {
                Some((side, u)) if wood => {
                    let depth: crate::law::Bernstein =
                        built.back.flanks.of(side).depth.iter().map(|law| law.value(x)).collect();
                    (Place::Back(side, u), depth.eval(u), value)
                }
                _ => {
                    note("lies beyond the finished neck's edge and asks nothing");
                    continue;
                }
            },
            Measured::Girth => {
                note("a girth does not say where the wood is low and asks nothing");
                continue;
            }
            Measured::Radius => {
                note("the radius of the board's face is no matter of the back and asks nothing");
                continue;
            }
        };
        if value < design {
            let bound = value - limits.margin * reading.uncertainty_mm;
            let uncertainty = reading.uncertainty_mm;
            found.lows.push(Low { x, place, by: design - bound, uncertainty, index });
        }
    }
    found
}
