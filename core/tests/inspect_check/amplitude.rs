//! How far off what is told of a finding is, against its stated uncertainty: mean and spread, from both sides.

use crate::check_common::{Normal, Spot, around, beside, checked, point, stations, thickness};
use neckwright::inspect::{FindingKind, Measured, Reading};
use neckwright::spec::InspectionOptions;
use std::ops::RangeInclusive;

const SIGMA: f64 = 0.03;

/// What is off, in standard uncertainties.
#[derive(Default)]
struct Scores(Vec<f64>);

impl Scores {
    fn mean(&self) -> f64 {
        self.0.iter().sum::<f64>() / self.0.len() as f64
    }

    fn variance(&self) -> f64 {
        let mean = self.mean();
        self.0.iter().map(|z| (z - mean) * (z - mean)).sum::<f64>() / self.0.len() as f64
    }

    /// Their mean is what is documented to within a tenth, and their variance within bounds.
    fn check(&self, name: &str, mean: f64, variance: RangeInclusive<f64>) {
        println!("{name}: {} found, mean {:.3}, variance {:.3}", self.0.len(), self.mean(), self.variance());
        assert!((self.mean() - mean).abs() < 0.1, "{name}: mean {} and not {mean}", self.mean());
        assert!(variance.contains(&self.variance()), "{name}: variance {}", self.variance());
    }
}

/// The variance of what is as far off as it is said to be, and where the least clear are not found.
const AS_TOLD: RangeInclusive<f64> = 0.9..=1.1;
const CUT_OFF: RangeInclusive<f64> = 0.4..=1.1;

/// A patch of 1 to `most` of `count` thicknesses, so many standard errors of its mean deep; the rest as far out as `over` says.
fn low_scores([count, most]: [usize; 2], deep: f64, over: f64, trials: usize) -> Scores {
    let mut noise = Normal::new(81);
    let mut scores = Scores::default();
    let necks = crate::common::necks(50);
    for neck in necks.iter().cycle().take(trials) {
        let x = stations(neck, count);
        let size = 1 + noise.below(most);
        let first = noise.below(count + 1 - size);
        let depth = deep * SIGMA / libm::sqrt(size as f64);
        let truth = |i: usize| if (first..first + size).contains(&i) { -depth } else { over };
        let readings: Vec<Reading> =
            (0..count).map(|i| thickness(neck, x[i], truth(i), SIGMA, &mut noise)).collect();
        let options = InspectionOptions { significance: 0.01, ..InspectionOptions::default() };
        let inspection = neck.inspect(&checked(&readings), &options).unwrap();
        let Some(low) = inspection.low.first() else { continue };
        let at = |x_mm: f64| (0..count).find(|i| (x[*i] - x_mm).abs() < 1e-6).unwrap();
        let told = at(low.x_mm[0])..=at(low.x_mm[1]);
        let places = (told.end() + 1 - told.start()) as f64;
        let mean = told.map(truth).sum::<f64>() / places;
        scores.0.push((low.amplitude_mm - mean) / low.uncertainty_mm);
    }
    scores
}

#[test]
fn a_low_patch_is_told_lower_than_it_is_by_as_much_as_is_documented() {
    // Beside wood at its size, and beside 0.15 mm that are still on. Documented at `Finding::amplitude_mm`.
    for (layout, deep, means) in [
        ([30, 6], 4.0, [-1.1, -0.95]),
        ([30, 6], 6.0, [-0.35, -0.25]),
        ([30, 6], 8.0, [-0.2, -0.15]),
        ([90, 20], 4.0, [-1.5, -1.45]),
        ([90, 20], 6.0, [-0.6, -0.55]),
        ([90, 20], 8.0, [-0.35, -0.3]),
    ] {
        for (over, mean) in [0.0, 0.15].into_iter().zip(means) {
            let scores = low_scores(layout, deep, over, 2000);
            scores.check(
                &format!("{layout:?}, {deep} sigma, {over} over"),
                mean,
                if deep > 5.0 { AS_TOLD } else { CUT_OFF },
            );
        }
    }
}

fn bump(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

#[test]
fn heights_around_a_section_are_as_uncertain_as_told() {
    for (size, mean) in [(6.0, 0.3), (8.0, 0.15), (16.0, 0.05)] {
        let mut noise = Normal::new(82);
        let mut scores = Scores::default();
        let necks = crate::common::necks(50);
        for neck in necks.iter().cycle().take(4000) {
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
        scores.check(&format!("around, {size} sigma"), mean, if size > 6.0 { AS_TOLD } else { CUT_OFF });
    }
}

#[test]
fn heights_along_the_spine_are_as_uncertain_as_told() {
    for (size, mean) in [(6.0, 0.3), (8.0, 0.15), (16.0, 0.05)] {
        let mut noise = Normal::new(83);
        let mut scores = Scores::default();
        let necks = crate::common::necks(50);
        for neck in necks.iter().cycle().take(1000) {
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
        scores.check(&format!("along, {size} sigma"), mean, if size > 6.0 { AS_TOLD } else { CUT_OFF });
    }
}

#[test]
fn deviations_are_as_uncertain_as_told() {
    let mut noise = Normal::new(84);
    let mut scores = [Scores::default(), Scores::default(), Scores::default()];
    for neck in crate::common::necks(100) {
        let mut all: Vec<Reading> = Vec::new();
        for x in stations(&neck, 10) {
            all.push(thickness(&neck, x, 0.0, SIGMA, &mut noise));
            all.extend(around(&neck, x, 5, 1).iter().map(|s| point(s, 0.0, SIGMA, &mut noise)));
            let width = neck.width_mm(x).unwrap() + SIGMA * noise.next();
            all.push(crate::check_common::reading(x, Measured::Width, width, SIGMA));
        }
        for row in neck.inspect(&checked(&all), &InspectionOptions::default()).unwrap().rows {
            let which = match row.measured {
                Measured::Thickness => 0,
                Measured::Point { .. } => 1,
                _ => 2,
            };
            scores[which].0.push(row.finished.unwrap().score());
        }
    }
    for (scores, name) in scores.iter().zip(["thickness", "points", "width"]) {
        assert!(scores.0.len() >= 1000);
        scores.check(name, 0.0, AS_TOLD);
    }
}

/// Wood left over as the map takes it for granted (see `Map`): cubic B-splines between knots, their coefficients a process in
/// either direction in which each is `2f` times the one before less `f²` times the one before that and a surprise, with
/// `f = exp(−step/length)`. Beside them every place lies off by itself by a twentieth of the spread.
struct Wood {
    reach: [f64; 2],
    knots: usize,
    coefs: Vec<Vec<f64>>,
}

impl Wood {
    const SPREAD: f64 = 0.2;
    const ALONG_MM: f64 = 45.0;
    const AROUND: f64 = 0.33;
    const KNOTS_AROUND: usize = 6;

    /// Variance between two knots, on average, of splines whose coefficients have variance 1.
    fn variance(step: f64) -> f64 {
        let [a, b, _] = Self::process(step);
        let next = a / (1.0 - b);
        let second = a * next + b;
        let hang = [1.0, next, second, a * second + b * next];
        let at = |k: usize| {
            let (_, c) = Self::splines((k as f64 + 0.5) / 10.0, 1);
            (0..16).map(|i| c[i / 4] * c[i % 4] * hang[(i / 4).abs_diff(i % 4)]).sum::<f64>()
        };
        (0..10).map(at).sum::<f64>() / 10.0
    }

    /// The two factors of the process, and a surprise's standard deviation where all have variance 1 (Yule and Walker).
    fn process(step: f64) -> [f64; 3] {
        let f = libm::exp(-step);
        let (a, b) = (2.0 * f, -f * f);
        let r = a / (1.0 - b);
        [a, b, libm::sqrt(1.0 - a * r - b * (a * r + b))]
    }

    fn new(reach: [f64; 2], knots: usize, noise: &mut Normal) -> Self {
        // So many before the first that nothing of the start is left.
        const BEFORE: usize = 60;
        let step_along = (reach[1] - reach[0]) / knots as f64 / Self::ALONG_MM;
        let step_around = 2.0 / Self::KNOTS_AROUND as f64 / Self::AROUND;
        let scale = 1.0 / libm::sqrt(Self::variance(step_along) * Self::variance(step_around));
        let (along, around) = (Self::process(step_along), Self::process(step_around));
        let mut rows: Vec<Vec<f64>> = Vec::new();
        for i in 0..BEFORE + knots + 3 {
            let mut row: Vec<f64> = Vec::new();
            for j in 0..BEFORE + Self::KNOTS_AROUND + 3 {
                let back = |k: usize| if j >= k { row[j - k] } else { 0.0 };
                row.push(around[0] * back(1) + around[1] * back(2) + around[2] * noise.next());
            }
            let back = |k: usize, j: usize| if i >= k { rows[i - k][j] } else { 0.0 };
            let row = row.iter().enumerate();
            let row = row.map(|(j, e)| along[0] * back(1, j) + along[1] * back(2, j) + along[2] * e);
            rows.push(row.collect());
        }
        let coefs =
            rows[BEFORE..].iter().map(|row| row[BEFORE..].iter().map(|c| scale * c).collect()).collect();
        Self { reach, knots, coefs }
    }

    fn splines(at: f64, knots: usize) -> (usize, [f64; 4]) {
        let at = (at * knots as f64).clamp(0.0, knots as f64);
        let i = (at as usize).min(knots - 1);
        let u = at - i as f64;
        let cube = |v: f64| v * v * v;
        let middle = |v: f64| 3.0 * cube(v) - 6.0 * v * v + 4.0;
        (i, [cube(1.0 - u), middle(u), middle(1.0 - u), cube(u)].map(|b| b / 6.0))
    }

    fn at(&self, x: f64, around: f64, noise: &mut Normal) -> f64 {
        let [from, to] = self.reach;
        let (i, a) = Self::splines((x - from) / (to - from), self.knots);
        let (j, b) = Self::splines(0.5 * (around + 1.0), Self::KNOTS_AROUND);
        let row = |k: usize| (0..4).map(|l| b[l] * self.coefs[i + k][j + l]).sum::<f64>();
        0.3 + Self::SPREAD * ((0..4).map(|k| a[k] * row(k)).sum::<f64>() + 0.05 * noise.next())
    }
}

#[test]
fn the_map_is_as_uncertain_as_told() {
    let mut noise = Normal::new(85);
    let mut scores = [Scores::default(), Scores::default()];
    for neck in crate::common::necks(150) {
        let x = stations(&neck, 16);
        let map_of = |readings: &[Reading]| {
            neck.inspect(&checked(readings), &InspectionOptions::default()).unwrap().map.unwrap()
        };
        let stations = map_of(&[thickness(&neck, x[8], 0.0, SIGMA, &mut noise)]).x_mm;
        let knots = (stations.len() - 1) / 2;
        let wood = Wood::new([stations[0], stations[2 * knots]], knots, &mut noise);
        // The last quarter of the neck is not read.
        let mut readings: Vec<Reading> = Vec::new();
        for x in &x[..12] {
            for s in around(&neck, *x, 8, 2) {
                let out = wood.at(*x, s.way / s.whole, &mut noise);
                readings.push(point(&s, out, SIGMA, &mut noise));
            }
        }
        let map = map_of(&readings);
        for (i, at) in map.x_mm.iter().enumerate() {
            for (j, place) in map.around.iter().enumerate() {
                let cell = map.cell(i, j).unwrap();
                let off = (cell.left_mm - wood.at(*at, *place, &mut noise)) / cell.uncertainty_mm;
                scores[usize::from(*at < x[0] || *at > x[11])].0.push(off);
            }
        }
    }
    // Spread and lengths are taken as if they were known. Documented at `Cell::uncertainty_mm`.
    scores[0].check("the map where it was read", 0.0, 1.0..=1.35);
    scores[1].check("the map where it was not", 0.0, 1.0..=1.5);
}
