//! Temperaments: published values, tables, and the way back from a place to a fret.

mod seeded;

use neckwright::layout::{Temperament, fret_positions_mm};
use neckwright::measure::Kind;
use proptest::prelude::*;
use seeded::seeded;

/// Made by `tests/reference/temperaments.py`, which says how it is to be read.
const EXACT: &str = include_str!("../../tests/reference/temperaments.txt");

fn close(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} within {tolerance:e}");
}

#[test]
fn an_equal_semitone_is_the_published_one() {
    let equal = Temperament::equal(12).unwrap();
    // 2^(1/12) and 1/(1 - 2^(-1/12)): computed in mpmath; the latter rounded to 17.817 in old workshops (seen).
    close(1.0 / equal.remaining(1.0).unwrap(), 1.059_463_094_359_295_3, 2.3e-16);
    close(640.0 / equal.position_mm(640.0, 1.0).unwrap(), 17.817_153_745_105_767, 4e-15);
    assert_eq!(equal.cents(7.0).unwrap(), 700.0);
}

#[test]
fn the_rule_of_eighteen_is_18_to_17() {
    let eighteen = Temperament::rule_of_eighteen();
    // 98.954592230368 cents (seen); V. Galilei, Dialogo della musica antica et della moderna, 1581 (memory).
    close(eighteen.cents(1.0).unwrap(), 98.954_592_230_368, 1e-12);
    close(eighteen.position_mm(648.0, 1.0).unwrap(), 36.0, 0.0);
    close(eighteen.position_mm(648.0, 2.0).unwrap(), 36.0 + 612.0 / 18.0, 2e-14);
    // Twelve such frets leave (17/18)^12 of the string, 12.54489323558945299 cents short of the octave (mpmath).
    close(eighteen.remaining(12.0).unwrap(), 0.503_636_265_910_669_8, 1.2e-16);
    close(eighteen.error_cents(12, 12).unwrap(), -12.544_893_235_589_453, 2e-13);
    close(eighteen.error_cents(1, 12).unwrap(), -1.045_407_769_632_454, 3e-14);
    // The text in circulation that takes it as 19:18 would put it at 93.6 cents.
    assert!(eighteen.cents(1.0).unwrap() > 98.0);
}

#[test]
fn ratios_have_the_published_cents() {
    // 107/101 and 18904/17843 (seen), the digits after the ninth from mpmath.
    for (ratio, cents) in
        [(107.0 / 101.0, 99.906_604_379_222_65), (18904.0 / 17843.0, 100.000_000_672_849_15)]
    {
        let table = Temperament::from_ratios(&[ratio]).unwrap();
        close(table.cents(1.0).unwrap(), cents, 1e-12);
    }
    let just = Temperament::from_ratios(&[9.0 / 8.0, 5.0 / 4.0, 4.0 / 3.0, 1.5, 2.0]).unwrap();
    assert_eq!(just.position_mm(600.0, 4.0).unwrap(), 200.0);
    assert_eq!(just.position_mm(600.0, 5.0).unwrap(), 300.0);
}

#[test]
fn a_table_that_ends_with_octaves_begins_again() {
    let table = Temperament::from_ratios(&[1.2, 1.5, 2.0]).unwrap();
    assert_eq!(table.last_fret(), 60);
    assert_eq!(table.remaining(5.0).unwrap(), 1.0 / 3.0);
    close(table.cents(8.0).unwrap(), 2400.0 + 701.955_000_865_387, 1e-11);
    let two = Temperament::from_cents(&[700.0, 2400.0]).unwrap();
    assert_eq!(two.cents(3.0).unwrap(), 3100.0);
    assert_eq!(two.remaining(4.0).unwrap(), 1.0 / 16.0);
    let ends = Temperament::from_cents(&[100.0, 210.0, 1190.0]).unwrap();
    assert_eq!(ends.last_fret(), 3);
    assert_eq!(ends.cents(3.5).unwrap_err().faults()[0].kind, Kind::OutOfRange);
    assert!(ends.positions_mm(640.0, 4).is_err());
    assert_eq!(Temperament::from_ratios(&[3.0]).unwrap().last_fret(), 1);
}

#[test]
fn a_table_of_equal_steps_is_the_equal_division() {
    let cents: Vec<f64> = (1..=19).map(|n| f64::from(n) * 1200.0 / 19.0).collect();
    let table = Temperament::from_cents(&cents[..18]).unwrap();
    let period = Temperament::from_cents(&cents).unwrap();
    let exact = fret_positions_mm(640.0, 60, 19).unwrap();
    for (n, exact) in exact.iter().enumerate() {
        let fret = n as f64 + 1.0;
        close(period.position_mm(640.0, fret).unwrap(), *exact, 3e-13);
        if n < 18 {
            close(table.position_mm(640.0, fret).unwrap(), *exact, 3e-13);
        }
    }
}

#[test]
fn between_two_frets_the_pitch_goes_evenly() {
    let table = Temperament::from_cents(&[90.0, 200.0, 1200.0]).unwrap();
    assert_eq!(table.cents(0.5).unwrap(), 45.0);
    assert_eq!(table.cents(1.5).unwrap(), 145.0);
    close(table.position_mm(640.0, 1.5).unwrap(), 640.0 * (1.0 - libm::exp2(-145.0 / 1200.0)), 2e-13);
    let equal = Temperament::equal(12).unwrap();
    close(equal.position_mm(640.0, 7.5).unwrap(), 640.0 * (1.0 - libm::exp2(-7.5 / 12.0)), 2e-13);
}

#[test]
fn within_the_promised_units_in_the_last_place() {
    let cents =
        [76.05, 193.16, 310.26, 386.31, 503.42, 579.47, 696.58, 772.63, 889.74, 1006.84, 1082.89, 1200.0];
    let ratios = [
        (16, 15),
        (9, 8),
        (6, 5),
        (5, 4),
        (4, 3),
        (45, 32),
        (3, 2),
        (8, 5),
        (5, 3),
        (16, 9),
        (15, 8),
        (2, 1),
    ]
    .map(|(a, b)| f64::from(a) / f64::from(b));
    let double = |bits: &str| f64::from_bits(u64::from_str_radix(bits, 16).unwrap());
    let (mut exact_path, mut elsewhere, mut lines) = (0.0_f64, 0.0_f64, 0);
    for line in EXACT.lines() {
        let words: Vec<&str> = line.split(' ').collect();
        let (rule, numbers) = words.split_at(words.len() - 4);
        let temperament = match rule {
            ["equal", divisions] => Temperament::equal(divisions.parse().unwrap()).unwrap(),
            ["eighteen"] => Temperament::rule_of_eighteen(),
            ["cents"] => Temperament::from_cents(&cents).unwrap(),
            ["ratios"] => Temperament::from_ratios(&ratios).unwrap(),
            _ => panic!("{line}"),
        };
        let (scale, fret, nearest) = (double(numbers[0]), double(numbers[1]), double(numbers[2]));
        let found = temperament.position_mm(scale, fret).unwrap();
        let off = (found - nearest) / (f64::from_bits(nearest.to_bits() + 1) - nearest)
            - numbers[3].parse::<f64>().unwrap() / 1000.0;
        let worst = if fret.fract() == 0.0 && rule[0] != "cents" { &mut exact_path } else { &mut elsewhere };
        *worst = worst.max(off.abs());
        lines += 1;
    }
    println!("{lines} places: whole frets {exact_path:.3} ulp, real frets and cents {elsewhere:.3} ulp");
    assert_eq!(lines, 6 * 36);
    assert!(exact_path <= 1.0 && elsewhere <= 4.0);
}

#[test]
fn tables_are_refused_with_all_that_is_wrong() {
    let faults = |error: neckwright::measure::Error| -> Vec<(Kind, String)> {
        error.faults().iter().map(|fault| (fault.kind, fault.path.clone())).collect()
    };
    let found = faults(Temperament::from_cents(&[0.0, 100.0, 100.0, f64::NAN, 9601.0, 200.0]).unwrap_err());
    let path = |i: usize| format!("cents[{i}]");
    assert_eq!(
        found,
        [
            (Kind::Geometry, path(0)),
            (Kind::Geometry, path(2)),
            (Kind::OutOfRange, path(3)),
            (Kind::OutOfRange, path(4))
        ]
    );
    assert_eq!(faults(Temperament::from_ratios(&[]).unwrap_err()), [(Kind::Missing, "ratios".into())]);
    assert_eq!(faults(Temperament::from_ratios(&[1.0]).unwrap_err())[0].0, Kind::Geometry);
    let long: Vec<f64> = (1..=100).map(f64::from).collect();
    assert_eq!(faults(Temperament::from_cents(&long).unwrap_err()), [(Kind::TooLarge, "cents".into())]);
}

#[test]
fn rounding_to_a_grid_in_cents() {
    let equal = Temperament::equal(12).unwrap();
    let rounded = equal.rounded(640.0, 24, 0.5).unwrap();
    assert_eq!(rounded.len(), 24);
    // Fret 1 at 35.92044 mm goes to 36.0 mm: 1200 log2(604.07956/604.0) = 0.22803 cents sharp (computed by hand).
    assert_eq!((rounded[0].fret, rounded[0].rounded_mm), (1, 36.0));
    close(rounded[0].cents, 0.228_03, 1e-5);
    // The octave lies on every grid of which 320 mm is a multiple.
    assert_eq!((rounded[11].rounded_mm, rounded[11].cents), (320.0, 0.0));
    for fret in &rounded {
        assert!((fret.rounded_mm - fret.exact_mm).abs() <= 0.25);
        let by_length = 1200.0 * libm::log2((640.0 - fret.exact_mm) / (640.0 - fret.rounded_mm));
        close(fret.cents, by_length, 1e-9);
    }
    assert_eq!(equal.rounded(640.0, 24, 0.0).unwrap_err().faults()[0].path, "grid_mm");
    let error = Temperament::equal(1).unwrap().rounded(640.0, 9, 5.0).unwrap_err();
    assert_eq!(error.faults()[0].kind, Kind::Geometry);
}

fn temperament() -> impl Strategy<Value = Temperament> {
    prop_oneof![
        (1_u32..=99).prop_map(|n| Temperament::equal(n).unwrap()),
        Just(Temperament::rule_of_eighteen()),
        proptest::collection::vec(1.0..300.0_f64, 1..30).prop_map(|steps| {
            let mut at = 0.0;
            let rising = steps.iter().map(|step| {
                at += step;
                at
            });
            Temperament::from_cents(&rising.collect::<Vec<f64>>()).unwrap()
        }),
        proptest::collection::vec(1.0..300.0_f64, 1..30).prop_map(|steps| {
            let whole: f64 = steps.iter().sum();
            let mut at = 0.0;
            let mut ratios: Vec<f64> = steps
                .iter()
                .map(|step| {
                    at += step / whole;
                    libm::exp2(at)
                })
                .collect();
            *ratios.last_mut().unwrap() = 2.0;
            Temperament::from_ratios(&ratios).unwrap()
        }),
    ]
}

proptest! {
    #![proptest_config(seeded(256))]

    #[test]
    fn the_way_back(temperament in temperament(), scale in 200.0..1300.0, part in 0.0..1.0) {
        let fret = part * f64::from(temperament.last_fret());
        let x = temperament.position_mm(scale, fret).unwrap();
        // A unit in the last place of x, as frets: what can be asked for at most.
        let step = (temperament.position_mm(scale, fret.floor() + 1.0).unwrap_or(scale)
            - temperament.position_mm(scale, fret.floor()).unwrap())
        .max(1e-300);
        prop_assume!(x < scale);
        let tolerance = 1e-11 + 8.0 * f64::EPSILON * scale / step;
        prop_assume!(tolerance < 0.1);
        let back = temperament.fret_at(scale, x).unwrap();
        prop_assert!((back - fret).abs() <= tolerance, "{} came back as {}", fret, back);
    }

    #[test]
    fn position_and_remaining_and_cents_agree(temperament in temperament(), scale in 200.0..1300.0, part in 0.0..1.0) {
        let fret = part * f64::from(temperament.last_fret());
        let remaining = temperament.remaining(fret).unwrap();
        let x = temperament.position_mm(scale, fret).unwrap();
        prop_assert!((x - scale * (1.0 - remaining)).abs() <= 4.0 * f64::EPSILON * scale);
        let cents = temperament.cents(fret).unwrap();
        prop_assert!((remaining * libm::exp2(cents / 1200.0) - 1.0).abs() <= 1e-12);
    }

    #[test]
    fn whole_frets_have_the_bits_of_fret_positions(scale in 1e-3..1e6, divisions in 1_u32..=99) {
        let equal = Temperament::equal(divisions).unwrap();
        prop_assert_eq!(equal.positions_mm(scale, 60).unwrap(), fret_positions_mm(scale, 60, divisions).unwrap());
    }

    #[test]
    fn real_frets_never_go_backward(temperament in temperament(), a in 0.0..1.0_f64, b in 0.0..1.0_f64) {
        let last = f64::from(temperament.last_fret());
        let (low, high) = (last * a.min(b), last * a.max(b));
        let (low, high) = (temperament.position_mm(640.0, low).unwrap(), temperament.position_mm(640.0, high).unwrap());
        prop_assert!(low <= high + 2.0 * f64::EPSILON * 640.0);
    }
}
