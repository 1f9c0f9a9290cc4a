//! How likely a sum of squares is.

/// The chance that a sum of `freedom` squares of standard normal numbers is at least `square`: the upper incomplete gamma
/// function `Q(freedom/2, square/2)`, by its series or its continued fraction (Abramowitz & Stegun, 6.5.29 and 6.5.31, by
/// Lentz's method; memory). Within 1e-10, and 1e-9 at 100,000 degrees of freedom.
pub(crate) fn chance(square: f64, freedom: usize) -> f64 {
    if freedom == 0 || square <= 0.0 {
        return 1.0;
    }
    let (a, x) = (0.5 * freedom as f64, 0.5 * square);
    if !x.is_finite() {
        return 0.0;
    }
    let front = libm::exp(a * libm::log(x) - x - libm::lgamma(a));
    let most = 200 + 20 * (libm::sqrt(a) as usize);
    if x < a + 1.0 {
        let (mut term, mut sum) = (1.0 / a, 1.0 / a);
        for k in 1..most {
            term *= x / (a + k as f64);
            sum += term;
            if term < 1e-16 * sum {
                break;
            }
        }
        return (1.0 - front * sum).clamp(0.0, 1.0);
    }
    let tiny = 1e-300;
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / tiny;
    let mut d = 1.0 / b;
    let mut h = d;
    for k in 1..most {
        let an = -(k as f64) * (k as f64 - a);
        b += 2.0;
        d = an * d + b;
        d = if libm::fabs(d) < tiny { tiny } else { d };
        c = b + an / c;
        c = if libm::fabs(c) < tiny { tiny } else { c };
        d = 1.0 / d;
        let step = d * c;
        h *= step;
        if libm::fabs(step - 1.0) < 1e-15 {
            break;
        }
    }
    (front * h).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::chance;

    #[test]
    fn chances_of_the_tables() {
        // Abramowitz & Stegun, table 26.8 (memory): upper 5 % and 0.1 % points of χ².
        for (square, freedom, expected) in [
            (3.841_458_820_694_124, 1, 0.05),
            (18.307_038_053_275_146, 10, 0.05),
            (10.827_566_170_662_733, 1, 0.001),
            (124.342_113_404_004_06, 100, 0.05),
            (2.0, 2, 0.367_879_441_171_442_33),
        ] {
            let found = chance(square, freedom);
            assert!(libm::fabs(found - expected) < 1e-10, "{square} {freedom}: {found}");
        }
        assert_eq!((chance(0.0, 5), chance(f64::INFINITY, 5), chance(9.0, 0)), (1.0, 0.0, 1.0));
    }

    /// At the mean of χ², where neither series nor fraction is at its best, against an expansion for large `a` that shares
    /// nothing with them: `Q(a, a) = 1/2 − (1/3 + 1/(540·a) − 25/(6048·a²) + …)/√(2π·a)` (Temme, SIAM J. Math. Anal. 10, 1979;
    /// DLMF 8.12; memory). It gives 0.499 405 at 100,000 degrees of freedom; the first term left out is below 1e-11.
    #[test]
    fn chances_at_the_mean() {
        for freedom in [20_usize, 200, 1_000, 10_000, 99_999, 100_000] {
            let a = 0.5 * freedom as f64;
            let sum = 1.0 / 3.0 + 1.0 / (540.0 * a) - 25.0 / (6048.0 * a * a);
            let expected = 0.5 - sum / libm::sqrt(2.0 * core::f64::consts::PI * a);
            let found = chance(freedom as f64, freedom);
            // The expansion's next term is some 1e-3/a³ of the whole: 1e-7 at 20 degrees of freedom.
            let bound = 1e-9 + 1e-3 / (a * a * a * libm::sqrt(a));
            assert!(libm::fabs(found - expected) < bound, "{freedom}: {found}, not {expected}");
        }
    }
}
