//! What the instruments should read while the shaft is contoured.

use alloc::string::String;
use alloc::vec::Vec;

use super::mark::Place;
use crate::shape::{Back, LeastValue, Neck, Side, Sides};

/// Readings at one station, the allowance still on.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct TargetRow {
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// The station in words.
    pub place: String,
    /// What a caliper reads from the board's crown to the spine, mm.
    pub thickness_mm: f64,
    /// Width, board edge to board edge, mm.
    pub width_mm: f64,
    /// A tape laid around the back from one top edge of the board to the other, mm.
    pub girth_mm: f64,
    /// Width of the back at three quarters, half and a quarter of the way up from the spine to the carve line, mm: what
    /// a caliper reads with its jaws' ends at that height.
    pub widths_mm: [f64; 3],
    /// The depths below the board's crown at which those widths are read, mm. The carve line they go up to is the deeper of
    /// both sides' there.
    pub depths_mm: [f64; 3],
}

/// The readings, and where to look for a flat.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Targets {
    /// Wood along the spine that the readings have still on, mm.
    pub allowance_mm: f64,
    /// The readings.
    pub rows: Vec<TargetRow>,
    /// The least curvature of the finished back on the run and where: there a flat shows first. 1/mm.
    pub flattest: LeastValue,
    /// The radius there, mm; `None` where the back is flat.
    pub flattest_radius_mm: Option<f64>,
}

/// How wide a back is at a depth, from one side to the other.
fn width_at(back: &Back, x: f64, depth: f64) -> f64 {
    let reach = |side: Side| {
        let p = back.control_points(side, x);
        let down: crate::law::Bernstein = p.iter().map(|p| -p[1] - depth).collect();
        let out: crate::law::Bernstein = p.iter().map(|p| side.sign() * p[0]).collect();
        match down.roots().last() {
            Some(u) => out.eval(*u),
            None => out.coefs()[if depth < -p[0][1] { 0 } else { 3 }],
        }
    };
    reach(Side::Bass) + reach(Side::Treble)
}

pub(super) fn targets(
    neck: &Neck,
    back: &Back,
    allowance_mm: f64,
    run: [f64; 2],
    places: &[Place],
) -> Targets {
    let row = |p: &Place| {
        let section = neck.section_over(back, p.x);
        let spine = back.spine.value(p.x);
        let carve = Sides::each(|side| -back.control_points(side, p.x)[0][1]);
        let depths = [0.25, 0.5, 0.75].map(|up| spine - up * (spine - carve.bass.max(carve.treble)));
        TargetRow {
            x_mm: p.x,
            place: p.name.clone(),
            thickness_mm: spine,
            width_mm: neck.width_mm(p.x).unwrap_or(f64::NAN),
            girth_mm: section.girth_mm(),
            widths_mm: depths.map(|d| width_at(back, p.x, d)),
            depths_mm: depths,
        }
    };
    let flattest = neck.least_curvature_over(run);
    Targets {
        allowance_mm,
        rows: places.iter().map(row).collect(),
        flattest,
        flattest_radius_mm: (flattest.value > 0.0).then(|| 1.0 / flattest.value),
    }
}
