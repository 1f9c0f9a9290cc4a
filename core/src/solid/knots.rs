//! Laws as splines, as smooth in their knots as they are.

use alloc::vec::Vec;

use super::spline::Knots;
use crate::law::{Bernstein, Law, Smoothness};

/// Two pieces are one polynomial where the longer one carried on leaves the other by no more than rounding may make of it, and by
/// no more than this, mm.
const SAME_MM: f64 = 1e-11;
/// Rounding in the coefficients, in units in the last place of the largest.
const ROUNDING: f64 = 32.0;
/// Joints no farther apart are one that rounding has parted, mm.
const SAME_JOINT_MM: f64 = 1e-9;

/// How many derivatives of two neighbouring pieces of these lengths agree but for rounding: the longer one carried on over the
/// shorter has as many of its first coefficients, and one more. Without end where they are one polynomial.
fn agreeing(p: &Bernstein, q: &Bernstein, [a, b]: [f64; 2]) -> usize {
    let degree = p.degree().max(q.degree());
    let (p, q) = (p.elevated(degree), q.elevated(degree));
    let backwards = |c: &Bernstein| c.coefs().iter().rev().copied().collect::<Bernstein>();
    // What is carried on goes forward.
    let (long, short, share) = if a >= b { (p, q, b / a) } else { (backwards(&q), backwards(&p), a / b) };
    let carried = long.split(1.0 + share).0.split(1.0 / (1.0 + share)).1;
    let all = || long.coefs().iter().chain(short.coefs());
    let rounding = ROUNDING * f64::EPSILON * all().fold(0.0, |most: f64, c| most.max(libm::fabs(*c)));
    // What a derivative is off by on the shorter piece it is off by a power of their lengths more on the longer one.
    let (mut within, mut longer) = (rounding, SAME_MM);
    let mut same = 0;
    for (x, y) in carried.coefs().iter().zip(short.coefs()) {
        if libm::fabs(x - y) > within.min(longer) {
            break;
        }
        within *= 1.0 + 2.0 * share;
        longer *= share;
        same += 1;
    }
    if same > degree { usize::MAX } else { same.saturating_sub(1) }
}

/// Several laws over one stretch, cut into the same pieces, with knots only where one of them has a joint.
pub(super) struct Together {
    pub knots: Knots,
    /// For each law its pieces, all of one degree.
    pieces: Vec<Vec<Bernstein>>,
}

/// A piece this much shorter than its neighbour hardly tells whether it is of the same polynomial: a third derivative that jumps by
/// what can't be seen on it turns what follows by much more.
const SHORT: f64 = 0.125;

/// The polynomial of two neighbouring pieces of these lengths, if they are of one.
fn one(p: &Bernstein, q: &Bernstein, [a, b]: [f64; 2]) -> Option<Bernstein> {
    let degree = p.degree().max(q.degree());
    let least = a.min(b);
    if least < SHORT * a.max(b) && least > SAME_JOINT_MM && agreeing(p, q, [a, b]) < usize::MAX {
        return None;
    }
    let (p, q) = (p.elevated(degree), q.elevated(degree));
    // The longer one is carried on, which leaves the fewer digits behind.
    let (whole, other, rest) = if a >= b {
        let whole = p.split((a + b) / a).0;
        let rest = whole.split(a / (a + b)).1;
        (whole, &q, rest)
    } else {
        let whole = q.split(-a / b).1;
        let rest = whole.split(a / (a + b)).0;
        (whole, &p, rest)
    };
    // Carried on by a share of its length its coefficients count for so much more, at most.
    let share = a.min(b) / a.max(b);
    let more = libm::pow(1.0 + 2.0 * share, degree as f64);
    let largest = p.coefs().iter().chain(q.coefs()).fold(0.0, |most: f64, c| most.max(libm::fabs(*c)));
    let within = (ROUNDING * f64::EPSILON * largest * more).min(SAME_MM);
    let near = rest.coefs().iter().zip(other.coefs()).all(|(x, y)| libm::fabs(x - y) <= within);
    near.then_some(whole)
}

impl Together {
    /// `None` where the laws share no stretch from `from` to `to`.
    pub fn new(laws: &[&Law], [from, to]: [f64; 2]) -> Option<Self> {
        let parts: Option<Vec<Law>> = laws.iter().map(|law| law.restricted(from, to)).collect();
        let parts = parts?;
        let mut breaks: Vec<f64> = parts.iter().flat_map(|law| law.breaks().iter().copied()).collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup();
        let parts: Vec<Law> = parts.iter().map(|law| law.refined(&breaks)).collect();
        // A joint is told to keep so many derivatives, and may keep more: a product of two that begin with nought does.
        let told = |joint: Smoothness| match joint {
            Smoothness::Crease => 0,
            Smoothness::Slope => 1,
            Smoothness::Curvature => 2,
        };
        let joint = |i: usize| parts.iter().map(|law| told(law.joints()[i])).min().unwrap_or(2);
        let mut pieces: Vec<Vec<Bernstein>> =
            parts.iter().map(|law| alloc::vec![law.pieces()[0].clone()]).collect();
        let (mut values, mut joints) = (alloc::vec![breaks[0]], Vec::new());
        let mut least = 2;
        for i in 1..breaks.len() - 1 {
            let (a, b) = (breaks[i] - values[values.len() - 1], breaks[i + 1] - breaks[i]);
            // Where rounding has parted two joints, the knot is as little smooth as the less smooth one.
            let parted = i > 1 && breaks[i] - breaks[i - 1] <= SAME_JOINT_MM;
            least = if parted { least.min(joint(i - 1)) } else { joint(i - 1) };
            let joined: Option<Vec<Bernstein>> = parts
                .iter()
                .zip(&pieces)
                .map(|(law, so_far)| one(so_far.last()?, &law.pieces()[i], [a, b]))
                .collect();
            if let Some(joined) = joined {
                for (so_far, whole) in pieces.iter_mut().zip(joined) {
                    so_far.pop();
                    so_far.push(whole);
                }
                continue;
            }
            values.push(breaks[i]);
            let whole = a.min(b) > SAME_JOINT_MM && !parted;
            let kept = |(law, so_far): (&Law, &Vec<Bernstein>)| {
                let found = so_far.last().map_or(0, |last| agreeing(last, &law.pieces()[i], [a, b]));
                found.max(told(law.joints()[i - 1]))
            };
            let found = parts.iter().zip(&pieces).map(kept).min().unwrap_or(least);
            joints.push(if whole { found.max(least) } else { least });
            for (so_far, law) in pieces.iter_mut().zip(&parts) {
                so_far.push(law.pieces()[i].clone());
            }
        }
        values.push(breaks[breaks.len() - 1]);
        let degree = pieces.iter().flatten().map(Bernstein::degree).max().unwrap_or(0).max(1);
        for piece in pieces.iter_mut().flatten() {
            *piece = piece.elevated(degree);
        }
        // A joint keeps no more derivatives than the degree has.
        let inner = joints.iter().map(|kept| degree.saturating_sub(*kept).max(1));
        let multiplicities = core::iter::once(degree + 1).chain(inner).chain([degree + 1]).collect();
        Some(Self { knots: Knots { degree, values, multiplicities }, pieces })
    }

    /// The poles of the laws, one row for each: the values of their polar forms at as many knots as their degree (Ramshaw, "Blossoms
    /// are polar forms", CAGD 6 (1989) 323), each taken from the piece that has to be carried on least.
    pub fn poles(&self) -> Vec<Vec<f64>> {
        let (flat, n) = (self.knots.flat(), self.knots.degree);
        let mut rows = alloc::vec![Vec::with_capacity(self.knots.poles()); self.pieces.len()];
        let mut rest = Vec::with_capacity(n);
        let mut coefs = Vec::with_capacity(n + 1);
        for i in 0..self.knots.poles() {
            let at = &flat[i + 1..=i + n];
            let best = self.piece_for(at);
            let [a, b] = [self.knots.values[best], self.knots.values[best + 1]];
            // An argument at an end of the piece leaves all coefficients but the one at its other end.
            let at_start = at.iter().filter(|x| **x == a).count();
            let at_end = at.iter().filter(|x| **x == b).count();
            rest.clear();
            rest.extend(at.iter().filter(|x| **x != a && **x != b).map(|x| (x - a) / (b - a)));
            for (row, pieces) in rows.iter_mut().zip(&self.pieces) {
                coefs.clear();
                coefs.extend_from_slice(&pieces[best].coefs()[at_end..=n - at_start]);
                for t in &rest {
                    for k in 0..coefs.len() - 1 {
                        coefs[k] = (1.0 - t) * coefs[k] + t * coefs[k + 1];
                    }
                    coefs.pop();
                }
                row.push(coefs[0]);
            }
        }
        rows
    }

    /// The piece from which a pole is taken.
    fn piece_for(&self, at: &[f64]) -> usize {
        let values = &self.knots.values;
        // How far the arguments lie outside of a piece, in lengths of it.
        let outside = |i: usize| {
            let (a, b) = (values[i], values[i + 1]);
            at.iter().map(|x| (a - x).max(x - b).max(0.0) / (b - a)).sum::<f64>()
        };
        let first = values.partition_point(|v| *v <= at[0]).saturating_sub(1);
        let touched = |i: &usize| values[*i] < at[at.len() - 1] && values[i + 1] > at[0];
        let last = values.len() - 1;
        let best = (first..last).take_while(|i| values[*i] < at[at.len() - 1]).filter(touched);
        let best = best.min_by(|i, j| outside(*i).total_cmp(&outside(*j)));
        // All arguments in one knot: it is the pole there.
        best.unwrap_or_else(|| values.partition_point(|v| *v < at[0]).min(last - 1))
    }
}

/// A stretch of a law: straight, or bent without a crease.
pub(super) struct Run {
    pub reach: [f64; 2],
    pub straight: bool,
}

/// The stretches of a law between two stations: as long as they are straight, or have no crease.
pub(super) fn runs(law: &Law, reach: [f64; 2]) -> Vec<Run> {
    let Some(together) = Together::new(&[law], reach) else { return Vec::new() };
    let Knots { degree, values, multiplicities } = &together.knots;
    let straight = |p: &Bernstein| {
        let line = Bernstein::new(alloc::vec![p.eval(0.0), p.eval(1.0)]).elevated(*degree);
        p.coefs().iter().zip(line.coefs()).all(|(a, b)| libm::fabs(a - b) <= SAME_MM)
    };
    let mut runs: Vec<Run> = Vec::new();
    for (i, piece) in together.pieces[0].iter().enumerate() {
        let (straight, crease) = (straight(piece), multiplicities[i] >= *degree);
        match runs.last_mut() {
            Some(last) if !straight && !last.straight && !crease => last.reach[1] = values[i + 1],
            _ => runs.push(Run { reach: [values[i], values[i + 1]], straight }),
        }
    }
    runs
}
