//! A law by cubics.

use alloc::vec::Vec;

use super::bernstein::Bernstein;
use super::piecewise::{Law, Smoothness};
use super::spline::clamped_spline;

/// What two coefficients may differ by for one polynomial to be the other, mm.
const SAME: f64 = 1e-12;
/// The most times that a stretch between two joints is halved.
const MOST_HALVES: u32 = 12;

/// A stretch of a law that is no cubic, or is.
struct Run {
    from: usize,
    to: usize,
    cubic: bool,
}

impl Law {
    /// The same law by pieces of degree 3, nowhere off it by more than `within`, proven by the Bernstein coefficients of the
    /// difference. What is of degree 3 or less is kept as it is; the rest becomes cubic splines with the law's own values and
    /// slopes at their ends, whose second derivative is continuous inside. Joints that are less smooth stay where they are.
    ///
    /// `None` where so many pieces do not suffice: `within` is then less than rounding allows.
    #[must_use]
    pub fn by_cubics(&self, within: f64) -> Option<Self> {
        let simple = self.simplified();
        let mut runs: Vec<Run> = Vec::new();
        for (i, piece) in simple.pieces().iter().enumerate() {
            let cubic = piece.degree() <= 3;
            let smooth = i > 0 && self.joints()[i - 1] == Smoothness::Curvature;
            match runs.last_mut() {
                Some(last) if !cubic && !last.cubic && smooth => last.to = i + 1,
                _ => runs.push(Run { from: i, to: i + 1, cubic }),
            }
        }
        let mut all: Option<Self> = None;
        for Run { from, to, cubic } in runs {
            let part = simple.restricted(self.breaks()[from], self.breaks()[to])?;
            let part = if cubic { part } else { part.splined(within)? };
            let joint =
                if from > 0 { self.joints()[from - 1].min(Smoothness::Slope) } else { Smoothness::Slope };
            all = Some(match all {
                Some(all) => all.followed_by(&part, joint)?,
                None => part,
            });
        }
        all
    }

    /// The same law, its pieces of degree 3 where that is all they are, whatever they are written with.
    fn simplified(&self) -> Self {
        let simple = |p: &Bernstein| {
            let c = p.coefs();
            let n = p.degree();
            if n <= 3 {
                return p.clone();
            }
            let share = n as f64 / 3.0;
            let cubic = Bernstein::new(alloc::vec![
                c[0],
                c[0] + share * (c[1] - c[0]),
                c[n] - share * (c[n] - c[n - 1]),
                c[n],
            ]);
            let same = cubic.elevated(n).coefs().iter().zip(c).all(|(a, b)| libm::fabs(a - b) <= SAME);
            if same { cubic } else { p.clone() }
        };
        self.mapped(simple)
    }

    /// One cubic spline for all of a law without a crease.
    fn splined(&self, within: f64) -> Option<Self> {
        let [a, b] = [self.start(), self.end()];
        let slopes = [self.value2(a)[1], self.pieces().last()?.derivative().eval(1.0) / self.last_length()];
        let mut knots: Vec<f64> = self.breaks().to_vec();
        for _ in 0..MOST_HALVES {
            let points: Vec<(f64, f64)> = knots.iter().map(|x| (*x, self.value(*x))).collect();
            let made = clamped_spline(&points, slopes)?;
            let apart = made.minus(self)?;
            // Breaks that rounding has parted are pieces of no length: each is asked of the knots' stretch that it lies in.
            let far = |x: &[f64]| {
                let inside = apart.pieces().iter().zip(apart.breaks().windows(2));
                let own = inside.filter(|(_, w)| w[1] > x[0] && w[0] < x[1]);
                own.map(|(piece, _)| piece.hull()).any(|(low, high)| low < -within || high > within)
            };
            let mut next = Vec::with_capacity(2 * knots.len());
            for x in knots.windows(2) {
                next.push(x[0]);
                if far(x) {
                    next.push(0.5 * (x[0] + x[1]));
                }
            }
            next.push(b);
            if next.len() == knots.len() {
                return Some(made);
            }
            knots = next;
        }
        None
    }

    fn last_length(&self) -> f64 {
        let breaks = self.breaks();
        breaks[breaks.len() - 1] - breaks[breaks.len() - 2]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::law::{Piece, fall, rise};

    #[test]
    fn a_blend_by_cubics() {
        let law =
            rise(0.0, 10.0, 60.0, 100.0).unwrap().times(&fall(0.0, 40.0, 90.0, 100.0).unwrap()).unwrap();
        for within in [1e-2, 1e-4, 1e-6] {
            let made = law.by_cubics(within).unwrap();
            assert!(made.pieces().iter().all(|p| p.degree() <= 3));
            let mut most = 0.0_f64;
            for i in 0..=20_000 {
                let x = 100.0 * f64::from(i) / 20_000.0;
                most = most.max(libm::fabs(made.value(x) - law.value(x)));
            }
            // Held, and not by a multitude of pieces: cubics are off by the fourth power of their length.
            assert!(most <= within && most > 0.02 * within, "{within}: {most}");
        }
        let line = Law::from_pieces(
            0.0,
            1.0,
            &[Piece { to: 9.0, coefs: alloc::vec![2.0], joint: Smoothness::Slope }],
        );
        assert_eq!(line.as_ref().unwrap().by_cubics(1e-9), line);
    }
}
