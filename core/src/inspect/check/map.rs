//! The map of what is left to take.

use alloc::vec::Vec;

use super::band::Band;
use super::prior::{Splines, lengths, moments, precision, spline_variance, splines};
use super::verdict::Verdict;

/// What is left at one place.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Cell {
    /// Wood over the target, square to the surface, mm; negative where it lies too low.
    pub left_mm: f64,
    /// Its standard uncertainty, mm. Spread and lengths are read off the readings and then taken as known: of wood that is as
    /// the map takes it for granted the cells are off by 1.1 times as much where it was read, by 1.2 times as much where it
    /// was not; of smoother wood by less than is told.
    pub uncertainty_mm: f64,
    /// What the two say of the wood.
    pub verdict: Verdict,
}

/// A place is told of where its uncertainty has come down to this share of what was known before any reading.
const KNOWN: f64 = 0.7;

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
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
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
    /// Whether readings tell of a place that has such an uncertainty.
    pub(crate) fn knows(&self, uncertainty_mm: f64) -> bool {
        knows(uncertainty_mm, self.spread_mm)
    }

    /// The cell at a station and a place around, by their numbers.
    #[must_use]
    pub fn cell(&self, station: usize, around: usize) -> Option<Cell> {
        (around < self.around.len()).then(|| self.cells.get(station * self.around.len() + around).copied())?
    }
}

fn knows(uncertainty_mm: f64, spread_mm: f64) -> bool {
    uncertainty_mm <= KNOWN * spread_mm
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
/// The coefficients' precision.
type Precision = Band<WIDTH, { WIDTH + 1 }>;

/// What the splines do not follow, as a share of the spread.
const DETAIL: f64 = 0.05;
const PLACES: usize = 9;

/// The prior's precision, and its sums along the rows.
fn beforehand(along: &[[f64; 3]], around: &[[f64; 3]], scale: f64) -> (Precision, Vec<f64>) {
    let n = along.len() * AROUND;
    let mut band = Precision::new(n);
    for (i, row) in along.iter().enumerate() {
        for (k, a) in row.iter().enumerate().filter(|(k, _)| *k <= i) {
            let a = scale * a;
            for j in 0..AROUND {
                // Column `j` of the whole matrix around: what lies above its diagonal is of the lower half too where the
                // rows along differ.
                let above = |l: usize| if k > 0 && l <= j { a * around[j][l] } else { 0.0 };
                let below = |l: usize| around.get(j + l).map_or(0.0, |row| a * row[l]);
                let values = [above(2), above(1), below(0), below(1), below(2)];
                let (row, column) = (i * AROUND + j, (i - k) * AROUND + j);
                if k > 0 {
                    band.add_below(row - 2, column, &values);
                } else {
                    band.add_below(row, column, &[values[2], values[3], values[4]]);
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

/// The place of a reading without one around.
fn at_spine() -> Splines {
    splines(0.5, KNOTS_AROUND)
}

/// What readings add: products of the splines around, and with the values.
#[derive(Clone, Copy)]
struct Added {
    /// Entry `(j, j + l)` at `[j][l]`.
    pairs: [[f64; 4]; AROUND],
    values: [f64; AROUND],
}

impl Added {
    const NONE: Self = Self { pairs: [[0.0; 4]; AROUND], values: [0.0; AROUND] };

    /// Adds what has such a weight, and its value times that.
    fn add(&mut self, (first, b): &Splines, weight: f64, value: f64) {
        let values = self.values[*first..].first_chunk_mut::<4>();
        let (Some(values), Some(pairs)) = (values, self.pairs[*first..].first_chunk_mut::<4>()) else {
            return;
        };
        for j in 0..4 {
            values[j] += value * b[j];
            for l in j..4 {
                pairs[j][l - j] += weight * b[j] * b[l];
            }
        }
    }
}

/// What the readings between two knots along add to each pair of splines along that are not 0 there.
struct Stretch {
    first: usize,
    pairs: [[[[f64; 4]; AROUND]; 4]; 4],
    values: [[f64; AROUND]; 4],
    /// Of the readings at the spine the weights, and the values times these.
    spine: [[f64; 4]; 4],
    spine_values: [f64; 4],
}

impl Stretch {
    const fn new(first: usize) -> Self {
        Self {
            first,
            pairs: [[[[0.0; 4]; AROUND]; 4]; 4],
            values: [[0.0; AROUND]; 4],
            spine: [[0.0; 4]; 4],
            spine_values: [0.0; 4],
        }
    }

    /// Adds one reading at the spine.
    fn add_spine(&mut self, a: &[f64; 4], weight: f64, value: f64) {
        for i in 0..4 {
            self.spine_values[i] += value * a[i];
            for k in 0..=i {
                self.spine[i][k] += weight * a[i] * a[k];
            }
        }
    }

    /// Adds the readings of one station.
    fn add(&mut self, a: &[f64; 4], added: &Added) {
        for i in 0..4 {
            add_times(&mut self.values[i], a[i], &added.values);
            for k in 0..=i {
                let both = a[i] * a[k];
                add_times(self.pairs[i][k].as_flattened_mut(), both, added.pairs.as_flattened());
            }
        }
    }

    /// Adds all of it to the precision and to the right side.
    fn take_in(mut self, band: &mut Precision, coefs: &mut [[f64; 2]]) {
        for i in 0..4 {
            for k in 0..=i {
                let mut spine = Added::NONE;
                let value = if k == 0 { self.spine_values[i] } else { 0.0 };
                spine.add(&at_spine(), self.spine[i][k], value);
                add_times(self.pairs[i][k].as_flattened_mut(), 1.0, spine.pairs.as_flattened());
                add_times(&mut self.values[i], 1.0, &spine.values);
                let (row, column) = ((self.first + i) * AROUND, (self.first + k) * AROUND);
                let pairs = &self.pairs[i][k];
                for j in 0..AROUND {
                    // Column `j`, from three before the diagonal on where that is of the lower half too; 0 beyond the ends.
                    let own = pairs[j];
                    if k < i {
                        let before = |l: usize| if l <= j { pairs[j - l][l] } else { 0.0 };
                        let values = [before(3), before(2), before(1), own[0], own[1], own[2], own[3]];
                        band.add_below(row + j - 3, column + j, &values);
                    } else {
                        band.add_below(row + j, column + j, &own);
                    }
                }
            }
            let coefs = coefs.iter_mut().skip((self.first + i) * AROUND);
            coefs.zip(&self.values[i]).for_each(|(coef, value)| coef[0] += value);
        }
    }
}

fn add_times(sums: &mut [f64], factor: f64, values: &[f64]) {
    sums.iter_mut().zip(values).for_each(|(sum, value)| *sum += factor * value);
}

/// What the coefficients at one station come to around it.
fn across((first, a): &Splines, coefs: &[[f64; 2]]) -> [[f64; 2]; AROUND] {
    let mut sums = [[0.0; 2]; AROUND];
    for (a, coefs) in a.iter().zip(coefs[first * AROUND..].chunks_exact(AROUND)) {
        sums.iter_mut().zip(coefs).for_each(|(s, c)| *s = [s[0] + a * c[0], s[1] + a * c[1]]);
    }
    sums
}

/// What is known along the whole section at one station.
struct Across {
    /// The mean, and how it leans on that of all.
    mean: [[f64; 2]; AROUND],
    /// Covariances, as [`Added::pairs`].
    pairs: [[f64; 4]; AROUND],
}

impl Across {
    fn new(place: &Splines, coefs: &[[f64; 2]], inverse: &[f64]) -> Self {
        let (first, a) = place;
        let mut pairs = [[0.0; 4]; AROUND];
        for (i, a_i) in a.iter().enumerate() {
            // At a knot the fourth is none.
            for (k, a_k) in a.iter().enumerate().filter(|(_, a_k)| *a_k * a_i != 0.0) {
                let both = a_i * a_k;
                let from = Precision::at((first + i) * AROUND, (first + k) * AROUND);
                let rows = inverse[from..].chunks(Precision::ROW_ON);
                for (pairs, row) in pairs.iter_mut().zip(rows) {
                    if let Some(row) = row.first_chunk::<4>() {
                        for l in 0..4 {
                            pairs[l] += both * row[l];
                        }
                    }
                }
            }
        }
        Self { mean: across(place, coefs), pairs }
    }

    /// Mean, what the mean of all adds to it, and variance at a place around.
    fn read(&self, (first, b): &Splines) -> [f64; 3] {
        let (means, pairs) = (&self.mean[*first..first + 4], &self.pairs[*first..first + 4]);
        let [mut mean, mut lean, mut variance] = [0.0; 3];
        for j in 0..4 {
            mean += b[j] * means[j][0];
            lean += b[j] * means[j][1];
            let after: f64 = (j + 1..4).map(|l| b[l] * pairs[j][l - j]).sum();
            variance += b[j] * (2.0 * after + b[j] * pairs[j][0]);
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
    coefs.resize(coefs.len() + WIDTH, [0.0; 2]);
    let place = |x: f64| splines((x - from) / (to - from), knots);
    let stations = || spots.chunk_by(|a, b| a.x == b.x).filter_map(|here| Some((here.first()?.x, here)));
    let mut stretch = Stretch::new(0);
    for (x, here) in stations() {
        let (first, a) = place(x);
        if first != stretch.first {
            core::mem::replace(&mut stretch, Stretch::new(first)).take_in(&mut band, &mut coefs);
        }
        let mut added: Option<Added> = None;
        for s in here {
            let weight = 1.0 / (s.variance + detail);
            let value = weight * (s.value - mean);
            if s.around == 0.0 {
                stretch.add_spine(&a, weight, value);
            } else {
                let place = splines(0.5 * (s.around + 1.0), KNOTS_AROUND);
                added.get_or_insert(Added::NONE).add(&place, weight, value);
            }
        }
        added.into_iter().for_each(|added| stretch.add(&a, &added));
    }
    stretch.take_in(&mut band, &mut coefs);
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
        let across = across(&place(x), &coefs);
        for s in here {
            let (j, b) =
                if s.around == 0.0 { at_spine() } else { splines(0.5 * (s.around + 1.0), KNOTS_AROUND) };
            let value: f64 = b.iter().zip(&across[j..]).map(|(b, c)| b * c[0]).sum();
            let d = s.value - mean - value;
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
        let across = Across::new(&place(*x), &coefs, &inverse);
        for at in &places {
            let [value, lean, variance] = across.read(at);
            let variance = detail + variance + lean * lean / free;
            let uncertainty_mm = widen * libm::sqrt(variance.max(0.0));
            let left_mm = mean + value;
            let verdict = if knows(uncertainty_mm, spread) {
                Verdict::of(left_mm, uncertainty_mm)
            } else {
                Verdict::Unread
            };
            cells.push(Cell { left_mm, uncertainty_mm, verdict });
        }
    }
    Some(Map { x_mm, around, cells, mean_mm: mean, spread_mm: spread, length_mm, length_around, misfit })
}
