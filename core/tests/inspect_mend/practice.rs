//! Common practice, no source: an evening class's neck, 0.86 in and 0.90 in thick at frets 1 and 12, with a patch at the
//! fifth fret that went 0.02 in too deep.
#![allow(missing_docs)]

use std::fmt::Write;

use neckwright::inspect::{Measured, Mending, Reached, Reading, Readings};
use neckwright::measure::Station;
use neckwright::shape::Neck;
use neckwright::spec::{MendLimits, Specification};

fn reading(fret: f64, inches: f64) -> Reading {
    Reading {
        at: Station::Fret(fret),
        measured: Measured::Thickness,
        value_mm: 25.4 * inches,
        uncertainty_mm: 0.05,
        line: 0,
    }
}

#[test]
fn a_patch_at_the_fifth_fret() {
    // These thicknesses are the default's.
    let neck = Neck::new(&Specification::default()).unwrap();
    let thickness = |neck: &Neck, fret: f64| neck.thickness_mm(neck.station_mm(fret).unwrap()).unwrap();
    let patch = reading(5.0, thickness(&neck, 5.0) / 25.4 - 0.02);
    let low = [reading(1.0, 0.86), patch, reading(12.0, 0.90)];
    let Ok(Mending::Mended(mended)) =
        neck.mend(&Readings::new(low.to_vec()).unwrap(), &MendLimits::default())
    else {
        panic!("it can be mended")
    };

    let there = thickness(&mended.neck, 5.0);
    assert!(there <= patch.value_mm && there > patch.value_mm - 1e-6, "{there}");
    let spine = mended.neck.laws().spine_depth;
    let [from, to] = mended.neck.shaft_reach_mm();
    for i in 0..=2000 {
        let x = from + (to - from) * f64::from(i) / 2000.0;
        let [_, slope, bend] = spine.at2(x).unwrap();
        assert!(slope > -1e-9, "thicker toward the nut at {x}");
        assert!(bend.abs() < 1.0 / 3000.0 + 1e-9, "bent too much at {x}: {bend}");
    }
    let minded: Vec<&str> = mended.cautions.iter().map(|caution| caution.topic.name()).collect();
    assert_eq!(minded, ["stop line", "blade", "work holding", "rod channel", "dust"]);
    assert!(mended.cautions[0].words.starts_with("Read the low places once more"));
    let wall =
        format!("leaves {:.2} mm of wood around the channel", mended.neck.least_rod_wall().unwrap().value);
    assert!(mended.cautions[3].words.contains(&wall), "{}: {wall}", mended.cautions[3].words);

    // Beyond where it has come back to the design it is the design.
    assert!((thickness(&mended.neck, 12.0) - 22.86).abs() < 1e-6);

    let mut card =
        String::from("fret  mm from nut  take off  thickness   width   girth  rod wall  uncertain by\n");
    for (row, off) in mended.neck.caliper_card().iter().zip(&mended.rows) {
        assert_eq!(Some(row.fret), off.fret);
        let wall = row.rod_wall_mm.map_or("-".into(), |wall| format!("{wall:.2}"));
        writeln!(
            card,
            "{:4}  {:11.2}  {:8.2}  {:9.2}  {:6.2}  {:6.2}  {wall:>8}  {:12.3}",
            row.fret,
            row.x_mm,
            off.take_off_mm,
            row.thickness_mm,
            row.width_mm,
            row.girth_mm,
            off.uncertainty_mm
        )
        .unwrap();
    }
    writeln!(card, "comes off: {:.0} mm3; held by:", mended.removed_mm3).unwrap();
    for Reached { limit, x_mm, .. } in &mended.reached {
        writeln!(card, "  {} at {x_mm:.0} mm", limit.name()).unwrap();
    }
    println!("{card}");
    insta::assert_snapshot!(card);
}

#[test]
fn what_forbids_it_is_said() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let low = [reading(5.0, 0.72)];
    let Ok(Mending::Impossible(forbidden)) =
        neck.mend(&Readings::new(low.to_vec()).unwrap(), &MendLimits::default())
    else {
        panic!("no wall is left")
    };
    let said: Vec<&str> = forbidden.iter().map(|f| f.sentence.as_str()).collect();
    insta::assert_snapshot!(said.join("\n"));
}

#[test]
fn careful_measuring_takes_no_more_wood() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let middle = neck.station_mm(5.0).unwrap();
    let mut state = 7_u64;
    // Normal noise by the sum of twelve even numbers.
    let mut noise = || {
        let mut even = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1_u64 << 53) as f64
        };
        (0..12).map(|_| even()).sum::<f64>() - 6.0
    };
    let mut taken = Vec::new();
    for count in [1_u32, 10, 30, 90] {
        let (mut depth, mut removed) = (0.0, 0.0);
        const TRIALS: u32 = 40;
        for _ in 0..TRIALS {
            let reading = |i: u32| {
                let x = middle + 20.0 * ((f64::from(i) + 0.5) / f64::from(count) - 0.5);
                Reading {
                    at: Station::Mm(x),
                    measured: Measured::Thickness,
                    value_mm: neck.thickness_mm(x).unwrap() - 0.3 + 0.05 * noise(),
                    uncertainty_mm: 0.05,
                    line: 0,
                }
            };
            let low = Readings::new((0..count).map(reading).collect()).unwrap();
            let Ok(Mending::Mended(mended)) = neck.mend(&low, &MendLimits::default()) else { panic!() };
            let here = mended.neck.thickness_mm(middle).unwrap();
            depth += (neck.thickness_mm(middle).unwrap() - here) / f64::from(TRIALS);
            removed += mended.removed_mm3 / f64::from(TRIALS);
        }
        println!("{count} readings: {depth:.3} mm off, {removed:.0} mm3");
        taken.push((depth, removed));
    }
    // What is there is 0.3 mm low. Over 20 mm the lower of a few places decides, the less the better each is known.
    assert!(taken.iter().all(|(depth, _)| (0.28..0.345).contains(depth)), "{taken:?}");
    assert!(taken[3].0 < taken[1].0 && taken[3].1 < 1.1 * taken[0].1, "{taken:?}");
}
