//! What is planted is found, in its place, as large as it is.

use crate::check_common::{
    Normal, Spot, around, beside, checked, limits, point, reading, stations, thickness,
};
use neckwright::inspect::{FindingKind, Inspection, Measured, Place, Reading};
use neckwright::shape::{Neck, Side};
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.03;
const NECKS: usize = 1000;

fn inspect(neck: &Neck, readings: &[Reading]) -> Inspection {
    neck.inspect(
        &checked(readings),
        &InspectionOptions { significance: 0.01, ..InspectionOptions::default() },
    )
    .unwrap()
}

fn bump(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

/// Of so many trials the share, and whether it is no less than a chance says.
fn at_least(name: &str, hits: usize, trials: usize, chance: f64) {
    println!("{name}: {hits} of {trials}");
    let allowed = limits(trials, chance);
    assert!(hits >= *allowed.start(), "{name}: {hits} of {trials}, at least {} wanted", allowed.start());
}

#[test]
fn low_stretches_along_the_spine() {
    let mut noise = Normal::new(11);
    let (mut found, mut covered, mut placed, mut whole) = (0, 0, 0, 0);
    for neck in crate::common::necks(NECKS) {
        let x = stations(&neck, 30);
        let size = 1 + noise.below(6);
        let first = noise.below(30 - size);
        // 8 standard errors of the stretch's mean.
        let depth = 8.0 * SIGMA / libm::sqrt(size as f64);
        let truth = |x_mm: f64| {
            if x_mm >= x[first] - 1e-9 && x_mm <= x[first + size - 1] + 1e-9 { -depth } else { 0.0 }
        };
        let readings: Vec<Reading> =
            x.iter().map(|x| thickness(&neck, *x, truth(*x), SIGMA, &mut noise)).collect();
        let inspection = inspect(&neck, &readings);
        let at = |x_mm: f64| (0..30).find(|i| (x[*i] - x_mm).abs() < 1e-6).unwrap();
        let Some(low) = inspection.low.first() else { continue };
        found += 1;
        assert_eq!((low.kind, low.place, low.around_mm), (FindingKind::Low, Place::Spine, None));
        assert!(low.amplitude_mm < 0.0 && low.p_value <= 0.01);
        let (a, b) = (at(low.x_mm[0]), at(low.x_mm[1]));
        placed += usize::from(a < first + size && b >= first);
        whole += usize::from(a.abs_diff(first) <= 2 && b.abs_diff(first + size - 1) <= 2);
        // The mean of what is really there over the stretch that was told.
        let mean = (a..=b).map(|i| truth(x[i])).sum::<f64>() / (b + 1 - a) as f64;
        covered += usize::from((low.amplitude_mm - mean).abs() <= 1.96 * low.uncertainty_mm);
    }
    at_least("low along: found", found, NECKS, 0.985);
    at_least("low along: in its place", placed, found, 0.995);
    at_least("low along: its ends within two readings", whole, found, 0.93);
    at_least("low along: as low as told", covered, found, 0.95);
}

/// Points of some sections with something planted on one of them, an allowance on where `allowance` says so.
fn sections(
    neck: &Neck,
    count: usize,
    out: &dyn Fn(usize, &Spot) -> f64,
    noise: &mut Normal,
) -> Vec<Reading> {
    let mut all = Vec::new();
    for (i, x) in stations(neck, count).into_iter().enumerate() {
        for spot in around(neck, x, 16, 3) {
            all.push(point(&spot, out(i, &spot), SIGMA, noise));
        }
    }
    all
}

#[test]
fn flats_and_bumps_around_a_section() {
    let mut noise = Normal::new(12);
    let (mut found, mut covered, mut placed, mut only) = (0, 0, 0, 0);
    for neck in crate::common::necks(NECKS) {
        let x = stations(&neck, 5);
        let which = noise.below(5);
        let spots = around(&neck, x[which], 16, 3);
        let [from, to] = [spots[0].way, spots[spots.len() - 1].way];
        let half = 0.14 * (to - from);
        let centre = noise.between(from + 1.2 * half, to - 1.2 * half);
        let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
        let planted: Vec<f64> = spots.iter().map(|s| bump((s.way - centre) / half)).collect();
        let curves: [fn(&Spot) -> f64; 5] =
            [|_| 1.0, |s| s.way, |s| s.way * s.way, |s| s.share, |s| s.way * s.share];
        let height = sign * 8.0 * SIGMA / beside(&planted, &curves.map(|f| spots.iter().map(f).collect()));
        let deep = noise.between(0.0, 0.4);
        let out = |i: usize, spot: &Spot| {
            let planted = if i == which { height * bump((spot.way - centre) / half) } else { 0.0 };
            0.2 + deep * spot.share + planted
        };
        let readings = sections(&neck, 5, &out, &mut noise);
        let inspection = inspect(&neck, &readings);
        assert!(inspection.low.is_empty() || height < -0.2, "nothing is below the finished neck");
        let Some(f) = inspection.unfair.first() else { continue };
        found += 1;
        only += usize::from(inspection.unfair.len() == 1);
        let Some([a, b]) = f.around_mm else { continue };
        let kind = if sign > 0.0 { FindingKind::Bump } else { FindingKind::Flat };
        let there = (f.x_mm[0] - x[which]).abs() < 1e-9;
        if there && f.kind == kind && (0.5 * (a + b) - centre).abs() < half {
            placed += 1;
            covered += usize::from((f.amplitude_mm - height).abs() <= 1.96 * f.uncertainty_mm);
        }
    }
    at_least("around: found", found, NECKS, 0.985);
    // With the fair curve to lean on, a flat may be told as the bump beside it.
    at_least("around: in its place", placed, found, 0.98);
    at_least("around: as high as told", covered, placed, 0.95);
    at_least("around: and nothing else", only, found, 0.97);
}

#[test]
fn hollows_and_bumps_along_the_spine() {
    let mut noise = Normal::new(13);
    let (mut found, mut covered, mut placed) = (0, 0, 0);
    for neck in crate::common::necks(NECKS) {
        let x = stations(&neck, 40);
        let span = x[39] - x[0];
        let half = noise.between(0.07, 0.15) * span;
        let centre = noise.between(x[0] + 1.2 * half, x[39] - 1.2 * half);
        let sign = if noise.uniform() < 0.5 { 1.0 } else { -1.0 };
        let planted: Vec<f64> = x.iter().map(|x| bump((x - centre) / half)).collect();
        let curves = [0, 1, 2, 3].map(|k| x.iter().map(|x| libm::pow(x / 100.0, f64::from(k))).collect());
        let height = sign * 8.0 * SIGMA / beside(&planted, &curves);
        let slope = noise.between(-1e-3, 1e-3);
        let out = |x: f64| 0.8 + slope * x + height * bump((x - centre) / half);
        let readings: Vec<Reading> =
            x.iter().map(|x| thickness(&neck, *x, out(*x), SIGMA, &mut noise)).collect();
        let inspection = inspect(&neck, &readings);
        let Some(f) = inspection.unfair.first() else { continue };
        found += 1;
        let kind = if sign > 0.0 { FindingKind::Bump } else { FindingKind::Hollow };
        placed += usize::from(f.kind == kind && (0.5 * (f.x_mm[0] + f.x_mm[1]) - centre).abs() < half);
        covered += usize::from((f.amplitude_mm - height).abs() <= 1.96 * f.uncertainty_mm);
    }
    at_least("along: found", found, NECKS, 0.985);
    at_least("along: in its place", placed, found, 0.99);
    at_least("along: as high as told", covered, found, 0.95);
}

#[test]
fn low_patches_on_a_shoulder_in_width_and_at_a_carve_line() {
    let mut noise = Normal::new(14);
    let trials = 300;
    let (mut shoulder, mut width, mut carve) = (0, 0, 0);
    for neck in crate::common::necks(trials) {
        let side = if noise.uniform() < 0.5 { Side::Bass } else { Side::Treble };
        let low = |s: &Spot| {
            let share = s.way * side.sign() / s.carved;
            if (0.45..0.9).contains(&share) { -0.12 } else { 0.0 }
        };
        let mut readings = sections(&neck, 4, &|i, s| if i == 2 { low(s) } else { 0.0 }, &mut noise);
        for (i, x) in stations(&neck, 12).into_iter().enumerate() {
            let off = |from: usize| if (from..from + 3).contains(&i) { -0.15 } else { 0.0 };
            let wide = neck.width_mm(x).unwrap() + off(4) + SIGMA * noise.next();
            readings.push(reading(x, Measured::Width, wide, SIGMA));
            let high = neck.carve_line_mm(x, side).unwrap() + off(7) + SIGMA * noise.next();
            readings.push(reading(x, Measured::CarveLine(side), high, SIGMA));
        }
        let inspection = inspect(&neck, &readings);
        let has = |place: Place| inspection.low.iter().any(|f| f.place == place);
        shoulder += usize::from(has(Place::Shoulder(side)));
        width += usize::from(has(Place::Width));
        carve += usize::from(has(Place::CarveLine(side)));
    }
    at_least("low on a shoulder", shoulder, trials, 0.98);
    at_least("low width", width, trials, 0.98);
    at_least("low carve line", carve, trials, 0.98);
}
