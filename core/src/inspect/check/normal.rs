//! How rare the greatest of many correlated normal values is.

use core::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_2, PI};

/// Chance of a standard normal value above `u`: `erfc(u/√2)/2`.
pub(crate) fn above(u: f64) -> f64 {
    0.5 * libm::erfc(u * FRAC_1_SQRT_2)
}

/// Pieces of the quarter turn that the table is made of.
const PARTS: usize = 64;

/// Whether a value alarms by being far below only, or far off on either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tails {
    Below,
    Both,
}

/// The logarithm of the chance that a value stays within `u` when its neighbour does, by their correlation.
///
/// Of two standard normal values with correlation `ρ = sin θ`, both lie above `u` with the chance
/// `Q(u)² + 1/(2π)·∫₀^θ exp(−u²/(1 + sin t))dt` (Plackett's identity, Biometrika 41 (1954) 351; the substitution is that of
/// Drezner & Wesolowsky, J. Stat. Comput. Simul. 35 (1990) 101; memory). With equal limits the integrand is smooth up to
/// `ρ = 1`, and its integrals add up to a table.
#[derive(Clone, Debug)]
pub(crate) struct Neighbours {
    alone: f64,
    /// Value and slope at equal steps of `θ` from −π/2 to π/2.
    table: [[f64; 2]; 2 * PARTS + 1],
}

const STEP: f64 = FRAC_PI_2 / PARTS as f64;

/// `1/(2π)·∫exp(−u²/(1 + sin t))dt` over one step from `from`, by Gauss's rule of three places.
fn step(u: f64, from: f64) -> f64 {
    let half = 0.5 * STEP;
    let at = |x: f64| rate(u, from + half + half * x);
    let far = 0.774_596_669_241_483_4;
    half * (5.0 * (at(-far) + at(far)) + 8.0 * at(0.0)) / 9.0
}

fn rate(u: f64, t: f64) -> f64 {
    let down = 1.0 + libm::sin(t);
    if down > 0.0 { libm::exp(-u * u / down) / (2.0 * PI) } else { 0.0 }
}

impl Neighbours {
    pub fn new(u: f64, tails: Tails) -> Self {
        let one = above(u);
        let mut together = [0.0; 2 * PARTS + 1];
        together[PARTS] = one * one;
        for i in 0..PARTS {
            let from = i as f64 * STEP;
            together[PARTS + i + 1] = together[PARTS + i] + step(u, from);
            together[PARTS - i - 1] = (together[PARTS - i] - step(u, -from - STEP)).max(0.0);
        }
        let chance = match tails {
            Tails::Below => one,
            Tails::Both => 2.0 * one,
        };
        let stays = 1.0 - chance;
        let mut table = [[0.0; 2]; 2 * PARTS + 1];
        for (i, entry) in table.iter_mut().enumerate() {
            let t = (i as f64 - PARTS as f64) * STEP;
            let (both, slope) = match tails {
                Tails::Below => (together[i], rate(u, t)),
                Tails::Both => {
                    (2.0 * (together[i] + together[2 * PARTS - i]), 2.0 * (rate(u, t) - rate(u, -t)))
                }
            };
            let new = ((chance - both) / stays).clamp(0.0, 1.0);
            *entry = if new < 1.0 {
                [libm::log1p(-new), slope / (stays * (1.0 - new))]
            } else {
                [libm::log(f64::MIN_POSITIVE), 0.0]
            };
        }
        Self { alone: libm::log1p(-chance.min(1.0 - f64::EPSILON)), table }
    }

    /// `log P(within)` of a value without a neighbour.
    pub const fn alone(&self) -> f64 {
        self.alone
    }

    /// `log P(within | neighbour within)`, the arc sine of their correlation given.
    pub fn beside(&self, angle: f64) -> f64 {
        let at = (angle / STEP + PARTS as f64).clamp(0.0, 2.0 * PARTS as f64);
        let i = (at as usize).min(2 * PARTS - 1);
        let t = at - i as f64;
        let ([a, da], [b, db]) = (self.table[i], self.table[i + 1]);
        let s = 1.0 - t;
        let value =
            s * s * (1.0 + 2.0 * t) * a + t * t * (3.0 - 2.0 * t) * b + STEP * t * s * (s * da - t * db);
        value.min(0.0)
    }
}
