//! Rows in which several things depart from the fair curve: their heights are told, each to its own side, and as far off as they
//! are said to be.

use crate::check_common::{Normal, checked, stations, thickness};
use neckwright::inspect::{Finding, FindingKind, Inspection, Reading};
use neckwright::shape::Neck;
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.05;

fn inspected(neck: &Neck, x: &[f64], off: &[f64], noise: &mut Normal) -> (Inspection, Vec<f64>) {
    let readings: Vec<Reading> =
        x.iter().zip(off).map(|(x, off)| thickness(neck, *x, *off, SIGMA, noise)).collect();
    let read = x.iter().zip(&readings).map(|(x, r)| r.value_mm - neck.thickness_mm(*x).unwrap()).collect();
    (neck.inspect(&checked(&readings), &InspectionOptions::default()).unwrap(), read)
}

/// Height over the fair curve, below it negative.
fn height(f: &Finding) -> f64 {
    f.amplitude_mm
}

/// Rows with up to so many steps of up to one part of so many of the row: how far the highest that is told stands out, in spans of
/// all deviations; how many were told, and how many of those are less than two of their own uncertainties.
fn steps(most: usize, part: usize, seed: u64) -> (f64, [usize; 2]) {
    let mut noise = Normal::new(seed);
    let (mut highest, mut told) = (0.0_f64, [0, 0]);
    let necks = crate::common::necks(20);
    for neck in necks.iter().cycle().take(4000) {
        let n = [12, 15, 22, 40][noise.below(4)];
        let x = stations(neck, n);
        let mut off = vec![0.0; n];
        for _ in 0..1 + noise.below(most) {
            let size = 1 + noise.below((n / part).max(2));
            let first = noise.below(n + 1 - size);
            let step = noise.between(-1.5, 1.5);
            off[first..first + size].iter_mut().for_each(|v| *v = step);
        }
        let (inspection, read) = inspected(neck, &x, &off, &mut noise);
        let (low, high) =
            read.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(*v), b.max(*v)));
        for f in &inspection.unfair {
            assert_eq!(f.kind == FindingKind::Bump, height(f) > 0.0, "{f:?}");
            highest = highest.max(height(f).abs() / (high - low));
            told[0] += 1;
            told[1] += usize::from(height(f).abs() < 2.0 * f.uncertainty_mm);
        }
    }
    (highest, told)
}

/// A kernel is not what a step is like, and lies beside a curve that is carried on over it: its height may be more than the span of
/// all that was read, but not out of all measure.
#[test]
fn heights_of_several_steps_are_of_the_size_of_what_was_read() {
    for (most, part, bound) in [(3, 6, 3.2), (4, 3, 4.0)] {
        let (highest, told) = steps(most, part, 9300 + part as u64);
        println!("up to {most} steps: {} told, {} unsure; the highest {highest:.2} spans", told[0], told[1]);
        assert!(told[0] > 3000 && told[1] * 1000 <= 4 * told[0], "{told:?}");
        assert!(highest <= bound, "{highest}");
    }
}

fn bump(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

#[test]
fn heights_of_two_and_three_bumps_are_as_far_off_as_they_are_told() {
    for (count, most) in [(2, 1.2), (3, 1.9)] {
        let mut noise = Normal::new(9310 + count as u64);
        let mut scores = Vec::new();
        let necks = crate::common::necks(20);
        for neck in necks.iter().cycle().take(1500) {
            let x = stations(neck, 48);
            let gap = (x[47] - x[0]) / 48.0;
            let planted: Vec<(f64, f64, f64)> = (0..count)
                .map(|k| {
                    let part = 48.0 / count as f64;
                    let centre = x[0] + gap * (part * (k as f64 + 0.5) + noise.between(-2.0, 2.0));
                    let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
                    (centre, gap * noise.between(2.5, 4.0), sign * noise.between(6.0, 12.0) * SIGMA)
                })
                .collect();
            let truth = |x: f64| planted.iter().map(|(c, w, h)| h * bump((x - c) / w)).sum::<f64>();
            let off: Vec<f64> = x.iter().map(|x| 0.3 + truth(*x)).collect();
            let (inspection, _) = inspected(neck, &x, &off, &mut noise);
            for (c, w, h) in &planted {
                let at = |f: &&Finding| (0.5 * (f.x_mm[0] + f.x_mm[1]) - c).abs() < *w && height(f) * h > 0.0;
                if let Some(f) = inspection.unfair.iter().find(at) {
                    scores.push((height(f) - h) * h.signum() / f.uncertainty_mm);
                }
            }
        }
        let n = scores.len() as f64;
        let mean = scores.iter().sum::<f64>() / n;
        let variance = scores.iter().map(|z| (z - mean) * (z - mean)).sum::<f64>() / n;
        println!("{count} bumps: {n} found, mean {mean:.3}, variance {variance:.3}");
        assert!(n > 1150.0 * count as f64 && mean.abs() < 0.35 && variance < most, "{n} {mean} {variance}");
    }
}

/// Where departures took nearly all of a row, what is left can't tell how high they are; it did once, by rounding alone.
#[test]
fn a_row_of_which_little_is_left() {
    let neck = Neck::from_json("{}").unwrap();
    let off = [
        0.4193, 0.4497, -0.0416, -0.044, 0.0326, -0.0123, -0.0121, 0.0173, -0.007, 0.0097, -0.0266, 0.2222,
        -0.0172, -0.0158, -0.0315, 0.007, 0.8694, 0.9245, 0.9185, -0.031, 1.0518, 1.1691,
    ];
    let readings: Vec<Reading> = off
        .iter()
        .enumerate()
        .map(|(i, off)| {
            let x = 100.0 + 4.0 * i as f64;
            let mut one = thickness(&neck, x, 1.0, 0.03, &mut Normal::new(1));
            one.value_mm = neck.thickness_mm(x).unwrap() + 1.0 + off;
            one
        })
        .collect();
    let inspection = neck.inspect(&checked(&readings), &InspectionOptions::default()).unwrap();
    assert!(!inspection.unfair.is_empty());
    for f in &inspection.unfair {
        assert!(f.amplitude_mm.abs() < 2.0 && f.uncertainty_mm < 1.0, "{f:?}");
    }
}
