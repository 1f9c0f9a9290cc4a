//! The readings of low patches, and what is told of them.

use crate::check_common::{Normal, Spot, around, checked, point, reading, stations, thickness};
use neckwright::inspect::{FindingKind, Measured, Reading};
use neckwright::shape::{Neck, Side};
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.03;
/// Still on everywhere else, and gone too far, mm.
const OVER: f64 = 0.15;
const LOW: f64 = -0.36;

#[test]
fn the_low_readings_are_those_planted_and_no_others() {
    let mut noise = Normal::new(51);
    let mut planted_in_all = 0;
    for neck in crate::common::necks(400) {
        let side = if noise.uniform() < 0.5 { Side::Bass } else { Side::Treble };
        let mut all: Vec<(Reading, bool)> = Vec::new();
        let mut stretch = |n: usize| {
            let size = 1 + noise.below(5);
            let first = noise.below(n - size);
            first..first + size
        };
        let [spine, width, carve] = [24, 12, 12].map(&mut stretch);
        let which = noise.below(4);
        let out = |low: bool| if low { LOW } else { OVER };
        for (i, x) in stations(&neck, 24).into_iter().enumerate() {
            let low = spine.contains(&i);
            all.push((thickness(&neck, x, out(low), SIGMA, &mut noise), low));
        }
        for (i, x) in stations(&neck, 12).into_iter().enumerate() {
            let low = width.contains(&i);
            let wide = neck.width_mm(x).unwrap() + out(low) + SIGMA * noise.next();
            all.push((reading(x, Measured::Width, wide, SIGMA), low));
            let low = carve.contains(&i);
            let deep = neck.carve_line_mm(x, side).unwrap() + out(low) + SIGMA * noise.next();
            all.push((reading(x, Measured::CarveLine(side), deep, SIGMA), low));
        }
        for (i, x) in stations(&neck, 4).into_iter().enumerate() {
            let on_shoulder = |s: &Spot| (0.45..0.9).contains(&(s.way * side.sign() / s.carved));
            for s in around(&neck, x, 12, 2) {
                let low = i == which && on_shoulder(&s);
                all.push((point(&s, out(low), SIGMA, &mut noise), low));
            }
        }
        // In any order.
        for i in (1..all.len()).rev() {
            all.swap(i, noise.below(i + 1));
        }
        let readings: Vec<Reading> = all.iter().map(|(r, _)| *r).collect();
        let readings = checked(&readings);
        let inspection = neck.inspect(&readings, &InspectionOptions::default()).unwrap();
        let expected: Vec<Reading> = all.iter().filter(|(_, low)| *low).map(|(r, _)| *r).collect();
        planted_in_all += expected.len();
        let below = inspection.rows.iter().zip(&all).filter(|(_, (_, low))| *low);
        assert!(below.clone().count() == expected.len());
        assert!(below.into_iter().all(|(row, _)| row.finished.unwrap().mm < 0.0), "planted deep enough");
        let got: Vec<Reading> = inspection.low_readings(&readings).unwrap().iter().copied().collect();
        assert_eq!(got, expected);
    }
    println!("{planted_in_all} planted");
    assert!(planted_in_all > 4000);
}

#[test]
fn a_neck_without_low_patches_has_no_low_readings() {
    let mut noise = Normal::new(52);
    for neck in crate::common::necks(100) {
        let readings: Vec<Reading> =
            stations(&neck, 20).into_iter().map(|x| thickness(&neck, x, OVER, SIGMA, &mut noise)).collect();
        let readings = checked(&readings);
        let inspection = neck.inspect(&readings, &InspectionOptions::default()).unwrap();
        assert!(inspection.low.is_empty() && inspection.low_readings(&readings).unwrap().is_empty());
    }
}

fn told(neck: &Neck, readings: &[Reading]) -> Vec<String> {
    neck.inspect(&checked(readings), &InspectionOptions::default()).unwrap().sentences
}

#[test]
fn a_low_patch_is_told_once() {
    let neck = Neck::from_json("{}").unwrap();
    let at = |fret: f64| neck.station_mm(fret).unwrap();
    let mut readings: Vec<Reading> = (1..=15)
        .map(|f| {
            let x = at(f64::from(f));
            let out = if f == 5 || f == 6 { -0.5 } else { 0.35 };
            reading(x, Measured::Thickness, neck.thickness_mm(x).unwrap() + out, 0.05)
        })
        .collect();
    readings.push(reading(at(5.0), Measured::Width, neck.width_mm(at(5.0)).unwrap() + 0.3, 0.05));
    let inspection = neck.inspect(&checked(&readings), &InspectionOptions::default()).unwrap();
    assert!(inspection.unfair.iter().any(|f| f.kind == FindingKind::Hollow), "{inspection:#?}");
    let here = |s: &&String| s.contains("fret 5") || s.contains("fret 6") || s.contains("hollow");
    let here: Vec<&String> = inspection.sentences.iter().filter(here).collect();
    assert_eq!(
        here,
        [
            "from fret 5 to fret 6: 0.50 mm too low at the spine (±0.07); the neck has to come down to it",
            "fret 5: 0.3 mm still to come off in the width (±0.1)",
        ],
        "{:#?}",
        inspection.sentences
    );
    assert!(
        inspection.sentences.iter().any(|s| s == "fret 7: 0.3 mm still to come off at the spine (±0.1)"
            || s == "fret 7: 0.4 mm still to come off at the spine (±0.1)"),
        "{:#?}",
        inspection.sentences
    );
}

#[test]
fn beside_a_low_shoulder_the_rest_of_the_station_is_told() {
    let neck = Neck::from_json("{}").unwrap();
    let x = neck.station_mm(5.0).unwrap();
    let mut noise = Normal::new(53);
    let readings: Vec<Reading> = around(&neck, x, 10, 2)
        .iter()
        .map(|s| {
            let share = s.way / s.carved;
            let low = share > 0.4 && share < 0.99;
            Reading { uncertainty_mm: 0.02, ..point(s, if low { -0.4 } else { 0.3 }, 1e-9, &mut noise) }
        })
        .collect();
    let told = told(&neck, &readings);
    let low: Vec<&String> = told.iter().filter(|s| s.contains("too low")).collect();
    assert_eq!(low.len(), 1, "{told:#?}");
    assert!(low[0].starts_with("fret 5: 0.40 mm too low on the treble shoulder (±"), "{told:#?}");
    assert!(told.iter().any(|s| s.starts_with("fret 5: 0.30 mm still to come off")), "{told:#?}");
    assert!(told.iter().all(|s| !s.contains("perhaps") && !s.contains("a flat on the treble")), "{told:#?}");
}

#[test]
fn no_two_sentences_of_a_neck_contradict_each_other() {
    let mut noise = Normal::new(54);
    for neck in crate::common::necks(200) {
        let x = stations(&neck, 16);
        let first = noise.below(13);
        let low = first..first + 1 + noise.below(3);
        let readings: Vec<Reading> = (0..16)
            .map(|i| {
                let out = if low.contains(&i) { LOW } else { OVER };
                thickness(&neck, x[i], out, SIGMA, &mut noise)
            })
            .collect();
        let inspection = neck.inspect(&checked(&readings), &InspectionOptions::default()).unwrap();
        let told = &inspection.sentences;
        assert!(!inspection.low.is_empty());
        let count = |words: &str| told.iter().filter(|s| s.contains(words)).count();
        assert_eq!(count("too low at the spine"), inspection.low.len(), "{told:#?}");
        assert_eq!(count("perhaps"), 0, "{told:#?}");
        // Every other station has its own.
        let bumps = inspection.unfair.iter().filter(|f| f.kind == FindingKind::Bump).count();
        assert_eq!(count("still to come off") + count("no difference"), 16 - low.len(), "{told:#?}");
        assert!(told.len() >= inspection.low.len() + 16 - low.len() + bumps, "{told:#?}");
    }
}
