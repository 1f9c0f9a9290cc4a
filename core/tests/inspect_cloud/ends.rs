//! Scans in which no end of the neck shows where along it they lie, with strays near where the ends would be: refused, or right.

use crate::cloud_common::{
    Dice, Patch, Posed, Scan, WHOLE, random_pose, rough, scanned, square_nuts, surface,
};
use neckwright::inspect::{CopiedCloud, Pose, copy_cloud, place_cloud};
use neckwright::shape::Neck;
use neckwright::spec::{CloudOptions, Specification};

/// Which stations were scanned, mm; ends have patches of their own.
type Stations = [f64; 2];
/// Which patches were, at which stations.
type Seen<'a> = &'a dyn Fn(Patch, f64) -> bool;

/// The strays' shares.
const STRAYS: [f64; 4] = [0.0, 0.001, 0.01, 0.05];
/// The furthest that a place may lie off, in its standard uncertainties.
const FURTHEST: f64 = 4.0;
/// The least that is asked of a place along, mm.
const ALONG_MM: f64 = 1.0;

struct Case<'a> {
    neck: &'a Neck,
    base: &'a Specification,
    count: usize,
    strays: f64,
    seed: u64,
}

/// How far along from where it lies a scan was put, mm.
fn off_along(pose: &Pose, (rotation, shift): Posed) -> f64 {
    let middle = [200.0, 0.0, -10.0];
    let there = [0, 1, 2].map(|i| (0..3).map(|j| rotation[i][j] * middle[j]).sum::<f64>() + shift[i]);
    pose.to_neck_mm(there)[0] - middle[0]
}

/// What is made of a scan, with how far along it was put from where it is, mm, and how far that is told to be.
fn copied(case: &Case<'_>, seen: Seen<'_>) -> Option<(CopiedCloud, [f64; 2])> {
    let mut dice = Dice(case.seed);
    let (rotation, shift) = random_pose(&mut dice, 400.0);
    let scan = Scan { count: case.count, outliers: case.strays, seen, ..WHOLE };
    let points = surface(case.neck, &mut dice, &scan);
    let points = scanned(points, &mut dice, &scan, (rotation, shift));
    let copy = match copy_cloud(case.base, &points, &CloudOptions::default()) {
        Ok(copy) => copy,
        Err(error) => {
            assert!(error.faults().iter().all(|fault| !fault.remedy.is_empty()), "{error}");
            return None;
        }
    };
    let off = off_along(&copy.placed.pose, (rotation, shift));
    let told = copy.placed.pose.shift_uncertainty_mm[0];
    Some((copy, [off, told]))
}

fn shaft([from, to]: Stations) -> impl Fn(Patch, f64) -> bool {
    move |patch, x| !matches!(patch, Patch::Tip | Patch::Heel | Patch::BoardEnd) && (from..to).contains(&x)
}

/// Looked at so: refused, or right.
fn refused_or_right(count: usize, lengths: &[Stations], strays: &[f64], necks: usize) {
    let (mut refused, mut wrong, mut tried) = (0, 0, 0);
    for (i, neck) in square_nuts(necks).iter().enumerate() {
        let off = rough(neck, &mut Dice(21_000 + i as u64));
        for (name, base) in [("the truth", neck.normalised()), ("off", &off)] {
            for length in lengths {
                for share in strays {
                    tried += 1;
                    let seed = 22_000 + tried;
                    let case = Case { neck, base, count, strays: *share, seed };
                    let Some((copy, [along, told])) = copied(&case, &shaft(*length)) else {
                        refused += 1;
                        continue;
                    };
                    let line = format!(
                        "neck {i}, {length:?} mm, strays {share}, base {name}: off {along:.3} mm, told {told:.3}, p {:?}",
                        copy.copied.p_value
                    );
                    println!(
                        "{line}, outliers {:.3}, departures {}",
                        copy.placed.outlier_share,
                        copy.placed.departures.len()
                    );
                    wrong += usize::from(told > ALONG_MM || along.abs() > FURTHEST * told);
                }
            }
        }
    }
    println!("{refused} of {tried} refused, {wrong} wrong");
    assert_eq!(wrong, 0);
}

#[test]
fn a_shaft_without_an_end_is_not_held_by_strays() {
    refused_or_right(60_000, &[[30.0, 380.0], [100.0, 300.0]], &STRAYS, 4);
}

/// Placed on the neck itself, a shaft's own shape may hold it.
#[test]
fn a_shaft_is_placed_by_its_own_shape_or_refused() {
    let (mut refused, mut tried) = (0, 0);
    for (i, neck) in square_nuts(4).iter().enumerate() {
        let off = Neck::new(&rough(neck, &mut Dice(21_000 + i as u64))).unwrap();
        for (name, base) in [("the truth", neck), ("off", &off)] {
            for strays in STRAYS {
                tried += 1;
                let mut dice = Dice(24_000 + tried);
                let (rotation, shift) = random_pose(&mut dice, 400.0);
                let seen = shaft([100.0, 300.0]);
                let scan = Scan { count: 60_000, outliers: strays, seen: &seen, ..WHOLE };
                let points = surface(neck, &mut dice, &scan);
                let points = scanned(points, &mut dice, &scan, (rotation, shift));
                let Ok(placed) = place_cloud(base, &points, &CloudOptions::default()) else {
                    refused += 1;
                    continue;
                };
                let (along, told) =
                    (off_along(&placed.pose, (rotation, shift)), placed.pose.shift_uncertainty_mm[0]);
                println!("neck {i}, strays {strays}, base {name}: off {along:.3} mm, told {told:.3}");
                assert!(
                    told <= ALONG_MM && along.abs() < FURTHEST * told,
                    "neck {i}, strays {strays}, base {name}: {along}, {told}"
                );
            }
        }
    }
    println!("{refused} of {tried} refused");
}

#[test]
fn nor_by_those_of_many_points() {
    refused_or_right(300_000, &[[30.0, 380.0]], &[0.01, 0.05], 2);
    refused_or_right(1_000_000, &[[100.0, 300.0]], &[0.01], 1);
}

/// With an end in the scan it is held, and right.
#[test]
fn an_end_holds_a_shaft() {
    for (i, neck) in square_nuts(4).iter().enumerate() {
        let base = rough(neck, &mut Dice(21_000 + i as u64));
        let last = neck.reach_mm()[1];
        let first = neck.reach_mm()[0];
        let from_head = |patch: Patch, x: f64| patch == Patch::Tip || shaft([first, 380.0])(patch, x);
        let to_heel = |patch: Patch, x: f64| {
            matches!(patch, Patch::Heel | Patch::BoardEnd) || shaft([60.0, last])(patch, x)
        };
        let ends: [(&str, Seen<'_>); 2] = [("headstock", &from_head), ("heel", &to_heel)];
        for (name, seen) in ends {
            for (k, strays) in STRAYS.into_iter().enumerate() {
                let seed = 23_000 + 10 * i as u64 + k as u64;
                let case = Case { neck, base: &base, count: 60_000, strays, seed };
                let (_, [along, told]) =
                    copied(&case, seen).unwrap_or_else(|| panic!("neck {i}, {name}, {strays}: refused"));
                println!("neck {i}, {name}, strays {strays}: off {along:.4} mm, told {told:.4}");
                assert!(
                    told <= ALONG_MM && along.abs() < FURTHEST * told,
                    "neck {i}, {name}, {strays}: {along}, {told}"
                );
            }
        }
    }
}
