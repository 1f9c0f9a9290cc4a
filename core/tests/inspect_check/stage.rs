//! Flats and bumps over what a stage leaves: where its cuts end its surface steps, and that is no bump.

use crate::check_common::{Normal, checked, reading};
use neckwright::inspect::{FindingKind, Inspection, Measured, Reading};
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, StageName, Stock};

const SIGMA: f64 = 0.03;
const BUMP: f64 = 0.5;

/// Thicknesses at frets 1 to `last`, 0.35 mm or as the stage leaves them over the finished neck, and a bump at fret 6.
fn inspected(neck: &Neck, last: i32, name: StageName, as_left: bool, noise: &mut Normal) -> Inspection {
    let plan = neck.carving_plan(&Stock::default()).unwrap();
    let stage = plan.stage(name).unwrap();
    let at = |fret: i32| neck.station_mm(f64::from(fret)).unwrap();
    let over = |x: f64| stage.wood.depth_mm(x).unwrap() - neck.thickness_mm(x).unwrap();
    // Frets lie where the wood is made to this stage, but the last ones beyond its cuts.
    let usual = over(at(8));
    let readings: Vec<Reading> = (1..=last)
        .map(|fret| {
            let x = at(fret);
            let bump = match fret {
                6 => BUMP,
                5 | 7 => 0.5 * BUMP,
                _ => 0.0,
            };
            let still_on = if as_left { over(x) } else { usual };
            let value = neck.thickness_mm(x).unwrap() + still_on + bump + SIGMA * noise.next();
            reading(x, Measured::Thickness, value, SIGMA)
        })
        .collect();
    neck.inspect_stage(&checked(&readings), stage, &InspectionOptions::default()).unwrap()
}

#[test]
fn places_beyond_a_stages_cuts_hide_no_bump_and_make_none() {
    let neck = Neck::from_json("{}").unwrap();
    let six = neck.station_mm(6.0).unwrap();
    let mut noise = Normal::new(91);
    let mut beyond = 0;
    for name in [StageName::Facets, StageName::Contour] {
        for last in [14, 15, 16, 17, 18, 19] {
            for as_left in [true, false] {
                let got = inspected(&neck, last, name, as_left, &mut noise);
                let [f] = got.unfair.as_slice() else { panic!("{name:?} to fret {last}: {:#?}", got.unfair) };
                assert_eq!(f.kind, FindingKind::Bump);
                assert!(f.x_mm[0] < six && f.x_mm[1] > six, "{f:#?}");
                assert!((f.amplitude_mm - BUMP).abs() < 3.0 * f.uncertainty_mm, "{f:#?}");
                // What is made further than the stage leaves it has its own words.
                let past = got.rows.iter().filter(|r| r.stage.unwrap().mm < -0.3).count();
                beyond += past;
                assert!(!as_left || past == 0, "{name:?} to fret {last}");
            }
        }
    }
    assert!(beyond > 10, "{beyond} places beyond the cuts");
}

/// Where the plan's own cuts end the wood steps: readings on either side of that are right, both of them.
#[test]
fn a_stages_own_steps_contradict_nothing() {
    let neck = Neck::from_json("{}").unwrap();
    let plan = neck.carving_plan(&Stock::default()).unwrap();
    let (from, to) = (0.0, neck.layout().board().end_mm().min(neck.wood_reach_mm()[1]));
    let mut stepped = 0;
    for stage in plan.stages() {
        let readings: Vec<Reading> = (0..)
            .map(|i| from + 1.0 + f64::from(i))
            .take_while(|x| *x < to - 1.0)
            .map(|x| reading(x, Measured::Thickness, stage.wood.depth_mm(x).unwrap(), 0.05))
            .collect();
        let steep = |w: &[Reading]| (w[0].value_mm - w[1].value_mm).abs() > 1.0;
        stepped += readings.windows(2).filter(|w| steep(w)).count();
        let Ok(given) = neckwright::inspect::Readings::new(readings) else { continue };
        let found = neck.inspect_stage(&given, stage, &InspectionOptions::default()).unwrap();
        assert!(found.doubtful.is_empty(), "{:?}: {:?}", stage.name, found.doubtful);
    }
    assert!(stepped > 3, "{stepped}");
}
