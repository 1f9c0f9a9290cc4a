//! One-sided patches of the shoulders, told by points that err: how far the mended neck stands out of the wood that is there.
#![allow(missing_docs)]

use crate::check_common::{Normal, Spot, around, checked, point};
use crate::common::necks;
use crate::mend_common::planted::depth_at;
use neckwright::inspect::{Mending, Reading};
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, MendLimits};

/// A smooth patch: deepest in its middle, nothing beyond its reach.
struct Patch {
    x: f64,
    way: f64,
    deep: f64,
    long: f64,
    wide: f64,
}

impl Patch {
    fn low(&self, x: f64, way: f64) -> f64 {
        let part =
            |t: f64| if t.abs() < 1.0 { 0.5 + 0.5 * libm::cos(core::f64::consts::PI * t) } else { 0.0 };
        self.deep * part((x - self.x) / self.long) * part((way - self.way) / self.wide)
    }
}

/// How far a neck stands above the wood at a place, square to the design's surface.
fn above(neck: &Neck, spot: &Spot, low: f64) -> Option<f64> {
    let [y, z] = [0, 1].map(|i| spot.at[i] - low * spot.normal[i]);
    Some((depth_at(neck, spot.x, y)? + z) * spot.normal[1].abs())
}

/// How far the points of a contour lie apart, mm around.
const APART: f64 = 4.0;

/// The readings of contours on both sides of the deepest place, one every 15 mm along, with points evenly around.
fn contours(neck: &Neck, patch: &Patch, sigma: f64, err: f64, noise: &mut Normal) -> Vec<Reading> {
    let mut readings = Vec::new();
    for i in -2..=2 {
        let x = patch.x + 15.0 * f64::from(i);
        let spots = around(neck, x, 200, 0);
        let mut next = spots[0].way + APART * noise.uniform();
        let mut every = Vec::new();
        for spot in spots {
            if spot.way >= next {
                next += APART;
                every.push(spot);
            }
        }
        let spots = every;
        let low = |s: &Spot| point(s, -patch.low(s.x, s.way), err, noise);
        readings.extend(spots.iter().map(low).map(|r| Reading { uncertainty_mm: sigma, ..r }));
    }
    readings
}

/// How far the mended neck stands out of the wood at most where that is at least half as low as at its lowest, through
/// what an inspection finds; `None` where it finds nothing, or nothing can be done about it.
fn stands_out(neck: &Neck, patch: &Patch, readings: &[Reading]) -> Option<f64> {
    let readings = checked(readings);
    let low =
        neck.inspect(&readings, &InspectionOptions::default()).unwrap().low_readings(&readings).unwrap();
    if low.is_empty() {
        return None;
    }
    let Mending::Mended(mended) = neck.mend(&low, &MendLimits::default()).unwrap() else { return None };
    let spots = around(neck, patch.x, 200, 0);
    let there = spots.iter().filter(|s| patch.low(s.x, s.way) > 0.5 * patch.deep);
    let above = there.filter_map(|s| above(&mended.neck, s, patch.low(s.x, s.way)));
    Some(above.fold(f64::NEG_INFINITY, f64::max))
}

#[test]
fn the_mended_neck_hardly_stands_out_of_the_wood() {
    const SIGMA: f64 = 0.1;
    let mut noise = Normal::new(64);
    let mut all = Vec::new();
    let necks = necks(80);
    for neck in &necks {
        let [from, to] = neck.shaft_reach_mm();
        let to = to.min(neck.layout().board().end_mm());
        let x = noise.between(from + 60.0, to - 60.0);
        let carved = around(neck, x, 1, 0)[1].carved;
        let side = if noise.uniform() < 0.5 { -1.0 } else { 1.0 };
        let patch = Patch {
            x,
            way: side * carved * noise.between(0.35, 0.75),
            deep: noise.between(0.2, 1.0),
            long: noise.between(40.0, 80.0),
            wide: noise.between(8.0, 16.0),
        };
        let readings = contours(neck, &patch, SIGMA, SIGMA, &mut noise);
        all.extend(stands_out(neck, &patch, &readings));
    }
    all.sort_by(f64::total_cmp);
    let at = |share: f64| all[((all.len() - 1) as f64 * share).ceil() as usize] / SIGMA;
    let [median, most, worst] = [0.5, 0.95, 1.0].map(at);
    println!(
        "{} of {}: {median:.2} u in the median, {most:.2} for 95 %, {worst:.2} at the worst",
        all.len(),
        necks.len()
    );
    assert!(all.len() > necks.len() * 4 / 5, "{}", all.len());
    assert!(median < 0.7 && most < 2.2 && worst < 3.2, "{median} {most} {worst}");
}

/// Without noise the neck comes down to the wood though the readings are said to be uncertain.
#[test]
fn exact_points_of_a_deep_hollow_are_met() {
    let neck = Neck::from_json("{}").unwrap();
    let x = neck.station_mm(7.0).unwrap();
    for wide in [10.0, 13.0, 16.0] {
        for way in [-18.0, -14.0, 14.0, 18.0] {
            let patch = Patch { x, way, deep: 0.8, long: 60.0, wide };
            for sigma in [0.02, 0.1] {
                let readings = contours(&neck, &patch, sigma, 0.0, &mut Normal::new(1));
                let stands = stands_out(&neck, &patch, &readings).unwrap();
                println!("{wide} mm at {way}, {sigma}: {stands:.3}");
                assert!(stands < 2.0 * sigma + 0.05, "{wide} mm at {way}: {stands}");
            }
        }
    }
}
