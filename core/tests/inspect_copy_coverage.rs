//! What a copy says of its uncertainty, against 2,000 trials.

mod copy_common;

use copy_common::{Chance, Planted, planted, reading, readings, truth_of, with_noise};
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

fn assert_covered(covered: &BTreeMap<String, [u32; 2]>) {
    let mut sum = [0, 0];
    for (path, [inside, all]) in covered {
        let share = f64::from(*inside) / f64::from(*all);
        println!("{path}: {:.2} % of {all}", 100.0 * share);
        sum = [sum[0] + inside, sum[1] + all];
    }
    let share = f64::from(sum[0]) / f64::from(sum[1]);
    println!("all: {:.2} % of {}", 100.0 * share, sum[1]);
    assert!((0.93..=0.97).contains(&share));
    for (path, [inside, all]) in covered.iter().filter(|(_, c)| c[1] >= TRIALS / 2) {
        let share = f64::from(*inside) / f64::from(*all);
        assert!((0.93..=0.97).contains(&share), "{path}: {share}");
    }
}

fn count(
    covered: &mut BTreeMap<String, [u32; 2]>,
    p: &Planted,
    noisy: &[Reading],
    options: &CopyOptions,
) -> f64 {
    let copied = copy_neck(&p.base, noisy, options).unwrap_or_else(|e| panic!("{e}"));
    if copied.specification.shaft.profile.iter().any(|p| p.treble.is_some()) {
        println!("uneven {:?}", copied.p_value);
        covered.entry("uneven".into()).or_default()[1] += 1;
        return copied.p_value.unwrap();
    }
    for n in &copied.numbers {
        let off = (n.value - truth_of(p, &copied.specification, &n.path)).abs();
        let entry = covered.entry(n.path.clone()).or_default();
        entry[0] += u32::from(off <= Z * n.uncertainty);
        entry[1] += 1;
    }
    copied.p_value.unwrap()
}

#[test]
fn the_interval_holds_the_truth_as_often_as_it_says() {
    let mut chance = Chance::new(7);
    let p = planted(&mut chance, false, Some(0.04));
    let all = exact(&p);
    let mut covered = BTreeMap::new();
    let mut low = 0;
    for _ in 0..TRIALS {
        let noisy = with_noise(&all, &mut chance);
        low += u32::from(count(&mut covered, &p, &noisy, &CopyOptions::default()) < 0.05);
    }
    assert_covered(&covered);
    // And the chance told of the scatter is one: 5 % of trials are below 0.05, to four of its own deviations.
    println!("p below 0.05 in {:.2} %", 100.0 * f64::from(low) / f64::from(TRIALS));
    assert!((0.03..=0.07).contains(&(f64::from(low) / f64::from(TRIALS))));
}

#[test]
fn and_so_it_does_over_two_thousand_necks() {
    let mut chance = Chance::new(8);
    let mut covered = BTreeMap::new();
    for _ in 0..TRIALS {
        let p = planted(&mut chance, false, Some(0.04));
        let noisy = with_noise(&exact(&p), &mut chance);
        count(&mut covered, &p, &noisy, &CopyOptions::default());
    }
    assert_covered(&covered);
}
