//! Few readings, wrong ones, robust fits, the other hand, and what to measure next.

use crate::copy_common::{Chance, depth_at, gathered, planted, reading, readings, with_noise};
use neckwright::inspect::{Measured, Reading, copy_neck};
use neckwright::measure::{Kind, Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{
    BenchUnit, CopyOptions, Curve, Hand, Judging, KnotChoice, Specification, ThicknessAt,
};

#[test]
fn one_thickness_moves_the_base_as_a_whole() {
    let mut base = Specification::default();
    let mut bent = Specification::default();
    bent.shaft.thickness = [(1.0, 21.5), (5.0, 21.7), (9.0, 22.3), (14.0, 23.6)]
        .map(|(fret, mm)| ThicknessAt { at: Station::Fret(fret), thickness: Length::from_mm(mm) })
        .to_vec();
    for curve in [Curve::Monotone, Curve::Spline] {
        (base.shaft.curve, bent.shaft.curve) = (curve, curve);
        for (base, fret, index, moved) in
            [(&base, 5.0, 1, 2), (&base, 1.0, 0, 1), (&base, 14.0, 2, 2), (&bent, 9.0, 2, 3)]
        {
            let one = [reading(Station::Fret(fret), Measured::Thickness, 23.5, 0.05)];
            let copied = copy_neck(base, &gathered(&one), &CopyOptions::default()).unwrap();
            assert_eq!(copied.numbers.len(), 1);
            let number = &copied.numbers[0];
            assert_eq!(number.path, format!("shaft.thickness[{index}].thickness"));
            assert_eq!((number.readings, number.at_bound), (1, false));
            assert!((number.value - 23.5).abs() < 1e-9 && (number.uncertainty - 0.05).abs() < 1e-12);
            for path in ["nut.width", "shaft.carve_line[0].depth", "shaft.profile[0].belly"] {
                assert!(copied.kept.iter().any(|k| k.path == path), "{path} of {:?}", copied.kept);
            }
            assert!(copied.kept.iter().all(|k| !k.path.starts_with("shaft.thickness")));
            assert_eq!(copied.moved.len(), moved, "{:?}", copied.moved);
            let (neck, was) = (Neck::new(&copied.specification).unwrap(), Neck::new(base).unwrap());
            let [from, to] = neck.shaft_reach_mm();
            let by = 23.5 - was.thickness_mm(was.station_mm(fret).unwrap()).unwrap();
            for k in 0..=60 {
                let x = from + (to - from) * f64::from(k) / 60.0;
                let off = neck.thickness_mm(x).unwrap() - was.thickness_mm(x).unwrap() - by;
                assert!(off.abs() < 1e-9, "fret {fret}, {curve:?}: {off} at {x}");
            }
            // Where it was read it is as sure as the reading; elsewhere the neck's taper may be another than the base's.
            let told = |fret: f64| copied.thickness_uncertainty_mm(neck.station_mm(fret).unwrap()).unwrap();
            assert!((told(fret) - 0.05).abs() < 1e-9, "{}", told(fret));
            assert!(told(if fret < 7.0 { 12.0 } else { 1.0 }) > 0.5);
            assert!(copied.moved.iter().all(|m| m.uncertainty == 5.0));
            assert_eq!((copied.degrees_of_freedom, copied.p_value), (0, None));
            assert!(copied.residuals[0].unchecked);
            // What is told of a neck that is told by nothing else comes from one more place.
            let next = copied.sharpest_next(3);
            assert_eq!(next.len(), 3);
            assert!(next[0].after_mm < 0.9 * next[0].before_mm, "{next:?}");
        }
    }
}

#[test]
fn two_thicknesses_move_and_tilt_it() {
    let base = Specification::default();
    let was = Neck::new(&base).unwrap();
    for (a, b) in [(1.0, 12.0), (3.0, 9.0), (5.0, 6.0)] {
        let two = [
            reading(Station::Fret(a), Measured::Thickness, 22.5, 0.05),
            reading(Station::Fret(b), Measured::Thickness, 23.0, 0.05),
        ];
        let copied = copy_neck(&base, &gathered(&two), &CopyOptions::default()).unwrap();
        assert_eq!(copied.numbers.len(), 2);
        let neck = Neck::new(&copied.specification).unwrap();
        let off = |x: f64| neck.thickness_mm(x).unwrap() - was.thickness_mm(x).unwrap();
        let [from, to] = neck.shaft_reach_mm();
        let [xa, xb] = [a, b].map(|fret| neck.station_mm(fret).unwrap());
        let [oa, ob] = [(xa, 22.5), (xb, 23.0)].map(|(x, mm)| mm - was.thickness_mm(x).unwrap());
        for (x, o) in [(xa, oa), (xb, ob)] {
            assert!((off(x) - o).abs() < 1e-9);
        }
        for k in 0..=60 {
            let x = from + (to - from) * f64::from(k) / 60.0;
            if a == 1.0 || (x > xa && x < xb) {
                // The base's line is straight, and so is what it is moved by.
                let straight = oa + (ob - oa) * (x - xa) / (xb - xa);
                assert!(a == 5.0 || (off(x) - straight).abs() < 0.05, "frets {a} and {b} at {x}");
            }
            // Two side by side do not run away with the neck.
            assert!(off(x) > oa.min(ob) - 1.0 && off(x) < oa.max(ob) + 1.0, "{a} and {b}: {}", off(x));
        }
    }
}

#[test]
fn readings_that_tell_nothing_are_named() {
    let base = Specification::default();
    let fault =
        |readings: &[Reading]| copy_neck(&base, &gathered(readings), &CopyOptions::default()).unwrap_err();
    let at = Station::Fret(5.0);
    let good = reading(at, Measured::Thickness, 22.0, 0.05);
    // A base of another scale: the reading lies off it, and says so before anything is fitted.
    let far = reading(Station::Mm(1200.0), Measured::Width, 50.0, 0.05);
    let error = fault(&[good, far]);
    assert_eq!(error.faults()[0].kind, Kind::OutsideNeck, "{error}");
    assert!(!error.faults()[0].remedy.is_empty() || error.faults()[0].highest.is_some(), "{error}");
    assert_eq!(fault(&[]).faults()[0].kind, Kind::Missing);
    // On the heel there is nothing to fit: said, and where something else is told, listed.
    let heel = reading(Station::Mm(460.0), Measured::Thickness, 26.0, 0.05);
    assert_eq!(fault(&[heel]).faults()[0].path, "readings");
    let copied = copy_neck(&base, &gathered(&[heel, good]), &CopyOptions::default()).unwrap();
    assert_eq!((copied.unused.len(), copied.unused[0].reading), (1, 0));
    let options = CopyOptions { most_steps: 0, ..CopyOptions::default() };
    assert_eq!(copy_neck(&base, &gathered(&[good]), &options).unwrap_err().faults()[0].path, "most_steps");
}

#[test]
fn the_other_hand_gives_the_same_numbers() {
    let mut chance = Chance::new(3);
    for i in 0..20 {
        let p = planted(&mut chance, i % 2 == 0, None);
        let all = with_noise(&readings(&p, 12, 0.01), &mut chance);
        let mut other = p.base.clone();
        other.hand = if other.hand == Hand::Left { Hand::Right } else { Hand::Left };
        let options = CopyOptions::default();
        match (copy_neck(&p.base, &gathered(&all), &options), copy_neck(&other, &gathered(&all), &options)) {
            (Ok(a), Ok(b)) => {
                assert_eq!(a.numbers, b.numbers);
                assert_eq!(a.covariance, b.covariance);
                assert_eq!(a.residuals, b.residuals);
                assert_eq!(b.specification.hand, other.hand);
            }
            (a, b) => assert_eq!(a.unwrap_err().faults(), b.unwrap_err().faults()),
        }
    }
}

#[test]
fn far_off_readings_do_not_matter_to_a_robust_fit() {
    let mut chance = Chance::new(4);
    let mut worst = [0.0_f64; 2];
    for _ in 0..30 {
        let p = planted(&mut chance, false, Some(0.04));
        let clean = with_noise(&readings(&p, 40, 0.05), &mut chance);
        let mut spoilt = clean.clone();
        let mut wrong = Vec::new();
        for (i, r) in spoilt.iter_mut().enumerate() {
            if matches!(r.measured, Measured::Point { .. }) && chance.unit() < 0.05 {
                r.value_mm += chance.between(1.0, 3.0);
                wrong.push(i);
            }
        }
        let options = CopyOptions {
            robust: true,
            uneven: Judging::Never,
            lean: Judging::Never,
            ..CopyOptions::default()
        };
        let copied = copy_neck(&p.base, &gathered(&spoilt), &options).unwrap();
        let [from, to] = p.neck.shaft_reach_mm();
        let neck = Neck::new(&copied.specification).unwrap();
        for k in 1..10 {
            let x = from + (to - from) * f64::from(k) / 10.0;
            let off = (neck.thickness_mm(x).unwrap() - p.neck.thickness_mm(x).unwrap()).abs();
            worst[0] = worst[0].max(off / copied.thickness_uncertainty_mm(x).unwrap());
        }
        for i in wrong {
            let r = copied.residuals.iter().find(|r| r.reading == i).unwrap();
            if r.left_mm.abs() > 0.5 {
                assert_eq!(r.weight, 0.0, "{r:?}");
            }
        }
        worst[1] = worst[1].max(copied.residuals.iter().map(|r| r.leverage).fold(0.0, f64::max));
    }
    println!("thickness off by at most {:.1} of its uncertainty", worst[0]);
    assert!(worst[0] < 5.0);
}

#[test]
fn a_suggested_reading_sharpens_as_promised() {
    let mut chance = Chance::new(5);
    let mut asked = 0;
    for _ in 0..20 {
        let p = planted(&mut chance, false, Some(0.04));
        let all = with_noise(&readings(&p, 12, 0.05), &mut chance);
        let Ok(first) = copy_neck(&p.base, &gathered(&all), &CopyOptions::default()) else { continue };
        // The same stations again, so that the promise is about the same numbers.
        let options = CopyOptions {
            stations: KnotChoice::Base,
            lean: Judging::Never,
            uneven: Judging::Never,
            ..CopyOptions::default()
        };
        let base = first.specification.clone();
        let Ok(before) = copy_neck(&base, &gathered(&all), &options) else { continue };
        let next = before.sharpest_next(4);
        assert_eq!(next.len(), 4);
        assert!((next[0].before_mm - before.mean_uncertainty_mm()).abs() < 1e-12);
        let mut more = all.clone();
        let mut last = before.mean_uncertainty_mm();
        for s in &next {
            assert!(s.after_mm < s.before_mm && s.sentence.starts_with("measure "), "{s:?}");
            let neck = Neck::new(&base).unwrap();
            let x = neck.layout().station_mm(&s.at).unwrap();
            // What the fitted neck has there, and the noise of one more reading.
            let value = match s.measured {
                Measured::Thickness => neck.thickness_mm(x).unwrap(),
                Measured::Width => neck.width_mm(x).unwrap(),
                Measured::CarveLine(side) => neck.carve_line_mm(x, side).unwrap(),
                Measured::Point { across_mm } => depth_at(&neck, x, across_mm),
                other => panic!("{other:?} is not suggested"),
            };
            more.push(reading(s.at, s.measured, value + 0.02 * chance.normal(), s.uncertainty_mm));
            let taken = all.iter().filter(|r| r.measured.quantity() == s.measured.quantity()).count();
            let usual = s.measured.quantity().usual_instrument().usual_uncertainty_mm(value);
            assert_eq!(s.uncertainty_mm, if taken > 0 { 0.05 } else { usual }, "{s:?}");
            assert!(s.sentence.contains(&format!("±{} mm", libm::round(2e3 * s.after_mm) / 1e3)), "{s:?}");
            let Ok(after) = copy_neck(&base, &gathered(&more), &options) else { continue };
            let now = after.mean_uncertainty_mm();
            assert!(now < last, "{now} after {last}");
            assert!((now - s.after_mm).abs() < 0.1 * s.after_mm, "{now}: promised {s:?}");
            last = now;
            asked += 1;
        }
    }
    // Of 80: a few copies of random necks do not settle.
    assert!(asked >= 72, "{asked}");
}

/// The same suggestions in inches.
#[test]
fn suggestions_follow_the_options_unit() {
    let base = Specification::default();
    let all = gathered(&[
        reading(Station::Fret(1.0), Measured::Thickness, 22.1, 0.05),
        reading(Station::Fret(12.0), Measured::Thickness, 23.0, 0.05),
        reading(Station::NUT, Measured::Width, 43.2, 0.05),
    ]);
    let asked = |unit: BenchUnit| {
        copy_neck(&base, &all, &CopyOptions { unit, ..CopyOptions::default() }).unwrap().sharpest_next(12)
    };
    let (mm, inches) = (asked(BenchUnit::Millimetres), asked(BenchUnit::Inches));
    let mut points = 0;
    for (mm, inches) in mm.iter().zip(&inches) {
        assert_eq!((mm.at, mm.measured, mm.after_mm), (inches.at, inches.measured, inches.after_mm));
        assert!(!mm.sentence.contains(" in ") && mm.sentence.ends_with(" mm"), "{}", mm.sentence);
        assert!(!inches.sentence.contains(" mm"), "{}", inches.sentence);
        // Twice the standard uncertainty; an inch has 25.4 mm.
        let told = |text: &str| -> f64 { text.split(" in").next().unwrap().parse().unwrap() };
        let ends: Vec<f64> = inches.sentence.split('±').skip(1).map(told).collect();
        for (told, is) in ends.iter().zip([mm.before_mm, mm.after_mm]) {
            assert!((told - 2.0 * is / 25.4).abs() <= 0.5001e-4, "{}", inches.sentence);
        }
        assert_eq!(ends.len(), 2);
        if let Measured::Point { across_mm } = mm.measured {
            points += 1;
            let (_, rest) = inches.sentence.split_once(", ").unwrap();
            assert!((told(rest) - across_mm.abs() / 25.4).abs() <= 0.005_001, "{}", inches.sentence);
        }
    }
    assert!(points > 0 && mm.len() == 12);
}
