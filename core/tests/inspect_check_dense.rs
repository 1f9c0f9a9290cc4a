//! However densely a row is read, what is low in it is found, given to whom it concerns, and told as deep as it is.

mod check_common;
mod common;

use check_common::{Normal, around, checked, point, thickness};
use neckwright::inspect::{Finding, Inspection, Reading};
use neckwright::shape::Neck;
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.05;
const OVER: f64 = 0.3;
const LOW: f64 = -0.5;

/// Every planted reading is a low one, no other is, and what is told is as deep as it is to within three standard
/// uncertainties. Planted is 10 of them deep: of a reading alone 16 of them lie between it and one that stands over.
fn told(neck: &Neck, all: &[(Reading, bool)], is_here: impl Fn(&Finding) -> bool) -> Inspection {
    let readings = checked(&all.iter().map(|(r, _)| *r).collect::<Vec<_>>());
    let inspection = neck.inspect(&readings, &InspectionOptions::default()).unwrap();
    let expected: Vec<Reading> = all.iter().filter(|(_, low)| *low).map(|(r, _)| *r).collect();
    let got: Vec<Reading> = inspection.low_readings(&readings).iter().copied().collect();
    assert!(!expected.is_empty());
    assert_eq!(got, expected, "of {}", all.len());
    let here: Vec<&Finding> = inspection.low.iter().filter(|f| is_here(f)).collect();
    let [f] = here.as_slice() else { panic!("{:#?}", inspection.low) };
    assert!((f.amplitude_mm - LOW).abs() <= 3.0 * f.uncertainty_mm, "{f:#?}");
    let unsure = SIGMA / libm::sqrt(expected.len() as f64);
    assert!((f.uncertainty_mm / unsure - 1.0).abs() < 1e-9, "of all its readings: {f:#?}");
    let words = &inspection.sentences;
    assert!(words.iter().all(|s| !s.contains("perhaps")), "{words:#?}");
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
                let low = |x: f64| x >= at && x <= at + wide;
                let all: Vec<(Reading, bool)> = (0..count)
                    .map(|i| 400.0 * f64::from(i) / f64::from(count - 1))
                    .map(|x| {
                        let out = if low(x) { LOW } else { OVER };
                        (thickness(&neck, x, out, SIGMA, &mut noise), low(x))
                    })
                    .collect();
                planted += all.iter().filter(|(_, low)| *low).count();
                told(&neck, &all, |f| f.around_mm.is_none());
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
            let low = |way: f64, carved: f64| {
                let along = way / carved;
                along > share && along < share + 0.15
            };
            let all: Vec<(Reading, bool)> = spots
                .iter()
                .map(|s| {
                    let low = low(s.way, s.carved);
                    (point(s, if low { LOW } else { OVER }, SIGMA, &mut noise), low)
                })
                .collect();
            told(&neck, &all, |f| f.around_mm.is_some());
        }
    }
}

/// Readings that no instrument tells apart by their places are one place: the mean of them, from the first to the last.
#[test]
fn what_lies_within_a_tenth_is_one_place() {
    let neck = Neck::from_json("{}").unwrap();
    let mut noise = Normal::new(83);
    let all: Vec<(Reading, bool)> = (0..20)
        .flat_map(|i| [0.0, 0.04, 0.08].map(|by| (i, 20.0 * f64::from(i) + by)))
        .map(|(i, x)| {
            let low = i == 7;
            (thickness(&neck, x, if low { LOW } else { OVER }, SIGMA, &mut noise), low)
        })
        .collect();
    let inspection = told(&neck, &all, |_| true);
    let [from, to] = inspection.low[0].x_mm;
    assert!((from - 140.0).abs() < 1e-9 && (to - 140.08).abs() < 1e-9, "{from} {to}");
}
