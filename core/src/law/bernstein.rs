//! One polynomial over the unit interval, in Bernstein form.

use alloc::borrow::Cow;
use alloc::vec::Vec;

use smallvec::{SmallVec, smallvec};

/// Most laws are of degree 5 or less; those are kept without a trip to the heap.
pub(crate) type Coefs = SmallVec<[f64; 6]>;

/// A polynomial over `[0, 1]` by its Bernstein coefficients `c`:
/// `p(t) = Σ c[i]·C(n,i)·tⁱ·(1−t)ⁿ⁻ⁱ`.
///
/// The coefficients bound the polynomial from both sides, its ends are the first and the last of them
/// exactly, and every operation here but [`eval`](Self::eval) is an exact formula rounded once or twice a
/// coefficient (Farouki, "The Bernstein polynomial basis: a centennial retrospective", CAGD 29 (2012) 379).
#[derive(Clone, Debug, PartialEq)]
pub struct Bernstein {
    coefs: Coefs,
}

/// Products up to this degree take their binomials from a table.
const TABLE: usize = 48;

/// Pascal's triangle, row by row; exact, since `C(48, 24) < 2⁵³`.
static TRIANGLE: [f64; (TABLE + 1) * (TABLE + 2) / 2] = {
    let mut triangle = [1.0; (TABLE + 1) * (TABLE + 2) / 2];
    let mut n = 1;
    while n <= TABLE {
        let (row, above) = (n * (n + 1) / 2, (n - 1) * n / 2);
        let mut i = 1;
        while i < n {
            triangle[row + i] = triangle[above + i - 1] + triangle[above + i];
            i += 1;
        }
        n += 1;
    }
    triangle
};

/// The binomial coefficients `C(n, 0..=n)`; exact up to `n = 56`.
pub(crate) fn binomials(n: usize) -> Cow<'static, [f64]> {
    if n <= TABLE {
        let row = n * (n + 1) / 2;
        return Cow::Borrowed(&TRIANGLE[row..=row + n]);
    }
    let mut row = Vec::with_capacity(n + 1);
    let mut b = 1.0;
    for i in 0..=n {
        row.push(b);
        b = b * (n - i) as f64 / (i + 1) as f64;
    }
    Cow::Owned(row)
}

/// Evaluates from coefficients already multiplied by their binomials.
#[inline]
pub(crate) fn eval_scaled(scaled: &[f64], t: f64) -> f64 {
    let n = scaled.len() - 1;
    if n == 0 {
        return scaled[0];
    }
    let s = 1.0 - t;
    let mut power = t;
    let mut sum = scaled[0] * s;
    for &c in &scaled[1..n] {
        sum = (sum + power * c) * s;
        power *= t;
    }
    sum + power * scaled[n]
}

impl Bernstein {
    /// From its coefficients; an empty list is the polynomial 0.
    #[must_use]
    pub fn new(coefs: Vec<f64>) -> Self {
        coefs.into_iter().collect()
    }

    /// The same value everywhere.
    #[must_use]
    pub fn constant(value: f64) -> Self {
        Self { coefs: smallvec![value] }
    }

    /// The quintic with the given value, first and second derivative (in `t`) at either end.
    #[must_use]
    pub fn hermite([f0, d0, s0]: [f64; 3], [f1, d1, s1]: [f64; 3]) -> Self {
        Self {
            coefs: smallvec![
                f0,
                f0 + d0 / 5.0,
                f0 + 2.0 * d0 / 5.0 + s0 / 20.0,
                f1 - 2.0 * d1 / 5.0 + s1 / 20.0,
                f1 - d1 / 5.0,
                f1,
            ],
        }
    }

    /// Degree of the form, which may be more than the polynomial needs.
    #[must_use]
    pub fn degree(&self) -> usize {
        self.coefs.len() - 1
    }

    /// The coefficients, degree + 1 of them.
    #[must_use]
    pub fn coefs(&self) -> &[f64] {
        &self.coefs
    }

    pub(crate) fn coefs_mut(&mut self) -> &mut [f64] {
        &mut self.coefs
    }

    /// The coefficients times their binomials, for [`eval_scaled`].
    pub(crate) fn scaled_into(&self, out: &mut Vec<f64>) {
        out.clear();
        let n = self.degree();
        let mut b = 1.0;
        for (i, c) in self.coefs.iter().enumerate() {
            out.push(if i == n { *c } else { c * b });
            b = b * (n - i) as f64 / (i + 1) as f64;
        }
    }

    /// The value at `t`; relative error within `3·(degree + 1)` units in the last place of the largest
    /// coefficient. Exact at 0 and 1.
    #[must_use]
    pub fn eval(&self, t: f64) -> f64 {
        let n = self.degree();
        if n == 0 {
            return self.coefs[0];
        }
        let s = 1.0 - t;
        let mut b = n as f64;
        let mut power = t;
        let mut sum = self.coefs[0] * s;
        for i in 1..n {
            sum = (sum + power * (self.coefs[i] * b)) * s;
            b = b * (n - i) as f64 / (i + 1) as f64;
            power *= t;
        }
        sum + power * self.coefs[n]
    }

    /// Value, first and second derivative (in `t`) at `t`.
    #[must_use]
    pub fn eval2(&self, t: f64) -> [f64; 3] {
        let first = self.derivative();
        let second = first.derivative();
        [self.eval(t), first.eval(t), second.eval(t)]
    }

    /// The derivative in `t`.
    #[must_use]
    pub fn derivative(&self) -> Self {
        let n = self.degree() as f64;
        self.coefs.windows(2).map(|w| n * (w[1] - w[0])).collect()
    }

    /// The antiderivative that is `start` at 0.
    #[must_use]
    pub fn antiderivative(&self, start: f64) -> Self {
        let n = self.coefs.len() as f64;
        let mut sum = start;
        let mut coefs = Coefs::with_capacity(self.coefs.len() + 1);
        coefs.push(sum);
        for c in &self.coefs {
            sum += c / n;
            coefs.push(sum);
        }
        Self { coefs }
    }

    /// The integral over `[0, 1]`: the mean of the coefficients.
    #[must_use]
    pub fn integral(&self) -> f64 {
        self.coefs.iter().sum::<f64>() / self.coefs.len() as f64
    }

    /// The same polynomial written with a higher degree; unchanged where `degree` is no higher.
    #[must_use]
    pub fn elevated(&self, degree: usize) -> Self {
        let n = self.degree();
        if degree <= n {
            return self.clone();
        }
        if n == 0 {
            return Self { coefs: smallvec![self.coefs[0]; degree + 1] };
        }
        if n == 1 {
            let (a, b) = (self.coefs[0], self.coefs[1]);
            let m = degree as f64;
            let coefs =
                (0..=degree).map(|i| if i == degree { b } else { a + (b - a) * (i as f64 / m) }).collect();
            return Self { coefs };
        }
        let mut coefs = self.coefs.clone();
        for m in n..degree {
            let top = (m + 1) as f64;
            let last = coefs[m];
            coefs.push(last);
            for i in (1..=m).rev() {
                let k = i as f64 / top;
                coefs[i] = k * coefs[i - 1] + (1.0 - k) * coefs[i];
            }
        }
        Self { coefs }
    }

    /// Sum.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        if self.degree() == other.degree() {
            return self.coefs.iter().zip(&other.coefs).map(|(x, y)| x + y).collect();
        }
        let n = self.degree().max(other.degree());
        let (a, b) = (self.elevated(n), other.elevated(n));
        Self { coefs: a.coefs.iter().zip(&b.coefs).map(|(x, y)| x + y).collect() }
    }

    /// Difference.
    #[must_use]
    pub fn minus(&self, other: &Self) -> Self {
        if self.degree() == other.degree() {
            return self.coefs.iter().zip(&other.coefs).map(|(x, y)| x - y).collect();
        }
        self.plus(&other.times_number(-1.0))
    }

    /// Product with a number.
    #[must_use]
    pub fn times_number(&self, k: f64) -> Self {
        Self { coefs: self.coefs.iter().map(|c| k * c).collect() }
    }

    /// Product; the degrees add.
    #[must_use]
    pub fn times(&self, other: &Self) -> Self {
        let (m, n) = (self.degree(), other.degree());
        if m == 0 {
            return other.times_number(self.coefs[0]);
        }
        if n == 0 {
            return self.times_number(other.coefs[0]);
        }
        let (bm, bn, total) = (binomials(m), binomials(n), binomials(m + n));
        let mut coefs: Coefs = smallvec![0.0; m + n + 1];
        for i in 0..=m {
            let a = self.coefs[i] * bm[i];
            for j in 0..=n {
                coefs[i + j] += a * (other.coefs[j] * bn[j]);
            }
        }
        for (c, b) in coefs.iter_mut().zip(total.iter()) {
            *c /= b;
        }
        // The ends are products of the ends, without the detour through the binomials.
        coefs[0] = self.coefs[0] * other.coefs[0];
        coefs[m + n] = self.coefs[m] * other.coefs[n];
        Self { coefs }
    }

    /// The two halves left and right of `t`, each over its own unit interval; they share their common end
    /// to the last bit.
    #[must_use]
    pub fn split(&self, t: f64) -> (Self, Self) {
        let n = self.degree();
        let mut right = self.coefs.clone();
        let mut left = Coefs::with_capacity(n + 1);
        left.push(right[0]);
        for k in 1..=n {
            for i in 0..=(n - k) {
                right[i] = (1.0 - t) * right[i] + t * right[i + 1];
            }
            left.push(right[0]);
        }
        (Self { coefs: left }, Self { coefs: right })
    }

    /// The part over `[from, to]`, over its own unit interval.
    #[must_use]
    pub fn restricted(&self, from: f64, to: f64) -> Self {
        let tail = if from > 0.0 { self.split(from).1 } else { self.clone() };
        if to < 1.0 { tail.split((to - from) / (1.0 - from)).0 } else { tail }
    }

    /// A lower and an upper bound over `[0, 1]`: the least and the largest coefficient.
    #[must_use]
    pub fn hull(&self) -> (f64, f64) {
        self.coefs.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), &c| (lo.min(c), hi.max(c)))
    }

    /// The roots in `[0, 1]`, rising, each to the last few bits; a polynomial that is zero everywhere has
    /// none. A root of even order may come back as two neighbours or, within rounding, not at all.
    #[must_use]
    pub fn roots(&self) -> Vec<f64> {
        let mut found = Vec::new();
        if self.coefs.iter().all(|&c| c == 0.0) {
            return found;
        }
        self.roots_in(0.0, 1.0, 0, &mut found);
        found.dedup_by(|b, a| *b - *a < 1e-14);
        found
    }

    fn roots_in(&self, from: f64, to: f64, depth: u32, found: &mut Vec<f64>) {
        let changes = self.coefs.iter().filter(|c| **c != 0.0).fold((0, 0.0), |(n, last): (u32, f64), &c| {
            if last != 0.0 && (last < 0.0) != (c < 0.0) { (n + 1, c) } else { (n, c) }
        });
        if self.coefs[0] == 0.0 && found.last().is_none_or(|&r| r < from) {
            found.push(from);
        }
        match changes.0 {
            0 => {}
            1 if self.coefs[0] != 0.0 && self.coefs[self.degree()] != 0.0 => {
                found.push(from + (to - from) * self.bracketed_root());
            }
            _ if depth >= 52 => found.push(0.5 * (from + to)),
            _ => {
                let (left, right) = self.split(0.5);
                let mid = 0.5 * (from + to);
                left.roots_in(from, mid, depth + 1, found);
                right.roots_in(mid, to, depth + 1, found);
                return;
            }
        }
        if self.coefs[self.degree()] == 0.0 && changes.0 == 0 {
            found.push(to);
        }
    }

    /// The one root between ends of opposite sign: Newton's steps kept inside a shrinking bracket.
    fn bracketed_root(&self) -> f64 {
        let slope = self.derivative();
        let (mut lo, mut hi) = (0.0, 1.0);
        let rising = self.coefs[0] < 0.0;
        let mut t = self.coefs[0] / (self.coefs[0] - self.coefs[self.degree()]);
        for _ in 0..80 {
            let v = self.eval(t);
            if v == 0.0 {
                return t;
            }
            if (v < 0.0) == rising {
                lo = t;
            } else {
                hi = t;
            }
            let step = t - v / slope.eval(t);
            let next = if step > lo && step < hi { step } else { 0.5 * (lo + hi) };
            if libm::fabs(next - t) <= 1e-16 || hi - lo <= 1e-16 {
                return next;
            }
            t = next;
        }
        t
    }
}

/// The polynomial of these coefficients; of none, the polynomial 0.
impl FromIterator<f64> for Bernstein {
    fn from_iter<I: IntoIterator<Item = f64>>(coefs: I) -> Self {
        let coefs: Coefs = coefs.into_iter().collect();
        Self { coefs: if coefs.is_empty() { smallvec![0.0] } else { coefs } }
    }
}
