//! Columns square to each other, each of length 1.

use alloc::vec::Vec;

use smallvec::SmallVec;

/// So many columns are multiplied at a time.
const BLOCK: usize = 8;

/// Products with the columns, block by block, and 0 where the last one has no column.
pub(crate) type Along = SmallVec<[[f64; BLOCK]; 1]>;

/// What is left of a column beside the others counts as nothing below this share of it.
const NOTHING: f64 = 1e-7;
/// Where more is left than this share, rounding has left no more of the others than it does anyway.
const MUCH: f64 = 0.5;

#[derive(Clone, Debug)]
pub(crate) struct Basis {
    rows: usize,
    /// One column after the other.
    columns: Vec<f64>,
    /// The same row by row, in blocks of columns, once they have been asked for.
    blocks: Vec<Vec<[f64; BLOCK]>>,
}

impl Basis {
    pub fn new(rows: usize) -> Self {
        Self { rows, columns: Vec::with_capacity(BLOCK * rows), blocks: Vec::new() }
    }

    /// The first columns alone.
    pub fn first(&self, count: usize) -> Self {
        let columns = self.columns.iter().take(count * self.rows).copied().collect();
        Self { rows: self.rows, columns, blocks: Vec::new() }
    }

    pub fn rank(&self) -> usize {
        self.columns.len() / self.rows.max(1)
    }

    fn each(&self) -> impl Iterator<Item = &[f64]> {
        self.columns.chunks_exact(self.rows.max(1))
    }

    /// Adds what a column has beside those that are there, if it has anything: the modified Gram–Schmidt process, done
    /// again where little is left, so that nothing of the others is (Björck, Numerical Methods for Least Squares Problems,
    /// 1996, section 2.4; memory).
    pub fn add(&mut self, column: impl Iterator<Item = f64>) {
        let before = self.columns.len();
        self.columns.extend(column);
        let (others, own) = self.columns.split_at_mut(before);
        if before < self.rows * self.rows && beside(self.rows, others, own) {
            self.block_last();
        } else {
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
        self.block_last();
    }

    /// Has the columns ready for many products.
    pub fn prepare(&mut self) {
        let rank = self.rank();
        self.blocks.clear();
        for first in (0..rank.max(1)).step_by(BLOCK) {
            self.blocks.push(alloc::vec![[0.0; BLOCK]; self.rows]);
            (first..rank.min(first + BLOCK)).for_each(|which| self.block(which));
        }
    }

    fn block(&mut self, which: usize) {
        let column = self.columns.iter().skip(which * self.rows);
        if let Some(block) = self.blocks.get_mut(which / BLOCK) {
            block.iter_mut().zip(column).for_each(|(row, value)| row[which % BLOCK] = *value);
        }
    }

    /// Puts the last column into its block, where there are blocks.
    fn block_last(&mut self) {
        let last = self.rank() - 1;
        if self.blocks.is_empty() {
            return;
        }
        if last / BLOCK == self.blocks.len() {
            self.blocks.push(alloc::vec![[0.0; BLOCK]; self.rows]);
        }
        self.block(last);
    }

    /// Takes off a column what lies along the basis.
    pub fn remove_from(&self, column: &mut [f64]) {
        self.each().for_each(|c| take_off(column, c));
    }

    /// Products with a column that is given from its first row on that is not 0.
    pub fn along(&self, first: usize, values: &[f64]) -> Along {
        let mut along = Along::new();
        self.blocks.iter().for_each(|block| along.push(products(block, first, values)));
        along
    }

    /// Brings products up to date that were made before the last column was added, and gives the one with it.
    pub fn along_last(&self, first: usize, values: &[f64], along: &mut Along) -> f64 {
        let Some(block) = self.blocks.last() else { return 0.0 };
        let last = products(block, first, values);
        along.truncate(self.blocks.len() - 1);
        along.push(last);
        last[(self.rank() - 1) % BLOCK]
    }

    /// Square of what of a column lies along the basis.
    pub fn square_along(&self, first: usize, values: &[f64]) -> f64 {
        let along = |c: &[f64]| c.iter().skip(first).zip(values).map(|(a, b)| a * b).sum::<f64>();
        self.each().map(along).map(|a| a * a).sum()
    }
}

/// The sum of the squares of products.
pub(crate) fn square(along: &Along) -> f64 {
    along.iter().flatten().map(|a| a * a).sum()
}

fn products(block: &[[f64; BLOCK]], first: usize, values: &[f64]) -> [f64; BLOCK] {
    let mut sums = [0.0; BLOCK];
    for (row, value) in block.get(first..).unwrap_or_default().iter().zip(values) {
        for (sum, a) in sums.iter_mut().zip(row) {
            *sum += a * value;
        }
    }
    sums
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
