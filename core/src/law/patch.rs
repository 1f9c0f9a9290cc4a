//! Polynomials of two variables.

use alloc::vec;
use alloc::vec::Vec;

use super::bernstein::{Bernstein, binomials};

/// A polynomial over the unit square in tensor-product Bernstein form: `s` along the neck, `u` around the
/// section. Its coefficients bound it from both sides.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    along: usize,
    around: usize,
    /// Row by row: all coefficients around for the first coefficient along, then the next.
    coefs: Vec<f64>,
}

impl Patch {
    /// From polynomials along the neck, one for each Bernstein coefficient around the section.
    #[must_use]
    pub fn from_columns(columns: &[Bernstein]) -> Self {
        let along = columns.iter().map(Bernstein::degree).max().unwrap_or(0);
        let around = columns.len().max(1) - 1;
        let mut coefs = vec![0.0; (along + 1) * (around + 1)];
        for (j, column) in columns.iter().enumerate() {
            for (i, c) in column.elevated(along).coefs().iter().enumerate() {
                coefs[i * (around + 1) + j] = *c;
            }
        }
        Self { along, around, coefs }
    }

    /// All coefficients, those around the section running fastest.
    #[must_use]
    pub fn coefs(&self) -> &[f64] {
        &self.coefs
    }

    fn row(&self, i: usize) -> &[f64] {
        &self.coefs[i * (self.around + 1)..(i + 1) * (self.around + 1)]
    }

    /// The polynomial around the section at the first (0) or last (1) end along the neck.
    #[must_use]
    pub fn end_row(&self, end: usize) -> Bernstein {
        self.row(if end == 0 { 0 } else { self.along }).iter().copied().collect()
    }

    /// Bounds of the size of the first and second derivative along the neck (in `s`), from differences of the
    /// coefficients.
    #[must_use]
    pub fn motion_along(&self) -> [f64; 2] {
        let width = self.around + 1;
        let n = self.along as f64;
        let (mut first, mut second) = (0.0_f64, 0.0_f64);
        for i in 0..self.coefs.len().saturating_sub(width) {
            let d = self.coefs[i + width] - self.coefs[i];
            first = first.max(libm::fabs(d));
            if let Some(next) = self.coefs.get(i + 2 * width) {
                second = second.max(libm::fabs(next - self.coefs[i + width] - d));
            }
        }
        [n * first, n * (n - 1.0) * second]
    }

    /// How far the coefficients of one column along the neck lie apart at the most, and those of one row around
    /// the section.
    #[must_use]
    pub fn spreads(&self) -> [f64; 2] {
        let width = self.around + 1;
        let spread = |part: &mut dyn Iterator<Item = f64>| {
            let (low, high) =
                part.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), c| (lo.min(c), hi.max(c)));
            high - low
        };
        let column = |j: usize| spread(&mut self.coefs.iter().skip(j).step_by(width).copied());
        let row = |i: usize| spread(&mut self.row(i).iter().copied());
        [(0..width).map(column).fold(0.0, f64::max), (0..=self.along).map(row).fold(0.0, f64::max)]
    }

    /// The value at `(s, u)`, by de Casteljau's scheme.
    #[must_use]
    pub fn eval(&self, s: f64, u: f64) -> f64 {
        let rows = (0..=self.along).map(|i| self.row(i).iter().copied().collect::<Bernstein>().eval(u));
        rows.collect::<Bernstein>().eval(s)
    }

    /// Least and largest coefficient: bounds of the polynomial.
    #[must_use]
    pub fn hull(&self) -> (f64, f64) {
        self.coefs.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), &c| (lo.min(c), hi.max(c)))
    }

    /// Both halves along the neck.
    #[must_use]
    pub fn halves_along(&self) -> (Self, Self) {
        let mut right = self.coefs.clone();
        let mut left = right.clone();
        let width = self.around + 1;
        for k in 1..=self.along {
            for i in 0..(self.along + 1 - k) * width {
                right[i] = 0.5 * (right[i] + right[i + width]);
            }
            left[k * width..(k + 1) * width].copy_from_slice(&right[..width]);
        }
        (Self { coefs: left, ..*self }, Self { coefs: right, ..*self })
    }

    /// Both halves around the section.
    #[must_use]
    pub fn halves_around(&self) -> (Self, Self) {
        let mut right = self.coefs.clone();
        let mut left = right.clone();
        let width = self.around + 1;
        for (r, l) in right.chunks_mut(width).zip(left.chunks_mut(width)) {
            for (k, l) in l.iter_mut().enumerate().skip(1) {
                for j in 0..width - k {
                    r[j] = 0.5 * (r[j] + r[j + 1]);
                }
                *l = r[0];
            }
        }
        (Self { coefs: left, ..*self }, Self { coefs: right, ..*self })
    }

    /// The derivative around the section (in `u`).
    #[must_use]
    pub fn derivative_around(&self) -> Self {
        if self.around == 0 {
            return Self { coefs: vec![0.0; self.coefs.len()], ..*self };
        }
        let n = self.around as f64;
        let coefs =
            (0..=self.along).flat_map(|i| self.row(i).windows(2).map(move |w| n * (w[1] - w[0]))).collect();
        Self { along: self.along, around: self.around - 1, coefs }
    }

    /// Product.
    #[must_use]
    pub fn times(&self, other: &Self) -> Self {
        let (along, around) = (self.along + other.along, self.around + other.around);
        let (a1, a2, a) = (binomials(self.along), binomials(other.along), binomials(along));
        let (u1, u2, u) = (binomials(self.around), binomials(other.around), binomials(around));
        let mut coefs = vec![0.0; (along + 1) * (around + 1)];
        for i in 0..=self.along {
            for k in 0..=other.along {
                let rows = a1[i] * a2[k] / a[i + k];
                let out = &mut coefs[(i + k) * (around + 1)..];
                for (j, p) in self.row(i).iter().enumerate() {
                    let p = rows * p * u1[j];
                    for (l, q) in other.row(k).iter().enumerate() {
                        out[j + l] += p * (q * u2[l]);
                    }
                }
            }
        }
        for row in coefs.chunks_mut(around + 1) {
            for (c, b) in row.iter_mut().zip(u.iter()) {
                *c /= b;
            }
        }
        Self { along, around, coefs }
    }

    /// The same polynomial with at least these degrees.
    #[must_use]
    pub fn elevated(&self, along: usize, around: usize) -> Self {
        if along <= self.along && around <= self.around {
            return self.clone();
        }
        let rows: Vec<Bernstein> = (0..=self.along)
            .map(|i| self.row(i).iter().copied().collect::<Bernstein>().elevated(around))
            .collect();
        let width = rows[0].degree() + 1;
        let columns: Vec<Bernstein> = (0..width)
            .map(|j| rows.iter().map(|r| r.coefs()[j]).collect::<Bernstein>().elevated(along))
            .collect();
        Self::from_columns(&columns)
    }

    /// The same polynomial with at least the degrees of another.
    #[must_use]
    pub fn elevated_like(&self, other: &Self) -> Self {
        self.elevated(other.along, other.around)
    }

    /// `self·a + other·b`.
    #[must_use]
    pub fn combined(&self, a: f64, other: &Self, b: f64) -> Self {
        let (p, q) = (self.elevated_like(other), other.elevated_like(self));
        let coefs = p.coefs.iter().zip(&q.coefs).map(|(x, y)| a * x + b * y).collect();
        Self { coefs, ..p }
    }
}
