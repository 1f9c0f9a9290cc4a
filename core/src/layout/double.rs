//! Numbers of twice the precision: the unevaluated sum of two `f64`, some 106 bits.
//!
//! Products are split as by Veltkamp and Dekker, because a fused multiply-add is not to be had without a
//! library or a certain machine. A product is good to 2^-102 relative: T. J. Dekker, Numerische Mathematik 18
//! (1971) 224-242; Joldes, Muller & Popescu, ACM TOMS 44(2) (2017), whose bounds are 2^-103 for a number of
//! twice the precision times one and 2^-102 for two (memory). Everything is `const`, so that tables are made
//! at compile time and no digits need be copied.

/// `hi + lo`, where `lo` is no more than half a unit in the last place of `hi`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Double {
    pub(crate) hi: f64,
    pub(crate) lo: f64,
}

/// `2^27 + 1`, which cuts 53 bits into 26 and 26 with a sign.
const SPLITTER: f64 = 134_217_729.0;

/// The upper and the lower half of a number's bits. Good for magnitudes below 2^996.
#[inline(always)]
const fn split(a: f64) -> (f64, f64) {
    let c = SPLITTER * a;
    let hi = c - (c - a);
    (hi, a - hi)
}

/// `a + b` exactly, where `|a| >= |b|` or `a` is 0.
#[inline(always)]
const fn sum_of_ordered(a: f64, b: f64) -> Double {
    let hi = a + b;
    Double { hi, lo: b - (hi - a) }
}

/// `a + b` exactly.
#[inline(always)]
const fn sum(a: f64, b: f64) -> Double {
    let hi = a + b;
    let part = hi - a;
    Double { hi, lo: (a - (hi - part)) + (b - part) }
}

/// `a * b` exactly, short of underflow.
#[inline(always)]
const fn product(a: f64, b: f64) -> Double {
    let hi = a * b;
    let (ah, al) = split(a);
    let (bh, bl) = split(b);
    Double { hi, lo: ((ah * bh - hi) + ah * bl + al * bh) + al * bl }
}

impl Double {
    pub(crate) const ONE: Self = Self::new(1.0);

    pub(crate) const fn new(value: f64) -> Self {
        Self { hi: value, lo: 0.0 }
    }

    /// `a / b` of two ordinary numbers, to 2^-104 relative.
    pub(crate) const fn quotient(a: f64, b: f64) -> Self {
        let hi = a / b;
        let back = product(hi, b);
        sum_of_ordered(hi, ((a - back.hi) - back.lo) / b)
    }

    #[inline(always)]
    pub(crate) const fn times(self, other: Self) -> Self {
        let p = product(self.hi, other.hi);
        sum_of_ordered(p.hi, p.lo + (self.hi * other.lo + self.lo * other.hi))
    }

    #[inline(always)]
    pub(crate) const fn times_f64(self, other: f64) -> Self {
        let p = product(self.hi, other);
        sum_of_ordered(p.hi, p.lo + self.lo * other)
    }

    /// Times a power of two, which is exact short of underflow.
    #[inline(always)]
    pub(crate) const fn scaled(self, power_of_two: f64) -> Self {
        Self { hi: self.hi * power_of_two, lo: self.lo * power_of_two }
    }

    pub(crate) const fn plus(self, other: Self) -> Self {
        let s = sum(self.hi, other.hi);
        let t = sum(self.lo, other.lo);
        let s = sum_of_ordered(s.hi, s.lo + t.hi);
        sum_of_ordered(s.hi, s.lo + t.lo)
    }

    /// `self^n` by squaring: some `n * 2^-102` relative.
    pub(crate) const fn power(self, mut n: u32) -> Self {
        let mut square = self;
        let mut result = Self::ONE;
        while n > 0 {
            if n & 1 == 1 {
                result = result.times(square);
            }
            square = square.times(square);
            n >>= 1;
        }
        result
    }

    /// The nearest ordinary number.
    #[inline(always)]
    pub(crate) const fn value(self) -> f64 {
        self.hi + self.lo
    }
}

/// `whole - part`, rounded once; `0 <= part.hi <= whole`.
#[inline(always)]
pub(crate) const fn taken_from(whole: f64, part: Double) -> f64 {
    let left = sum_of_ordered(whole, -part.hi);
    left.hi + (left.lo - part.lo)
}

/// `2^(-1/n)` to some 2^-101 relative, `1 <= n <= 99`: a power series for the first 16 digits, then two steps of
/// Newton's method on `x^n = 1/2`, each of which doubles the digits.
pub(crate) const fn root_of_half(n: u32) -> Double {
    let t = -core::f64::consts::LN_2 / n as f64;
    let (mut x, mut term, mut k) = (1.0, 1.0, 1.0);
    while k < 25.0 {
        term *= t / k;
        x += term;
        k += 1.0;
    }
    let mut root = Double::new(x);
    let mut step = 0;
    while step < 2 {
        let over = root.power(n).scaled(2.0).plus(Double::new(-1.0));
        root = root.plus(root.times(over).times(Double::quotient(-1.0, n as f64)));
        step += 1;
    }
    root
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_raised_again_are_one_half() {
        for n in 1..=99 {
            let over = root_of_half(n).power(n).plus(Double::new(-0.5));
            assert!(libm::fabs(over.value()) < 1e-28, "{n}: {:e}", over.value());
        }
    }

    #[test]
    fn twelfth_root_to_thirty_digits() {
        // 2^(-1/12) = 0.94387431268169349664191315666753..., computed with 40 digits in mpmath.
        let root = root_of_half(12);
        assert_eq!(root.hi, 0.943_874_312_681_693_5);
        let twice = root.power(12);
        assert!(libm::fabs(twice.plus(Double::new(-0.5)).value()) < 1e-31);
    }

    #[test]
    fn products_and_sums_are_exact() {
        let p = product(1.0 + f64::EPSILON, 1.0 - f64::EPSILON);
        assert_eq!((p.hi, p.lo), (1.0, -f64::EPSILON * f64::EPSILON));
        let s = sum(1e-30, 1.0);
        assert_eq!((s.hi, s.lo), (1.0, 1e-30));
        let q = Double::quotient(17.0, 18.0).times_f64(18.0);
        assert!(libm::fabs(q.plus(Double::new(-17.0)).value()) < 1e-30);
    }
}
