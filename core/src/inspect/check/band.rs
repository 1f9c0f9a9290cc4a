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

    /// Adds so many times some values to the entries `(i, j), (i, j + 1), …` of the lower half.
    pub fn add_row(&mut self, i: usize, j: usize, times: f64, values: &[f64]) {
        let last = i * (self.width + 1) + (i - j);
        let row = self.entries.get_mut(last + 1 - values.len()..=last).unwrap_or_default();
        row.iter_mut().rev().zip(values).for_each(|(entry, value)| *entry += times * value);
    }

    /// Turns the matrix into its Cholesky factor; `false` where it is not positive definite.
    pub fn factor(&mut self) -> bool {
        let w = self.width;
        for i in 0..self.n {
            let first = i.saturating_sub(w);
            for j in first..=i {
                let count = j - first.max(j.saturating_sub(w));
                let (at, row) = (i * (w + 1) + i - j, j * (w + 1));
                // Both rows toward falling columns.
                let along = product(&self.entries[at + 1..][..count], &self.entries[row + 1..][..count]);
                let sum = self.entries[at] - along;
                self.entries[at] = if i > j {
                    sum / self.entries[row]
                } else if sum > 0.0 {
                    libm::sqrt(sum)
                } else {
                    return false;
                };
            }
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
        let mut column = vec![0.0; w];
        for i in (0..n).rev() {
            let last = (i + w).min(n - 1);
            let diagonal = self.entries[i * (w + 1)];
            // The factor's column below the diagonal.
            for k in i + 1..=last {
                column[k - i - 1] = self.entries[k * (w + 1) + k - i];
            }
            let column = &column[..last - i];
            for j in i + 1..=last {
                let value =
                    -product(column, &inverse[Band::at(w, j, i + 1)..=Band::at(w, j, last)]) / diagonal;
                inverse[Band::at(w, j, i)] = value;
                inverse[Band::at(w, i, j)] = value;
            }
            let sum = product(column, &inverse[Band::at(w, i, i) + 1..=Band::at(w, i, last)]);
            inverse[Band::at(w, i, i)] = (1.0 / diagonal - sum) / diagonal;
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
