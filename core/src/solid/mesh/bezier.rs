//! Splines cut into Bézier pieces, which their coefficients bound.

use alloc::vec;
use alloc::vec::Vec;

use smallvec::SmallVec;

use crate::solid::{Knots, SplineCurve};

/// A row of coefficients of one polynomial.
pub(super) type Row<const N: usize> = SmallVec<[[f64; N]; 20]>;

pub(super) fn lerp<const N: usize>(a: &[f64; N], b: &[f64; N], t: f64) -> [f64; N] {
    let mut out = [0.0; N];
    for k in 0..N {
        out[k] = (1.0 - t) * a[k] + t * b[k];
    }
    out
}

pub(super) fn minus<const N: usize>(a: &[f64; N], b: &[f64; N]) -> [f64; N] {
    let mut out = [0.0; N];
    for k in 0..N {
        out[k] = a[k] - b[k];
    }
    out
}

/// Size of the first three coordinates.
pub(super) fn size<const N: usize>(a: &[f64; N]) -> f64 {
    libm::sqrt(a.iter().take(3).map(|x| x * x).sum())
}

/// The coefficients of each piece between knots: the values of the polar form at the piece's ends (Ramshaw, "Blossoms are polar
/// forms", CAGD 6 (1989) 323).
pub(super) fn pieces<const N: usize>(knots: &Knots, poles: &[[f64; N]]) -> Vec<Row<N>> {
    let (flat, n) = (knots.flat(), knots.degree);
    let mut found = Vec::with_capacity(knots.values.len());
    for span in n..flat.len() - n - 1 {
        let [a, b] = [flat[span], flat[span + 1]];
        if a >= b {
            continue;
        }
        let own = &poles[span - n..=span];
        let single = flat[span + 1 - n] == a && flat[span + n] == b;
        if single {
            found.push(Row::from_slice(own));
            continue;
        }
        let coefficient = |i: usize| {
            let mut d: Row<N> = Row::from_slice(own);
            for k in 1..=n {
                let t = if k <= n - i { a } else { b };
                for j in 0..=n - k {
                    let (from, to) = (flat[span - n + j + k], flat[span + 1 + j]);
                    d[j] = lerp(&d[j], &d[j + 1], (t - from) / (to - from));
                }
            }
            d[0]
        };
        found.push((0..=n).map(coefficient).collect());
    }
    found
}

/// Value and slope at a place from 0 to 1 (de Casteljau).
pub(super) fn value<const N: usize>(row: &[[f64; N]], t: f64) -> ([f64; N], [f64; N]) {
    let n = row.len() - 1;
    let mut d: Row<N> = Row::from_slice(row);
    for k in 1..n {
        for j in 0..=n - k {
            d[j] = lerp(&d[j], &d[j + 1], t);
        }
    }
    if n == 0 {
        return (d[0], [0.0; N]);
    }
    let slope = minus(&d[1], &d[0]).map(|x| x * n as f64);
    (lerp(&d[0], &d[1], t), slope)
}

/// The coefficients between two places, in place of those from 0 to 1.
#[inline(always)]
pub(super) fn shorten<const N: usize>(d: &mut [[f64; N]], [from, to]: [f64; 2]) {
    let n = d.len() - 1;
    if to < 1.0 {
        // The coefficients before a place come out one by one, so they are filled in from the end.
        for k in 1..=n {
            for j in (k..=n).rev() {
                d[j] = lerp(&d[j - 1], &d[j], to);
            }
        }
    }
    if from > 0.0 {
        let t = from / to.min(1.0);
        for k in 1..=n {
            for j in 0..=n - k {
                d[j] = lerp(&d[j], &d[j + 1], t);
            }
        }
    }
}

/// The coefficients of the part between two places.
pub(super) fn part<const N: usize>(row: &[[f64; N]], between: [f64; 2]) -> Row<N> {
    let mut d: Row<N> = Row::from_slice(row);
    shorten(&mut d, between);
    d
}

/// What of a piece a part has to be at least for differences of its coefficients to tell anything.
const SHORT: f64 = 1e-3;

/// A spline curve of `N` coordinates in pieces.
pub(super) struct Pieces<const N: usize> {
    pub knots: Vec<f64>,
    pub rows: Vec<Row<N>>,
}

impl<const N: usize> Pieces<N> {
    pub fn new(knots: &Knots, poles: &[[f64; N]]) -> Self {
        Self { knots: knots.values.clone(), rows: pieces(knots, poles) }
    }

    /// The piece that holds a parameter, and the place in it.
    pub fn place(&self, t: f64) -> (usize, f64) {
        let i = self.knots.partition_point(|k| *k <= t).saturating_sub(1).min(self.rows.len() - 1);
        let (a, b) = (self.knots[i], self.knots[i + 1]);
        (i, (t - a) / (b - a))
    }

    pub fn at(&self, t: f64) -> [f64; N] {
        let (i, t) = self.place(t);
        value(&self.rows[i], t).0
    }

    /// The parts of the pieces that lie in a stretch of the parameter, each with its length and that which its coefficients are of:
    /// of a part so short that their differences are mere rounding those of a longer one around it are given.
    pub fn within(&self, [from, to]: [f64; 2]) -> impl Iterator<Item = (f64, f64, Row<N>)> + '_ {
        let (first, _) = self.place(from);
        (first..self.rows.len()).take_while(move |i| self.knots[*i] < to).filter_map(move |i| {
            let (a, b) = (self.knots[i], self.knots[i + 1]);
            let own = [from.max(a), to.min(b)];
            let mut places = own.map(|x| (x - a) / (b - a));
            let length = own[1] - own[0];
            let mut of = length;
            if places[1] - places[0] < SHORT {
                let start = places[0].min(1.0 - SHORT);
                places = [start, start + SHORT];
                of = SHORT * (b - a);
            }
            (length > 0.0).then(|| (length, of, part(&self.rows[i], places)))
        })
    }
}

/// Greatest size of second differences, times what makes a second derivative by a parameter from 0 to 1 of them.
pub(super) fn bend<const N: usize>(row: &[[f64; N]]) -> f64 {
    let n = row.len() - 1;
    let second = |w: &[[f64; N]]| {
        let mut d = [0.0; N];
        for k in 0..N {
            d[k] = w[2][k] - 2.0 * w[1][k] + w[0][k];
        }
        size(&d)
    };
    (n * n.saturating_sub(1)) as f64 * row.windows(3).map(second).fold(0.0, f64::max)
}

/// The poles with their weights: `[x·w, y·w, z·w, w]`.
pub(super) fn weighted(curve: &SplineCurve) -> Vec<[f64; 4]> {
    let weight = |i: usize| curve.weights.as_ref().map_or(1.0, |w| w[i]);
    curve.poles.iter().enumerate().map(|(i, p)| with_weight(p, weight(i))).collect()
}

pub(super) fn with_weight([x, y, z]: &[f64; 3], w: f64) -> [f64; 4] {
    [x * w, y * w, z * w, w]
}

pub(super) fn unweighted([x, y, z, w]: [f64; 4]) -> [f64; 3] {
    if w == 1.0 { [x, y, z] } else { [x / w, y / w, z / w] }
}

/// What bounds a quotient and its derivatives: greatest sizes of the part above the line once a point of it is taken for the
/// origin, and least and greatest weight.
pub(super) fn about_middle(row: &[[f64; 4]]) -> (Row<4>, [f64; 2]) {
    let middle = row[row.len() / 2];
    let origin = unweighted(middle);
    let moved =
        row.iter().map(|p| [p[0] - origin[0] * p[3], p[1] - origin[1] * p[3], p[2] - origin[2] * p[3], p[3]]);
    let weights = row.iter().fold([f64::INFINITY, 0.0_f64], |w, p| [w[0].min(p[3]), w[1].max(p[3])]);
    (moved.collect(), weights)
}

/// Bound of the second derivative, by a parameter from 0 to 1, of the curve of a weighted row: `C = N/W` has
/// `C″ = (N″ − 2C′W′ − CW″)/W`.
pub(super) fn rational_bend(row: &[[f64; 4]]) -> f64 {
    if row.iter().all(|p| p[3] == 1.0) {
        return bend(row);
    }
    let n = row.len() as f64 - 1.0;
    let (moved, [least, _]) = about_middle(row);
    let spread = moved.iter().map(size).fold(0.0, f64::max) / least;
    let first = moved.windows(2).map(|w| size(&minus(&w[1], &w[0]))).fold(0.0, f64::max) * n;
    let weight =
        |k: usize, w: &[[f64; 4]]| if k == 1 { w[1][3] - w[0][3] } else { w[2][3] - 2.0 * w[1][3] + w[0][3] };
    let w1 = n * moved.windows(2).map(|w| libm::fabs(weight(1, w))).fold(0.0, f64::max);
    let w2 = n * (n - 1.0) * moved.windows(3).map(|w| libm::fabs(weight(2, w))).fold(0.0, f64::max);
    let slope = (first + spread * w1) / least;
    (bend(&moved) + 2.0 * slope * w1 + spread * w2) / least
}

/// A table of coefficients along and around, row by row.
#[derive(Clone)]
pub(super) struct Table {
    /// How many there are around.
    pub width: usize,
    pub poles: Vec<[f64; 4]>,
}

impl Table {
    pub fn rows(&self) -> impl Iterator<Item = &[[f64; 4]]> {
        self.poles.chunks(self.width)
    }

    pub fn height(&self) -> usize {
        self.poles.len() / self.width
    }

    pub fn column(&self, j: usize) -> Row<4> {
        self.poles.iter().skip(j).step_by(self.width).copied().collect()
    }

    /// The part between two places along, and two around.
    pub fn within(&self, [along, around]: [[f64; 2]; 2]) -> Self {
        let mut poles = vec![[0.0; 4]; self.poles.len()];
        for j in 0..self.width {
            for (i, p) in part(&self.column(j), along).into_iter().enumerate() {
                poles[i * self.width + j] = p;
            }
        }
        if around != [0.0, 1.0] {
            poles.chunks_mut(self.width).for_each(|row| shorten(row, around));
        }
        Self { width: self.width, poles }
    }
}
