//! Departures that are not shaped like the kernel that is looked for: single places and steps, along the spine and around a
//! section. Nothing is told where the wood is fair, or no more often than is promised, and they themselves are found.

use crate::check_common::{Normal, around, beside, checked, point, stations, thickness};
use neckwright::inspect::{Finding, Reading};
use neckwright::shape::Neck;
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.05;
const TRIALS: usize = 300;

/// What was told of steps that stand out clearly, and of others.
#[derive(Default)]
struct Count {
    rows: [usize; 2],
    /// Rows in which something was told wholly outside of the step.
    outside: [usize; 2],
    /// Rows in which the step was told.
    told: [usize; 2],
}

/// Steps that stand out by no fewer standard uncertainties are clear.
const CLEAR: f64 = 8.0;

/// A row: its places, and the curves that are fair on it.
struct Row {
    at: Vec<f64>,
    curves: Vec<Vec<f64>>,
}

/// Reads rows with a step of so many places somewhere.
fn count(
    size: usize,
    deep: f64,
    mut noise: Normal,
    row: impl Fn(&Neck) -> Row,
    read: impl Fn(&Neck, &dyn Fn(usize) -> f64, &mut Normal) -> Vec<Reading>,
    ends: fn(&Finding) -> [f64; 2],
) -> Count {
    let mut count = Count::default();
    for neck in crate::common::necks(20).iter().cycle().take(TRIALS) {
        let Row { at, curves } = row(neck);
        let from = noise.below(at.len() + 1 - size);
        let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
        let step = |i: usize| if (from..from + size).contains(&i) { sign * deep } else { 0.0 };
        let column: Vec<f64> = (0..at.len()).map(step).collect();
        let clear = usize::from(beside(&column, &curves) >= CLEAR * SIGMA);
        let readings = read(neck, &step, &mut noise);
        let inspection = neck.inspect(&checked(&readings), &InspectionOptions::default()).unwrap();
        let outside = |f: &Finding| {
            let [a, b] = ends(f);
            b < at[from] || a > at[from + size - 1]
        };
        count.rows[clear] += 1;
        count.outside[clear] += usize::from(inspection.unfair.iter().any(outside));
        count.told[clear] += usize::from(inspection.unfair.iter().any(|f| !outside(f)));
    }
    count
}

/// What is told outside of clear steps, and of others.
fn held(name: &str, count: &Count) {
    for (k, share) in [(0, 0.25), (1, 0.02)] {
        let mean = share * count.rows[k] as f64;
        let most = mean + 2.576 * libm::sqrt(mean);
        assert!(count.outside[k] as f64 <= most, "{name}: outside {:?} of {:?}", count.outside, count.rows);
    }
}

/// Beside clear steps the wood is told as off in no more than two of a hundred rows: it is in one of a hundred where nothing
/// is off, as stated; the other is room for steps that a kernel elsewhere matches better by chance. Counts may be more by
/// what comes by chance once in two hundred times (memory: 2.576 standard deviations). Of a single place nothing has to be
/// told.
fn check(name: &str, size: usize, count: &Count, all: &mut Count) {
    for k in 0..2 {
        all.rows[k] += count.rows[k];
        all.outside[k] += count.outside[k];
    }
    let [few, rows] = count.rows;
    println!(
        "{name}: clear: outside {} and told {} of {rows}; others: outside {} and told {} of {few}",
        count.outside[1], count.told[1], count.outside[0], count.told[0]
    );
    held(name, count);
    let share = if name.contains("along") { 0.97 } else { 0.87 };
    let least = share * rows as f64 - 2.576 * libm::sqrt((1.0 - share) * rows as f64);
    assert!(size == 1 || count.told[1] as f64 >= least, "{name}: told {} of {rows}", count.told[1]);
}

fn powers(at: &[f64], degree: i32) -> Vec<Vec<f64>> {
    let [a, b] = [at[0], at[at.len() - 1]];
    let unit = |x: &f64| (2.0 * x - a - b) / (b - a);
    (0..=degree).map(|k| at.iter().map(|x| libm::pow(unit(x), f64::from(k))).collect()).collect()
}

fn along(n: usize, size: usize, deep: f64, noise: Normal) -> Count {
    let row = |neck: &Neck| {
        let at = stations(neck, n);
        let curves = powers(&at, if n < 10 { 1 } else { 3 });
        Row { at, curves }
    };
    let read = |neck: &Neck, off: &dyn Fn(usize) -> f64, noise: &mut Normal| {
        let x = stations(neck, n).into_iter().enumerate();
        x.map(|(i, x)| thickness(neck, x, off(i), SIGMA, noise)).collect()
    };
    count(size, deep, noise, row, read, |f| f.x_mm)
}

fn section([carved, flat]: [usize; 2], size: usize, deep: f64, noise: Normal) -> Count {
    let spots = |neck: &Neck| around(neck, stations(neck, 3)[1], carved, flat);
    let row = |neck: &Neck| {
        let spots = spots(neck);
        let at: Vec<f64> = spots.iter().map(|s| s.way).collect();
        let mut curves = powers(&at, 2);
        curves.push(spots.iter().map(|s| s.share).collect());
        curves.push(spots.iter().map(|s| s.way * s.share).collect());
        Row { at, curves }
    };
    let read = |neck: &Neck, off: &dyn Fn(usize) -> f64, noise: &mut Normal| {
        spots(neck).iter().enumerate().map(|(i, s)| point(s, off(i), SIGMA, noise)).collect()
    };
    count(size, deep, noise, row, read, |f| f.around_mm.unwrap())
}

#[test]
fn steps_along_the_spine() {
    let (mut seed, mut all) = (9100, Count::default());
    for (n, size) in [(8, 1), (8, 2), (16, 1), (16, 2), (16, 3), (16, 5), (40, 1), (40, 3), (40, 6), (40, 12)]
    {
        for deep in [0.3, 0.5, 0.8, 1.2, 2.0] {
            seed += 1;
            let count = along(n, size, deep, Normal::new(seed));
            check(&format!("{size} of {n} along, {deep} mm"), size, &count, &mut all);
        }
    }
    held("all along", &all);
}

#[test]
fn steps_around_a_section() {
    let (mut seed, mut all) = (9200, Count::default());
    for (carved, flat, size) in [
        (7, 1, 1),
        (7, 1, 2),
        (15, 1, 1),
        (15, 1, 2),
        (15, 1, 4),
        (15, 1, 6),
        (30, 2, 1),
        (30, 2, 4),
        (30, 2, 8),
        (8, 0, 3),
        (8, 0, 1),
    ] {
        for deep in [0.3, 0.5, 0.8, 1.2, 2.0] {
            let name = format!("{size} of {carved} and {flat} around, {deep} mm");
            seed += 1;
            check(&name, size, &section([carved, flat], size, deep, Normal::new(seed)), &mut all);
        }
    }
    held("all around", &all);
}
