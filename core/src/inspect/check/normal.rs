//! How rare the greatest of many correlated normal values is.

use core::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_2, PI};

/// Chance of a standard normal value above `u`: `erfc(u/√2)/2`.
pub(crate) fn above(u: f64) -> f64 {
    0.5 * libm::erfc(u * FRAC_1_SQRT_2)
}

/// Whether a value alarms by being far below only, or far off on either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tails {
    Below,
    Both,
}

impl Tails {
    /// A limit that a value stays within which does not alarm at a significance: no more than that which it may reach, and
    /// less than a hundredth below.
    pub fn least(self, significance: f64) -> f64 {
        let chance = |u: f64| if self == Self::Below { above(u) } else { 2.0 * above(u) };
        let (mut low, mut high) = (0.0, 8.0);
        for _ in 0..10 {
            let middle = 0.5 * (low + high);
            if chance(middle) > significance { low = middle } else { high = middle }
        }
        low
    }
}

/// How near two values are: `√((1 − |ρ|)/2)` of their correlation, the sine of a quarter turn's half less half the angle
/// `asin |ρ|`; 0 where they are one and `√½` where they have nothing to do with each other.
pub(crate) fn nearness(correlation: f64) -> f64 {
    libm::sqrt(0.5 * (1.0 - libm::fabs(correlation)).max(0.0))
}

const PARTS: usize = 64;
const STEP: f64 = FRAC_1_SQRT_2 / PARTS as f64;

/// The logarithm of the chance that a value stays within `u` when its neighbour does, by their [`nearness`].
///
/// Of two standard normal values with correlation `ρ = sin θ`, both lie above `u` with the chance
/// `Q(u)² + 1/(2π)·∫₀^θ exp(−u²/(1 + sin t))dt` (Plackett's identity, Biometrika 41 (1954) 351; the substitution is that of
/// Drezner & Wesolowsky, J. Stat. Comput. Simul. 35 (1990) 101; memory). With equal limits the integrand is smooth up to
/// `ρ = 1`, and its integrals add up to a table.
#[derive(Clone, Debug)]
pub(crate) struct Neighbours {
    alone: f64,
    /// Value and slope at equal steps of the nearness.
    table: [[f64; 2]; PARTS + 1],
}

/// Sines of the angles at which the integrand is looked at, the same for every limit.
#[derive(Clone, Debug)]
pub(crate) struct Angles {
    /// From each part's end toward the next: sine at the end, half the step's angle, sines at Gauss's three places.
    parts: [(f64, f64, [f64; 3]); PARTS + 1],
}

impl Angles {
    pub fn new() -> Self {
        let angle = |i: usize| FRAC_PI_2 - 2.0 * libm::asin(i as f64 * STEP);
        let mut last = 0.0;
        let mut parts = [(0.0, 0.0, [0.0; 3]); PARTS + 1];
        for (i, part) in parts.iter_mut().enumerate().rev() {
            let to = angle(i);
            *part = (libm::sin(to), 0.5 * (to - last), nodes(last, to));
            last = to;
        }
        Self { parts }
    }
}

/// The integrand where the angle's sine is known.
fn rate(u: f64, sine: f64) -> f64 {
    let down = 1.0 + sine;
    if down > 0.0 { libm::exp(-u * u / down) / (2.0 * PI) } else { 0.0 }
}

/// Sines at the places of Gauss's rule between two angles.
fn nodes(from: f64, to: f64) -> [f64; 3] {
    let (mid, far) = (0.5 * (from + to), 0.774_596_669_241_483_4 * 0.5 * (to - from));
    [mid - far, mid, mid + far].map(libm::sin)
}

/// The integral of the rate by Gauss's rule of three places.
fn step(u: f64, half: f64, [a, b, c]: [f64; 3]) -> f64 {
    half * (5.0 * (rate(u, a) + rate(u, c)) + 8.0 * rate(u, b)) / 9.0
}

/// Of two values with correlations from 0 to 1, the chance that both alarm, and its slope by the angle, at every step.
fn together(angles: &Angles, u: f64, tails: Tails) -> [[f64; 2]; PARTS + 1] {
    let one = above(u);
    let mut sums = [one * one; 2];
    let mut both = [[0.0; 2]; PARTS + 1];
    // Of values on either side little comes together, and soon nothing more.
    let mut more = tails == Tails::Both;
    for (both, (sine, half, nodes)) in both.iter_mut().zip(&angles.parts).rev() {
        // Of values on one side of 0, and of values on either.
        sums[0] += step(u, *half, *nodes);
        *both = match tails {
            Tails::Below => [sums[0], rate(u, *sine)],
            Tails::Both => {
                let mut slope = rate(u, *sine);
                if more {
                    let less = step(u, *half, nodes.map(|s| -s));
                    sums[1] = (sums[1] - less).max(0.0);
                    slope -= rate(u, -sine);
                    // The first step has no length but for rounding.
                    more = *half < 1e-12 || less > 1e-18 * sums[0];
                }
                [2.0 * (sums[0] + sums[1]), 2.0 * slope]
            }
        };
    }
    both
}

/// Of many values, how many hang on no other, and the weights with which the entries of [`Neighbours`] go into their sum.
#[derive(Clone, Debug)]
pub(crate) struct Weights {
    alone: f64,
    table: [[f64; 2]; PARTS + 1],
}

/// Between which two entries a nearness lies, and the weights of their values and slopes.
fn weights(nearness: f64) -> (usize, [[f64; 2]; 2]) {
    let at = (nearness * (1.0 / STEP)).clamp(0.0, PARTS as f64);
    let i = (at as usize).min(PARTS - 1);
    let t = at - i as f64;
    let s = 1.0 - t;
    (i, [[s * s * (1.0 + 2.0 * t), STEP * t * s * s], [t * t * (3.0 - 2.0 * t), -STEP * t * t * s]])
}

impl Weights {
    pub const fn none() -> Self {
        Self { alone: 0.0, table: [[0.0; 2]; PARTS + 1] }
    }

    /// Adds so many values by their nearness to the one that they hang on.
    pub fn add(&mut self, nearness: Option<f64>, count: f64) {
        let Some(nearness) = nearness else {
            self.alone += count;
            return;
        };
        let (i, both) = weights(nearness);
        for (entry, w) in self.table[i..].iter_mut().zip(both) {
            *entry = [entry[0] + count * w[0], entry[1] + count * w[1]];
        }
    }
}

impl Neighbours {
    pub fn new(angles: &Angles, u: f64, tails: Tails) -> Self {
        let chance = match tails {
            Tails::Below => above(u),
            Tails::Both => 2.0 * above(u),
        };
        let stays = (1.0 - chance).max(f64::EPSILON);
        let mut table = together(angles, u, tails);
        for (i, entry) in table.iter_mut().enumerate() {
            let h = i as f64 * STEP;
            let [both, slope] = *entry;
            let new = ((chance - both) / stays).clamp(0.0, 1.0 - f64::EPSILON);
            *entry = [libm::log1p(-new), -2.0 * slope / (libm::sqrt(1.0 - h * h) * stays * (1.0 - new))];
        }
        Self { alone: libm::log1p(-chance.min(1.0 - f64::EPSILON)), table }
    }

    /// The sum of `log P(within)` over many values: of those that hang on no other, and `log P(within | neighbour within)`
    /// of the rest.
    pub fn sum(&self, weights: &Weights) -> f64 {
        let table = self.table.iter().zip(&weights.table);
        let beside = table.map(|(entry, w)| w[0] * entry[0] + w[1] * entry[1]).sum::<f64>();
        (weights.alone * self.alone + beside).min(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn beside(table: &Neighbours, correlation: f64) -> f64 {
        let mut one = Weights::none();
        one.add(Some(nearness(correlation)), 1.0);
        table.sum(&one)
    }

    /// Abramowitz & Stegun, Handbook of Mathematical Functions, table 26.1 and 26.2 (memory), and mpmath 1.4 with 40 digits.
    #[test]
    fn the_tail_of_the_normal_distribution() {
        for (u, chance) in [
            (0.5, 0.308_537_538_725_986_9),
            (1.0, 0.158_655_253_931_457_05),
            (2.0, 0.022_750_131_948_179_21),
            (4.0, 3.167_124_183_311_992_1e-5),
            (4.5, 3.397_673_124_730_06e-6),
            (6.0, 9.865_876_450_376_98e-10),
            (8.0, 6.220_960_574_271_784e-16),
        ] {
            assert!(libm::fabs(above(u) / chance - 1.0) < 1e-14, "{u}");
        }
        assert_eq!(above(0.0), 0.5);
    }

    /// `∫φ(x)·Q((u − ρx)/√(1 − ρ²))dx` from `u` on, by mpmath 1.4 with 40 digits: another formula than the table's.
    #[test]
    fn two_values_together() {
        for (u, correlation, both, below, two) in [
            (1.0, 0.0, 0.0251714896000551, -0.17275377902345, -0.381715146302126),
            (1.0, 0.3, 0.045457848515604, -0.144498081233856, -0.358672979874019),
            (1.0, 0.7, 0.0839793816256484, -0.0929465078927418, -0.244965672554698),
            (1.0, 0.95, 0.12813002083211, -0.0369560193542051, -0.0936805525482943),
            (1.0, 0.999, 0.15433819593527, -0.00514434988211055, -0.0127278646905933),
            (3.0, 0.0, 1.8222246957988e-6, -0.00135080996474819, -0.00270344708547596),
            (3.0, 0.3, 2.38515157451558e-5, -0.00132872132241737, -0.00266277243243034),
            (3.0, 0.7, 0.000229973673558838, -0.00112206746758331, -0.00224843806455802),
            (3.0, 0.95, 0.000809163346435936, -0.000541612253993994, -0.00108498540504654),
            (3.0, 0.999, 0.00127088105361053, -7.91269175159503e-5, -0.000158474326896163),
            (4.5, 0.0, 1.15441826625129e-11, -3.39767889683447e-6, -6.79536933793004e-6),
            (4.5, 0.3, 2.09637345450613e-9, -3.39559405339759e-6, -6.79122270932169e-6),
            (4.5, 0.7, 1.65958258371645e-7, -3.2317310687437e-6, -6.46349454259413e-6),
            (4.5, 0.95, 1.53405127854496e-6, -1.86362991474163e-6, -3.7272759667382e-6),
            (4.5, 0.999, 3.11296028550168e-6, -2.84713847123818e-7, -5.6942971005278e-7),
            (7.0, 0.0, 1.63792014748753e-24, -1.27981254388665e-12, -2.55962508777495e-12),
            (7.0, 0.3, 2.31497690132256e-19, -1.2798123123906e-12, -2.55962462478612e-12),
            (7.0, 0.7, 3.52424992430566e-15, -1.27628829396398e-12, -2.55257658793285e-12),
            (7.0, 0.95, 3.24025014035066e-13, -9.55787529852449e-13, -1.91157505970826e-12),
            (7.0, 0.999, 1.11748754898015e-12, -1.62324994905906e-13, -3.24649989812255e-13),
        ] {
            let angle = libm::asin(correlation);
            let mut sum = above(u) * above(u);
            for i in 0..40 {
                let at = |i: i32| angle * f64::from(i) / 40.0;
                sum += step(u, angle / 80.0, nodes(at(i), at(i + 1)));
            }
            assert!(libm::fabs(sum / both - 1.0) < 1e-9, "{u} {correlation}: {sum} {both}");
            for (tails, expected) in [(Tails::Below, below), (Tails::Both, two)] {
                let got = beside(&Neighbours::new(&Angles::new(), u, tails), correlation);
                assert!(
                    libm::fabs(got / expected - 1.0) < 2e-5,
                    "{u} {correlation} {tails:?}: {got} {expected}"
                );
            }
        }
        for tails in [Tails::Below, Tails::Both] {
            let table = Neighbours::new(&Angles::new(), 3.0, tails);
            assert!(libm::fabs(beside(&table, 1.0)) < 1e-15);
            assert!(libm::fabs(beside(&table, 0.0) / table.alone - 1.0) < 1e-3);
            // Nothing is too far off, nor too near, to be told.
            for u in [0.0, 1e-9, 40.0, 1e6] {
                let table = Neighbours::new(&Angles::new(), u, tails);
                for correlation in [-1.0, 0.0, 0.5, 1.0] {
                    let value = beside(&table, correlation);
                    assert!(value.is_finite() && value <= 0.0, "{u} {correlation}: {value}");
                }
            }
        }
    }

    #[test]
    fn what_stays_within_the_least_does_not_alarm() {
        for significance in [1e-12, 1e-6, 0.001, 0.01, 0.05, 0.2, 0.9] {
            for (tails, chance) in [(Tails::Below, 1.0), (Tails::Both, 2.0)] {
                let least = tails.least(significance);
                assert!(least == 0.0 || chance * above(least) > significance, "{significance}");
                assert!(chance * above(least + 0.01) <= significance, "{significance}");
            }
        }
    }
}
