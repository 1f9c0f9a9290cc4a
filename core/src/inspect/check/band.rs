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

impl Band {
    pub fn new(n: usize, width: usize) -> Self {
        Self { n, width, entries: vec![0.0; n * (width + 1)] }
    }

    /// Adds to an entry; `i` and `j` in any order, no further apart than the band is wide.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        let (i, j) = if i >= j { (i, j) } else { (j, i) };
        if let Some(entry) = self.entries.get_mut(i * (self.width + 1) + (i - j)) {
            *entry += value;
        }
    }

    pub fn at(&self, i: usize, j: usize) -> f64 {
        let (i, j) = if i >= j { (i, j) } else { (j, i) };
        self.entries.get(i * (self.width + 1) + (i - j)).copied().unwrap_or(0.0)
    }

    /// Turns the matrix into its Cholesky factor; `false` where it is not positive definite.
    pub fn factor(&mut self) -> bool {
        let w = self.width;
        // Rows reversed, entry k of row i is column i − k: products of two rows run over falling columns.
        for i in 0..self.n {
            let first = i.saturating_sub(w);
            for j in first..=i {
                let from = first.max(j.saturating_sub(w));
                let (row_i, row_j) = (i * (w + 1), j * (w + 1));
                let mut sum = self.entries[row_i + i - j];
                let count = j - from;
                let a = &self.entries[row_i + (i - j) + 1..row_i + (i - j) + 1 + count];
                let b = &self.entries[row_j + 1..row_j + 1 + count];
                sum -= a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
                self.entries[row_i + i - j] = if i == j {
                    if !(sum > 0.0) {
                        return false;
                    }
                    libm::sqrt(sum)
                } else {
                    sum / self.entries[row_j]
                };
            }
        }
        true
    }

    /// Solves with the factor, in place.
    pub fn solve(&self, x: &mut [f64]) {
        let w = self.width;
        for i in 0..self.n {
            for k in 1..=w.min(i) {
                x[i] -= self.entries[i * (w + 1) + k] * x[i - k];
            }
            x[i] /= self.entries[i * (w + 1)];
        }
        for i in (0..self.n).rev() {
            x[i] /= self.entries[i * (w + 1)];
            let value = x[i];
            for k in 1..=w.min(i) {
                x[i - k] -= self.entries[i * (w + 1) + k] * value;
            }
        }
    }

    /// The entries of the inverse that lie in the band, from the factor (Takahashi, Fagan & Chin, 1973, as in Rue & Held,
    /// Gaussian Markov Random Fields, 2005, section 2.4; memory).
    pub fn inverse(&self) -> Self {
        let (n, w) = (self.n, self.width);
        let mut inverse = Self::new(n, w);
        let mut column = vec![0.0; w + 1];
        let mut row = vec![0.0; w + 1];
        for i in (0..n).rev() {
            let last = (i + w).min(n - 1);
            let diagonal = self.entries[i * (w + 1)];
            // The factor's column below the diagonal.
            for k in i + 1..=last {
                column[k - i] = self.entries[k * (w + 1) + k - i];
            }
            for j in (i + 1..=last).rev() {
                let mut sum = 0.0;
                for k in i + 1..=last {
                    sum += column[k - i] * inverse.at(k, j);
                }
                row[j - i] = -sum / diagonal;
            }
            let sum: f64 = (1..=last - i).map(|k| column[k] * row[k]).sum();
            row[0] = (1.0 / diagonal - sum) / diagonal;
            for k in 0..=last - i {
                inverse.entries[(i + k) * (w + 1) + k] = row[k];
            }
        }
        inverse
    }
}
