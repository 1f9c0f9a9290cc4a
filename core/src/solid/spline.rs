//! Spline curves and surfaces: poles, knots, multiplicities, weights.

use alloc::vec;
use alloc::vec::Vec;

/// A point of space, `[x, y, z]` in mm.
pub type Point3 = [f64; 3];

/// No spline is of a higher degree: those made here are of a few, and what is beyond this is not meant.
const MOST_DEGREE: usize = 64;

/// The knots of one direction of a spline.
#[derive(Clone, Debug, PartialEq)]
pub struct Knots {
    /// Degree of the polynomials between them.
    pub degree: usize,
    /// The knots, rising, each once.
    pub values: Vec<f64>,
    /// How often each counts: `degree + 1` at both ends, and inside as often as the curve is less than smooth: a knot that
    /// counts `m` times leaves `degree − m` continuous derivatives.
    pub multiplicities: Vec<usize>,
}

impl Knots {
    /// Those of one polynomial between two parameters.
    #[must_use]
    pub fn of_one(degree: usize, [from, to]: [f64; 2]) -> Self {
        Self { degree, values: vec![from, to], multiplicities: vec![degree + 1; 2] }
    }

    /// How many poles they ask for.
    #[must_use]
    pub fn poles(&self) -> usize {
        let all = self.multiplicities.iter().fold(0_usize, |all, times| all.saturating_add(*times));
        all.saturating_sub(self.degree.saturating_add(1))
    }

    /// Whether they rise, are finite and clamped at both ends, and ask for so many poles.
    pub(crate) fn is_sound(&self, poles: usize) -> bool {
        let (values, times) = (&self.values, &self.multiplicities);
        if !(1..=MOST_DEGREE).contains(&self.degree) {
            return false;
        }
        let most = self.degree + 1;
        let clamped = [times.first(), times.last()].into_iter().all(|t| t.is_some_and(|t| *t == most));
        values.len() >= 2
            && values.len() == times.len()
            && clamped
            && values.iter().all(|v| v.is_finite())
            && values.windows(2).all(|w| w[0] < w[1])
            && times.iter().all(|t| (1..=most).contains(t))
            && self.poles() == poles
    }

    /// All of them, each as often as it counts; an empty list where the lists do not go together.
    #[must_use]
    pub fn flat(&self) -> Vec<f64> {
        if !self.is_sound(self.poles()) {
            return Vec::new();
        }
        self.each()
    }

    fn each(&self) -> Vec<f64> {
        let each = self.values.iter().zip(&self.multiplicities);
        each.flat_map(|(value, times)| core::iter::repeat_n(*value, *times)).collect()
    }

    /// First and last parameter.
    #[must_use]
    pub fn reach(&self) -> [f64; 2] {
        [self.values.first().copied().unwrap_or(0.0), self.values.last().copied().unwrap_or(0.0)]
    }

    /// The parameters at which a straight line has its poles: means of `degree` knots each (Greville); an empty list where the
    /// lists do not go together.
    #[must_use]
    pub fn means(&self) -> Vec<f64> {
        let (flat, n) = (self.flat(), self.degree);
        let inner = flat.get(1..flat.len().saturating_sub(1)).unwrap_or_default();
        inner.windows(n.max(1)).map(|knots| knots.iter().sum::<f64>() / n as f64).collect()
    }

    /// The knot span that holds a parameter, as the index of its first of the flat knots.
    fn span(&self, flat: &[f64], t: f64) -> usize {
        let last = flat.len() - self.degree - 2;
        let i = flat.partition_point(|k| *k <= t);
        i.saturating_sub(1).clamp(self.degree, last)
    }

    /// Values of the polynomials that are not zero at a parameter, and the first pole that they belong to (Cox and de Boor);
    /// of sound knots only.
    fn basis(&self, t: f64) -> (usize, Vec<f64>) {
        let (flat, n) = (self.each(), self.degree);
        let span = self.span(&flat, t);
        let mut values = vec![1.0];
        for k in 1..=n {
            let mut next = vec![0.0; k + 1];
            for (j, value) in values.iter().enumerate() {
                let (a, b) = (flat[span + 1 + j - k], flat[span + 1 + j]);
                let share = (t - a) / (b - a);
                next[j] += (1.0 - share) * value;
                next[j + 1] += share * value;
            }
            values = next;
        }
        (span - n, values)
    }
}

/// A spline curve.
#[derive(Clone, Debug, PartialEq)]
pub struct SplineCurve {
    /// Its knots.
    pub knots: Knots,
    /// Its poles, mm.
    pub poles: Vec<Point3>,
    /// One weight for each pole, where it is rational.
    pub weights: Option<Vec<f64>>,
}

/// A spline surface.
#[derive(Clone, Debug, PartialEq)]
pub struct SplineSurface {
    /// Its knots along and around.
    pub knots: [Knots; 2],
    /// Its poles, mm: for each place along, those around.
    pub poles: Vec<Vec<Point3>>,
    /// A weight for each pole, where it is rational.
    pub weights: Option<Vec<Vec<f64>>>,
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn positive(weight: &f64) -> bool {
    weight.is_finite() && *weight > 0.0
}

/// The sum of poles by their shares, weighted.
fn mean(parts: impl Iterator<Item = (f64, Point3)>) -> Point3 {
    let (mut sum, mut whole) = ([0.0; 3], 0.0);
    for (share, pole) in parts {
        whole += share;
        for k in 0..3 {
            sum[k] += share * pole[k];
        }
    }
    sum.map(|s| s / whole)
}

impl SplineCurve {
    /// Whether knots, poles and weights are finite and go together, and the weights are more than zero.
    pub(crate) fn is_sound(&self) -> bool {
        self.fits()
            && self.weights.iter().flatten().all(positive)
            && self.poles.iter().flatten().all(|c| c.is_finite())
    }

    /// Whether there are as many poles and weights as the knots ask for.
    fn fits(&self) -> bool {
        self.knots.is_sound(self.poles.len())
            && self.weights.as_ref().is_none_or(|w| w.len() == self.poles.len())
    }

    /// The point at a parameter, mm; not a number where poles, weights and knots do not go together.
    #[must_use]
    pub fn at(&self, t: f64) -> Point3 {
        if !self.fits() {
            return [f64::NAN; 3];
        }
        let (first, basis) = self.knots.basis(t);
        let weight = |i: usize| self.weights.as_ref().map_or(1.0, |w| w[first + i]);
        mean(basis.iter().enumerate().map(|(i, b)| (b * weight(i), self.poles[first + i])))
    }
}

impl SplineSurface {
    /// Whether knots, poles and weights are finite and go together, and the weights are more than zero.
    pub(crate) fn is_sound(&self) -> bool {
        self.fits()
            && self.weights.iter().flatten().flatten().all(positive)
            && self.poles.iter().flatten().flatten().all(|c| c.is_finite())
    }

    /// Whether there are as many poles and weights as the knots ask for.
    fn fits(&self) -> bool {
        let [along, around] = &self.knots;
        let lengths = || self.poles.iter().map(Vec::len);
        along.is_sound(self.poles.len())
            && around.is_sound(around.poles())
            && lengths().all(|n| n == around.poles())
            && self.weights.as_ref().is_none_or(|w| w.iter().map(Vec::len).eq(lengths()))
    }

    /// Its line across at a place along; `None` where poles, weights and knots do not go together.
    pub(super) fn line_across(&self, s: f64) -> Option<SplineCurve> {
        if !self.fits() {
            return None;
        }
        let (first, basis) = self.knots[0].basis(s);
        let weight = |i: usize, j: usize| self.weights.as_ref().map_or(1.0, |w| w[first + i][j]);
        let all = 0..self.knots[1].poles();
        let pole = |j: usize| {
            mean(basis.iter().enumerate().map(|(i, b)| (b * weight(i, j), self.poles[first + i][j])))
        };
        let whole = |j: usize| basis.iter().enumerate().map(|(i, b)| b * weight(i, j)).sum();
        let weights = self.weights.is_some().then(|| all.clone().map(whole).collect());
        Some(SplineCurve { knots: self.knots[1].clone(), poles: all.map(pole).collect(), weights })
    }

    /// The point at a place along and around, mm; not a number where poles, weights and knots do not go together.
    #[must_use]
    pub fn at(&self, s: f64, u: f64) -> Point3 {
        if !self.fits() {
            return [f64::NAN; 3];
        }
        let ((i0, along), (j0, around)) = (self.knots[0].basis(s), self.knots[1].basis(u));
        let weight = |i: usize, j: usize| self.weights.as_ref().map_or(1.0, |w| w[i0 + i][j0 + j]);
        let each = along.iter().enumerate().flat_map(|(i, a)| {
            let row = &self.poles[i0 + i];
            around.iter().enumerate().map(move |(j, b)| (i, j, a * b, row[j0 + j]))
        });
        mean(each.map(|(i, j, share, pole)| (share * weight(i, j), pole)))
    }
}
