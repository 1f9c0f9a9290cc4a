//! Scans of uneven density, and of only a part of a neck: the copy is right where it was seen, or it says that it is not.

use crate::cloud_common::{
    Dice, Patch, Scan, WHOLE, random_pose, rough, scanned, slanted_nuts, square_nuts, surface,
};
use neckwright::inspect::copy_cloud;
use neckwright::shape::{Neck, Side};
use neckwright::spec::CloudOptions;

type Seen<'a> = &'a dyn Fn(&Neck, Patch, f64) -> bool;
type Density<'a> = &'a dyn Fn(&Neck, Patch, Side, f64) -> f64;

/// Of scans that are copied right every time, and of those that are not.
const FEW: usize = 6;
const MANY: usize = 12;
const ALL: Seen<'static> = &|_, _, _| true;
const EVEN: Density<'static> = &|_, _, _, _| 1.0;
/// What is promised of thickness, mm.
const PROMISED_MM: f64 = 0.02;
/// The furthest that some 900 numbers of all these scans lie off, in their standard uncertainties: one in 16,000 lies further.
const FURTHEST: f64 = 4.0;
/// A thickness that is known no better is one that the copy says it does not know, mm.
const UNSURE_MM: f64 = 0.1;

/// Copies of necks from bases that are a millimetre off: how many are right, and how many say that they are not, by an
/// error, by their uncertainty, by the chance of their scatter or by places where the scan stands off. None may be wrong and
/// not say so.
fn copies(name: &str, necks: &[Neck], seen: Seen<'_>, density: Density<'_>) -> usize {
    copies_of(30_000, name, necks, seen, density)
}

/// The same from so many points.
fn copies_of(count: usize, name: &str, necks: &[Neck], seen: Seen<'_>, density: Density<'_>) -> usize {
    let (right, silent) = tried(count, name, necks, seen, density);
    assert_eq!(silent, 0, "{name}");
    right
}

/// The same with how many are wrong and don't say so.
fn tried(count: usize, name: &str, necks: &[Neck], seen: Seen<'_>, density: Density<'_>) -> (usize, usize) {
    let (mut right, mut silent, mut worst) = (0, 0, 0.0_f64);
    for (i, neck) in necks.iter().enumerate() {
        let mut dice = Dice(6000 + i as u64);
        let pose = random_pose(&mut dice, 500.0);
        let (seen, density) =
            (|patch: Patch, x: f64| seen(neck, patch, x), |p: Patch, s: Side, x: f64| density(neck, p, s, x));
        let scan = Scan { count, seen: &seen, density: &density, ..WHOLE };
        let points = scanned(surface(neck, &mut dice, &scan), &mut dice, &scan, pose);
        let base = rough(neck, &mut Dice(7000 + i as u64));
        let copy = match copy_cloud(&base, &points, &CloudOptions::default()) {
            Ok(copy) => copy,
            Err(error) => {
                let fault = &error.faults()[0];
                assert!(!fault.reason.is_empty() && !fault.remedy.is_empty(), "{error}");
                println!("{name} {i}: {error}");
                continue;
            }
        };
        let made = Neck::new(&copy.copied.specification).unwrap();
        let [from, to] = neck.shaft_reach_mm();
        let [first, last] = copy.placed.covered_mm;
        let (mut off, mut of_own, mut known) = (0.0_f64, 0.0_f64, 0.0_f64);
        let (mut wrong, mut unsure, mut looked_at) = (false, false, 0);
        for k in 0..=200 {
            let x = from + (to - from) * f64::from(k) / 200.0;
            if !seen(Patch::Back, x) || x < first || x > last {
                continue;
            }
            let Ok(u) = copy.copied.thickness_uncertainty_mm(x) else { continue };
            let by = (made.thickness_mm(x).unwrap() - neck.thickness_mm(x).unwrap()).abs();
            (off, of_own, known) = (off.max(by), of_own.max(by / u), known.max(u));
            wrong |= by > PROMISED_MM && by > FURTHEST * u;
            unsure |= u > UNSURE_MM;
            looked_at += 1;
        }
        if looked_at < 20 {
            println!("{name} {i}: of the shaft too little was seen, {first:.0} to {last:.0} mm");
            continue;
        }
        let rare = copy.copied.p_value.is_some_and(|p| p < 1e-3);
        let told = unsure || rare || !copy.placed.departures.is_empty();
        let line = format!(
            "{name} {i}: off by {off:.4} mm, {of_own:.1} of its uncertainty, known to {known:.4} mm, scatter by chance {:.1e}, {} departures",
            copy.copied.p_value.unwrap_or(1.0),
            copy.placed.departures.len()
        );
        silent += usize::from(wrong && !told);
        if wrong || unsure {
            println!("{line}");
        } else {
            right += 1;
            worst = worst.max(off);
        }
    }
    println!(
        "{name}: {right} of {} right, off by {worst:.4} mm at most; {silent} wrong and silent",
        necks.len()
    );
    (right, silent)
}

/// Share of the way along a neck.
fn share(neck: &Neck, x: f64) -> f64 {
    let [from, to] = neck.reach_mm();
    ((x - from) / (to - from)).clamp(0.0, 1.0)
}

/// A fret's station on a scale of the neck's own.
fn fret(neck: &Neck, number: u32) -> f64 {
    let scale = &neck.normalised().scale;
    let length = scale.length.or(scale.treble).unwrap().mm();
    length * (1.0 - libm::exp2(-f64::from(number) / 12.0))
}

#[test]
fn one_end_is_a_hundred_times_denser() {
    let necks = square_nuts(FEW);
    let head: Density<'_> = &|neck, _, _, x| libm::pow(100.0, 1.0 - share(neck, x));
    let heel: Density<'_> = &|neck, _, _, x| libm::pow(100.0, share(neck, x));
    assert_eq!(copies("dense at the head", &necks, ALL, head), FEW);
    assert_eq!(copies("dense at the heel", &necks, ALL, heel), FEW);
}

#[test]
fn one_half_is_a_hundred_times_denser() {
    let necks = square_nuts(MANY);
    let head: Density<'_> = &|neck, _, _, x| if share(neck, x) < 0.5 { 100.0 } else { 1.0 };
    let heel: Density<'_> = &|neck, _, _, x| if share(neck, x) > 0.5 { 100.0 } else { 1.0 };
    assert!(copies("the head's half dense", &necks, ALL, head) >= 11);
    // Nut and volute then have some three hundred points.
    assert!(copies("the heel's half dense", &necks, ALL, heel) >= 9);
}

#[test]
fn one_side_is_a_hundred_times_denser() {
    let many = square_nuts(MANY);
    let necks = &many[..10];
    let bass: Density<'_> = &|_, _, side, _| if side == Side::Bass { 100.0 } else { 1.0 };
    let back: Density<'_> = &|_, patch, _, _| if patch == Patch::Back { 100.0 } else { 1.0 };
    // Of 30,000 points a side has some fifteen: where half of them lie beside it, it is not shown, and the scan is refused.
    assert!(copies("dense on the bass side", necks, ALL, bass) >= 7);
    assert!(copies("dense on the back", necks, ALL, back) >= 7);
    assert!(copies_of(150_000, "dense on the bass side, more points", necks, ALL, bass) >= 9);
    assert!(copies_of(150_000, "dense on the back, more points", necks, ALL, back) >= 9);
    // The back then has some two hundred points.
    let face: Density<'_> =
        &|_, patch, _, _| if matches!(patch, Patch::Face | Patch::WoodTop) { 100.0 } else { 1.0 };
    assert!(copies("dense on the face", &many, ALL, face) >= 9);
}

#[test]
fn only_a_part_of_the_length() {
    let necks = square_nuts(MANY);
    let to_nine: Seen<'_> = &|neck, _, x| x > -1.0 && x < fret(neck, 9);
    let from_three: Seen<'_> =
        &|neck, patch, x| x > fret(neck, 3) || matches!(patch, Patch::Heel | Patch::BoardEnd);
    assert!(copies("nut to fret 9", &necks, to_nine, EVEN) >= 10);
    assert!(copies("fret 3 to the heel", &necks, from_three, EVEN) >= 10);
}

/// Along the neck such a scan is held by a few hundred points about the nut alone, and its place is less sure than a straight
/// reckoning of its uncertainty says: what is off by more than that is refused or says so.
#[test]
fn only_a_part_that_is_thin_where_the_nut_holds_it() {
    let necks = square_nuts(MANY);
    let to_nine: Seen<'_> = &|neck, _, x| x > -1.0 && x < fret(neck, 9);
    let denser: Density<'_> = &|neck, _, _, x| libm::pow(100.0, x / fret(neck, 9));
    let (right, silent) = tried(30_000, "nut to fret 9, dense there", &necks, to_nine, denser);
    assert!(right >= 8 && silent == 0, "{right} right, {silent} silent");
}

#[test]
fn one_end_is_not_there() {
    let necks = square_nuts(FEW);
    let no_tip: Seen<'_> = &|neck, patch, x| patch != Patch::Tip && x > neck.reach_mm()[0] + 40.0;
    let no_heel: Seen<'_> = &|neck, patch, x| {
        !matches!(patch, Patch::Heel | Patch::BoardEnd) && x < neck.wood_reach_mm()[1] - 30.0
    };
    assert_eq!(copies("no headstock's tip", &necks, no_tip, EVEN), FEW);
    assert_eq!(copies("no heel's end", &necks, no_heel, EVEN), FEW);
}

#[test]
fn slanted_nuts_too() {
    let necks = slanted_nuts(FEW);
    let head: Density<'_> = &|neck, _, _, x| libm::pow(100.0, 1.0 - share(neck, x));
    assert_eq!(copies("slanted nut", &necks, ALL, EVEN), FEW);
    assert_eq!(copies("slanted nut, dense at the head", &necks, ALL, head), FEW);
}
