//! What mending takes off by readings that err, against the depth that was planted.
#![allow(missing_docs)]

use crate::check_common::Normal;
use crate::mend_common::planted::{checked, depth_at};
use neckwright::inspect::{Measured, Mended, Mending, Reading};
use neckwright::measure::Station;
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, MendLimits};

fn mended(neck: &Neck, low: &[Reading]) -> Mended {
    match neck.mend(&checked(low), &MendLimits { margin: 0.0, ..MendLimits::default() }) {
        Ok(Mending::Mended(mended)) => *mended,
        other => panic!("{other:?}"),
    }
}

/// The most that comes off along the spine, looked for every half millimetre within so much of a station.
fn deepest(neck: &Neck, mended: &Mended, x: f64, within: f64) -> f64 {
    let count = (2.0 * within) as i32;
    let off = |i: i32| {
        let x = x + 0.5 * f64::from(i);
        neck.thickness_mm(x).unwrap() - mended.neck.thickness_mm(x).unwrap()
    };
    (-count..=count).map(off).fold(0.0, f64::max)
}

fn reading(x: f64, measured: Measured, value_mm: f64, uncertainty_mm: f64) -> Reading {
    Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm, line: 0 }
}

/// Thicknesses over 9 mm at fret 5, as many low as noise and depth have it.
fn patch(neck: &Neck, depth: f64, sigma: f64, noise: &mut Normal) -> Vec<Reading> {
    let x = neck.station_mm(5.0).unwrap();
    (0..30)
        .map(|i| {
            let x = x + 9.0 * (f64::from(i) / 29.0 - 0.5);
            let value = neck.thickness_mm(x).unwrap() - depth + sigma * noise.next();
            reading(x, Measured::Thickness, value, sigma)
        })
        .collect()
}

#[test]
fn many_readings_of_a_shallow_patch_take_off_what_is_low() {
    let neck = Neck::from_json("{}").unwrap();
    let x = neck.station_mm(5.0).unwrap();
    let mut noise = Normal::new(61);
    let (mut given, mut found, mut left_out) = (0.0, 0.0, 0);
    const TRIALS: u32 = 200;
    for _ in 0..TRIALS {
        let low = patch(&neck, 0.1, 0.1, &mut noise);
        given += deepest(&neck, &mended(&neck, &low), x, 40.0) / f64::from(TRIALS);
        let inspection = neck.inspect(&checked(&low), &InspectionOptions::default()).unwrap();
        let picked: Vec<Reading> = inspection.low_readings(&checked(&low)).unwrap().iter().copied().collect();
        left_out += low.len() - picked.len();
        if !picked.is_empty() {
            found += deepest(&neck, &mended(&neck, &picked), x, 40.0) / f64::from(TRIALS);
        }
    }
    println!("0.1 mm low: {given:.4} mm off by all, {found:.4} by those found, {left_out} left out");
    assert!((0.08..0.12).contains(&given), "{given}");
    assert!((0.08..0.12).contains(&found), "{found}");
}

/// Points of a contour at fret 5, one every 2 mm across, all as low in depth.
fn contour(neck: &Neck, depth: f64, sigma: f64, noise: &mut Normal) -> Vec<Reading> {
    let x = neck.station_mm(5.0).unwrap();
    (-10..=10)
        .map(|i| {
            let across_mm = 2.0 * f64::from(i);
            let value = depth_at(neck, x, across_mm).unwrap() - depth + sigma * noise.next();
            reading(x, Measured::Point { across_mm }, value, sigma)
        })
        .collect()
}

#[test]
fn the_points_of_a_contour_take_off_what_is_low() {
    let neck = Neck::from_json("{}").unwrap();
    let x = neck.station_mm(5.0).unwrap();
    let mut noise = Normal::new(62);
    let (mut spine, mut most, mut edges) = (0.0, 0.0_f64, [0.0; 2]);
    let mut worst = [f64::INFINITY, 0.0_f64];
    const TRIALS: u32 = 200;
    for _ in 0..TRIALS {
        let found = mended(&neck, &contour(&neck, 0.3, 0.2, &mut noise));
        let off =
            |across: f64| depth_at(&neck, x, across).unwrap() - depth_at(&found.neck, x, across).unwrap();
        spine += off(0.0) / f64::from(TRIALS);
        worst = [worst[0].min(off(0.0)), worst[1].max(off(0.0))];
        for (sum, across) in edges.iter_mut().zip([-20.0, 20.0]) {
            *sum += off(across) / f64::from(TRIALS);
            most = most.max(off(across));
        }
    }
    println!(
        "0.3 mm low: {spine:.4} mm off at the spine ({worst:.3?}), {edges:.3?} at 20 mm across, {most:.3} at the most"
    );
    assert!((0.24..0.36).contains(&spine), "{spine}");
}

/// What is deeper than noise would have it counts by itself: a dent of one reading among many.
#[test]
fn a_narrow_dent_among_many_readings_is_honoured() {
    let neck = Neck::from_json("{}").unwrap();
    let mut noise = Normal::new(63);
    for trial in 0..40 {
        let mut low = patch(&neck, 0.1, 0.05, &mut noise);
        low[trial % 30].value_mm -= 0.5;
        let dent = low[trial % 30];
        let Station::Mm(at) = dent.at else { panic!() };
        let found = mended(&neck, &low);
        assert!(found.neck.thickness_mm(at).unwrap() < dent.value_mm + 1e-6, "{trial}");
    }
    // Wood that still stands beside it takes nothing from it.
    let x = neck.station_mm(5.0).unwrap();
    let at = |x: f64, by: f64| reading(x, Measured::Thickness, neck.thickness_mm(x).unwrap() - by, 0.05);
    let low = [at(x - 4.0, -0.8), at(x, 0.4), at(x + 4.0, -0.8)];
    let there = mended(&neck, &low).neck.thickness_mm(x).unwrap();
    assert!((there - low[1].value_mm).abs() < 1e-6, "{there}");
}
