//! Columns square to each other, each of length 1.

use alloc::vec::Vec;

/// So many columns are multiplied at a time: no fewer than there are fair curves.
const BLOCK: usize = 8;

/// Products with the first columns, and 0 where there are fewer.
pub(crate) type Along = [f64; BLOCK];

/// What is left of a column beside the others counts as nothing below this share of it.
const NOTHING: f64 = 1e-7;
/// Where more is left than this share, rounding has left no more of the others than it does anyway.
const MUCH: f64 = 0.5;

#[derive(Clone, Debug)]
pub(crate) struct Basis {
    rows: usize,
    /// One column after the other.
    columns: Vec<f64>,
    /// The first of them row by row, once they have been asked for.
    block: Vec<[f64; BLOCK]>,
}

impl Basis {
    pub fn new(rows: usize) -> Self {
        Self { rows, columns: Vec::with_capacity(BLOCK * rows), block: Vec::new() }
    }

    pub fn rank(&self) -> usize {
        self.columns.len() / self.rows.max(1)
    }

    /// Column by column.
    pub fn each(&self) -> impl Iterator<Item = &[f64]> {
        self.columns.chunks_exact(self.rows.max(1))
    }

    /// Adds what a column has beside those that are there, if it has anything: the modified Gram–Schmidt process, done
    /// again where little is left, so that nothing of the others is (Björck, Numerical Methods for Least Squares Problems,
    /// 1996, section 2.4; memory).
    pub fn add(&mut self, column: impl Iterator<Item = f64>) {
        let before = self.columns.len();
        self.columns.extend(column);
        let (others, own) = self.columns.split_at_mut(before);
        if before >= self.rows * self.rows || !beside(self.rows, others, own) {
            self.columns.truncate(before);
        }
    }

    /// What a column has beside those that are there, with length 1; `None` where that is nothing.
    pub fn beside(&self, mut column: Vec<f64>) -> Option<Vec<f64>> {
        (self.rank() < self.rows && beside(self.rows, &self.columns, &mut column)).then_some(column)
    }

    /// Adds a column that is square to those that are there and of length 1.
    pub fn push(&mut self, column: &[f64]) {
        self.columns.extend_from_slice(column);
    }

    /// Has the first columns ready for many products.
    pub fn prepare(&mut self) {
        self.block = alloc::vec![[0.0; BLOCK]; self.rows];
        for (which, column) in self.columns.chunks_exact(self.rows.max(1)).take(BLOCK).enumerate() {
            self.block.iter_mut().zip(column).for_each(|(row, value)| row[which] = *value);
        }
    }

    /// Takes off a column what lies along the basis.
    pub fn remove_from(&self, column: &mut [f64]) {
        self.each().for_each(|c| take_off(column, c));
    }

    /// Products of the first columns with a column that is given from its first row on that is not 0.
    pub fn along(&self, first: usize, values: &[f64]) -> Along {
        let mut sums = [0.0; BLOCK];
        for (row, value) in self.block.get(first..).unwrap_or_default().iter().zip(values) {
            for (sum, a) in sums.iter_mut().zip(row) {
                *sum += a * value;
            }
        }
        sums
    }

    /// How much of a row's own deviation the basis takes off it.
    pub fn leverage(&self, row: usize) -> f64 {
        self.each().filter_map(|c| c.get(row)).map(|q| q * q).sum()
    }

    /// Square of what of a column lies along the basis.
    pub fn square_along(&self, first: usize, values: &[f64]) -> f64 {
        let along = |c: &[f64]| c.iter().skip(first).zip(values).map(|(a, b)| a * b).sum::<f64>();
        self.each().map(along).map(|a| a * a).sum()
    }
}

/// What two columns have in common along the basis.
pub(crate) fn product(a: &Along, b: &Along) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Takes off a column what lies along another of length 1.
pub(crate) fn take_off(column: &mut [f64], other: &[f64]) {
    let along: f64 = other.iter().zip(column.iter()).map(|(a, b)| a * b).sum();
    column.iter_mut().zip(other).for_each(|(x, c)| *x -= along * c);
}

/// Leaves of a column what it has beside others, with length 1; `false` where that is nothing.
fn beside(rows: usize, others: &[f64], column: &mut [f64]) -> bool {
    let size = |c: &[f64]| libm::sqrt(c.iter().map(|x| x * x).sum::<f64>());
    let remove = |column: &mut [f64]| others.chunks_exact(rows.max(1)).for_each(|c| take_off(column, c));
    let whole = size(column);
    remove(column);
    let mut left = size(column);
    if left < MUCH * whole {
        remove(column);
        left = size(column);
    }
    let share = 1.0 / left;
    column.iter_mut().for_each(|x| *x *= share);
    left > NOTHING * whole
}
