//! Gross readings among single ones: told, not followed.

use crate::copy_common::{Chance, gathered, planted, reading, readings, with_noise};
use neckwright::inspect::{Measured, Reading, copy_neck};
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{CopyOptions, Curve, KnotChoice, Specification, ThicknessAt, WidthAt};

/// The default neck with a thickness bent between frets 1 and 12, by this much at fret 6.
fn bent(chance: &mut Chance, by: f64) -> Specification {
    let mut spec = Specification::default();
    let (first, last) = (chance.between(20.0, 22.0), chance.between(22.0, 24.0));
    spec.shaft.curve = Curve::Spline;
    spec.shaft.thickness = [(1.0, first), (6.0, 0.5 * (first + last) + by), (12.0, last)]
        .map(|(fret, mm)| ThicknessAt { at: Station::Fret(fret), thickness: Length::from_mm(mm) })
        .to_vec();
    spec
}

fn robust() -> CopyOptions {
    CopyOptions { robust: true, ..CopyOptions::default() }
}

fn thicknesses(neck: &Neck) -> Vec<Reading> {
    let read = |fret: u32| {
        let at = Station::Fret(f64::from(fret));
        let mm = neck.thickness_mm(neck.layout().station_mm(&at).unwrap()).unwrap();
        reading(at, Measured::Thickness, mm, 0.05)
    };
    (1..=12).map(read).collect()
}

/// How far the copy's thickness is off between the first and the last reading, mm.
fn off(copied: &Specification, truth: &Neck) -> f64 {
    let neck = Neck::new(copied).unwrap();
    let [from, to] = [1.0, 12.0].map(|fret| truth.station_mm(fret).unwrap());
    (0..=60)
        .map(|k| {
            let x = from + (to - from) * f64::from(k) / 60.0;
            (neck.thickness_mm(x).unwrap() - truth.thickness_mm(x).unwrap()).abs()
        })
        .fold(0.0, f64::max)
}

#[test]
fn a_gross_thickness_is_told_and_not_followed() {
    let mut chance = Chance::new(11);
    let (mut worst, mut least) = (0.0_f64, f64::INFINITY);
    for trial in 0..240 {
        let by = [0.0, 0.15, 0.5, -0.8][trial / 12 % 4];
        let truth = Neck::new(&bent(&mut chance, by)).unwrap();
        let mut all = with_noise(&thicknesses(&truth), &mut chance);
        let wrong = trial % 12;
        all[wrong].value_mm += if chance.unit() < 0.5 { 2.0 } else { -2.0 };
        let copied = copy_neck(&Specification::default(), &gathered(&all), &robust()).unwrap();
        let gross = &copied.residuals[wrong];
        assert_eq!((gross.reading, gross.weight), (wrong, 0.0), "{trial}, {by}: {gross:?}");
        assert!(copied.numbers.len() <= 7, "{}", copied.numbers.len());
        worst = worst.max(off(&copied.specification, &truth));
        least = least.min(gross.left_mm.abs());
    }
    println!("thickness off by at most {worst:.3} mm, of the gross reading at least {least:.3} mm left");
    assert!(worst < 0.25 && least > 1.7);
}

#[test]
fn and_so_are_two_of_them_and_one_among_widths() {
    let mut chance = Chance::new(12);
    let mut worst = 0.0_f64;
    for trial in 0..60 {
        let truth = Neck::new(&bent(&mut chance, 0.4)).unwrap();
        let mut all = with_noise(&thicknesses(&truth), &mut chance);
        let wrong = [1 + trial % 4, 6 + trial % 5];
        all[wrong[0]].value_mm += 2.0;
        all[wrong[1]].value_mm -= 1.5;
        let copied = copy_neck(&Specification::default(), &gathered(&all), &robust()).unwrap();
        for i in wrong {
            assert_eq!(copied.residuals[i].weight, 0.0, "{trial}: {:?}", copied.residuals[i]);
        }
        worst = worst.max(off(&copied.specification, &truth));
    }
    println!("two gross ones: thickness off by at most {worst:.3} mm");
    assert!(worst < 0.25);

    let mut spec = Specification::default();
    let width = |fret: f64, mm: f64| WidthAt { at: Station::Fret(fret), width: Length::from_mm(mm) };
    spec.fretboard.widths = Some(vec![width(12.0, 52.6), width(20.0, 56.0)]);
    let truth = Neck::new(&spec).unwrap();
    for wrong in 0..13_usize {
        let read = |fret: u32| {
            let at = Station::Fret(f64::from(fret));
            let mm = truth.width_mm(truth.layout().station_mm(&at).unwrap()).unwrap();
            reading(at, Measured::Width, mm, 0.05)
        };
        let mut all: Vec<Reading> = (0..=12).map(read).collect();
        all = with_noise(&all, &mut chance);
        all[wrong].value_mm += 2.0;
        let copied = copy_neck(&Specification::default(), &gathered(&all), &robust()).unwrap();
        assert_eq!(copied.residuals[wrong].weight, 0.0, "{wrong}: {:?}", copied.residuals);
        let neck = Neck::new(&copied.specification).unwrap();
        for fret in 0..=12 {
            let x = truth.station_mm(f64::from(fret)).unwrap();
            assert!((neck.width_mm(x).unwrap() - truth.width_mm(x).unwrap()).abs() < 0.15, "{wrong}, {fret}");
        }
    }
}

#[test]
fn without_it_a_reading_that_nothing_checks_says_so() {
    let mut chance = Chance::new(13);
    let truth = Neck::new(&bent(&mut chance, 0.3)).unwrap();
    let mut all = with_noise(&thicknesses(&truth), &mut chance);
    all[6].value_mm += 2.0;
    let base = Specification::default();
    let every = copy_neck(&base, &gathered(&all), &CopyOptions::default()).unwrap();
    assert_eq!((every.numbers.len(), every.degrees_of_freedom), (12, 0));
    assert!(every.residuals.iter().all(|r| r.unchecked && r.left_mm.abs() < 1e-6));
    // With few stations the same readings check each other, though each counts in full.
    let options = CopyOptions { stations: KnotChoice::Fewest, ..CopyOptions::default() };
    let few = copy_neck(&base, &gathered(&all), &options).unwrap();
    assert!(few.degrees_of_freedom >= 6 && few.p_value.unwrap() < 1e-6);
    assert!(few.residuals.iter().all(|r| !r.unchecked && r.weight == 1.0), "{:?}", few.residuals);
    let greatest = few.residuals.iter().max_by(|a, b| a.standardised.abs().total_cmp(&b.standardised.abs()));
    assert_eq!(greatest.unwrap().reading, 6);
}

#[test]
fn few_stations_follow_what_is_there() {
    let mut chance = Chance::new(14);
    let options = CopyOptions { stations: KnotChoice::Fewest, ..CopyOptions::default() };
    let (mut worst, mut low) = (0.0_f64, 0);
    let mut count = [0; 13];
    for trial in 0..400 {
        let by = [0.0, 0.3, 0.8, -0.6][trial % 4];
        let truth = Neck::new(&bent(&mut chance, by)).unwrap();
        let all = with_noise(&thicknesses(&truth), &mut chance);
        let copied = copy_neck(&Specification::default(), &gathered(&all), &options).unwrap();
        worst = worst.max(off(&copied.specification, &truth));
        count[copied.numbers.len()] += 1;
        low += u32::from(copied.p_value.unwrap() < 0.01);
    }
    println!("off by at most {worst:.3} mm; numbers {count:?}; p below 0.01 in {low} of 400");
    assert!(worst < 0.25 && low <= 24);
    assert!(count[2] >= 90 && count[6..].iter().sum::<i32>() <= 8);
}

#[test]
fn few_stations_hold_whole_necks_too() {
    let mut chance = Chance::new(15);
    let (mut worst, mut refused) = (0.0_f64, 0);
    for trial in 0..60 {
        let p = planted(&mut chance, false, Some(0.04));
        let mut all = readings(&p, 16, 0.05);
        let [from, to] = p.neck.shaft_reach_mm();
        for k in 0..8 {
            let x = from + (to - from) * (f64::from(k) + 0.5) / 8.0;
            all.push(reading(Station::Mm(x), Measured::Thickness, p.neck.thickness_mm(x).unwrap(), 0.05));
        }
        let mut all = with_noise(&all, &mut chance);
        let gross = all.len() - 1 - trial % 8;
        let options = [CopyOptions { stations: KnotChoice::Fewest, ..CopyOptions::default() }, robust()];
        for options in options {
            if options.robust {
                all[gross].value_mm += 1.5;
            }
            let Ok(copied) = copy_neck(&p.base, &gathered(&all), &options) else {
                refused += 1;
                continue;
            };
            let neck = Neck::new(&copied.specification).unwrap();
            for k in 0..=20 {
                let x = from + (to - from) * f64::from(k) / 20.0;
                worst = worst.max((neck.thickness_mm(x).unwrap() - p.neck.thickness_mm(x).unwrap()).abs());
            }
        }
    }
    println!("whole necks: thickness off by at most {worst:.3} mm, {refused} of 120 refused");
    assert!(worst < 0.3 && refused <= 3);
}
