//! What all readings may be off by together, as points of one scan are where its place is not quite known.

use alloc::vec;
use alloc::vec::Vec;

use super::copied::{Copied, State};
use super::family::Family;
use super::knowledge::Knowledge;
use super::matrix::{add_square, times};
use super::rows::Rows;
use super::settle::unbuilt;
use crate::measure::Error;

impl Copied {
    /// Widens what the numbers are known to by errors that readings have in common. Each of `causes` says what every reading,
    /// in the order given, is off by where this cause is off by one standard deviation, mm, of a point square to its section's
    /// outline and positive outside; the causes are independent of each other and of the readings' own noise (JCGM 100, 5.2 and
    /// F.1.2.3).
    ///
    /// # Errors
    /// - numbers that make no neck of which readings could be told.
    pub(crate) fn widen(&mut self, causes: Vec<Vec<f64>>) -> Result<(), Error> {
        self.state.causes = causes;
        let changes = self.state.changes(&self.state.family, &self.state.knowledge).ok_or_else(unbuilt)?;
        let knowledge = &mut self.state.knowledge;
        let (n, all) = (knowledge.fitted, knowledge.which.len());
        for mut change in changes {
            add_square(&mut self.covariance, n, &change, 1.0);
            // What stays the base's is not changed by what readings are off.
            change.resize(all, 0.0);
            add_square(&mut knowledge.covariance, all, &change, 1.0);
        }
        for (k, number) in self.numbers.iter_mut().enumerate() {
            number.uncertainty = libm::sqrt(self.covariance[k * n + k]);
        }
        Ok(())
    }
}

impl State {
    /// By what each cause of errors in common, off by one standard deviation, changes the numbers fitted.
    pub(super) fn changes(&self, family: &Family, knowledge: &Knowledge) -> Option<Vec<Vec<f64>>> {
        let Self { v, weight, taken, causes, .. } = self;
        if causes.is_empty() {
            return Some(Vec::new());
        }
        let n = knowledge.fitted;
        let rows = Rows::new(family, taken, v, knowledge.which.get(..n)?)?;
        let change = |cause: &Vec<f64>| {
            let mut sum = vec![0.0; n];
            for ((row, item), w) in rows.rows.chunks(n.max(1)).zip(&taken.items).zip(weight.iter()) {
                let off = w * w * cause.get(item.reading).copied().unwrap_or(0.0);
                for (s, r) in sum.iter_mut().zip(row) {
                    *s += r * off;
                }
            }
            times(&knowledge.inner, n, &sum)
        };
        Some(causes.iter().map(change).collect())
    }
}
