//! The map of what is left to take.

use alloc::vec;
use alloc::vec::Vec;

use super::band::Band;

/// What is left at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Wood over the target, square to the surface, mm; negative where it lies too low.
    pub left_mm: f64,
    /// Its standard uncertainty, mm.
    pub uncertainty_mm: f64,
}

/// What is left to take over stations and around the section, with its uncertainty.
///
/// A surface of cubic B-splines over station and place around is fitted to thickness readings and points (penalised
/// B-splines: Eilers & Marx, Statistical Science 11 (1996) 89), in Bayesian form: before any reading a coefficient lies
/// about a mean that nobody knows with the spread that the readings have, and hangs together with its neighbours in such a way that
/// the correlation falls as `(1 + d/ℓ)·exp(−d/ℓ)`, with `ℓ` 45 mm along the neck and a sixth of the way around. The
/// readings then draw mean and uncertainty in. Far from all readings the map says mean and spread again, that is: that it
/// does not know. A twentieth of the spread is added everywhere for what the splines do not follow. What is smaller than the distance of the splines' knots, an eighth of the length and a sixth of the way around, it
/// does not show; the findings do.
#[derive(Clone, Debug, PartialEq)]
pub struct Map {
    /// Stations, mm from the nut.
    pub x_mm: Vec<f64>,
    /// Places around, as a share of the way from the spine to the top edge of either side: −1 at the bass edge, 0 at the
    /// spine, 1 at the treble edge.
    pub around: Vec<f64>,
    /// The cells, all around the first station first.
    pub cells: Vec<Cell>,
    /// What is taken to be left where nothing is known: the readings' mean, mm.
    pub mean_mm: f64,
    /// And how far off that may be, as a standard deviation, mm.
    pub spread_mm: f64,
    /// How far the readings lie off the map against their uncertainty, root mean square; the map's uncertainty is widened by
    /// it where it is more than 1.
    pub misfit: f64,
}

impl Map {
    /// The cell at a station and a place around, by their numbers.
    #[must_use]
    pub fn cell(&self, station: usize, around: usize) -> Option<Cell> {
        (around < self.around.len()).then(|| self.cells.get(station * self.around.len() + around).copied())?
    }
}

/// One reading for the map.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spot {
    pub x: f64,
    /// From −1 to 1.
    pub around: f64,
    pub value: f64,
    pub variance: f64,
}

const KNOTS_ALONG: usize = 8;
const KNOTS_AROUND: usize = 6;
/// Coefficients.
const ALONG: usize = KNOTS_ALONG + 3;
const AROUND: usize = KNOTS_AROUND + 3;
const LENGTH_ALONG_MM: f64 = 45.0;
const LENGTH_AROUND: f64 = 1.0 / 3.0;
/// How far apart readings lie that tell of the spread by themselves. Common practice, no source.
const APART_MM: f64 = 250.0;
const APART_AROUND: f64 = 2.0;

/// What the splines do not follow, as a share of the spread.
const DETAIL: f64 = 0.05;
const STATIONS: usize = 25;
const PLACES: usize = 9;

/// What a hand leaves to be known about before any reading: two readings' worth of so much, mm. Common practice, no source.
const USUAL_SPREAD_MM: f64 = 0.2;
const USUAL_WORTH: f64 = 2.0;

/// The four cubic B-splines that are not 0 at a place, and the first one's number.
fn splines(t: f64, knots: usize) -> (usize, [f64; 4]) {
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
fn precision(n: usize, h: f64) -> Vec<[f64; 3]> {
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
fn spline_variance(h: f64) -> f64 {
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
fn moments(spots: &[Spot]) -> (f64, f64) {
    let extent = |f: fn(&Spot) -> f64| {
        let (low, high) =
            spots.iter().map(f).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        high - low
    };
    // Readings near each other tell the same, and wood left by long strokes does over more than the map's own lengths: as many
    // count as lie so far apart.
    let apart = (1.0 + extent(|s| s.x) / APART_MM) * (1.0 + extent(|s| s.around) / APART_AROUND);
    let (mut mean, mut spread2) = (0.0, f64::INFINITY);
    for _ in 0..4 {
        let weight = |s: &Spot| if spread2.is_finite() { 1.0 / (s.variance + spread2) } else { 1.0 };
        let sum = |f: &dyn Fn(&Spot) -> f64| spots.iter().map(|s| weight(s) * f(s)).sum::<f64>();
        let all = sum(&|_| 1.0);
        mean = sum(&|s| s.value) / all;
        let beyond = sum(&|s| (s.value - mean) * (s.value - mean) - s.variance) / all;
        let worth = all * all / sum(&weight);
        let worth = worth.min(apart).max(1.0);
        spread2 = (beyond.max(0.0) * worth + USUAL_WORTH * USUAL_SPREAD_MM * USUAL_SPREAD_MM)
            / (worth - 1.0 + USUAL_WORTH);
    }
    (mean, libm::sqrt(spread2))
}

/// The map over a stretch of the neck; `None` without readings.
pub(crate) fn map([from, to]: [f64; 2], spots: &[Spot]) -> Option<Map> {
    if spots.is_empty() || from >= to {
        return None;
    }
    let (mean, spread) = moments(spots);
    let n = ALONG * AROUND;
    let mut band = Band::new(n, 3 * AROUND + 3);
    let step_along = (to - from) / KNOTS_ALONG as f64 / LENGTH_ALONG_MM;
    let step_around = 2.0 / KNOTS_AROUND as f64 / LENGTH_AROUND;
    let along = precision(ALONG, step_along);
    let around = precision(AROUND, step_around);
    let scale = spline_variance(step_along) * spline_variance(step_around) / (spread * spread);
    for (i, row) in along.iter().enumerate() {
        for (k, a) in row.iter().enumerate().filter(|(k, _)| *k <= i) {
            for (j, column) in around.iter().enumerate() {
                for (l, b) in column.iter().enumerate().filter(|(l, _)| *l <= j) {
                    let value = scale * a * b;
                    band.add(i * AROUND + j, (i - k) * AROUND + j - l, value);
                    if k > 0 && l > 0 {
                        // Of the lower half too, because a row along has more entries than two around.
                        band.add(i * AROUND + j - l, (i - k) * AROUND + j, value);
                    }
                }
            }
        }
    }
    let place = |x: f64, v: f64| {
        let (i, a) = splines((x - from) / (to - from), KNOTS_ALONG);
        let (j, b) = splines(0.5 * (v + 1.0), KNOTS_AROUND);
        (i * AROUND + j, a, b)
    };
    // What the mean of all coefficients hangs on; it is not known beforehand itself.
    let mut pull = vec![0.0; n];
    let ones = |rows: &[[f64; 3]], i: usize| {
        let after = (1..3).filter_map(|k| rows.get(i + k).map(|row| row[k])).sum::<f64>();
        rows[i].iter().take(i + 1).sum::<f64>() + after
    };
    for i in 0..ALONG {
        for j in 0..AROUND {
            pull[i * AROUND + j] = scale * ones(&along, i) * ones(&around, j);
        }
    }
    let detail = DETAIL * DETAIL * spread * spread;
    let mut coefs = vec![0.0; n];
    for s in spots {
        let (first, a, b) = place(s.x, s.around);
        let weight = 1.0 / (s.variance + detail);
        let outer = b.map(|b_j| b.map(|b_l| weight * b_j * b_l));
        for (i, a_i) in a.iter().enumerate() {
            for (j, b_j) in b.iter().enumerate() {
                let row = first + i * AROUND + j;
                coefs[row] += weight * a_i * b_j * (s.value - mean);
                for (k, a_k) in a.iter().enumerate().take(i + 1) {
                    let reach = if k < i { 4 } else { j + 1 };
                    let along = a_i * a_k;
                    let values = outer[j].map(|o| along * o);
                    band.add_row(row, first + k * AROUND, &values[..reach]);
                }
            }
        }
    }
    if !band.factor() {
        return None;
    }
    band.solve(&mut coefs);
    // Marginal over the mean: the precision less qqᵀ/κ, by Sherman and Morrison's formula.
    let mut lean = pull.clone();
    band.solve(&mut lean);
    let along_pull = |v: &[f64]| pull.iter().zip(v).map(|(q, v)| q * v).sum::<f64>();
    let free = pull.iter().sum::<f64>() - along_pull(&lean);
    if free <= 0.0 {
        return None;
    }
    let level = along_pull(&coefs) / free;
    coefs.iter_mut().zip(&lean).for_each(|(c, g)| *c += level * g);
    let inverse = band.inverse();
    let value = |(first, a, b): &(usize, [f64; 4], [f64; 4])| {
        let mut sum = 0.0;
        for (i, a) in a.iter().enumerate() {
            for (j, b) in b.iter().enumerate() {
                sum += a * b * coefs[first + i * AROUND + j];
            }
        }
        mean + sum
    };
    let off: f64 = spots
        .iter()
        .map(|s| {
            let d = s.value - value(&place(s.x, s.around));
            d * d / (s.variance + detail)
        })
        .sum();
    let misfit = libm::sqrt(off / spots.len() as f64);
    let widen = misfit.max(1.0);
    let x_mm: Vec<f64> =
        (0..STATIONS).map(|i| from + (to - from) * i as f64 / (STATIONS - 1) as f64).collect();
    let around: Vec<f64> = (0..PLACES).map(|i| 2.0 * i as f64 / (PLACES - 1) as f64 - 1.0).collect();
    let mut cells = Vec::with_capacity(STATIONS * PLACES);
    for x in &x_mm {
        for v in &around {
            let at = place(*x, *v);
            let (first, a, b) = &at;
            let (mut variance, mut leans) = (detail, 0.0);
            for (i, a_i) in a.iter().enumerate() {
                for (j, b_j) in b.iter().enumerate() {
                    let row = (first + i * AROUND + j) * n;
                    let mut sum = 0.0;
                    for (k, a_k) in a.iter().enumerate() {
                        let at = row + first + k * AROUND;
                        sum += a_k * (0..4).map(|l| b[l] * inverse[at + l]).sum::<f64>();
                    }
                    variance += a_i * b_j * sum;
                    leans += a_i * b_j * lean[first + i * AROUND + j];
                }
            }
            variance += leans * leans / free;
            let uncertainty_mm = widen * libm::sqrt(variance.max(0.0));
            cells.push(Cell { left_mm: value(&at), uncertainty_mm });
        }
    }
    Some(Map { x_mm, around, cells, mean_mm: mean, spread_mm: spread, misfit })
}
