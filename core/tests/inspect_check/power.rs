//! What is planted small is found as often as it can be at the stated significance: by a simulation that is no part of the
//! library, of the statistics that the library says it looks at.

use crate::check_common::{Normal, Spot, around, checked, limits, point, stations, thickness};
use neckwright::inspect::Reading;
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.03;
/// Standard errors of what is planted.
const SIZE: f64 = 6.0;
const SIGNIFICANCE: f64 = 0.01;
const NECKS: usize = 1000;
const TRIALS: usize = 20_000;

fn options() -> InspectionOptions {
    InspectionOptions { significance: SIGNIFICANCE, ..InspectionOptions::default() }
}

fn product(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn bump(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

/// What is exceeded by a share of values.
fn quantile(mut values: Vec<f64>, share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    values[((1.0 - share) * values.len() as f64) as usize]
}

fn noise_of(n: usize, noise: &mut Normal) -> Vec<f64> {
    (0..n).map(|_| noise.next()).collect()
}

/// The share that was found against the share that can be.
fn as_expected(name: &str, found: usize, power: f64) {
    println!("{name}: found {found} of {NECKS}, expected a share of {power}");
    assert!((0.5..0.999).contains(&power), "{name}: a share of {power} says little");
    let allowed = limits(NECKS, power);
    assert!(allowed.contains(&found), "{name}: {found} not in {allowed:?}");
}

/// How far the stretch that lies lowest lies below 0: stretches of 1, 2, 3, 5, … places, a quarter of their size apart.
fn lowest(values: &[f64]) -> f64 {
    let (mut a, mut b, mut most) = (1, 2, f64::NEG_INFINITY);
    while a <= values.len() {
        for start in (0..=values.len() - a).step_by((a / 4).max(1)) {
            let sum: f64 = values[start..start + a].iter().sum();
            most = most.max(-sum / libm::sqrt(a as f64));
        }
        (a, b) = (b, a + b);
    }
    most
}

#[test]
fn low_stretches_along_the_spine() {
    let mut noise = Normal::new(41);
    let n = 30;
    let plant = |noise: &mut Normal| {
        let size = 1 + noise.below(6);
        let first = noise.below(n - size);
        (first..first + size, -SIZE / libm::sqrt(size as f64))
    };
    let limit = quantile((0..TRIALS).map(|_| lowest(&noise_of(n, &mut noise))).collect(), SIGNIFICANCE);
    let mut power = 0;
    for _ in 0..TRIALS {
        let mut values = noise_of(n, &mut noise);
        let (places, deep) = plant(&mut noise);
        values[places].iter_mut().for_each(|v| *v += deep);
        power += usize::from(lowest(&values) > limit);
    }
    let mut found = 0;
    for neck in crate::common::necks(NECKS) {
        let (places, deep) = plant(&mut noise);
        let low = |i: usize| if places.contains(&i) { deep * SIGMA } else { 0.0 };
        let x = stations(&neck, n);
        let readings: Vec<Reading> =
            (0..n).map(|i| thickness(&neck, x[i], low(i), SIGMA, &mut noise)).collect();
        found += usize::from(!neck.inspect(&checked(&readings), &options()).unwrap().low.is_empty());
    }
    as_expected("low along", found, power as f64 / TRIALS as f64);
}

/// Kernels over a row, each square to its fair curves and of length 1.
struct Kernels {
    fair: Vec<Vec<f64>>,
    all: Vec<Vec<f64>>,
}

impl Kernels {
    fn new(at: &[f64], curves: Vec<Vec<f64>>) -> Self {
        let mut kernels = Self { fair: Vec::new(), all: Vec::new() };
        for curve in curves {
            let rest = kernels.rest(&curve);
            let size = libm::sqrt(product(&rest, &rest));
            kernels.fair.push(rest.iter().map(|v| v / size).collect());
        }
        let (from, span) = (at[0], at[at.len() - 1] - at[0]);
        let mut width = 1.5 * span / (at.len() - 1) as f64;
        while width <= 0.35 * span {
            let count = libm::ceil(2.0 * span / width) as usize;
            for i in 0..=count {
                let centre = from + span * i as f64 / count as f64;
                let kernel: Vec<f64> = at.iter().map(|at| bump((at - centre) / width)).collect();
                let square = product(&kernel, &kernel);
                let fourth: f64 = kernel.iter().map(|k| k * k * k * k).sum();
                let rest = kernels.rest(&kernel);
                let left = product(&rest, &rest);
                let alone = kernel.iter().filter(|k| **k > 0.3).count() < 2 || square * square < 1.5 * fourth;
                if !alone && left > 0.25 * square {
                    kernels.all.push(rest.iter().map(|v| v / libm::sqrt(left)).collect());
                }
            }
            width *= 2.0;
        }
        kernels
    }

    fn rest(&self, column: &[f64]) -> Vec<f64> {
        let mut rest = column.to_vec();
        for _ in 0..2 {
            for f in &self.fair {
                let along = product(f, &rest);
                rest.iter_mut().zip(f).for_each(|(r, f)| *r -= along * f);
            }
        }
        rest
    }

    /// A planted bump or flat of the stated size.
    fn planted(&self, at: &[f64], centre: f64, half: f64) -> Vec<f64> {
        let shape: Vec<f64> = at.iter().map(|at| bump((at - centre) / half)).collect();
        let rest = self.rest(&shape);
        let height = SIZE / libm::sqrt(product(&rest, &rest));
        shape.iter().map(|s| s * height).collect()
    }

    fn most(&self, values: &[f64]) -> f64 {
        self.all.iter().map(|k| libm::fabs(product(k, values))).fold(0.0, f64::max)
    }
}

#[test]
fn hollows_and_bumps_along_the_spine() {
    let mut noise = Normal::new(42);
    let n = 40;
    // Evenly spaced stations: only their number counts.
    let at: Vec<f64> = (0..n).map(|i| (f64::from(i) + 0.5) / f64::from(n)).collect();
    let cubic = |at: &[f64]| -> Vec<Vec<f64>> {
        (0..4).map(|k| at.iter().map(|x| libm::pow(x - 0.5, f64::from(k))).collect()).collect()
    };
    let kernels = Kernels::new(&at, cubic(&at));
    let span = at[at.len() - 1] - at[0];
    let plant = |noise: &mut Normal| {
        let half = noise.between(0.07, 0.15) * span;
        let centre = noise.between(at[0] + 1.2 * half, at[at.len() - 1] - 1.2 * half);
        let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
        kernels.planted(&at, centre, half).into_iter().map(|v| sign * v).collect::<Vec<f64>>()
    };
    let nothing = (0..TRIALS).map(|_| kernels.most(&noise_of(at.len(), &mut noise))).collect();
    let limit = quantile(nothing, SIGNIFICANCE);
    let mut power = 0;
    for _ in 0..TRIALS {
        let mut values = noise_of(at.len(), &mut noise);
        values.iter_mut().zip(plant(&mut noise)).for_each(|(v, p)| *v += p);
        power += usize::from(kernels.most(&values) > limit);
    }
    let mut found = 0;
    for neck in crate::common::necks(NECKS) {
        let out = plant(&mut noise);
        let x = stations(&neck, at.len());
        let readings: Vec<Reading> =
            (0..at.len()).map(|i| thickness(&neck, x[i], 0.8 + SIGMA * out[i], SIGMA, &mut noise)).collect();
        found += usize::from(!neck.inspect(&checked(&readings), &options()).unwrap().unfair.is_empty());
    }
    as_expected("along", found, power as f64 / TRIALS as f64);
}

#[test]
fn flats_and_bumps_around_a_section() {
    let mut noise = Normal::new(43);
    let sections = 5;
    let kernels_of = |spots: &[Spot]| {
        let way: Vec<f64> = spots.iter().map(|s| s.way).collect();
        let middle = 0.5 * (way[0] + way[way.len() - 1]);
        let curves: [&dyn Fn(&Spot) -> f64; 5] =
            [&|_| 1.0, &|s| s.way - middle, &|s| (s.way - middle) * (s.way - middle), &|s| s.share, &|s| {
                (s.way - middle) * s.share
            }];
        Kernels::new(&way, curves.iter().map(|f| spots.iter().map(f).collect()).collect())
    };
    let plant = |spots: &[Spot], kernels: &Kernels, noise: &mut Normal| {
        let way: Vec<f64> = spots.iter().map(|s| s.way).collect();
        let [from, to] = [way[0], way[way.len() - 1]];
        let half = 0.14 * (to - from);
        let centre = noise.between(from + 1.2 * half, to - 1.2 * half);
        let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
        kernels.planted(&way, centre, half).into_iter().map(|v| sign * v).collect::<Vec<f64>>()
    };
    // Necks differ little in what is looked at: some stand for all.
    let few = 50;
    let each = TRIALS / few;
    let (mut nothing, mut something) = (Vec::new(), Vec::new());
    let all = crate::common::necks(NECKS);
    for neck in all.iter().step_by(NECKS / few) {
        let spots: Vec<Vec<Spot>> =
            stations(neck, sections).into_iter().map(|x| around(neck, x, 16, 3)).collect();
        let kernels: Vec<Kernels> = spots.iter().map(|s| kernels_of(s)).collect();
        for _ in 0..each {
            let values: Vec<Vec<f64>> = spots.iter().map(|s| noise_of(s.len(), &mut noise)).collect();
            let most = |k: usize| kernels[k].most(&values[k]);
            nothing.push((0..sections).map(most).fold(0.0, f64::max));
            let which = noise.below(sections);
            let out = plant(&spots[which], &kernels[which], &mut noise);
            let with: Vec<f64> = values[which].iter().zip(out).map(|(v, p)| v + p).collect();
            let rest = (0..sections).filter(|k| *k != which).map(most).fold(0.0, f64::max);
            something.push(rest.max(kernels[which].most(&with)));
        }
    }
    let limit = quantile(nothing, SIGNIFICANCE);
    let power = something.iter().filter(|t| **t > limit).count() as f64 / something.len() as f64;
    let mut found = 0;
    for neck in &all {
        let which = noise.below(sections);
        let mut readings: Vec<Reading> = Vec::new();
        for (i, x) in stations(neck, sections).into_iter().enumerate() {
            let spots = around(neck, x, 16, 3);
            let out = if i == which {
                plant(&spots, &kernels_of(&spots), &mut noise)
            } else {
                vec![0.0; spots.len()]
            };
            for (spot, out) in spots.iter().zip(out) {
                readings.push(point(spot, 0.3 + SIGMA * out, SIGMA, &mut noise));
            }
        }
        found += usize::from(!neck.inspect(&checked(&readings), &options()).unwrap().unfair.is_empty());
    }
    as_expected("around", found, power);
}
