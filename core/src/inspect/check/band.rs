//! Symmetric matrices with a band of entries beside their diagonal.

use alloc::vec;
use alloc::vec::Vec;

/// The lower half of a matrix whose entries lie no further than `W` from the diagonal, column by column: entry `(j + k, j)` at
/// `j·stride + k`, and a few zeros after each column. `C` is how many a column has, `W + 1`.
#[derive(Clone, Debug)]
pub(crate) struct Band<const W: usize, const C: usize> {
    n: usize,
    entries: Vec<f64>,
}

/// Columns are taken together by so many.
const FOUR: usize = 4;

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

/// Adds four columns, each times its factor. A function of its own, so that the compiler knows that the sums are none of the
/// columns, and adds several at a time.
fn add_four(sums: &mut [f64], [p, q, r, s]: [f64; FOUR], [a, b, c, d]: [&[f64]; FOUR]) {
    let size = sums.len();
    let (a, b, c, d) = (&a[..size], &b[..size], &c[..size], &d[..size]);
    for j in 0..size {
        sums[j] += (p * a[j] + q * b[j]) + (r * c[j] + s * d[j]);
    }
}

/// The same of rows whose size the compiler knows.
fn add_four_rows<const W: usize>(sums: &mut [f64; W], factors: [f64; FOUR], rows: [&[f64; W]; FOUR]) {
    let ([p, q, r, s], [a, b, c, d]) = (factors, rows);
    for j in 0..W {
        sums[j] += (p * a[j] + q * b[j]) + (r * c[j] + s * d[j]);
    }
}

/// The same of one row.
fn add_row<const W: usize>(sums: &mut [f64; W], factor: f64, row: &[f64; W]) {
    for j in 0..W {
        sums[j] += factor * row[j];
    }
}

/// Adds one column times its factor.
fn add_one(sums: &mut [f64], factor: f64, column: &[f64]) {
    sums.iter_mut().zip(column).for_each(|(sum, value)| *sum += factor * value);
}

impl<const W: usize, const C: usize> Band<W, C> {
    const STRIDE: usize = C + FOUR - 1;
    const ROW: usize = 2 * W + 1;

    pub fn new(n: usize) -> Self {
        const { assert!(C == W + 1) };
        Self { n, entries: vec![0.0; n * Self::STRIDE] }
    }

    /// Adds to entries of the lower half below each other, from `(i, j)` on, none further from the diagonal than the band is
    /// wide. What would lie beyond the matrix's end has to be 0.
    pub fn add_below<const N: usize>(&mut self, i: usize, j: usize, values: &[f64; N]) {
        let entries = self.entries.get_mut(j * Self::STRIDE + (i - j)..).unwrap_or_default();
        if let Some(entries) = entries.first_chunk_mut::<N>() {
            add_one(entries, 1.0, values);
        }
    }

    /// Turns the matrix into its Cholesky factor; `false` where it is not positive definite.
    pub fn factor(&mut self) -> bool {
        let stride = Self::STRIDE;
        for i in 0..self.n {
            let (before, own) = self.entries.split_at_mut(i * stride);
            let own = &mut own[..C];
            let first = i.saturating_sub(W);
            let alone = (i - first) % FOUR;
            // Of column `j` its part from row `i` on, as long as that of the last of the four: zeros follow the others.
            let part = |j: usize, size: usize| &before[j * stride + i - j..][..size];
            for j in first..first + alone {
                let part = part(j, C - (i - j));
                add_one(own, -part[0], part);
            }
            for j in (first + alone..i).step_by(FOUR) {
                let size = C + FOUR - 1 - (i - j);
                let parts = [part(j, size), part(j + 1, size), part(j + 2, size), part(j + 3, size)];
                let factors = [-parts[0][0], -parts[1][0], -parts[2][0], -parts[3][0]];
                add_four(&mut own[..size], factors, parts);
            }
            let square = own[0];
            if square.is_nan() || square <= 0.0 {
                return false;
            }
            let share = 1.0 / libm::sqrt(square);
            own.iter_mut().for_each(|entry| *entry *= share);
        }
        true
    }

    /// A column of the factor: one over its diagonal, and what lies below.
    fn column(&self, j: usize) -> Option<(f64, &[f64; W])> {
        let (diagonal, below) = self.entries.get(j * Self::STRIDE..)?.split_first()?;
        Some((1.0 / diagonal, below.first_chunk::<W>()?))
    }

    /// Solves with the factor, in place, for two right sides at once; as many rows of zeros as the band is wide have to follow.
    pub fn solve(&self, x: &mut [[f64; 2]]) {
        fn parts<const W: usize>(
            x: &mut [[f64; 2]],
            j: usize,
        ) -> Option<(&mut [f64; 2], &mut [[f64; 2]; W])> {
            let (own, after) = x.get_mut(j..)?.split_first_mut()?;
            Some((own, after.first_chunk_mut::<W>()?))
        }
        for j in 0..self.n {
            let (Some((share, column)), Some((own, after))) = (self.column(j), parts::<W>(x, j)) else {
                return;
            };
            *own = own.map(|v| v * share);
            for (entry, x) in column.iter().zip(after) {
                *x = [x[0] - entry * own[0], x[1] - entry * own[1]];
            }
        }
        for j in (0..self.n).rev() {
            let (Some((share, column)), Some((own, after))) = (self.column(j), parts::<W>(x, j)) else {
                return;
            };
            let mut value = *own;
            for (entry, x) in column.iter().zip(after) {
                value = [value[0] - entry * x[0], value[1] - entry * x[1]];
            }
            *own = value.map(|v| v * share);
        }
    }

    /// Where in [`inverse`](Self::inverse) an entry is.
    pub const fn at(i: usize, j: usize) -> usize {
        i * Self::ROW + j + W - i
    }

    /// From one row in [`inverse`](Self::inverse) to the next, seen from the diagonal.
    pub const ROW_ON: usize = Self::ROW;

    /// The entries of the inverse that lie in the band, from the factor, row by row from the
    /// band's one end to its other, and as many rows of zeros as the band is wide (Takahashi, Fagan & Chin,
    /// 1973, as in Rue & Held, Gaussian Markov Random Fields, 2005, section 2.4; memory).
    pub fn inverse(&self) -> Vec<f64> {
        let mut inverse = vec![0.0; (self.n + W) * Self::ROW];
        for i in (0..self.n).rev() {
            // The factor's column below the diagonal, times what is known of the inverse below and beside it.
            let Some((share, column)) = self.column(i) else { break };
            let mut sums = [0.0; W];
            let row = |k: usize| inverse[Self::at(i + 1 + k, i + 1)..].first_chunk::<W>();
            for (fours, k) in column.chunks_exact(FOUR).zip((0..).step_by(FOUR)) {
                let factors = [fours[0], fours[1], fours[2], fours[3]];
                if let (Some(a), Some(b), Some(c), Some(d)) = (row(k), row(k + 1), row(k + 2), row(k + 3)) {
                    add_four_rows(&mut sums, factors, [a, b, c, d]);
                }
            }
            for (k, factor) in column.iter().enumerate().skip(W / FOUR * FOUR) {
                if let Some(row) = row(k) {
                    add_row(&mut sums, *factor, row);
                }
            }
            sums.iter_mut().for_each(|sum| *sum *= -share);
            let own = Self::at(i, i);
            inverse[own] = (share - product(column, &sums)) * share;
            inverse[own + 1..=own + W].copy_from_slice(&sums);
            // The same below: from each row to the next its column lies one place nearer to the row's start.
            for (below, sum) in inverse[own + Self::ROW - 1..].chunks_mut(Self::ROW - 1).zip(&sums) {
                below[0] = *sum;
            }
        }
        inverse
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_banded_matrix_is_solved_and_inverted_like_a_full_one() {
        const N: usize = 13;
        const W: usize = 4;
        let mut band = Band::<W, 5>::new(N);
        let mut full = nalgebra::DMatrix::<f64>::zeros(N, N);
        for i in 0..N {
            for j in i.saturating_sub(W)..=i {
                let value = if i == j { 9.0 + i as f64 } else { 1.0 / (1.0 + (i + 2 * j) as f64) };
                band.add_below(i, j, &[value]);
                full[(i, j)] = value;
                full[(j, i)] = value;
            }
        }
        assert!(band.factor());
        let inverse = full.clone().try_inverse().unwrap();
        let found = band.inverse();
        for i in 0..N {
            for j in i.saturating_sub(W)..=(i + W).min(N - 1) {
                let entry = found[Band::<W, 5>::at(i, j)];
                assert!(libm::fabs(entry - inverse[(i, j)]) < 1e-15, "{i} {j}");
            }
        }
        let mut x: Vec<[f64; 2]> = (0..N).map(|i| [i as f64 - 3.0, 1.0 / (1.0 + i as f64)]).collect();
        let right = x.clone();
        x.resize(N + W, [0.0; 2]);
        band.solve(&mut x);
        assert!(x[N..].iter().flatten().all(|v| *v == 0.0));
        for k in 0..2 {
            let column = |x: &[[f64; 2]]| nalgebra::DVector::from_iterator(N, x[..N].iter().map(|v| v[k]));
            assert!((&full * column(&x) - column(&right)).amax() < 1e-13);
        }
        let mut none = Band::<1, 2>::new(2);
        none.add_below(0, 0, &[-1.0]);
        assert!(!none.factor());
    }
}
