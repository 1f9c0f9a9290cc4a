//! Symmetric matrices with a band of entries beside their diagonal.

use alloc::vec;
use alloc::vec::Vec;

/// The lower half, row by row: entry `(i, i − k)` at `i·(width + 1) + k`.
#[derive(Clone, Debug)]
pub(crate) struct Band {
    n: usize,
    width: usize,
    entries: Vec<f64>,
}

/// A product in four sums, added up in one order everywhere.
fn product(a: &[f64], b: &[f64]) -> f64 {
    let (fours, others) = (a.chunks_exact(4).zip(b.chunks_exact(4)), a.len() / 4 * 4);
    let mut sums = [0.0; 4];
    for (p, q) in fours {
        for k in 0..4 {
            sums[k] += p[k] * q[k];
        }
    }
    let rest: f64 = a.iter().zip(b).skip(others).map(|(x, y)| x * y).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

/// Products of one with four others, each in two sums.
fn products(one: &[f64], others: [&[f64]; 4]) -> [f64; 4] {
    let size = one.len();
    let others = others.map(|other| &other[..size]);
    let mut sums = [[0.0; 2]; 4];
    for k in 0..size / 2 {
        let [x, y] = [one[2 * k], one[2 * k + 1]];
        for (sum, other) in sums.iter_mut().zip(others) {
            *sum = [sum[0] + x * other[2 * k], sum[1] + y * other[2 * k + 1]];
        }
    }
    if size % 2 == 1 {
        for (sum, other) in sums.iter_mut().zip(others) {
            sum[0] += one[size - 1] * other[size - 1];
        }
    }
    sums.map(|[x, y]| x + y)
}

/// Adds four rows, each times its factor. A function of its own, so that the compiler knows that the sums are none of the
/// rows, and adds several at a time.
fn add_four(sums: &mut [f64], [p, q, r, s]: [f64; 4], a: &[f64], b: &[f64], c: &[f64], d: &[f64]) {
    let size = sums.len();
    let (a, b, c, d) = (&a[..size], &b[..size], &c[..size], &d[..size]);
    for j in 0..size {
        sums[j] += (p * a[j] + q * b[j]) + (r * c[j] + s * d[j]);
    }
}

impl Band {
    pub fn new(n: usize, width: usize) -> Self {
        Self { n, width, entries: vec![0.0; n * (width + 1)] }
    }

    /// Adds to an entry of the lower half, `j ≤ i`, no further from the diagonal than the band is wide.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        if let Some(entry) = self.entries.get_mut(i * (self.width + 1) + (i - j)) {
            *entry += value;
        }
    }

    /// Turns the matrix into its Cholesky factor; `false` where it is not positive definite.
    pub fn factor(&mut self) -> bool {
        let w = self.width;
        // One over the diagonal.
        let mut inverse = vec![0.0; self.n];
        for i in 0..self.n {
            let first = i.saturating_sub(w);
            let (before, own) = self.entries.split_at_mut(i * (w + 1));
            let mut j = first;
            // Four columns at a time: what lies before them, and then among themselves. Rows run toward falling columns.
            while j + 4 <= i {
                let size = j - first;
                let row = |k: usize| &before[(j + k) * (w + 1) + k + 1..][..size];
                let sums = products(&own[i - j + 1..][..size], [row(0), row(1), row(2), row(3)]);
                for (k, sum) in sums.iter().enumerate() {
                    let row = &before[(j + k) * (w + 1) + 1..][..k];
                    let among: f64 = (0..k).map(|l| own[i - j - l] * row[k - l - 1]).sum();
                    own[i - j - k] = (own[i - j - k] - sum - among) * inverse[j + k];
                }
                j += 4;
            }
            for j in j..i {
                let along = product(&own[i - j + 1..][..j - first], &before[j * (w + 1) + 1..][..j - first]);
                own[i - j] = (own[i - j] - along) * inverse[j];
            }
            let own = &mut own[..=i - first];
            let square = own[0] - product(&own[1..], &own[1..]);
            if square.is_nan() || square <= 0.0 {
                return false;
            }
            own[0] = libm::sqrt(square);
            inverse[i] = 1.0 / own[0];
        }
        true
    }

    /// Solves with the factor, in place, for two right sides at once.
    pub fn solve(&self, x: &mut [[f64; 2]]) {
        let rows = || self.entries.chunks_exact(self.width + 1);
        for (i, row) in rows().enumerate() {
            let (before, after) = x.split_at_mut(i);
            let Some(value) = after.first_mut() else { return };
            for (entry, x) in row.iter().skip(1).zip(before.iter().rev()) {
                *value = [value[0] - entry * x[0], value[1] - entry * x[1]];
            }
            *value = value.map(|v| v / row[0]);
        }
        for (i, row) in rows().enumerate().rev() {
            let (before, after) = x.split_at_mut(i);
            let Some(value) = after.first_mut() else { return };
            *value = value.map(|v| v / row[0]);
            for (entry, x) in row.iter().skip(1).zip(before.iter_mut().rev()) {
                *x = [x[0] - entry * value[0], x[1] - entry * value[1]];
            }
        }
    }

    /// Where in [`inverse`](Self::inverse) an entry is, of a matrix with a band so wide.
    pub const fn at(width: usize, i: usize, j: usize) -> usize {
        i * (2 * width + 1) + j + width - i
    }

    /// The entries of the inverse that lie in the band, from the factor, row by row from the
    /// band's one end to its other (Takahashi, Fagan & Chin,
    /// 1973, as in Rue & Held, Gaussian Markov Random Fields, 2005, section 2.4; memory).
    pub fn inverse(&self) -> Vec<f64> {
        let (n, w) = (self.n, self.width);
        let mut inverse = vec![0.0; n * (2 * w + 1)];
        let (mut column, mut sums) = (vec![0.0; w], vec![0.0; w]);
        for i in (0..n).rev() {
            let size = w.min(n - 1 - i);
            let diagonal = self.entries[i * (w + 1)];
            let (column, sums) = (&mut column[..size], &mut sums[..size]);
            // The factor's column below the diagonal, times what is known of the inverse below and beside it.
            for (k, entry) in column.iter_mut().enumerate() {
                *entry = self.entries[(i + 1 + k) * (w + 1) + k + 1];
            }
            sums.fill(0.0);
            let row = |k: usize| &inverse[Band::at(w, i + 1 + k, i + 1)..][..size];
            for (fours, k) in column.chunks_exact(4).zip((0..).step_by(4)) {
                let factors = [fours[0], fours[1], fours[2], fours[3]];
                add_four(sums, factors, row(k), row(k + 1), row(k + 2), row(k + 3));
            }
            for (k, factor) in column.iter().enumerate().skip(size / 4 * 4) {
                sums.iter_mut().zip(row(k)).for_each(|(sum, v)| *sum += factor * v);
            }
            sums.iter_mut().for_each(|sum| *sum /= -diagonal);
            let own = Band::at(w, i, i);
            inverse[own + 1..=own + size].copy_from_slice(sums);
            for (j, value) in sums.iter().enumerate() {
                inverse[Band::at(w, i + 1 + j, i)] = *value;
            }
            inverse[own] = (1.0 / diagonal - product(column, sums)) / diagonal;
        }
        inverse
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_banded_matrix_is_solved_and_inverted_like_a_full_one() {
        let (n, w) = (13, 4);
        let mut band = Band::new(n, w);
        let mut full = nalgebra::DMatrix::<f64>::zeros(n, n);
        for i in 0..n {
            for j in i.saturating_sub(w)..=i {
                let value = if i == j { 9.0 + i as f64 } else { 1.0 / (1.0 + (i + 2 * j) as f64) };
                band.add(i, j, value);
                full[(i, j)] = value;
                full[(j, i)] = value;
            }
        }
        assert!(band.factor());
        let inverse = full.clone().try_inverse().unwrap();
        let found = band.inverse();
        for i in 0..n {
            for j in i.saturating_sub(w)..=(i + w).min(n - 1) {
                assert!(libm::fabs(found[Band::at(w, i, j)] - inverse[(i, j)]) < 1e-15, "{i} {j}");
            }
        }
        let mut x: Vec<[f64; 2]> = (0..n).map(|i| [i as f64 - 3.0, 1.0 / (1.0 + i as f64)]).collect();
        let right = x.clone();
        band.solve(&mut x);
        for k in 0..2 {
            let column = |x: &[[f64; 2]]| nalgebra::DVector::from_iterator(n, x.iter().map(|v| v[k]));
            assert!((&full * column(&x) - column(&right)).amax() < 1e-13);
        }
        let mut none = Band::new(2, 1);
        none.add(0, 0, -1.0);
        assert!(!none.factor());
    }
}
