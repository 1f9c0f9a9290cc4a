//! Clouds that no neck can be found in are refused with a reason, in bounded time.

use crate::cloud_common::{Dice, Patch, Scan, random_pose, rough, scanned, square_nuts, surface};
use neckwright::inspect::{copy_cloud, place_cloud};
use neckwright::measure::{Error, Kind};
use neckwright::shape::Neck;
use neckwright::spec::{CloudOptions, Specification};

const WHOLE: Scan<'static> = Scan { count: 20_000, ..crate::cloud_common::WHOLE };

fn neck() -> Neck {
    Neck::new(&Specification::default()).unwrap()
}

fn cloud(scan: &Scan<'_>) -> Vec<[f64; 3]> {
    let mut dice = Dice(11);
    let pose = random_pose(&mut dice, 300.0);
    scanned(surface(&neck(), &mut dice, scan), &mut dice, scan, pose)
}

fn refused(points: &[[f64; 3]]) -> Error {
    place_cloud(&neck(), points, &CloudOptions::default()).expect_err("no neck is in there")
}

fn says(points: &[[f64; 3]], words: &str) {
    let error = refused(points).to_string();
    assert!(error.contains(words), "{error}");
    println!("{error}");
}

#[test]
fn numbers_that_are_none_are_named_and_counted() {
    let mut points = cloud(&WHOLE);
    points[7][1] = f64::NAN;
    points[9][2] = f64::INFINITY;
    points[12][0] = 1e300;
    let error = refused(&points);
    let paths: Vec<&str> = error.faults().iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["points_mm[7][1]", "points_mm[9][2]", "points_mm[12][0]"]);
    let error = refused(&vec![[f64::NAN; 3]; 5000]);
    assert_eq!((error.faults().len(), error.more()), (100, 14_900));
}

#[test]
fn too_few_points() {
    let points = cloud(&WHOLE);
    assert_eq!(refused(&points[..100]).faults()[0].kind, Kind::TooSmall);
    assert_eq!(refused(&[]).faults()[0].kind, Kind::TooSmall);
}

#[test]
fn clouds_that_are_no_neck() {
    says(&vec![[3.0, 4.0, 5.0]; 5000], "one place");
    let at = |i: usize| f64::from(i as u32);
    says(&(0..5000).map(|i| [0.1 * at(i), 2.0, 3.0]).collect::<Vec<_>>(), "one line");
    let plane = |i: usize| [0.1 * at(i), at(i * 7919 % 50), 0.0];
    says(&(0..6000).map(plane).collect::<Vec<_>>(), "one plane");
    let mut dice = Dice(3);
    let mut on_sphere = || {
        let v = [dice.normal(), dice.normal(), dice.normal()];
        let l = libm::sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
        v.map(|c| 300.0 * c / l)
    };
    says(&(0..8000).map(|_| on_sphere()).collect::<Vec<_>>(), "no long thing");
    // Long, but nothing like a neck: noise in a box.
    let mut dice = Dice(4);
    let mut in_box = || [600.0 * dice.flat(), 60.0 * dice.flat(), 40.0 * dice.flat()];
    says(&(0..8000).map(|_| in_box()).collect::<Vec<_>>(), "scatter too widely");
    // Numbers near the limits of what is taken.
    let huge: Vec<[f64; 3]> = (0..5000).map(|i| [1e7 - at(i), -1e7 + at(i * 31 % 977), 1e7]).collect();
    refused(&huge);
    let tiny: Vec<[f64; 3]> = (0..5000).map(|i| [1e-300 * at(i), 1e-308, at(i % 3) * 1e-320]).collect();
    refused(&tiny);
}

#[test]
fn other_units_are_suspected() {
    let points = cloud(&WHOLE);
    for (k, unit) in [(25.4, "inches"), (10.0, "centimetres"), (1000.0, "metres"), (0.001, "micrometres")] {
        let scaled: Vec<[f64; 3]> = points.iter().map(|p| p.map(|c| c / k)).collect();
        says(&scaled, &format!("multiply the points by {k} if they are in {unit}"));
    }
}

#[test]
fn two_necks_in_one_scan() {
    let one = cloud(&Scan { count: 10_000, ..WHOLE });
    let mut beside = one.clone();
    let mut dice = Dice(19);
    let (r, _) = random_pose(&mut dice, 1.0);
    // Crossing each other, and side by side.
    beside.extend(one.iter().map(|p| [0, 1, 2].map(|i| (0..3).map(|j| r[i][j] * p[j]).sum::<f64>())));
    println!("{}", refused(&beside));
    let mut parallel = one.clone();
    parallel.extend(one.iter().map(|p| [p[0] + 60.0, p[1] + 60.0, p[2] + 60.0]));
    println!("{}", refused(&parallel));
}

#[test]
fn what_the_scan_does_not_hold_is_told() {
    // The shaft's back alone, its middle: nothing tells where along or how deep it lies.
    let seen: &dyn Fn(Patch, f64) -> bool = &|patch, x| patch == Patch::Back && (60.0..330.0).contains(&x);
    says(&cloud(&Scan { seen, ..WHOLE }), "nothing in the scan holds");
    // Board and shaft without an end: along the neck it may lie anywhere.
    let seen: &dyn Fn(Patch, f64) -> bool = &|_, x| (80.0..350.0).contains(&x);
    says(&cloud(&Scan { seen, ..WHOLE }), "where along the neck");
}

#[test]
fn another_neck_altogether_is_refused_or_told_where_it_differs() {
    const NOISE_MM: f64 = WHOLE.noise;
    let necks = square_nuts(8);
    for (i, neck) in necks.iter().enumerate() {
        let other = &necks[(i + 1) % necks.len()];
        let mut dice = Dice(40 + i as u64);
        let pose = random_pose(&mut dice, 300.0);
        let points = scanned(surface(neck, &mut dice, &WHOLE), &mut dice, &WHOLE, pose);
        match place_cloud(other, &points, &CloudOptions::default()) {
            Ok(placed) => {
                println!("neck {i}: rms {:.3}, off {:.3}", placed.rms_mm, placed.outlier_share);
                assert!(placed.rms_mm > 3.0 * NOISE_MM, "neck {i}: {}", placed.rms_mm);
                let told = placed.departures.first().unwrap_or_else(|| panic!("neck {i}: nothing told"));
                assert!(told.departure_mm.abs() > 5.0 * NOISE_MM, "neck {i}: {told:?}");
            }
            Err(error) => {
                let fault = &error.faults()[0];
                println!("neck {i}: {error}");
                assert!(fault.path == "points_mm" && !fault.remedy.is_empty(), "{error}");
            }
        }
    }
}

#[test]
fn options_are_checked() {
    let bad = CloudOptions { sample: 3, rounds: 100, ..CloudOptions::default() };
    let error = place_cloud(&neck(), &cloud(&WHOLE), &bad).unwrap_err();
    let paths: Vec<&str> = error.faults().iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["sample", "rounds"]);
    let options = CloudOptions::default();
    assert_eq!(CloudOptions::from_json(&options.to_json()), Ok(options));
    assert!(CloudOptions::from_json("{\"most_outliers\": 0.9}").is_err());
}

/// Two heads of a scanner, each on one side, that write a point in turn: no sample may be of one of them only.
#[test]
fn a_scanner_that_looks_left_and_right_in_turn() {
    let neck = &square_nuts(1)[0];
    let mut dice = Dice(31);
    let own = surface(neck, &mut dice, &Scan { count: 150_000, ..WHOLE });
    let of = |left: bool| own.iter().copied().filter(move |p| (p[1] < 0.0) == left);
    let points: Vec<[f64; 3]> = of(true).zip(of(false)).flat_map(|(a, b)| [a, b]).take(120_000).collect();
    let points = scanned(points, &mut dice, &WHOLE, random_pose(&mut Dice(32), 300.0));
    let copy = copy_cloud(&rough(neck, &mut dice), &points, &CloudOptions::default()).unwrap();
    let made = Neck::new(&copy.copied.specification).unwrap();
    let [from, to] = neck.shaft_reach_mm();
    for k in 0..=100 {
        let x = from + (to - from) * f64::from(k) / 100.0;
        let off = made.thickness_mm(x).unwrap() - neck.thickness_mm(x).unwrap();
        assert!(off.abs() < 0.02, "{x}: {off}");
    }
}

/// The strings of the base don't fit the scanned neck's nut: nobody gave the readings that the copy is made from.
#[test]
fn what_a_copy_can_not_be_is_told_of_the_scan() {
    let points = cloud(&Scan { count: 30_000, ..WHOLE });
    let mut base = neck().normalised().clone();
    base.nut.string_spread = Some(neckwright::measure::Length::from_mm(base.nut.width.mm() - 0.2));
    // The base itself is as wide as its strings ask for.
    base.nut.width = neckwright::measure::Length::from_mm(base.nut.width.mm() + 1.5);
    let error = copy_cloud(&base, &points, &CloudOptions::default()).unwrap_err().to_string();
    assert!(error.starts_with("points_mm: the copied neck can't be built, it would have nut."), "{error}");
    assert!(!error.contains("readings["), "{error}");
}
