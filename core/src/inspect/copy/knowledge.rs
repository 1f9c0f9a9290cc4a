//! What is known of a neck's numbers: by readings, and by how much necks differ in what those do not tell.

use alloc::vec;
use alloc::vec::Vec;

use super::family::{Family, Places};
use super::matrix::{add_square, cholesky, dot, inverse, times};
use super::rows::rows_of;
use super::section::{Cut, Local};
use super::take::Taken;

/// What a number goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Told {
    /// The readings alone.
    Alone,
    /// The readings, and the base's value as if it were one more of them, as uncertain as necks differ.
    Partly,
    /// The base's value, as uncertain as necks differ; the readings have no say.
    Not,
}

/// Of what share of a number the readings have to have a say.
const LEAST_SAY: f64 = 1e-3;

/// What numbers go by, from the information `JᵀWJ` that readings have of them, each number scaled by how much necks differ in
/// it.
///
/// With the base's values as readings too, all of them, the covariance is `(1 + JᵀWJ)⁻¹`. A number is told by the readings alone
/// where its uncertainty without the base's value is no more than necks differ in it: `C/(1 − C) ≤ 1`. The best told is let go
/// first, each next one beside those that were, and none that would leave one of those uncertain by more than that.
pub(super) fn told(information: &[f64], n: usize) -> Option<Vec<Told>> {
    let mut a = information.to_vec();
    for i in 0..n {
        a[i * n + i] += 1.0;
    }
    let mut c = inverse(&a, n)?;
    let say = |c: f64| if 1.0 - c < LEAST_SAY { Told::Not } else { Told::Partly };
    let mut told: Vec<Told> = (0..n).map(|i| say(c[i * n + i])).collect();
    let mut open: Vec<usize> = (0..n).filter(|i| told[*i] == Told::Partly).collect();
    while let Some(at) = (0..open.len()).min_by(|i, j| {
        let [i, j] = [open[*i], open[*j]];
        c[i * n + i].total_cmp(&c[j * n + j])
    }) {
        let i = open.swap_remove(at);
        let room = 1.0 - c[i * n + i];
        let column: Vec<f64> = (0..n).map(|j| c[j * n + i]).collect();
        let without = |j: usize| c[j * n + j] + column[j] * column[j] / room;
        let bears = |j: usize| without(j) <= 1.0;
        if room > 0.0 && bears(i) && (0..n).all(|j| told[j] != Told::Alone || bears(j)) {
            told[i] = Told::Alone;
            add_square(&mut c, n, &column, 1.0 / room);
        }
    }
    Some(told)
}

/// How uncertain numbers are.
#[derive(Clone, Debug)]
pub(super) struct Knowledge {
    /// Numbers that were fitted, and after them those that stay the base's.
    pub which: Vec<usize>,
    /// How many were fitted.
    pub fitted: usize,
    /// Their covariance, row by row.
    pub covariance: Vec<f64>,
    /// The inverse of what the fit goes by, of those that were fitted: how it answers to readings.
    pub inner: Vec<f64>,
    /// The part of the covariance that is left if what is held were known, of those that were fitted.
    pub noise: Vec<f64>,
}

/// What there is to know it from.
pub(super) struct Sources<'a> {
    pub family: &'a Family,
    pub taken: &'a Taken,
    /// The numbers, and those of the base.
    pub v: &'a [f64],
    pub base: &'a [f64],
    /// Square roots of the readings' weights.
    pub weight: &'a [f64],
    /// What the fit left of them; `None`: nothing was fitted.
    pub left: Option<&'a [f64]>,
    /// By how much the base's values had more of a say in the fit than they should.
    pub pull: f64,
    /// By how much the readings' variances are greater than their uncertainties say.
    pub scatter: f64,
}

impl Knowledge {
    /// Of numbers that are fitted, each with what it goes by, and others that stay as the base has them or go along.
    ///
    /// In units of what necks differ the fit's error is `P⁻¹·(JᵀW·noise + k²·the base's errors of what is told partly +
    /// JᵀWC·δ)` with `P = JᵀWJ + k²` of what is told partly, `k` the pull, `C` and `δ` the rows and the errors of what is held.
    /// Its covariance is `P⁻¹·(s·JᵀWJ + k⁴)·P⁻¹ + G·S·Gᵀ`, with `s` the scatter, `G = P⁻¹·JᵀWC` and `S` the covariance of `δ`;
    /// without pull and scatter its first part is `P⁻¹`. What is held and not fitted is a "consider parameter" (Bierman,
    /// Factorization Methods for Discrete Sequential Estimation, 1977, VIII; memory).
    ///
    /// What stays the base's differs from it by what necks differ, whatever the readings say: `S` is 1. Of a thickness that goes
    /// along with others it is known better what it is off their line where readings lie around it: `S` is what the readings
    /// leave of 1, with all other numbers as open as they are. The first part and `G·S·Gᵀ` then are together the covariance that
    /// a fit of these thicknesses too would have. And where what the fit left of the readings says that they are off, by `m`,
    /// the line stays none the less: `m·mᵀ` comes to `S`, less what noise makes of it on average (the positive part of an
    /// estimate of its size: James & Stein, 1961; memory).
    pub fn new(from: &Sources<'_>, fitted: &[(usize, Told)], held: &[usize]) -> Option<Self> {
        let mut which: Vec<usize> = fitted.iter().map(|(i, _)| *i).collect();
        which.extend_from_slice(held);
        let (n, all) = (fitted.len(), which.len());
        let scale: Vec<f64> = which.iter().map(|i| from.family.unknown(*i, from.base[*i])).collect();
        let (a, slope) = all_information(from, &which, &scale)?;
        let partly = |i: usize| fitted.get(i).is_none_or(|(_, told)| *told != Told::Alone);
        let k2 = from.pull * from.pull;
        let mut p = vec![0.0; n * n];
        for i in 0..n {
            p[i * n..(i + 1) * n].copy_from_slice(&a[i * all..i * all + n]);
            p[i * n + i] += if partly(i) { k2 } else { 0.0 };
        }
        let mut inner = inverse(&p, n)?;
        // Where neither pull nor scatter is, this is `inner` but for rounding.
        let mut noise = if from.pull == 1.0 && from.scatter == 1.0 {
            inner.clone()
        } else {
            for i in 0..n {
                for j in 0..n {
                    p[i * n + j] = from.scatter * a[i * all + j];
                }
                p[i * n + i] += if partly(i) { k2 * k2 } else { 0.0 };
            }
            let l = cholesky(&p, n)?;
            let mut noise = vec![0.0; n * n];
            for k in 0..n {
                let column: Vec<f64> = (0..n).map(|i| l[i * n + k]).collect();
                add_square(&mut noise, n, &times(&inner, n, &column), 1.0);
            }
            noise
        };
        let mut covariance = vec![0.0; all * all];
        for i in 0..n {
            covariance[i * all..i * all + n].copy_from_slice(&noise[i * n..(i + 1) * n]);
        }
        // What a fit is off for each number held that is off by one.
        let error = |k: usize| {
            let column: Vec<f64> = (0..n).map(|j| a[j * all + k]).collect();
            let mut error: Vec<f64> = times(&inner, n, &column);
            error.resize(all, 0.0);
            error[k] = -1.0;
            error
        };
        let along: Vec<usize> = (n..all).filter(|k| from.family.goes_along(which[*k])).collect();
        for k in (n..all).filter(|k| !along.contains(k)) {
            add_square(&mut covariance, all, &error(k), 1.0);
        }
        if !along.is_empty() {
            let mut q: Vec<f64> = a.iter().map(|a| a / from.scatter).collect();
            for i in 0..all {
                q[i * all + i] += if partly(i) { 1.0 } else { 0.0 };
            }
            let left = inverse(&q, all)?;
            let m = along.len();
            let s: Vec<f64> = (0..m * m).map(|k| left[along[k / m] * all + along[k % m]]).collect();
            let l = cholesky(&s, m)?;
            let errors: Vec<Vec<f64>> = along.iter().map(|k| error(*k)).collect();
            let mut add = |each: &[f64], weight: f64| {
                let mut sum = vec![0.0; all];
                for (each, error) in each.iter().zip(&errors) {
                    for (sum, error) in sum.iter_mut().zip(error) {
                        *sum += each * error;
                    }
                }
                add_square(&mut covariance, all, &sum, weight);
            };
            for k in 0..m {
                add(&(0..m).map(|i| l[i * m + k]).collect::<Vec<f64>>(), 1.0);
            }
            let slope: Vec<f64> = along.iter().map(|k| slope[*k] / from.scatter).collect();
            let off = times(&s, m, &slope);
            let size = dot(&off, &slope);
            if size > m as f64 {
                add(&off, 1.0 - m as f64 / size);
            }
        }
        let unscale = |a: &mut [f64], n: usize| {
            for i in 0..n {
                for j in 0..n {
                    a[i * n + j] *= scale[i] * scale[j];
                }
            }
        };
        unscale(&mut inner, n);
        unscale(&mut noise, n);
        unscale(&mut covariance, all);
        Some(Self { which, fitted: n, covariance, inner, noise })
    }

    /// Of those that were fitted only, row by row.
    pub fn of_fitted(&self) -> Vec<f64> {
        let rows = self.covariance.chunks(self.which.len().max(1)).take(self.fitted);
        rows.flat_map(|row| &row[..self.fitted]).copied().collect()
    }
}

/// `JᵀWJ` of all numbers, each scaled, and `JᵀW` times what is left.
fn all_information(from: &Sources<'_>, which: &[usize], scale: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
    let n = which.len();
    let places = &from.taken.places;
    let mut rows = all_rows(from.family, from.v, which, places, |place, cut, give| {
        for item in from.taken.at_place(place) {
            give(&cut.compare(&item.measured, item.value).1);
        }
    })?;
    let (mut a, mut slope) = (vec![0.0; n * n], vec![0.0; n]);
    for (i, (row, weight)) in rows.chunks_mut(n.max(1)).zip(from.weight).enumerate() {
        let left = from.left.and_then(|left| left.get(i)).map_or(0.0, |left| weight * weight * left);
        for ((r, s), slope) in row.iter_mut().zip(scale).zip(&mut slope) {
            *r *= s;
            *slope += *r * left;
        }
        add_square(&mut a, n, row, weight * weight);
    }
    Some((a, slope))
}

/// Rows as [`rows_of`] gives them, where of thicknesses that go along with others what they may be off that is a number of
/// its own.
pub(super) fn all_rows(
    family: &Family,
    v: &[f64],
    which: &[usize],
    places: &Places,
    mut each: impl FnMut(usize, &Cut, &mut dyn FnMut(&Local)),
) -> Option<Vec<f64>> {
    let mut rows = rows_of(family, v, which, places, &mut each)?;
    let along: Vec<usize> = (0..which.len()).filter(|k| family.goes_along(which[*k])).collect();
    if !along.is_empty() {
        let numbers: Vec<usize> = along.iter().map(|k| which[*k]).collect();
        let own = rows_of(&family.free(), v, &numbers, places, each)?;
        for (row, own) in rows.chunks_mut(which.len()).zip(own.chunks(along.len())) {
            for (k, own) in along.iter().zip(own) {
                row[*k] = *own;
            }
        }
    }
    Some(rows)
}

#[cfg(test)]
mod tests {
    use super::{Told, told};

    #[test]
    fn what_is_told_and_what_is_not() {
        // A sharp one, one that is not told at all, and one that is told less than the base tells it.
        let a = [1e4, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.5];
        assert_eq!(told(&a, 3).unwrap(), [Told::Alone, Told::Not, Told::Partly]);
        // Of two only the sum: neither is told alone; of a sum with different shares the one that has more of it.
        let a = [1e6, 1e6, 1e6, 1e6];
        assert_eq!(told(&a, 2).unwrap(), [Told::Partly; 2]);
        let a = [1e6, 2e6, 2e6, 4e6];
        assert_eq!(told(&a, 2).unwrap(), [Told::Partly, Told::Alone]);
        // Three of which two combinations are told: not all at once.
        let v = [1.0, 1.0, 2.0];
        let a: [f64; 9] =
            core::array::from_fn(|k| 1e6 * (if k % 4 == 0 { 6.0 } else { 0.0 } - v[k / 3] * v[k % 3]));
        assert_eq!(told(&a, 3).unwrap(), [Told::Alone, Told::Alone, Told::Partly]);
    }
}
