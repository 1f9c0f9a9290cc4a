//! Mended necks against the limits, and against another solver.
#![allow(missing_docs)]

use crate::common::necks;
use crate::mend_common::fair::{back_volume, fair};
use crate::mend_common::planted::{Draw, checked, planted};
use crate::mend_common::solver::{agreed, optimum};
use neckwright::inspect::{Asked, Limit, Measured, Mending, Reading, Readings, programme};
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{Hand, MendLimits, numbers};

/// The limits of a case: by turns strict and giving way, sides free and kept alike.
fn limits(case: usize) -> MendLimits {
    MendLimits {
        rise_toward_nut: Length::from_mm([0.0, 0.5][case % 2]),
        keep_even: case % 4 == 3,
        ..MendLimits::default()
    }
}

#[test]
fn mended_necks_keep_every_limit_and_are_the_optimum() {
    let mut draw = Draw(numbers(3));
    let (mut mended, mut impossible, mut apart) = (0, 0, 0.0_f64);
    for (case, design) in necks(60).into_iter().enumerate() {
        let low = planted(&design, &mut draw, [0.2, 0.6, 2.5][case % 3]);
        let limits = limits(case);
        let found = design.mend(&checked(&low), &limits).unwrap_or_else(|e| panic!("{case}: {e}"));
        let Asked { programme, unknowns, .. } = programme(&design, &checked(&low), &limits).unwrap().unwrap();
        match found {
            Mending::Mended(found) => {
                mended += 1;
                fair(case, &design, &found, &low, &limits);
                let unknowns = unknowns.unwrap();
                apart = apart.max(optimum(case, &programme, &unknowns));
                let ours = programme.cost_of(&unknowns);
                let between = back_volume(&design, &found.neck) - back_volume(&found.neck, &design);
                assert!((between - ours).abs() < 1e-6 * ours.max(10.0), "{case}: {between} for {ours}");
                // What of that lies above the glue line behind the nut is no wood.
                let gone = design.volume_mm3().filled_mm3() - found.neck.volume_mm3().filled_mm3();
                assert_eq!(gone, found.removed_mm3);
                assert!(gone < ours + 1e-4 && gone > 0.99 * ours, "{case}: {gone} for {ours}");
            }
            Mending::Impossible(forbidden) => {
                impossible += 1;
                assert!(unknowns.is_none() && !forbidden.is_empty(), "{case}");
                agreed(case, &programme, &forbidden);
            }
        }
    }
    println!("{mended} mended, {impossible} impossible; optima apart by {apart:e}");
    assert!(mended > 40 && impossible > 2, "{mended} {impossible}");
}

#[test]
fn a_neck_without_a_low_place_comes_back_unchanged() {
    for neck in necks(30) {
        let x = 0.5 * (neck.shaft_reach_mm()[0] + neck.shaft_reach_mm()[1]);
        let there = neck.thickness_mm(x).unwrap();
        let reading = |value_mm| Reading {
            at: Station::Mm(x),
            measured: Measured::Thickness,
            value_mm,
            uncertainty_mm: 0.05,
            line: 0,
        };
        for readings in [vec![], vec![reading(there), reading(there + 0.3)]] {
            let Ok(Mending::Mended(mended)) = neck.mend(&checked(&readings), &MendLimits::default()) else {
                panic!()
            };
            assert_eq!(&mended.specification, neck.normalised());
            assert_eq!(mended.specification.to_json(), neck.normalised().to_json());
            assert_eq!(mended.removed_mm3, 0.0);
        }
    }
}

#[test]
fn a_left_handed_neck_is_mended_to_the_same_bits() {
    let mut draw = Draw(numbers(9));
    for neck in necks(12) {
        let low = planted(&neck, &mut draw, 0.4);
        let mut other = neck.normalised().clone();
        other.hand = if other.hand == Hand::Left { Hand::Right } else { Hand::Left };
        let twin = Neck::new(&other).unwrap();
        let limits = MendLimits::default();
        match (neck.mend(&checked(&low), &limits), twin.mend(&checked(&low), &limits)) {
            (Ok(Mending::Mended(a)), Ok(Mending::Mended(b))) => {
                assert_eq!(a.specification.shaft, b.specification.shaft);
                assert_eq!(a.rows, b.rows);
                assert_eq!(a.neck.caliper_card(), b.neck.caliper_card());
            }
            (Ok(Mending::Impossible(a)), Ok(Mending::Impossible(b))) => assert_eq!(a, b),
            _ => panic!("one can be mended and the other not"),
        }
    }
}

#[test]
fn uneven_width_brings_the_edges_in() {
    let mut draw = Draw(numbers(21));
    let mut mended = 0;
    for (case, neck) in necks(30).into_iter().enumerate() {
        let x = draw.between(5.0, 0.8 * neck.layout().board().end_mm());
        let width = neck.width_mm(x).unwrap() - draw.between(0.05, 0.8);
        let reading = Reading {
            at: Station::Mm(x),
            measured: Measured::Width,
            value_mm: width,
            uncertainty_mm: 0.03,
            line: 0,
        };
        match neck.mend(&checked(&[reading]), &MendLimits::default()).unwrap() {
            Mending::Mended(found) => {
                mended += 1;
                assert!(found.neck.width_mm(x).unwrap() <= width);
                assert!(found.neck.width_mm(x).unwrap() > width - 1e-6, "{case}: more than is needed");
                for i in 0..=200 {
                    let x = neck.layout().board().end_mm() * f64::from(i) / 200.0;
                    assert!(found.neck.width_mm(x).unwrap() <= neck.width_mm(x).unwrap() + 1e-9);
                }
                assert!(found.removed_mm3 > 0.0);
            }
            Mending::Impossible(forbidden) => {
                assert!(
                    forbidden.iter().any(|f| f.limit == Limit::StringMargin || f.limit == Limit::LeastWidth),
                    "{forbidden:?}"
                );
            }
        }
    }
    assert!(mended > 15, "{mended}");
}

#[test]
fn bad_readings_and_limits_are_named() {
    let neck = &necks(1)[0];
    let off = Reading {
        at: Station::Mm(1400.0),
        measured: Measured::Thickness,
        value_mm: 20.0,
        uncertainty_mm: 0.1,
        line: 0,
    };
    let error = neck.mend(&checked(&[off]), &MendLimits::default()).unwrap_err();
    let paths: Vec<_> = error.faults().iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["readings[0].at"]);
    let limits = MendLimits { margin: f64::NAN, ..MendLimits::default() };
    assert_eq!(neck.mend(&Readings::default(), &limits).unwrap_err().faults()[0].path, "margin");
    let limits = MendLimits { least_wall: Some(Length::from_mm(2.5)), ..MendLimits::default() };
    assert_eq!(MendLimits::from_json(&limits.to_json()).unwrap(), limits);
}
