//! What all readings may be off by together, as points of one scan are where its place is not quite known.

use alloc::vec;
use alloc::vec::Vec;

use super::copied::{Copied, State};
use super::matrix::{add_square, cholesky, solve_with};
use super::rows::{Fit, information};

impl Copied {
    /// Widens what the numbers are known to by errors that readings have in common. Each of `causes` says what every reading,
    /// in the order given, is off by where this cause is off by one standard deviation, mm, of a point square to its section's
    /// outline and positive outside; the causes are independent of each other and of the readings' own noise (JCGM 100, 5.2 and
    /// F.1.2.3).
    pub(crate) fn widen(&mut self, causes: &[Vec<f64>]) {
        let State { family, v, which, taken, .. } = &self.state;
        let n = which.len();
        let count = |reading: usize| {
            let found = self.residuals.binary_search_by_key(&reading, |r| r.reading);
            found.ok().and_then(|i| self.residuals.get(i)).map_or(0.0, |r| r.weight)
        };
        let weight: Vec<f64> =
            taken.items.iter().map(|item| libm::sqrt(count(item.reading)) / item.uncertainty).collect();
        let (v, which) = (v.clone(), which.clone());
        let fit = Fit { family, taken, v: v.clone(), which, weight };
        let Some(rows) = fit.rows(&v) else { return };
        let scale: Vec<f64> = fit.which.iter().map(|i| family.unknown(*i, v[*i])).collect();
        let Some(l) = cholesky(&information(&rows, &fit.weight, &scale), n) else { return };
        for cause in causes {
            let mut change = vec![0.0; n];
            for ((row, item), w) in rows.rows.chunks(n.max(1)).zip(&taken.items).zip(&fit.weight) {
                let off = w * w * cause.get(item.reading).copied().unwrap_or(0.0);
                for k in 0..n {
                    change[k] += row[k] * scale[k] * off;
                }
            }
            solve_with(&l, n, &mut change);
            for (c, s) in change.iter_mut().zip(&scale) {
                *c *= s;
            }
            add_square(&mut self.covariance, n, &change, 1.0);
        }
        for (k, number) in self.numbers.iter_mut().enumerate() {
            number.uncertainty = libm::sqrt(self.covariance[k * n + k]);
        }
    }
}
