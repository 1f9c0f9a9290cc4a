//! Columns square to each other, each of length 1.

use alloc::vec::Vec;

use smallvec::SmallVec;

/// So many columns are multiplied at a time.
const BLOCK: usize = 8;

/// Products with the columns, block by block, and 0 where the last one has no column.
pub(crate) type Along = SmallVec<[[f64; BLOCK]; 1]>;

/// What is left of a column beside the others counts as nothing below this share of it.
const NOTHING: f64 = 1e-7;

#[derive(Clone, Debug)]
pub(crate) struct Basis {
    rows: usize,
    columns: Vec<Vec<f64>>,
    /// The same row by row, in blocks of columns.
    blocks: Vec<Vec<[f64; BLOCK]>>,
}

impl Basis {
    pub fn new(rows: usize) -> Self {
        Self { rows, columns: Vec::with_capacity(BLOCK), blocks: Vec::with_capacity(2) }
    }

    /// The first columns alone.
    pub fn first(&self, count: usize) -> Self {
        let mut basis = Self::new(self.rows);
        self.columns.iter().take(count).for_each(|column| basis.push(column.clone()));
        basis
    }

    pub fn rank(&self) -> usize {
        self.columns.len()
    }

    /// Adds what a column has beside those that are there, if it has anything: the modified Gram–Schmidt process, done
    /// twice, so that nothing of the others is left (Björck, Numerical Methods for Least Squares Problems, 1996, section
    /// 2.4; memory).
    pub fn add(&mut self, column: Vec<f64>) {
        if let Some(rest) = self.beside(column) {
            self.push(rest);
        }
    }

    /// What a column has beside those that are there, with length 1; `None` where that is nothing.
    pub fn beside(&self, mut column: Vec<f64>) -> Option<Vec<f64>> {
        let size = |c: &[f64]| libm::sqrt(c.iter().map(|x| x * x).sum::<f64>());
        let whole = size(&column);
        self.remove_from(&mut column);
        self.remove_from(&mut column);
        let left = size(&column);
        (self.columns.len() < self.rows && left > NOTHING * whole).then(|| {
            column.iter_mut().for_each(|x| *x /= left);
            column
        })
    }

    /// Adds a column that is square to those that are there and of length 1.
    pub fn push(&mut self, column: Vec<f64>) {
        let which = self.columns.len() % BLOCK;
        if which == 0 {
            self.blocks.push(alloc::vec![[0.0; BLOCK]; self.rows]);
        }
        if let Some(block) = self.blocks.last_mut() {
            block.iter_mut().zip(&column).for_each(|(row, value)| row[which] = *value);
        }
        self.columns.push(column);
    }

    /// Takes off a column what lies along the basis.
    pub fn remove_from(&self, column: &mut [f64]) {
        self.columns.iter().for_each(|c| take_off(column, c));
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
        last[(self.columns.len() - 1) % BLOCK]
    }

    /// Square of what of a column lies along the basis.
    pub fn square_along(&self, first: usize, values: &[f64]) -> f64 {
        square(&self.along(first, values))
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
