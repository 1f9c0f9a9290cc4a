//! A line of the shaft as a natural cubic spline whose values are unknown.

use alloc::vec::Vec;

use super::affine::Affine;
use super::programme::Demand;
use crate::law::{Bernstein, Law};

/// Second derivatives are counted in 1/m² of a mm, which makes them as large as what else is unknown.
const BEND: f64 = 1e-4;

/// A line along the neck: kept as designed, or a spline that lies inside the design.
///
/// The unknowns of a spline are how far it lies inside the design at each station, and the second derivative at each
/// inner one; that the slopes agree there is an equation. So every value depends on four unknowns only, where by the
/// values alone each would depend on all.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub design: Law,
    /// Stations of the spline, rising; none where the line is kept.
    pub at: Vec<f64>,
    /// The design's values there.
    pub given: Vec<f64>,
    first: usize,
}

impl Line {
    pub fn kept(design: Law) -> Self {
        Self { design, at: Vec::new(), given: Vec::new(), first: 0 }
    }

    /// A spline over these stations (at least two), whose unknowns begin at `first`.
    pub fn free(design: Law, at: &[f64], first: usize) -> Self {
        let given = at.iter().map(|x| design.value(*x)).collect();
        Self { design, at: at.to_vec(), given, first }
    }

    pub fn is_free(&self) -> bool {
        self.at.len() > 1
    }

    /// How many unknowns it has.
    pub fn unknowns(&self) -> usize {
        if self.is_free() { 2 * self.at.len() - 2 } else { 0 }
    }

    /// The spline's value at its station `k`.
    fn node(&self, k: usize) -> Affine {
        let mut value = Affine::constant(self.given[k]);
        value.terms.push((self.first + k, -1.0));
        value
    }

    /// Its second derivative there, 1/mm.
    pub fn bend(&self, k: usize) -> Affine {
        let mut bend = Affine::default();
        if k > 0 && k + 1 < self.at.len() {
            bend.terms.push((self.first + self.at.len() + k - 1, BEND));
        }
        bend
    }

    /// The stretch between two stations of the spline that holds a place; the nearest one for places beyond.
    fn stretch(&self, x: f64) -> usize {
        self.at.partition_point(|at| *at <= x).clamp(1, self.at.len() - 1) - 1
    }

    /// A place, or the line's end where it lies beyond: the stretch between two stations, its run, and where in it.
    fn within(&self, x: f64) -> (usize, f64, f64) {
        let inside = x.clamp(self.at[0], self.at[self.at.len() - 1]);
        let i = self.stretch(inside);
        let h = self.at[i + 1] - self.at[i];
        (i, h, (inside - self.at[i]) / h)
    }

    /// Value at a place: beyond the ends the line goes on straight.
    pub fn value(&self, x: f64) -> Affine {
        if !self.is_free() {
            return Affine::constant(self.design.value(x));
        }
        let (i, h, t) = self.within(x);
        let r = 1.0 - t;
        let value = self
            .node(i)
            .times(r)
            .plus(&self.node(i + 1), t)
            .plus(&self.bend(i), -h * h / 6.0 * (r - r * r * r))
            .plus(&self.bend(i + 1), -h * h / 6.0 * (t - t * t * t));
        let beyond = x - x.clamp(self.at[0], self.at[self.at.len() - 1]);
        if beyond == 0.0 { value } else { value.plus(&self.slope(x), beyond) }
    }

    /// Slope at a place.
    pub fn slope(&self, x: f64) -> Affine {
        if !self.is_free() {
            return Affine::constant(self.design.value2(x)[1]);
        }
        let (i, h, t) = self.within(x);
        let r = 1.0 - t;
        self.node(i + 1)
            .times(1.0 / h)
            .plus(&self.node(i), -1.0 / h)
            .plus(&self.bend(i), -h / 6.0 * (3.0 * r * r - 1.0))
            .plus(&self.bend(i + 1), -h / 6.0 * (1.0 - 3.0 * t * t))
    }

    /// How far it lies inside the design at a place.
    pub fn drop(&self, x: f64) -> Affine {
        if !self.is_free() {
            return Affine::default();
        }
        Affine::constant(self.design.value(x)).plus(&self.value(x), -1.0)
    }

    /// The equations that make the slopes agree at the inner stations.
    pub fn equations(&self) -> impl Iterator<Item = Demand> + '_ {
        (1..self.at.len().max(2) - 1).map(|k| {
            let (h, g) = (self.at[k] - self.at[k - 1], self.at[k + 1] - self.at[k]);
            let (before, here, after) = (self.node(k - 1), self.node(k), self.node(k + 1));
            let sum = self
                .bend(k - 1)
                .times(h / 6.0)
                .plus(&self.bend(k), (h + g) / 3.0)
                .plus(&self.bend(k + 1), g / 6.0)
                .plus(&after, -1.0 / g)
                .plus(&here, 1.0 / g + 1.0 / h)
                .plus(&before, -1.0 / h);
            // In mm over a stretch.
            let size = h.min(g);
            Demand::equal(None, self.at[k], sum.times(size), 0.0)
        })
    }

    /// The Bernstein coefficients between two places of one stretch.
    pub fn cubic(&self, from: f64, to: f64) -> [Affine; 4] {
        let [(a, slope_a), (b, slope_b)] = [from, to].map(|x| (self.value(x), self.slope(x)));
        let third = (to - from) / 3.0;
        [a.clone(), a.plus(&slope_a, third), b.clone().plus(&slope_b, -third), b]
    }

    /// The slope's, each times the run from one place to the other.
    pub fn slopes(&self, from: f64, to: f64) -> [Affine; 3] {
        let c = self.cubic(from, to);
        [0, 1, 2].map(|i| c[i + 1].times(3.0).plus(&c[i], -3.0))
    }

    /// The values at the spline's stations.
    pub fn values(&self, unknowns: &[f64]) -> Vec<f64> {
        self.given
            .iter()
            .enumerate()
            .map(|(k, v)| v - unknowns.get(self.first + k).copied().unwrap_or(0.0))
            .collect()
    }

    /// Puts the second derivatives that belong to the values in place of what the solver found for them.
    pub fn settle(&self, unknowns: &mut [f64]) {
        let points: Vec<(f64, f64)> = self.at.iter().copied().zip(self.values(unknowns)).collect();
        let Some(spline) = crate::law::natural_spline(&points) else { return };
        let n = self.at.len();
        for k in 1..n - 1 {
            if let Some(bend) = unknowns.get_mut(self.first + n + k - 1) {
                *bend = spline.value2(self.at[k])[2] / BEND;
            }
        }
    }
}

/// A polynomial with unknown Bernstein coefficients, written with a higher degree.
pub(super) fn elevated(coefs: &[Affine], degree: usize) -> Vec<Affine> {
    let mut all = coefs.to_vec();
    while all.len() <= degree {
        let n = all.len();
        let share = |i: usize| i as f64 / n as f64;
        let next = (0..=n).map(|i| {
            let before = if i > 0 { all[i - 1].times(share(i)) } else { Affine::default() };
            if i < n { before.plus(&all[i], 1.0 - share(i)) } else { before }
        });
        all = next.collect();
    }
    all
}

/// The one piece of a law between two places without a joint in between.
pub(super) fn piece(law: &Law, from: f64, to: f64) -> Option<Bernstein> {
    let part = law.restricted(from, to)?;
    (part.pieces().len() == 1).then(|| part.pieces()[0].clone())
}
