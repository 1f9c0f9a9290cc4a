//! However densely a row is read, what is low in it is found, given to whom it concerns, and told as deep as it is.

use crate::check_common::{Normal, around, checked, point, thickness};
use neckwright::inspect::{Inspection, Reading};
use neckwright::measure::Station;
use neckwright::shape::Neck;
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.05;
const OVER: f64 = 0.3;
const LOW: f64 = -0.5;

/// Readings and what is truly over the finished neck there: on the pit's floor [`LOW`], on sound wood [`OVER`]. Every reading
/// of the floor is a low one, none of sound wood is, and the pit is told as one, as deep as it is on average to within three
/// standard uncertainties, all its readings counted.
fn told(neck: &Neck, all: &[(Reading, f64)]) -> Inspection {
    let readings = checked(&all.iter().map(|(r, _)| *r).collect::<Vec<_>>());
    let inspection = neck.inspect(&readings, &InspectionOptions::default()).unwrap();
    assert!(inspection.doubtful.is_empty(), "{:#?}", inspection.doubtful);
    let got: Vec<Reading> = inspection.low_readings(&readings).unwrap().iter().copied().collect();
    let floor = |r: &(Reading, f64)| r.1 == LOW;
    assert!(all.iter().any(floor));
    for (r, truth) in all {
        assert!(*truth != LOW || got.contains(r), "of {} not found: {r:?}", all.len());
        assert!(*truth != OVER || !got.contains(r), "of {} found: {r:?}", all.len());
    }
    let [f] = inspection.low.as_slice() else { panic!("of {}: {:#?}", all.len(), inspection.low) };
    let held = |r: &&(Reading, f64)| match r.0.at {
        // Around a section nothing lies between the floor and sound wood.
        Station::Mm(x) if f.around_mm.is_none() => x >= f.x_mm[0] && x <= f.x_mm[1],
        _ => floor(r),
    };
    let held: Vec<f64> = all.iter().filter(held).map(|r| r.1).collect();
    let count = held.len() as f64;
    assert!((f.amplitude_mm - held.iter().sum::<f64>() / count).abs() <= 3.0 * f.uncertainty_mm, "{f:#?}");
    let unsure = SIGMA / libm::sqrt(count);
    assert!((f.uncertainty_mm / unsure - 1.0).abs() < 1e-9, "all its readings: {f:#?}");
    let lowest = f.lowest.unwrap().deviation.mm;
    assert!((LOW - 4.5 * SIGMA..LOW + 3.0 * SIGMA).contains(&lowest), "{f:#?}");
    let words = &inspection.sentences;
    let again = |s: &String| ["perhaps 0.4", "perhaps 0.5", "perhaps 0.6"].iter().any(|p| s.contains(p));
    assert!(!words.iter().any(again), "{words:#?}");
    inspection
}

#[test]
fn pits_along_the_neck() {
    let neck = Neck::from_json("{}").unwrap();
    let mut noise = Normal::new(81);
    let mut planted = 0;
    for count in [97, 150, 200, 1000] {
        for wide in [6.0, 20.0, 60.0] {
            for _ in 0..5 {
                let at = noise.between(60.0, 320.0);
                // Walls no steeper than what is held to be possible: one in three (see `Doubt`).
                let truth = |x: f64| {
                    let out = (at - x).max(x - at - wide).max(0.0);
                    (LOW + 0.3 * out).min(OVER)
                };
                let all: Vec<(Reading, f64)> = (0..count)
                    .map(|i| 420.0 * f64::from(i) / f64::from(count - 1))
                    .map(|x| (thickness(&neck, x, truth(x), SIGMA, &mut noise), truth(x)))
                    .collect();
                planted += all.iter().filter(|(_, truth)| *truth == LOW).count();
                told(&neck, &all);
            }
        }
    }
    assert!(planted > 1000, "{planted}");
}

#[test]
fn pits_around_a_section() {
    let neck = Neck::from_json("{}").unwrap();
    let mut noise = Normal::new(82);
    for a_side in [20, 60, 150, 300] {
        for share in [0.4, 0.6, 0.8] {
            let spots = around(&neck, 150.0, a_side, 3);
            let all: Vec<(Reading, f64)> = spots
                .iter()
                .map(|s| {
                    let along = s.way / s.carved;
                    let truth = if along > share && along < share + 0.15 { LOW } else { OVER };
                    (point(s, truth, SIGMA, &mut noise), truth)
                })
                .collect();
            assert!(told(&neck, &all).low[0].around_mm.is_some());
        }
    }
}

/// Readings that no instrument tells apart by their places are one place: the mean of them, from the first to the last.
#[test]
fn what_lies_within_a_tenth_is_one_place() {
    let neck = Neck::from_json("{}").unwrap();
    let mut noise = Normal::new(83);
    let all: Vec<(Reading, f64)> = (0..20)
        .flat_map(|i| [0.0, 0.04, 0.08].map(|by| (i, 20.0 * f64::from(i) + by)))
        .map(|(i, x)| {
            let truth = if i == 7 { LOW } else { OVER };
            (thickness(&neck, x, truth, SIGMA, &mut noise), truth)
        })
        .collect();
    let inspection = told(&neck, &all);
    let [from, to] = inspection.low[0].x_mm;
    assert!((from - 140.0).abs() < 1e-9 && (to - 140.08).abs() < 1e-9, "{from} {to}");
}
