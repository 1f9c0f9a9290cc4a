//! What is taken for granted of a surface before any reading of it.

use alloc::vec;
use alloc::vec::Vec;

use super::map::Spot;

/// How far apart readings lie that tell of the spread by themselves. Common practice, no source.
const APART_MM: f64 = 250.0;
const APART_AROUND: f64 = 2.0;

/// What a hand leaves to be known about before any reading: two readings' worth of so much, mm. Common practice, no source.
const USUAL_SPREAD_MM: f64 = 0.2;
const USUAL_WORTH: f64 = 2.0;

/// A direction on the back: lengths that are tried in it, and the usual one.
///
/// Beforehand a length's logarithm is distributed normally about the usual one's, with a factor of 2 for its standard
/// deviation. Common practice, no source.
struct Direction {
    tried: Each,
    usual: f64,
}

/// In mm.
const ALONG: Direction = Direction { tried: [12.0, 20.0, 33.0, 55.0, 90.0, 150.0], usual: 45.0 };
/// Of the way from one edge to the other as 2.
const AROUND: Direction = Direction { tried: [0.1, 0.17, 0.25, 0.33, 0.42, 0.5], usual: 0.33 };

/// Strips along in which the length along is looked for, and steps around in which that around is.
const STRIPS: usize = 5;
const STEPS: usize = 12;

/// The number of the first of the four cubic B-splines that are not 0 at a place, and their values.
pub(super) type Splines = (usize, [f64; 4]);

/// The splines at a place.
pub(super) fn splines(t: f64, knots: usize) -> Splines {
    let at = (t * knots as f64).clamp(0.0, knots as f64);
    let i = (at as usize).min(knots - 1);
    let u = at - i as f64;
    let s = 1.0 - u;
    let (u2, s2) = (u * u, s * s);
    let b = [
        s2 * s / 6.0,
        (3.0 * u2 * u - 6.0 * u2 + 4.0) / 6.0,
        (3.0 * s2 * s - 6.0 * s2 + 4.0) / 6.0,
        u2 * u / 6.0,
    ];
    (i, b)
}

/// Precision of `n` values of variance 1, in steps of `h` lengths, of the second order: each is
/// `2φ` times the one before less `φ²` times the one before that and a surprise, with `φ = exp(−h)`; the first two have the
/// distribution that all have. Entry `(i, i − k)` at `[i][k]`.
pub(super) fn precision(n: usize, h: f64) -> Vec<[f64; 3]> {
    let f = libm::exp(-h);
    let (a, b) = (2.0 * f, -f * f);
    // Yule and Walker: correlation with the next, variance of the surprise.
    let r = a / (1.0 - b);
    let surprise = 1.0 - a * r - b * (a * r + b);
    let mut p = vec![[0.0; 3]; n];
    let first = 1.0 / (1.0 - r * r);
    p[0][0] += first;
    if n > 1 {
        p[1][0] += first;
        p[1][1] -= r * first;
    }
    for i in 2..n {
        let c = [1.0, -a, -b];
        for j in 0..3 {
            for k in j..3 {
                // Column i − k, row i − j.
                p[i - j][k - j] += c[j] * c[k] / surprise;
            }
        }
    }
    p
}

/// Variance of a spline whose coefficients have variance 1 and hang together as [`precision`] has it, between a knot's and that
/// half-way to the next.
pub(super) fn spline_variance(h: f64) -> f64 {
    let f = libm::exp(-h);
    let (a, b) = (2.0 * f, -f * f);
    let r = a / (1.0 - b);
    let second = a * r + b;
    let hang = [1.0, r, second, a * second + b * r];
    let at = |u: f64| {
        let (_, c) = splines(u, 1);
        let pair = |i: usize| (0..4).map(|j| c[i] * c[j] * hang[i.abs_diff(j)]).sum::<f64>();
        (0..4).map(pair).sum::<f64>()
    };
    0.5 * (at(0.0) + at(0.5))
}

/// Mean and spread of the readings beyond their uncertainty.
pub(super) fn moments(spots: &[Spot]) -> (f64, f64) {
    let extent = |f: fn(&Spot) -> f64| {
        let (low, high) =
            spots.iter().map(f).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        high - low
    };
    // Readings near each other tell the same, and wood left by long strokes does over more than the map's own lengths: as many
    // count as lie so far apart.
    let apart = (1.0 + extent(|s| s.x) / APART_MM) * (1.0 + extent(|s| s.around) / APART_AROUND);
    let (mut mean, mut spread2) = (0.0, f64::INFINITY);
    let mut weights = vec![1.0; spots.len()];
    for _ in 0..4 {
        if spread2.is_finite() {
            weights.iter_mut().zip(spots).for_each(|(w, s)| *w = 1.0 / (s.variance + spread2));
        }
        let weighted = || weights.iter().zip(spots);
        let [all, squares, values] = weighted().fold([0.0; 3], |[all, squares, values], (w, s)| {
            [all + w, squares + w * w, values + w * s.value]
        });
        mean = values / all;
        let beyond = weighted().map(|(w, s)| w * ((s.value - mean) * (s.value - mean) - s.variance));
        let beyond = beyond.sum::<f64>() / all;
        let worth = all * all / squares;
        let worth = worth.min(apart).max(1.0);
        spread2 = (beyond.max(0.0) * worth + USUAL_WORTH * USUAL_SPREAD_MM * USUAL_SPREAD_MM)
            / (worth - 1.0 + USUAL_WORTH);
    }
    (mean, libm::sqrt(spread2))
}

/// Readings near each other along and around, taken together.
#[derive(Clone, Copy, Default)]
struct Bin {
    weight: f64,
    at: f64,
    value: f64,
}

/// The lengths along the neck and around it over which the wood left hangs together: of those that are tried the ones that
/// make the readings most likely.
///
/// Each of some strips along the neck, and each of `count` strips across it, counts by itself, its readings gathered in
/// steps. The correlation `(1 + d/ℓ)·exp(−d/ℓ)` is that of a Markov process of value and slope, whose likelihood one
/// walk along the strip gives (Särkkä & Solin, Applied Stochastic Differential Equations, 2019, section 12.3; memory).
pub(super) fn lengths(
    [from, to]: [f64; 2],
    count: usize,
    spots: &[Spot],
    [mean, spread2, detail]: [f64; 3],
) -> [f64; 2] {
    let mut bins = [vec![Bin::default(); STRIPS * count], vec![Bin::default(); STEPS * count]];
    let scale = count as f64 / (to - from);
    let which = |at: f64, n: usize| (at.max(0.0) as usize).min(n - 1);
    for s in spots {
        let along = which((s.x - from) * scale, count);
        let around = |n: usize| which(0.5 * (s.around + 1.0) * n as f64, n);
        let weight = 1.0 / (s.variance + detail);
        let places = [(around(STRIPS) * count + along, s.x), (along * STEPS + around(STEPS), s.around)];
        for (bins, (place, at)) in bins.iter_mut().zip(places) {
            if let Some(bin) = bins.get_mut(place) {
                bin.weight += weight;
                bin.at += weight * at;
                bin.value += weight * (s.value - mean);
            }
        }
    }
    let [along, around] = bins;
    [likeliest(&ALONG, &along, count, spread2), likeliest(&AROUND, &around, STEPS, spread2)]
}

fn likeliest(direction: &Direction, bins: &[Bin], count: usize, spread2: f64) -> f64 {
    let strips: Vec<Vec<[f64; 3]>> = bins
        .chunks(count)
        .map(|strip| {
            let read = strip.iter().filter(|b| b.weight > 0.0);
            read.map(|b| [b.at / b.weight, b.value / b.weight, 1.0 / b.weight]).collect()
        })
        .collect();
    let mut against = direction.tried.map(|length| {
        let off = libm::log2(length / direction.usual);
        0.5 * off * off
    });
    let steep = direction.tried.map(|length| 1.0 / length);
    for strip in &strips {
        against.iter_mut().zip(unlikely(strip, steep, spread2)).for_each(|(sum, more)| *sum += more);
    }
    let best = direction.tried.iter().zip(against).min_by(|a, b| a.1.total_cmp(&b.1));
    best.map_or(direction.usual, |(length, _)| *length)
}

/// How many lengths are tried.
const TRIED: usize = 6;

/// One filter for each length that is tried.
type Each = [f64; TRIED];

/// How unlikely values are along one strip, as a logarithm, by Kalman's filter for each length, of which one over it is given:
/// place, value and variance of each.
fn unlikely(strip: &[[f64; 3]], steep: Each, spread2: f64) -> Each {
    // Value, and slope times length: both of one variance, and not correlated at one place. What is known of them beyond the
    // spread that all have is carried along, and fades.
    let (mut mean, mut known) = ([[0.0; TRIED]; 2], [[0.0; TRIED]; 3]);
    let mut last = f64::NEG_INFINITY;
    // Logarithms of products are taken before these leave what floats can hold.
    let (mut sum, mut product) = ([0.0; TRIED], [1.0; TRIED]);
    for [at, value, variance] in strip {
        let d = steep.map(|steep| ((at - last) * steep).min(40.0));
        let fade = d.map(|d| libm::exp(-d));
        last = *at;
        let ([m, n], [p, q, r]) = (&mut mean, &mut known);
        for i in 0..TRIED {
            let (e, b) = (fade[i], d[i]);
            let (a, c) = (1.0 + b, 1.0 - b);
            // The rows of the step that are carried over: (a, b) and (-b, c), times the fading.
            let (carried, slope) = (e * (a * m[i] + b * n[i]), e * (c * n[i] - b * m[i]));
            let (s, t) = (a * p[i] + b * q[i], a * q[i] + b * r[i]);
            let (u, v) = (c * q[i] - b * p[i], c * r[i] - b * q[i]);
            let square = e * e;
            let (pp, pq, qq) = (square * (a * s + b * t), square * (c * t - b * s), square * (c * v - b * u));
            let before = spread2 + pp;
            let (surprise, off) = (before + variance, value - carried);
            let sure = 1.0 / surprise;
            sum[i] += 0.5 * off * off * sure;
            product[i] *= surprise;
            let gain = [before * sure, pq * sure];
            (m[i], n[i]) = (carried + gain[0] * off, slope + gain[1] * off);
            (p[i], q[i], r[i]) = (pp - gain[0] * before, pq - gain[0] * pq, qq - gain[1] * pq);
        }
        if product.iter().any(|product| !(1e-100..1e100).contains(product)) {
            sum.iter_mut().zip(&mut product).for_each(|(sum, product)| {
                *sum += 0.5 * libm::log(core::mem::replace(product, 1.0));
            });
        }
    }
    sum.iter_mut().zip(product).for_each(|(sum, product)| *sum += 0.5 * libm::log(product));
    sum
}
