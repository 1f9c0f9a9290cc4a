//! How far off what is told of a finding is, against its stated uncertainty: mean and spread, from both sides.

mod check_common;
mod common;

use check_common::{Normal, Spot, around, checked, point, stations, thickness};
use neckwright::inspect::{FindingKind, Reading};
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.03;

/// Mean and variance of what is off in standard uncertainties, and of how many.
#[derive(Default)]
struct Scores(Vec<f64>);

impl Scores {
    fn mean(&self) -> f64 {
        self.0.iter().sum::<f64>() / self.0.len() as f64
    }

    /// About 0, not about their mean.
    fn square(&self) -> f64 {
        self.0.iter().map(|z| z * z).sum::<f64>() / self.0.len() as f64
    }

    fn beyond(&self) -> f64 {
        self.0.iter().filter(|z| z.abs() > 1.96).count() as f64 / self.0.len() as f64
    }
}

/// A patch of 1 to 6 of 30 thicknesses, so many standard errors of its mean deep; the rest as far out as `over` says.
fn low_scores(size_sigma: f64, over: f64, trials: usize, seed: u64) -> Scores {
    let mut noise = Normal::new(seed);
    let mut scores = Scores::default();
    let necks = common::necks(50);
    for neck in necks.iter().cycle().take(trials) {
        let x = stations(neck, 30);
        let size = 1 + noise.below(6);
        let first = noise.below(30 - size);
        let depth = size_sigma * SIGMA / libm::sqrt(size as f64);
        let truth = |i: usize| if (first..first + size).contains(&i) { -depth } else { over };
        let readings: Vec<Reading> =
            (0..30).map(|i| thickness(neck, x[i], truth(i), SIGMA, &mut noise)).collect();
        let options = InspectionOptions { significance: 0.01, ..InspectionOptions::default() };
        let inspection = neck.inspect(&checked(&readings), &options).unwrap();
        let Some(low) = inspection.low.first() else { continue };
        let at = |x_mm: f64| (0..30).find(|i| (x[*i] - x_mm).abs() < 1e-6).unwrap();
        let told = at(low.x_mm[0])..=at(low.x_mm[1]);
        let count = (told.end() + 1 - told.start()) as f64;
        let mean = told.map(truth).sum::<f64>() / count;
        scores.0.push((low.amplitude_mm - mean) / low.uncertainty_mm);
    }
    scores
}

#[test]
fn a_low_patch_is_told_lower_than_it_is_by_as_much_as_is_documented() {
    for (size, over) in [(4.0, 0.0), (6.0, 0.0), (8.0, 0.0), (4.0, 0.15), (6.0, 0.15), (8.0, 0.15)] {
        let scores = low_scores(size, over, 3000, 81);
        println!(
            "{size} sigma, {over} over: {} found, mean {:.3}, square {:.3}, beyond 1.96: {:.4}",
            scores.0.len(),
            scores.mean(),
            scores.square(),
            scores.beyond()
        );
    }
}

fn bump(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

/// Length of what a column has beside others: Gram's and Schmidt's process.
fn beside(column: &[f64], others: &[Vec<f64>]) -> f64 {
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut basis: Vec<Vec<f64>> = Vec::new();
    let mut last = 0.0;
    for one in others.iter().map(Vec::as_slice).chain([column]) {
        let mut rest = one.to_vec();
        for _ in 0..2 {
            for b in &basis {
                let along = product(b, &rest);
                rest.iter_mut().zip(b).for_each(|(x, b)| *x -= along * b);
            }
        }
        last = libm::sqrt(product(&rest, &rest));
        basis.push(rest.iter().map(|x| x / last).collect());
    }
    last
}

#[test]
fn heights_around_a_section_are_as_uncertain_as_told() {
    for size in [6.0, 8.0, 16.0] {
        let mut noise = Normal::new(82);
        let mut scores = Scores::default();
        let necks = common::necks(50);
        for neck in necks.iter().cycle().take(2000) {
            let x = stations(neck, 3)[1];
            let spots = around(neck, x, 16, 3);
            let [from, to] = [spots[0].way, spots[spots.len() - 1].way];
            let half = 0.14 * (to - from);
            let centre = noise.between(from + 1.2 * half, to - 1.2 * half);
            let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
            let planted: Vec<f64> = spots.iter().map(|s| bump((s.way - centre) / half)).collect();
            let curves: [fn(&Spot) -> f64; 5] =
                [|_| 1.0, |s| s.way, |s| s.way * s.way, |s| s.share, |s| s.way * s.share];
            let height =
                sign * size * SIGMA / beside(&planted, &curves.map(|f| spots.iter().map(f).collect()));
            let readings: Vec<Reading> = spots
                .iter()
                .zip(&planted)
                .map(|(s, planted)| point(s, 0.3 + height * planted, SIGMA, &mut noise))
                .collect();
            let options = InspectionOptions { significance: 0.01, ..InspectionOptions::default() };
            let inspection = neck.inspect(&checked(&readings), &options).unwrap();
            let kind = if sign > 0.0 { FindingKind::Bump } else { FindingKind::Flat };
            let Some(f) = inspection.unfair.first() else { continue };
            let Some([a, b]) = f.around_mm else { continue };
            if f.kind == kind && (0.5 * (a + b) - centre).abs() < half {
                scores.0.push(sign * (f.amplitude_mm - height) / f.uncertainty_mm);
            }
        }
        println!(
            "around, {size} sigma: {} found, mean {:.3}, square {:.3}, beyond 1.96: {:.4}",
            scores.0.len(),
            scores.mean(),
            scores.square(),
            scores.beyond()
        );
    }
}

#[test]
fn heights_along_the_spine_are_as_uncertain_as_told() {
    for size in [6.0, 8.0, 16.0] {
        let mut noise = Normal::new(83);
        let mut scores = Scores::default();
        let necks = common::necks(50);
        for neck in necks.iter().cycle().take(2000) {
            let x = stations(neck, 40);
            let span = x[39] - x[0];
            let half = noise.between(0.07, 0.15) * span;
            let centre = noise.between(x[0] + 1.2 * half, x[39] - 1.2 * half);
            let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
            let planted: Vec<f64> = x.iter().map(|x| bump((x - centre) / half)).collect();
            let curves = [0, 1, 2, 3].map(|k| x.iter().map(|x| libm::pow(x / 100.0, f64::from(k))).collect());
            let height = sign * size * SIGMA / beside(&planted, &curves);
            let readings: Vec<Reading> = x
                .iter()
                .zip(&planted)
                .map(|(x, planted)| thickness(neck, *x, 0.8 + height * planted, SIGMA, &mut noise))
                .collect();
            let options = InspectionOptions { significance: 0.01, ..InspectionOptions::default() };
            let inspection = neck.inspect(&checked(&readings), &options).unwrap();
            let kind = if sign > 0.0 { FindingKind::Bump } else { FindingKind::Hollow };
            let Some(f) = inspection.unfair.first() else { continue };
            if f.kind == kind && (0.5 * (f.x_mm[0] + f.x_mm[1]) - centre).abs() < half {
                scores.0.push(sign * (f.amplitude_mm - height) / f.uncertainty_mm);
            }
        }
        println!(
            "along, {size} sigma: {} found, mean {:.3}, square {:.3}, beyond 1.96: {:.4}",
            scores.0.len(),
            scores.mean(),
            scores.square(),
            scores.beyond()
        );
    }
}
