//! Readings that contradict each other are named, and nothing is built on them.

mod check_common;
mod common;

use check_common::{Normal, around, checked, point, stations, thickness};
use neckwright::inspect::{Inspection, Reading, Readings};
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, Stock};

fn inspected(text: &str) -> (Inspection, Readings) {
    let readings = Readings::from_csv(text).unwrap();
    (Neck::from_json("{}").unwrap().inspect(&readings, &InspectionOptions::default()).unwrap(), readings)
}

#[test]
fn a_point_at_the_spine_against_a_thickness() {
    let (found, readings) = inspected(
        "at,quantity,value,across,uncertainty\nfret 3,width,46,,\nfret 5,point,19.3,1,0.1\nfret 5,thickness,22.2,,0.1\n",
    );
    assert_eq!(found.doubtful.len(), 1, "{found:#?}");
    let doubt = found.doubtful[0];
    let mut lines = doubt.lines;
    lines.sort_unstable();
    assert_eq!(lines, [3, 4]);
    assert!(
        (doubt.apart.mm - 2.9).abs() < 0.1 && (doubt.apart.uncertainty_mm - 0.02_f64.sqrt()).abs() < 1e-12
    );
    assert_eq!(
        found.sentences[0],
        "fret 5: the point of line 3 and the thickness of line 4 contradict each other by 2.9 mm (±0.3): read again"
    );
    // The point alone is low, and is not mended to.
    assert!(!found.low.is_empty() && found.low_readings(&readings).unwrap().is_empty());
    assert!(
        found.sentences.iter().any(|s| s.contains("too low at the spine")
            && s.ends_with("read again before anything is taken there")),
        "{:#?}",
        found.sentences
    );
}

#[test]
fn no_wood_is_as_steep_as_two_thicknesses_say() {
    let (found, readings) =
        inspected("at,quantity,value,uncertainty\n120,thickness,22.0,0.05\n120.5,thickness,21.0,0.05\n");
    assert_eq!(found.doubtful.len(), 1);
    assert_eq!(found.doubtful[0].readings, [0, 1]);
    assert!(found.low_readings(&readings).unwrap().is_empty());
    let (found, _) =
        inspected("at,quantity,value,uncertainty\n120,thickness,22.0,0.05\n140,thickness,21.0,0.05\n");
    assert!(found.doubtful.is_empty());
    // One that is wrong takes one other with it, and no more.
    let (found, _) = inspected(
        "at,quantity,value,uncertainty\n120,thickness,22.0,0.05\n120.5,thickness,22.0,0.05\n\
         121,thickness,20.5,0.05\n121.5,thickness,22.0,0.05\n",
    );
    assert_eq!(found.doubtful.len(), 1);
    assert!(found.doubtful[0].readings.contains(&2), "{:#?}", found.doubtful);
}

#[test]
fn readings_that_err_as_they_say_contradict_nothing() {
    let mut noise = Normal::new(61);
    const SIGMA: f64 = 0.03;
    for neck in common::necks(300) {
        let mut all: Vec<Reading> = Vec::new();
        for x in stations(&neck, 8) {
            let off = noise.between(-0.5, 0.5);
            all.push(thickness(&neck, x, off, SIGMA, &mut noise));
            all.push(thickness(&neck, x + 0.5, off, SIGMA, &mut noise));
            all.extend(around(&neck, x, 20, 0).iter().map(|s| point(s, off, SIGMA, &mut noise)));
        }
        let found = neck.inspect(&checked(&all), &InspectionOptions::default()).unwrap();
        assert!(found.doubtful.is_empty(), "{:?}", found.doubtful);
    }
}

/// The wood of every stage, read without any error to speak of: no surface contradicts itself.
#[test]
fn the_wood_of_no_stage_contradicts_itself() {
    let mut told = 0;
    for neck in common::necks(60) {
        let Ok(plan) = neck.carving_plan(&Stock::default()) else { continue };
        for stage in plan.stages() {
            for x in stations(&neck, 3) {
                let Ok(line) = stage.wood.polyline_mm(x, 1e-3) else { continue };
                // Places every 0.25 mm across, on the side that is away from the board.
                let mut all: Vec<Reading> = Vec::new();
                for i in -16..=16 {
                    let across = 0.25 * f64::from(i);
                    let low = line.windows(2).filter_map(|w| {
                        let (a, b) = (w[0], w[1]);
                        let y = neck.hand_sign() * across;
                        ((a[0] - y) * (b[0] - y) <= 0.0 && a[0] != b[0])
                            .then(|| a[1] + (b[1] - a[1]) * (y - a[0]) / (b[0] - a[0]))
                    });
                    let depth = -low.fold(f64::INFINITY, f64::min);
                    if depth.is_finite() {
                        let measured = neckwright::inspect::Measured::Point { across_mm: across };
                        all.push(check_common::reading(x, measured, depth, 0.01));
                    }
                }
                let all = check_common::sound(&neck, &all);
                told += all.len();
                let found = neck.inspect(&checked(&all), &InspectionOptions::default()).unwrap();
                assert!(found.doubtful.is_empty(), "{:?} at {x}: {:?}", stage.name, found.doubtful);
            }
        }
    }
    assert!(told > 10_000, "{told}");
}
