//! The map of what is left to take.

use alloc::vec::Vec;

use super::band::Band;
use super::prior::{lengths, moments, precision, spline_variance, splines};

/// What is left at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Cell {
    /// Wood over the target, square to the surface, mm; negative where it lies too low.
    pub left_mm: f64,
    /// Its standard uncertainty, mm. Spread and lengths are read off the readings and then taken as known: of wood that is as
    /// the map takes it for granted the cells are off by 1.1 times as much where it was read, by 1.2 times as much where it
    /// was not; of smoother wood by less than is told.
    pub uncertainty_mm: f64,
}

/// What is left to take over stations and around the section, with its uncertainty.
///
/// A surface of cubic B-splines over station and place around is fitted to thickness readings and points (penalised
/// B-splines: Eilers & Marx, Statistical Science 11 (1996) 89), in Bayesian form: before any reading a coefficient lies
/// about a mean that nobody knows with the spread that the readings have, and hangs together with its neighbours in such a way
/// that the correlation falls as `(1 + d/ℓ)·exp(−d/ℓ)`, with lengths `ℓ` along (12 to 150 mm) and around under which
/// the readings are most likely. The readings then draw mean and uncertainty in. Far from
/// all readings the map says mean and spread again, that is: that it does not know. A twentieth of the spread is added
/// everywhere for what the splines do not follow. Their knots lie some 16 mm apart along the neck, and a sixth of the way
/// around: what is smaller than that the map does not show; the findings do.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Map {
    /// Stations, mm from the nut, some 8 mm apart.
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
    /// The length `ℓ` along the neck, mm: what is left changes little over less.
    pub length_mm: f64,
    /// The same around, the way from one edge to the other being 2.
    pub length_around: f64,
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

/// Knots along the neck lie about so far apart, mm, but are no more than so many.
const KNOT_MM: f64 = 16.0;
const MOST_ALONG: f64 = 40.0;
const KNOTS_AROUND: usize = 6;
/// Coefficients around.
const AROUND: usize = KNOTS_AROUND + 3;
/// Of a coefficient's row, how far the others lie that it hangs together with.
const WIDTH: usize = 3 * AROUND + 3;

/// What the splines do not follow, as a share of the spread.
const DETAIL: f64 = 0.05;
const PLACES: usize = 9;

/// The prior's precision, and its sums along the rows.
fn beforehand(along: &[[f64; 3]], around: &[[f64; 3]], scale: f64) -> (Band, Vec<f64>) {
    let n = along.len() * AROUND;
    let mut band = Band::new(n, WIDTH);
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
    let ones = |rows: &[[f64; 3]], i: usize| {
        let after = (1..3).filter_map(|k| rows.get(i + k).map(|row| row[k])).sum::<f64>();
        rows[i].iter().take(i + 1).sum::<f64>() + after
    };
    let around: Vec<f64> = (0..AROUND).map(|j| ones(around, j)).collect();
    let pull = (0..along.len()).flat_map(|i| {
        let along = scale * ones(along, i);
        around.iter().map(move |b| along * b).collect::<Vec<_>>()
    });
    (band, pull.collect())
}

/// What the readings of one station add: products of the splines around, and with the values.
struct Added {
    /// Entry `(j, l)`, `l` no more than 3 before `j`, at `[j][3 + l − j]`.
    pairs: [[f64; 4]; AROUND],
    values: [f64; AROUND],
    reach: [usize; 2],
}

impl Added {
    fn new(spots: &[Spot], mean: f64, detail: f64) -> Self {
        let mut all = Self { pairs: [[0.0; 4]; AROUND], values: [0.0; AROUND], reach: [AROUND, 0] };
        for s in spots {
            let (first, b) = splines(0.5 * (s.around + 1.0), KNOTS_AROUND);
            all.reach = [all.reach[0].min(first), all.reach[1].max(first + 4)];
            let weight = 1.0 / (s.variance + detail);
            for (j, b_j) in b.iter().enumerate() {
                all.values[first + j] += weight * b_j * (s.value - mean);
                for (l, b_l) in b.iter().enumerate().take(j + 1) {
                    all.pairs[first + j][3 + l - j] += weight * b_j * b_l;
                }
            }
        }
        all
    }

    fn add_to(&self, (first, a): (usize, [f64; 4]), sums: &mut Sums, coefs: &mut [[f64; 2]]) {
        for (i, a_i) in a.iter().enumerate() {
            let coefs = coefs.iter_mut().skip((first + i) * AROUND).zip(&self.values);
            coefs.for_each(|(coef, value)| coef[0] += a_i * value);
            for (k, a_k) in a.iter().enumerate().take(i + 1) {
                let both = a_i * a_k;
                let rows = sums[i][k].iter_mut().zip(&self.pairs).take(self.reach[1]).skip(self.reach[0]);
                rows.for_each(|(sums, pairs)| sums.iter_mut().zip(pairs).for_each(|(s, p)| *s += both * p));
            }
        }
    }
}

/// Sums of [`Added::pairs`] between two knots, for each pair of splines along that are not 0 there.
type Sums = [[[[f64; 4]; AROUND]; 4]; 4];

/// Adds the sums to the precision, and sets them back.
fn take_in(sums: &mut Sums, first: usize, band: &mut Band) {
    for (i, row) in sums.iter_mut().enumerate() {
        for (k, pairs) in row.iter_mut().enumerate().take(i + 1) {
            for j in 0..AROUND {
                let at = (first + i) * AROUND + j;
                for l in j.saturating_sub(3)..=j {
                    let value = pairs[j][3 + l - j];
                    band.add(at, (first + k) * AROUND + l, value);
                    // Of the lower half too, because it lies on a row along that comes before.
                    if k < i && l < j {
                        band.add((first + i) * AROUND + l, (first + k) * AROUND + j, value);
                    }
                }
            }
            *pairs = [[0.0; 4]; AROUND];
        }
    }
}

/// What is known along the whole section at one station.
struct Across {
    mean: [f64; AROUND],
    lean: [f64; AROUND],
    /// Covariances, as [`Added::pairs`].
    pairs: [[f64; 4]; AROUND],
}

impl Across {
    fn new((first, a): (usize, [f64; 4]), coefs: &[[f64; 2]], inverse: &[f64]) -> Self {
        let mut all = Self { mean: [0.0; AROUND], lean: [0.0; AROUND], pairs: [[0.0; 4]; AROUND] };
        for (i, a_i) in a.iter().enumerate() {
            for j in 0..AROUND {
                let at = (first + i) * AROUND + j;
                all.mean[j] += a_i * coefs[at][0];
                all.lean[j] += a_i * coefs[at][1];
                let least = j.saturating_sub(3);
                for (k, a_k) in a.iter().enumerate() {
                    let from = Band::at(WIDTH, at, (first + k) * AROUND + least);
                    let pairs = &mut all.pairs[j][3 + least - j..];
                    pairs.iter_mut().zip(&inverse[from..]).for_each(|(pair, v)| *pair += a_i * a_k * v);
                }
            }
        }
        all
    }

    /// Mean, what the mean of all adds to it, and variance at a place around.
    fn read(&self, (first, b): &(usize, [f64; 4])) -> [f64; 3] {
        let [mut mean, mut lean, mut variance] = [0.0; 3];
        for (j, b_j) in b.iter().enumerate() {
            mean += b_j * self.mean[first + j];
            lean += b_j * self.lean[first + j];
            let before: f64 = (0..j).map(|l| b[l] * self.pairs[first + j][3 + l - j]).sum();
            variance += b_j * (2.0 * before + b_j * self.pairs[first + j][3]);
        }
        [mean, lean, variance]
    }
}

/// The map over a stretch of the neck, from readings in order of their stations; `None` without readings.
pub(crate) fn map([from, to]: [f64; 2], spots: &[Spot]) -> Option<Map> {
    if spots.is_empty() || from >= to {
        return None;
    }
    let knots = libm::ceil((to - from) / KNOT_MM).clamp(1.0, MOST_ALONG) as usize;
    let (mean, spread) = moments(spots);
    let detail = DETAIL * DETAIL * spread * spread;
    let [length_mm, length_around] = lengths([from, to], knots, spots, [mean, spread * spread, detail]);
    let step_along = (to - from) / knots as f64 / length_mm;
    let step_around = 2.0 / KNOTS_AROUND as f64 / length_around;
    let along = precision(knots + 3, step_along);
    let around = precision(AROUND, step_around);
    let scale = spline_variance(step_along) * spline_variance(step_around) / (spread * spread);
    // What the mean of all coefficients hangs on; it is not known beforehand itself.
    let (mut band, pull) = beforehand(&along, &around, scale);
    // What is solved for: the coefficients, and how they lean on that mean.
    let mut coefs: Vec<[f64; 2]> = pull.iter().map(|q| [0.0, *q]).collect();
    let place = |x: f64| splines((x - from) / (to - from), knots);
    let stations = || spots.chunk_by(|a, b| a.x == b.x).filter_map(|here| Some((here.first()?.x, here)));
    let mut sums = Sums::default();
    let mut last = 0;
    for (x, here) in stations() {
        let (first, a) = place(x);
        if first != last {
            take_in(&mut sums, last, &mut band);
            last = first;
        }
        Added::new(here, mean, detail).add_to((first, a), &mut sums, &mut coefs);
    }
    take_in(&mut sums, last, &mut band);
    if !band.factor() {
        return None;
    }
    band.solve(&mut coefs);
    // Marginal over the mean: the precision less qqᵀ/κ, by Sherman and Morrison's formula.
    let along_pull = |k: usize| pull.iter().zip(&coefs).map(|(q, v)| q * v[k]).sum::<f64>();
    let free = pull.iter().sum::<f64>() - along_pull(1);
    if free <= 0.0 {
        return None;
    }
    let level = along_pull(0) / free;
    coefs.iter_mut().for_each(|[c, lean]| *c += level * *lean);
    let mut off = 0.0;
    for (x, here) in stations() {
        let (first, a) = place(x);
        for s in here {
            let (j, b) = splines(0.5 * (s.around + 1.0), KNOTS_AROUND);
            let row = |i: usize| {
                b.iter().zip(&coefs[(first + i) * AROUND + j..]).map(|(b, c)| b * c[0]).sum::<f64>()
            };
            let d = s.value - mean - a.iter().enumerate().map(|(i, a)| a * row(i)).sum::<f64>();
            off += d * d / (s.variance + detail);
        }
    }
    let misfit = libm::sqrt(off / spots.len() as f64);
    let widen = misfit.max(1.0);
    let inverse = band.inverse();
    // At every knot and halfway to the next.
    let steps = 2 * knots;
    let x_mm: Vec<f64> = (0..=steps).map(|i| from + (to - from) * i as f64 / steps as f64).collect();
    let around: Vec<f64> = (0..PLACES).map(|i| 2.0 * i as f64 / (PLACES - 1) as f64 - 1.0).collect();
    let places: Vec<_> = around.iter().map(|v| splines(0.5 * (v + 1.0), KNOTS_AROUND)).collect();
    let mut cells = Vec::with_capacity(x_mm.len() * PLACES);
    for x in &x_mm {
        let across = Across::new(place(*x), &coefs, &inverse);
        for at in &places {
            let [value, lean, variance] = across.read(at);
            let variance = detail + variance + lean * lean / free;
            let uncertainty_mm = widen * libm::sqrt(variance.max(0.0));
            cells.push(Cell { left_mm: mean + value, uncertainty_mm });
        }
    }
    Some(Map { x_mm, around, cells, mean_mm: mean, spread_mm: spread, length_mm, length_around, misfit })
}
