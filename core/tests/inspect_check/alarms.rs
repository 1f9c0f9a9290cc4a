//! Nothing planted: an inspection alarms as often as is stated, neither more nor less.

use crate::check_common::{Normal, around, checked, limits, point, reading, stations, thickness};
use neckwright::inspect::{Measured, Reading};
use neckwright::shape::Neck;
use neckwright::spec::InspectionOptions;

const NECKS: usize = 1000;
const SIGMA: f64 = 0.03;

/// Thickness at many stations, points around some sections, some widths; `out` says what is still on.
fn readings(neck: &Neck, out: &dyn Fn(f64, f64, f64) -> f64, noise: &mut Normal) -> Vec<Reading> {
    let mut all: Vec<Reading> = Vec::new();
    for x in stations(neck, 24) {
        all.push(thickness(neck, x, out(x, 0.0, 1.0), SIGMA, noise));
    }
    for x in stations(neck, 6) {
        for spot in around(neck, x, 9, 2) {
            all.push(point(&spot, out(x, spot.way, spot.share), SIGMA, noise));
        }
        all.push(reading(x, Measured::Width, neck.width_mm(x).unwrap() + SIGMA * noise.next(), SIGMA));
    }
    all
}

fn options(significance: f64) -> InspectionOptions {
    InspectionOptions { significance, ..InspectionOptions::default() }
}

#[test]
fn low_patches_of_a_neck_at_its_size_are_false_alarms_at_the_stated_rate() {
    let mut noise = Normal::new(1);
    let mut alarms = [0, 0];
    for neck in crate::common::necks(NECKS) {
        let readings = readings(&neck, &|_, _, _| 0.0, &mut noise);
        let inspection = neck.inspect(&checked(&readings), &options(0.05)).unwrap();
        alarms[0] += usize::from(!inspection.low.is_empty());
        alarms[1] += usize::from(!inspection.unfair.is_empty());
    }
    println!("at size: {alarms:?} of {NECKS}");
    let allowed = limits(NECKS, 0.05);
    assert!(allowed.contains(&alarms[0]), "low: {} not in {allowed:?}", alarms[0]);
    assert!(allowed.contains(&alarms[1]), "unfair: {} not in {allowed:?}", alarms[1]);
}

#[test]
fn an_allowance_is_no_flat_and_no_bump() {
    let mut noise = Normal::new(2);
    let mut alarms = 0;
    for (i, neck) in crate::common::necks(NECKS).into_iter().enumerate() {
        // Along the spine and running out at the carve line, or the same all around, or more on one side.
        let (deep, even, slant) =
            (noise.between(0.0, 0.5), noise.between(0.0, 0.5), noise.between(-0.01, 0.01));
        let out = |x: f64, way: f64, share: f64| match i % 3 {
            0 => deep * share,
            1 => even + 1e-4 * x,
            _ => even + slant * way,
        };
        let readings = readings(&neck, &out, &mut noise);
        let inspection = neck.inspect(&checked(&readings), &options(0.05)).unwrap();
        alarms += usize::from(!inspection.unfair.is_empty());
    }
    println!("with an allowance: {alarms} of {NECKS}");
    let allowed = limits(NECKS, 0.05);
    assert!(allowed.contains(&alarms), "{alarms} not in {allowed:?}");
}
