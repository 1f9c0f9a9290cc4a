//! What a copy says of its uncertainty, against 2,000 trials.

mod copy_common;

use copy_common::{Chance, Planted, gathered, planted, reading, readings, truth_of, with_noise};
use neckwright::inspect::{Measured, Reading, copy_neck};
use neckwright::shape::Side;
use neckwright::spec::CopyOptions;
use std::collections::BTreeMap;

const TRIALS: u32 = 2000;
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

/// Of every number how often the interval held its truth, and of how many; necks that were taken for uneven ones (a chance of
/// one in a thousand) and those refused because what was nearest to the readings can't be built.
#[derive(Default)]
struct Count {
    covered: BTreeMap<String, [u32; 2]>,
    uneven: u32,
    refused: u32,
}

impl Count {
    /// Copies from readings with noise; gives the chance of their scatter.
    fn add(&mut self, p: &Planted, noisy: &[Reading]) -> Option<f64> {
        let Ok(copied) = copy_neck(&p.base, &gathered(noisy), &CopyOptions::default()) else {
            self.refused += 1;
            return None;
        };
        if copied.specification.shaft.profile.iter().any(|p| p.treble.is_some()) {
            self.uneven += 1;
            return copied.p_value;
        }
        for n in &copied.numbers {
            let off = (n.value - truth_of(p, &copied.specification, &n.path)).abs();
            let entry = self.covered.entry(n.path.clone()).or_default();
            entry[0] += u32::from(off <= Z * n.uncertainty);
            entry[1] += 1;
        }
        copied.p_value
    }

    fn assert(&self) {
        let mut sum = [0, 0];
        for (path, [inside, all]) in &self.covered {
            let share = f64::from(*inside) / f64::from(*all);
            println!("{path}: {:.2} % of {all}", 100.0 * share);
            assert!(*all < TRIALS / 2 || (0.93..=0.97).contains(&share), "{path}: {share}");
            sum = [sum[0] + inside, sum[1] + all];
        }
        let share = f64::from(sum[0]) / f64::from(sum[1]);
        println!(
            "all: {:.2} % of {}; {} uneven, {} refused",
            100.0 * share,
            sum[1],
            self.uneven,
            self.refused
        );
        assert!((0.93..=0.97).contains(&share));
        assert!(self.uneven <= 8 && self.refused <= 6);
        assert!(self.covered.len() >= 14);
    }
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
        low += u32::from(count.add(&p, &noisy).is_some_and(|p| p < 0.05));
    }
    count.assert();
    // And the chance told of the scatter is one: 5 % of trials are below 0.05, to four of its own deviations.
    let share = f64::from(low) / f64::from(TRIALS);
    println!("p below 0.05 in {:.2} %", 100.0 * share);
    assert!((0.03..=0.07).contains(&share));
}

#[test]
fn and_so_it_does_over_two_thousand_necks() {
    let mut chance = Chance::new(8);
    let mut count = Count::default();
    for _ in 0..TRIALS {
        let p = planted(&mut chance, false, Some(0.04));
        let noisy = with_noise(&exact(&p), &mut chance);
        count.add(&p, &noisy);
    }
    count.assert();
}
