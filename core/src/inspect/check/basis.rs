//! Columns square to each other, each of length 1.

use alloc::vec::Vec;

use smallvec::SmallVec;

/// Products with the columns.
pub(crate) type Along = SmallVec<[f64; 8]>;

/// What is left of a column beside the others counts as nothing below this share of it.
const NOTHING: f64 = 1e-7;

#[derive(Clone, Debug)]
pub(crate) struct Basis {
    rows: usize,
    columns: Vec<Vec<f64>>,
}

impl Basis {
    pub fn new(rows: usize) -> Self {
        Self { rows, columns: Vec::with_capacity(8) }
    }

    /// The first columns alone.
    pub fn first(&self, count: usize) -> Self {
        Self { rows: self.rows, columns: self.columns.iter().take(count).cloned().collect() }
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
        self.columns.push(column);
    }

    /// Takes off a column what lies along the basis.
    pub fn remove_from(&self, column: &mut [f64]) {
        self.columns.iter().for_each(|c| take_off(column, c));
    }

    /// Products with a column that is given from its first row on that is not 0.
    pub fn along(&self, first: usize, values: &[f64]) -> Along {
        let mut along = Along::new();
        self.columns.iter().for_each(|c| along.push(product(c, first, values)));
        along
    }

    /// The same with the columns from one on.
    pub fn along_from(&self, column: usize, first: usize, values: &[f64]) -> impl Iterator<Item = f64> {
        self.columns.iter().skip(column).map(move |c| product(c, first, values))
    }

    /// Square of what of a column lies along the basis.
    pub fn square_along(&self, first: usize, values: &[f64]) -> f64 {
        self.columns.iter().map(|c| product(c, first, values)).map(|a| a * a).sum()
    }
}

/// Takes off a column what lies along another of length 1.
pub(crate) fn take_off(column: &mut [f64], other: &[f64]) {
    let along: f64 = other.iter().zip(column.iter()).map(|(a, b)| a * b).sum();
    column.iter_mut().zip(other).for_each(|(x, c)| *x -= along * c);
}

fn product(column: &[f64], first: usize, values: &[f64]) -> f64 {
    let touched = column.get(first..first + values.len()).unwrap_or_default();
    touched.iter().zip(values).map(|(a, b)| a * b).sum()
}
