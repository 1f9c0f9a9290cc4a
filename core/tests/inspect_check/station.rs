//! What is told of a station: both what is still on and what is perhaps gone.

use crate::check_common::{Normal, around, checked, point, reading};
use neckwright::inspect::{Measured, Reading};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{InspectionOptions, StageName, Stock};

fn neck() -> Neck {
    Neck::from_json("{}").unwrap()
}

/// Rare enough for no patch: what is here is told by its station.
fn options() -> InspectionOptions {
    InspectionOptions { significance: 1e-6, ..InspectionOptions::default() }
}

#[test]
fn a_station_that_is_high_and_low_is_told_as_both() {
    let neck = neck();
    let x = neck.station_mm(5.0).unwrap();
    let mut noise = Normal::new(1);
    let readings: Vec<Reading> = around(&neck, x, 4, 0)
        .iter()
        .map(|s| {
            let share = s.way / s.carved;
            let off = match share {
                _ if share > 1.0 / 3.0 => 0.4,
                _ if share < -0.5 && share > -0.9 => -0.16,
                _ => 0.0,
            };
            Reading { uncertainty_mm: 0.05, ..point(s, off, 1e-9, &mut noise) }
        })
        .collect();
    let told = neck.inspect(&checked(&readings), &options()).unwrap().sentences;
    let words = "fret 5: 0.40 mm still to come off, most on the treble shoulder (±0.06); \
                 perhaps 0.2 mm too low on the bass shoulder (±0.1); read again before anything is taken there";
    assert!(told.iter().any(|s| s == words), "{told:#?}");
    // One low place among high ones of the same part is not averaged away.
    let spots = around(&neck, x, 8, 0);
    let mut on = spots.iter().filter(|s| s.way > 0.45 * s.carved && s.way < 0.95 * s.carved);
    let (a, b) = (on.next().unwrap(), on.next().unwrap());
    let readings = [(a, 0.5), (b, -0.16)]
        .map(|(s, off)| Reading { uncertainty_mm: 0.05, ..point(s, off, 1e-9, &mut noise) });
    let told = neck.inspect(&checked(&readings), &options()).unwrap().sentences;
    assert_eq!(
        told,
        [
            "fret 5: 0.5 mm still to come off on the treble shoulder (±0.1); perhaps 0.2 mm too low on the treble \
          shoulder (±0.1); read again before anything is taken there"
        ]
    );
}

#[test]
fn a_stage_hides_nothing_that_is_below_the_finished_neck() {
    let neck = neck();
    let x = neck.station_mm(5.0).unwrap();
    let plan = neck.carving_plan(&Stock::default()).unwrap();
    let stage = plan.stage(StageName::Contour).unwrap();
    let at = |off: f64| {
        let thick = reading(x, Measured::Thickness, neck.thickness_mm(x).unwrap() + off, 0.05);
        neck.inspect_stage(&checked(&[thick]), stage, &options()).unwrap()
    };
    let low = at(-0.13);
    assert_eq!(low.stage, Some(StageName::Contour));
    assert!(low.low.is_empty());
    let told = &low.sentences;
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(told[0].starts_with("fret 5: past this stage by "), "{told:#?}");
    let words = "; perhaps 0.1 mm too low at the spine for the finished neck (±0.1); read again before anything is \
                 taken there";
    assert!(told[0].ends_with(words), "{told:#?}");
    // Past the stage, and not below the finished neck.
    let told = at(0.2).sentences;
    assert!(told[0].starts_with("fret 5: past this stage by ") && !told[0].contains("perhaps"), "{told:#?}");
    assert!(told[0].ends_with("; 0.2 mm to the finished neck"), "{told:#?}");
}

#[test]
fn where_stage_and_finished_neck_are_one_it_is_told_once() {
    let neck = neck();
    let x = neck.station_mm(5.0).unwrap();
    let plan = neck.carving_plan(&Stock::default()).unwrap();
    let stage = plan.stage(StageName::Sanding).unwrap();
    let at = |off: f64| {
        let thick = reading(x, Measured::Thickness, neck.thickness_mm(x).unwrap() + off, 0.05);
        neck.inspect_stage(&checked(&[thick]), stage, &options()).unwrap().sentences
    };
    assert_eq!(at(0.6), ["fret 5: 0.6 mm still to come off at the spine (±0.1)"]);
    let told = at(-0.13);
    assert_eq!(told.len(), 1);
    assert!(told[0].starts_with("fret 5: perhaps 0.1 mm too low at the spine"), "{told:#?}");
}

#[test]
fn each_measure_has_its_words() {
    let neck = neck();
    let x = neck.station_mm(5.0).unwrap();
    let readings = [
        reading(x, Measured::Width, neck.width_mm(x).unwrap() - 1.0, 0.4),
        reading(x, Measured::Girth, neck.girth_mm(x).unwrap() - 1.0, 0.4),
        reading(x, Measured::CarveLine(Side::Bass), neck.carve_line_mm(x, Side::Bass).unwrap() - 1.0, 0.4),
    ];
    let told = neck.inspect(&checked(&readings), &options()).unwrap().sentences;
    let then = "(±0.8); read again before anything is taken there";
    assert_eq!(
        told,
        [
            format!("fret 5: perhaps 1.0 mm too narrow {then}"),
            format!("fret 5: perhaps 1.0 mm too small in the girth {then}"),
            format!("fret 5: perhaps 1.0 mm too high up at the carve line of the bass side {then}"),
        ]
    );
}
