//! Fret positions against 50 digits, and by properties over all that may be asked for.

mod seeded;

use neckwright::layout::{fret_positions_into, fret_positions_mm};
use proptest::prelude::*;
use seeded::seeded;

/// Made by `tests/reference/fret_positions.py`, which says how it is to be read.
const EXACT: &str = include_str!("../../tests/reference/fret_positions.txt");

fn double(bits: &str) -> f64 {
    f64::from_bits(u64::from_str_radix(bits, 16).unwrap())
}

fn ulp(value: f64) -> f64 {
    f64::from_bits(value.to_bits() + 1) - value
}

#[test]
fn within_one_ulp_of_the_exact_value() {
    let (mut worst, mut cases, mut not_nearest) = (0.0_f64, 0, 0);
    for line in EXACT.lines() {
        let mut words = line.split(' ');
        let divisions: u32 = words.next().unwrap().parse().unwrap();
        let scale = double(words.next().unwrap());
        let found = fret_positions_mm(scale, 36, divisions).unwrap();
        for (found, word) in found.iter().zip(words) {
            let (nearest, residue) = word.split_once(':').unwrap();
            let nearest = double(nearest);
            let off = (found - nearest) / ulp(nearest) - residue.parse::<f64>().unwrap() / 1000.0;
            worst = worst.max(off.abs());
            cases += 1;
            not_nearest += usize::from(*found != nearest);
        }
    }
    println!("{cases} positions: worst {worst:.3} ulp, {not_nearest} not the nearest double");
    assert_eq!(cases, 7 * 25 * 36);
    assert!(worst <= 1.0, "{worst} ulp");
    assert_eq!(not_nearest, 0);
}

proptest! {
    #![proptest_config(seeded(256))]

    #[test]
    fn an_octave_halves_what_is_left(scale in 1e-3..1e6, divisions in 1_u32..=99) {
        let frets = fret_positions_mm(scale, 60, divisions).unwrap();
        let octave = divisions as usize;
        for n in 0..60 - octave.min(60) {
            let left = scale - if n == 0 { 0.0 } else { frets[n - 1] };
            let halved = scale - frets[n + octave - 1];
            prop_assert!((halved - left / 2.0).abs() <= ulp(scale));
        }
    }

    #[test]
    fn the_buffer_gets_the_same_bits(scale in 1e-3..1e6, divisions in 1_u32..=99, count in 0_u32..=60) {
        let mut out = vec![0.0; count as usize];
        fret_positions_into(scale, divisions, &mut out).unwrap();
        prop_assert_eq!(fret_positions_mm(scale, count, divisions).unwrap(), out);
    }

    #[test]
    fn never_backward_and_never_past_the_bridge(scale in 1e-3..1e6, divisions in 1_u32..=99) {
        let frets = fret_positions_mm(scale, 60, divisions).unwrap();
        prop_assert!(frets[0] > 0.0 && frets[59] <= scale);
        prop_assert!(frets.is_sorted());
    }

    #[test]
    fn scaling_by_two_scales_the_positions(scale in 1e-3..5e5, divisions in 1_u32..=99) {
        let frets = fret_positions_mm(scale, 60, divisions).unwrap();
        let twice = fret_positions_mm(2.0 * scale, 60, divisions).unwrap();
        prop_assert!(frets.iter().zip(&twice).all(|(a, b)| 2.0 * a == *b));
    }
}
