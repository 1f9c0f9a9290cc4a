//! What a copy says of its uncertainty, against 2,000 trials.

use crate::copy_common::{
    Chance, Planted, differing, gathered, planted, reading, readings, truth_of, with_noise,
};
use neckwright::inspect::{Measured, Reading, copy_neck};
use neckwright::shape::Side;
use neckwright::spec::{CopyOptions, Judging};
use std::collections::BTreeMap;

const TRIALS: u32 = 1000;
/// Two-sided 95 % of a normal number.
const Z: f64 = 1.959_964;

/// Readings of a caliper, a rule and a contour gauge, with the carve line read on both sides of each section.
fn exact(p: &Planted) -> Vec<Reading> {
    let mut all = readings(p, 12, 0.05);
    for at in p.sections {
        for side in Side::BOTH {
            let depth = p.neck.carve_line_mm(p.x(&at), side).unwrap();
            all.push(reading(at, Measured::CarveLine(side), depth, 0.05));
        }
    }
    all
}

/// Of every number its errors, each over the uncertainty told; and the copies refused because what was nearest to the readings
/// can't be built.
#[derive(Default)]
struct Count {
    errors: BTreeMap<String, Vec<f64>>,
    /// Those of copies in which the base had a say in every number: as much as it should, and more.
    pulled: [Vec<f64>; 2],
    pulls: [u32; 2],
    uneven: u32,
    refused: u32,
    trials: u32,
}

impl Count {
    /// Copies from readings with noise; gives the chance of their scatter.
    fn add(&mut self, p: &Planted, noisy: &[Reading], options: &CopyOptions) -> Option<f64> {
        self.trials += 1;
        let Ok(copied) = copy_neck(&p.base, &gathered(noisy), options) else {
            self.refused += 1;
            return None;
        };
        self.uneven += u32::from(copied.specification.shaft.profile.iter().any(|p| p.treble.is_some()));
        if let Some(pull) = copied.pull {
            assert!(copied.numbers.iter().all(|n| n.by_base > 0.0 && n.by_base <= 1.0));
            self.pulls[usize::from(pull > 1.0)] += 1;
        }
        for n in &copied.numbers {
            let off = n.value - truth_of(p, &copied.specification, &n.path);
            if let Some(pull) = copied.pull {
                self.pulled[usize::from(pull > 1.0)].push(off / n.uncertainty);
            }
            self.errors.entry(n.path.clone()).or_default().push(off / n.uncertainty);
        }
        copied.p_value
    }

    /// Holds every path that at least half the trials have to its bounds of coverage and of mean square; gives the coverage of all
    /// numbers.
    fn assert(&self, line_read: bool) -> f64 {
        let mut sum = [0, 0];
        for (path, errors) in &self.errors {
            let count = errors.iter().filter(|e| e.abs() <= Z).count();
            let share = count as f64 / errors.len() as f64;
            let mean = errors.iter().map(|e| e * e).sum::<f64>() / errors.len() as f64;
            println!("{path}: {:.2} % of {}, mean square {mean:.2}", 100.0 * share, errors.len());
            let line = path.starts_with("shaft.carve_line") && !line_read;
            let (inside, square) = if line { (LINE_COVERED, LINE_SQUARE) } else { (COVERED, SQUARE) };
            if errors.len() >= self.trials as usize / 2 {
                assert!((inside[0]..=inside[1]).contains(&share), "{path}: {share}");
                assert!((square[0]..=square[1]).contains(&mean), "{path}: mean square {mean}");
            }
            sum = [sum[0] + count, sum[1] + errors.len()];
        }
        let share = sum[0] as f64 / sum[1] as f64;
        println!(
            "all: {:.2} % of {}; {} uneven, {} refused",
            100.0 * share,
            sum[1],
            self.uneven,
            self.refused
        );
        share
    }
}

/// Bounds of a share of 95 % and of a mean square of 1. Over 2,000 trials their sampling errors are 0.5 % and 0.03.
const COVERED: [f64; 2] = [0.93, 0.97];
const SQUARE: [f64; 2] = [0.78, 1.2];
/// The depth of a carve line that is not read bends with the lean, and its uncertainty is first order.
const LINE_COVERED: [f64; 2] = [0.90, 0.97];
const LINE_SQUARE: [f64; 2] = [0.85, 1.5];

/// The chance told of the scatter is one: 5 % of trials are below 0.05, to four of its own deviations.
fn assert_chance(low: u32) {
    let share = f64::from(low) / f64::from(TRIALS);
    println!("p below 0.05 in {:.2} %", 100.0 * share);
    assert!((0.03..=0.07).contains(&share), "{share}");
}

/// The base's lean is the neck's, and counts as known.
fn lean_known() -> CopyOptions {
    CopyOptions { lean: Judging::Never, ..CopyOptions::default() }
}

#[test]
fn the_interval_holds_the_truth_as_often_as_it_says() {
    let mut chance = Chance::new(7);
    let p = planted(&mut chance, false, Some(0.04));
    let all = exact(&p);
    let mut count = Count::default();
    let mut low = 0;
    for _ in 0..TRIALS {
        let noisy = with_noise(&all, &mut chance);
        low += u32::from(count.add(&p, &noisy, &lean_known()).is_some_and(|p| p < 0.05));
    }
    let share = count.assert(true);
    assert!((0.93..=0.97).contains(&share) && count.errors.len() >= 14);
    assert!(count.uneven <= 4 && count.refused <= 3);
    assert_chance(low);
}

#[test]
fn and_so_it_does_over_two_thousand_necks() {
    let mut chance = Chance::new(8);
    let mut count = Count::default();
    for _ in 0..TRIALS {
        let p = planted(&mut chance, false, Some(0.04));
        let noisy = with_noise(&exact(&p), &mut chance);
        count.add(&p, &noisy, &lean_known());
    }
    let share = count.assert(true);
    assert!((0.93..=0.97).contains(&share) && count.errors.len() >= 14);
    assert!(count.uneven <= 4 && count.refused <= 3);
}

/// No carve line is read, and lean, shoulder, belly and carve line are off the base's by as much as necks are said to differ.
#[test]
fn and_where_the_base_is_wrong_in_what_the_readings_hardly_tell() {
    let mut chance = Chance::new(9);
    let (mut count, mut low) = (Count::default(), 0);
    for _ in 0..TRIALS {
        let p = differing(&mut chance, false);
        let noisy = with_noise(&readings(&p, 12, 0.05), &mut chance);
        low += u32::from(count.add(&p, &noisy, &CopyOptions::default()).is_some_and(|p| p < 0.05));
    }
    let share = count.assert(false);
    assert!((0.94..=0.96).contains(&share) && count.errors.len() >= 16);
    assert!(count.uneven <= 4 && count.refused <= 5);
    assert_chance(low);
}

/// And the treble side has an offset, a belly and a lean of its own, of which the base knows nothing.
#[test]
fn and_so_it_does_over_uneven_necks() {
    let mut chance = Chance::new(10);
    let options = CopyOptions { uneven: Judging::Always, ..CopyOptions::default() };
    let (mut count, mut low) = (Count::default(), 0);
    for _ in 0..TRIALS {
        let p = differing(&mut chance, true);
        let noisy = with_noise(&readings(&p, 12, 0.05), &mut chance);
        low += u32::from(count.add(&p, &noisy, &options).is_some_and(|p| p < 0.05));
    }
    let share = count.assert(false);
    assert!((0.94..=0.96).contains(&share) && count.errors.len() >= 22);
    assert!(count.refused <= 15);
    // And those by themselves in which the base had a say in every number, as nearest to the readings there was no neck.
    for (pulled, pulls) in count.pulled.iter().zip(count.pulls) {
        let of = pulled.len().max(1) as f64;
        let share = pulled.iter().filter(|e| e.abs() <= Z).count() as f64 / of;
        let mean = pulled.iter().map(|e| e * e).sum::<f64>() / of;
        println!("pulled: {pulls} copies, {:.2} % of {}, mean square {mean:.2}", 100.0 * share, pulled.len());
        assert!(pulls >= 30 && (0.92..=0.97).contains(&share), "{pulls} copies: {share}");
        assert!((SQUARE[0]..=SQUARE[1]).contains(&mean), "mean square {mean}");
    }
    assert_chance(low);
}
