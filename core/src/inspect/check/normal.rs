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

fn rate(u: f64, t: f64) -> f64 {
    let down = 1.0 + libm::sin(t);
    if down > 0.0 { libm::exp(-u * u / down) / (2.0 * PI) } else { 0.0 }
}

/// The integral of the rate by Gauss's rule of three places.
fn step(u: f64, from: f64, to: f64) -> f64 {
    let (mid, half) = (0.5 * (from + to), 0.5 * (to - from));
    let far = 0.774_596_669_241_483_4 * half;
    half * (5.0 * (rate(u, mid - far) + rate(u, mid + far)) + 8.0 * rate(u, mid)) / 9.0
}

/// Of two values with correlations from 0 to 1, the chance that both alarm, and its slope by the angle, at every step.
fn together(u: f64, tails: Tails) -> [[f64; 2]; PARTS + 1] {
    let one = above(u);
    let mut sums = [one * one; 2];
    let mut both = [[0.0; 2]; PARTS + 1];
    let mut last = 0.0;
    for i in (0..=PARTS).rev() {
        let angle = FRAC_PI_2 - 2.0 * libm::asin(i as f64 * STEP);
        // Of values on one side of 0, and of values on either.
        let grown = step(u, last, angle);
        sums[0] += grown;
        both[i] = match tails {
            Tails::Below => [sums[0], rate(u, angle)],
            Tails::Both => {
                sums[1] = (sums[1] - step(u, -angle, -last)).max(0.0);
                [2.0 * (sums[0] + sums[1]), 2.0 * (rate(u, angle) - rate(u, -angle))]
            }
        };
        last = angle;
    }
    both
}

impl Neighbours {
    pub fn new(u: f64, tails: Tails) -> Self {
        let chance = match tails {
            Tails::Below => above(u),
            Tails::Both => 2.0 * above(u),
        };
        let stays = (1.0 - chance).max(f64::EPSILON);
        let mut table = together(u, tails);
        for (i, entry) in table.iter_mut().enumerate() {
            let h = i as f64 * STEP;
            let [both, slope] = *entry;
            let new = ((chance - both) / stays).clamp(0.0, 1.0 - f64::EPSILON);
            *entry = [libm::log1p(-new), -2.0 * slope / (libm::sqrt(1.0 - h * h) * stays * (1.0 - new))];
        }
        Self { alone: libm::log1p(-chance.min(1.0 - f64::EPSILON)), table }
    }

    /// `log P(within)` of a value without a neighbour.
    pub const fn alone(&self) -> f64 {
        self.alone
    }

    /// `log P(within | neighbour within)`.
    pub fn beside(&self, nearness: f64) -> f64 {
        let at = (nearness / STEP).clamp(0.0, PARTS as f64);
        let i = (at as usize).min(PARTS - 1);
        let t = at - i as f64;
        let s = 1.0 - t;
        let ([a, da], [b, db]) = (self.table[i], self.table[i + 1]);
        let value =
            s * s * (1.0 + 2.0 * t) * a + t * t * (3.0 - 2.0 * t) * b + STEP * t * s * (s * da - t * db);
        value.min(0.0)
    }
}
