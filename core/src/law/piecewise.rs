//! A law: a continuous piecewise polynomial of the position along the neck.

use serde::ser::SerializeStruct;

use alloc::vec;
use alloc::vec::Vec;

use super::bernstein::{Bernstein, eval_scaled};
use super::least::{Least, least_on_unit};

/// How smooth a law is at a joint between two of its pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Smoothness {
    /// The value is continuous, the slope jumps: a crease that was asked for.
    Crease,
    /// Value and slope are continuous.
    Slope,
    /// Value, slope and second derivative are continuous.
    Curvature,
}

/// A continuous piecewise polynomial over a closed interval of stations, in Bernstein form.
///
/// A jump can't be constructed: neighbouring pieces are built from one shared end value. How smooth each
/// joint is belongs to the law and follows it through sums and products.
#[derive(Clone, Debug, PartialEq)]
pub struct Law {
    breaks: Vec<f64>,
    pieces: Vec<Bernstein>,
    joints: Vec<Smoothness>,
}

/// The stations of its joints and the Bernstein coefficients of each piece between them.
impl serde::Serialize for Law {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Law", 2)?;
        out.serialize_field("breaks_mm", &self.breaks)?;
        let coefs: Vec<&[f64]> = self.pieces.iter().map(Bernstein::coefs).collect();
        out.serialize_field("coefs", &coefs)?;
        out.end()
    }
}

/// One piece of a law, for building with [`Law::from_pieces`].
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Station where the piece ends.
    pub to: f64,
    /// The Bernstein coefficients after the first; the first is the end of the piece before.
    pub coefs: Vec<f64>,
    /// How smooth the joint at the piece's *start* is (of no meaning for the first piece).
    pub joint: Smoothness,
}

impl Law {
    /// From a start station and value and pieces that each go on from the end of the one before.
    ///
    /// `None` where the stations do not rise, a piece has no coefficient, or a number is not finite.
    #[must_use]
    pub fn from_pieces(start: f64, value: f64, pieces: &[Piece]) -> Option<Self> {
        let mut law = Self { breaks: vec![start], pieces: Vec::new(), joints: Vec::new() };
        let mut last = value;
        for (i, piece) in pieces.iter().enumerate() {
            if piece.to <= law.breaks[i] || piece.coefs.is_empty() {
                return None;
            }
            let coefs: Bernstein = core::iter::once(last).chain(piece.coefs.iter().copied()).collect();
            last = coefs.coefs()[coefs.degree()];
            law.breaks.push(piece.to);
            // A plateau is of degree 0, so that what is joined to it keeps its own degree.
            let level = coefs.coefs().iter().all(|c| *c == last);
            law.pieces.push(if level { Bernstein::constant(last) } else { coefs });
            if i > 0 {
                law.joints.push(piece.joint);
            }
        }
        let finite = law.breaks.iter().all(|b| b.is_finite())
            && law.pieces.iter().all(|p| p.coefs().iter().all(|c| c.is_finite()));
        (finite && !law.pieces.is_empty()).then_some(law)
    }

    /// The same value from `from` to `to`. `None` unless `from < to` and all is finite.
    #[must_use]
    pub fn constant(value: f64, from: f64, to: f64) -> Option<Self> {
        Self::from_pieces(from, value, &[Piece { to, coefs: vec![value], joint: Smoothness::Curvature }])
    }

    /// Straight between the given `(station, value)` points; every inner point is a crease.
    ///
    /// `None` for fewer than two points, stations that do not rise, or numbers that are not finite.
    #[must_use]
    pub fn polyline(points: &[(f64, f64)]) -> Option<Self> {
        let (first, rest) = points.split_first()?;
        let pieces: Vec<Piece> =
            rest.iter().map(|&(to, v)| Piece { to, coefs: vec![v], joint: Smoothness::Crease }).collect();
        Self::from_pieces(first.0, first.1, &pieces)
    }

    /// The first station.
    #[must_use]
    pub fn start(&self) -> f64 {
        self.breaks[0]
    }

    /// The last station.
    #[must_use]
    pub fn end(&self) -> f64 {
        self.breaks[self.breaks.len() - 1]
    }

    /// The stations where pieces begin and end, rising; one more than there are pieces.
    #[must_use]
    pub fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    /// The pieces, each over its own unit interval.
    #[must_use]
    pub fn pieces(&self) -> &[Bernstein] {
        &self.pieces
    }

    /// How smooth each inner joint is, in the order of [`breaks`](Self::breaks)`[1..]`.
    #[must_use]
    pub fn joints(&self) -> &[Smoothness] {
        &self.joints
    }

    /// The stations where the slope jumps.
    pub fn creases(&self) -> impl Iterator<Item = f64> + '_ {
        self.joints.iter().zip(&self.breaks[1..]).filter(|(s, _)| **s == Smoothness::Crease).map(|(_, x)| *x)
    }

    /// Whether the station lies on the law.
    #[must_use]
    pub fn covers(&self, x: f64) -> bool {
        x >= self.start() && x <= self.end()
    }

    /// Index of the piece at `x` and the place within it, `0..=1`; stations outside give the nearest end.
    fn locate(&self, x: f64) -> (usize, f64) {
        let last = self.pieces.len() - 1;
        let i = self.breaks[1..=last].partition_point(|&b| b <= x);
        (i, self.place(i, x))
    }

    /// The piece at `x`, and the stations where it begins and ends.
    pub(crate) fn piece_at(&self, x: f64) -> (&Bernstein, [f64; 2]) {
        let i = self.locate(x).0;
        (&self.pieces[i], [self.breaks[i], self.breaks[i + 1]])
    }

    fn place(&self, i: usize, x: f64) -> f64 {
        let (a, b) = (self.breaks[i], self.breaks[i + 1]);
        ((x - a) / (b - a)).clamp(0.0, 1.0)
    }

    /// The value at `x`; `None` where the law does not cover it.
    #[must_use]
    pub fn at(&self, x: f64) -> Option<f64> {
        self.covers(x).then(|| self.value(x))
    }

    /// Value, slope and second derivative at `x` (at a crease, those of the piece on the right); `None` where
    /// the law does not cover it.
    #[must_use]
    pub fn at2(&self, x: f64) -> Option<[f64; 3]> {
        self.covers(x).then(|| self.value2(x))
    }

    /// [`at`](Self::at) for a station that is known to be covered; beyond an end it gives the end's value.
    pub(crate) fn value(&self, x: f64) -> f64 {
        let (i, t) = self.locate(x);
        self.pieces[i].eval(t)
    }

    pub(crate) fn value2(&self, x: f64) -> [f64; 3] {
        let (i, t) = self.locate(x);
        let h = self.breaks[i + 1] - self.breaks[i];
        let [v, d, s] = self.pieces[i].eval2(t);
        [v, d / h, s / (h * h)]
    }

    /// Values at many stations, the same bits as [`value`](Self::value) one by one. Fastest when
    /// neighbouring stations are near each other. Writes `min(x.len(), out.len())` values.
    pub(crate) fn values_into(&self, x: &[f64], out: &mut [f64]) {
        // For one station the room that many share would take longer than the answer.
        if let ([x], [out]) = (x, &mut *out) {
            *out = self.value(*x);
            return;
        }
        let mut scaled = Vec::with_capacity(16);
        let (mut at, mut from, mut to, mut width) = (usize::MAX, 0.0, 0.0, 1.0);
        let last = self.pieces.len() - 1;
        for (x, out) in x.iter().zip(out.iter_mut()) {
            let inside = *x >= from && (*x < to || (at == last && *x <= to));
            if at == usize::MAX || !inside {
                at = self.locate(*x).0;
                (from, to) = (self.breaks[at], self.breaks[at + 1]);
                width = to - from;
                self.pieces[at].scaled_into(&mut scaled);
            }
            *out = eval_scaled(&scaled, ((*x - from) / width).clamp(0.0, 1.0));
        }
    }

    /// The same law cut at further stations, which have to rise; stations outside are passed over, and so is one
    /// that does not lie beyond the one before it.
    #[must_use]
    pub fn refined(&self, stations: &[f64]) -> Self {
        let most = self.breaks.len() + stations.len();
        let mut law = Self {
            breaks: Vec::with_capacity(most),
            pieces: Vec::with_capacity(most),
            joints: Vec::with_capacity(most),
        };
        law.breaks.push(self.start());
        for (i, piece) in self.pieces.iter().enumerate() {
            let (a, b) = (self.breaks[i], self.breaks[i + 1]);
            if i > 0 {
                law.joints.push(self.joints[i - 1]);
            }
            let mut rest = piece.clone();
            let mut from = a;
            for &x in stations.iter().filter(|x| **x > a && **x < b) {
                if x <= from {
                    continue;
                }
                let (left, right) = rest.split((x - from) / (b - from));
                law.pieces.push(left);
                law.breaks.push(x);
                law.joints.push(Smoothness::Curvature);
                (rest, from) = (right, x);
            }
            law.pieces.push(rest);
            law.breaks.push(b);
        }
        law
    }

    /// The part from `from` to `to`. `None` where that is not an interval within the law.
    #[must_use]
    pub fn restricted(&self, from: f64, to: f64) -> Option<Self> {
        if !(from < to && self.covers(from) && self.covers(to)) {
            return None;
        }
        if from == self.start() && to == self.end() {
            return Some(self.clone());
        }
        let first = self.locate(from).0;
        let last = self.breaks.partition_point(|&b| b < to) - 1;
        let mut pieces = Vec::with_capacity(last + 1 - first);
        for i in first..=last {
            let (a, b) = (self.breaks[i], self.breaks[i + 1]);
            pieces.push(match (a < from, to < b) {
                (false, false) => self.pieces[i].clone(),
                (cut, _) => self.pieces[i]
                    .restricted(if cut { (from - a) / (b - a) } else { 0.0 }, ((to - a) / (b - a)).min(1.0)),
            });
        }
        let mut breaks = self.breaks[first..=last + 1].to_vec();
        breaks[0] = from;
        breaks[last + 1 - first] = to;
        Some(Self { breaks, pieces, joints: self.joints[first..last].to_vec() })
    }

    /// This law and then the next, joined as smoothly as is said.
    ///
    /// `None` unless the next begins at the station where this one ends, and with its value to within
    /// rounding (1e-12 of it): a jump can't be constructed.
    #[must_use]
    pub fn followed_by(&self, next: &Self, joint: Smoothness) -> Option<Self> {
        let (a, b) = (self.value(self.end()), next.value(next.start()));
        let near = libm::fabs(a - b) <= 1e-12 * libm::fabs(a).max(libm::fabs(b));
        if self.end() != next.start() || !near {
            return None;
        }
        let mut law = self.clone();
        law.breaks.extend_from_slice(&next.breaks[1..]);
        law.pieces.extend_from_slice(&next.pieces);
        law.joints.push(joint);
        law.joints.extend_from_slice(&next.joints);
        law.share_ends();
        Some(law)
    }

    /// Combines two laws piece by piece over the stations they share.
    fn combined(&self, other: &Self, f: fn(&Bernstein, &Bernstein) -> Bernstein) -> Option<Self> {
        if self.breaks == other.breaks {
            let joints = self.joints.iter().zip(&other.joints).map(|(p, q)| *p.min(q)).collect();
            let pieces = self.pieces.iter().zip(&other.pieces).map(|(p, q)| f(p, q)).collect();
            let mut law = Self { breaks: self.breaks.clone(), pieces, joints };
            law.share_ends();
            return Some(law);
        }
        let (from, to) = (self.start().max(other.start()), self.end().min(other.end()));
        let (a, b) = (self.restricted(from, to)?, other.restricted(from, to)?);
        a.refined(&b.breaks).combined(&b.refined(&a.breaks), f)
    }

    /// Gives neighbouring pieces the very same bits at their joint, which rounding may have parted.
    fn share_ends(&mut self) {
        for i in 1..self.pieces.len() {
            let end = self.pieces[i - 1].coefs()[self.pieces[i - 1].degree()];
            self.pieces[i].coefs_mut()[0] = end;
        }
    }

    /// Sum over the stations that both cover; `None` where there are none.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Option<Self> {
        self.combined(other, Bernstein::plus)
    }

    /// Difference over the stations that both cover; `None` where there are none.
    #[must_use]
    pub fn minus(&self, other: &Self) -> Option<Self> {
        self.combined(other, Bernstein::minus)
    }

    /// Product over the stations that both cover; `None` where there are none.
    #[must_use]
    pub fn times(&self, other: &Self) -> Option<Self> {
        self.combined(other, Bernstein::times)
    }

    /// The law times a number.
    #[must_use]
    pub fn times_number(&self, k: f64) -> Self {
        self.mapped(|p| p.times_number(k))
    }

    /// The law plus a number.
    #[must_use]
    pub fn plus_number(&self, k: f64) -> Self {
        self.mapped(|p| p.coefs().iter().map(|c| c + k).collect())
    }

    pub(super) fn mapped(&self, f: impl Fn(&Bernstein) -> Bernstein) -> Self {
        Self {
            breaks: self.breaks.clone(),
            pieces: self.pieces.iter().map(f).collect(),
            joints: self.joints.clone(),
        }
    }

    /// The derivative; `None` where the law has a crease, since the derivative would jump there.
    #[must_use]
    pub fn derivative(&self) -> Option<Self> {
        if self.creases().next().is_some() {
            return None;
        }
        let pieces = self
            .pieces
            .iter()
            .enumerate()
            .map(|(i, p)| p.derivative().times_number(1.0 / (self.breaks[i + 1] - self.breaks[i])));
        let mut law = Self {
            breaks: self.breaks.clone(),
            pieces: pieces.collect(),
            joints: self
                .joints
                .iter()
                .map(|s| if *s == Smoothness::Curvature { Smoothness::Slope } else { Smoothness::Crease })
                .collect(),
        };
        law.share_ends();
        Some(law)
    }

    /// The integral from the start to each station, a law one degree higher.
    #[must_use]
    pub fn antiderivative(&self) -> Self {
        let mut sum = 0.0;
        let mut pieces = Vec::with_capacity(self.pieces.len());
        for (i, p) in self.pieces.iter().enumerate() {
            let h = self.breaks[i + 1] - self.breaks[i];
            let piece = p.times_number(h).antiderivative(sum);
            sum = piece.coefs()[piece.degree()];
            pieces.push(piece);
        }
        let up =
            |s: &Smoothness| if *s == Smoothness::Crease { Smoothness::Slope } else { Smoothness::Curvature };
        Self { breaks: self.breaks.clone(), pieces, joints: self.joints.iter().map(up).collect() }
    }

    /// The integral over the whole law, exact but for rounding.
    #[must_use]
    pub fn integral(&self) -> f64 {
        self.pieces
            .iter()
            .enumerate()
            .map(|(i, p)| p.integral() * (self.breaks[i + 1] - self.breaks[i]))
            .sum()
    }

    /// The same law with every piece written with at least this degree.
    #[must_use]
    pub fn elevated(&self, degree: usize) -> Self {
        self.mapped(|p| p.elevated(degree))
    }

    /// The least value over the whole law, proven: the bound is never above any value of the law and
    /// lies within `tolerance` of one (or within what rounding leaves, where that is more).
    #[must_use]
    pub fn least(&self, tolerance: f64) -> Least {
        let mut best = Least { value: f64::INFINITY, x_mm: self.start(), bound: f64::INFINITY };
        for (i, p) in self.pieces.iter().enumerate() {
            let (value, t, bound) = least_on_unit(p, tolerance);
            if value < best.value {
                let (a, b) = (self.breaks[i], self.breaks[i + 1]);
                best.value = value;
                best.x_mm = if t == 1.0 { b } else { a + t * (b - a) };
            }
            best.bound = best.bound.min(bound);
        }
        best
    }

    /// The greatest value, proven in the same way as [`least`](Self::least).
    #[must_use]
    pub fn greatest(&self, tolerance: f64) -> Least {
        let least = self.times_number(-1.0).least(tolerance);
        Least { value: -least.value, x_mm: least.x_mm, bound: -least.bound }
    }

    /// The stations where the law has the given value and crosses or touches it, rising.
    #[must_use]
    pub fn stations_of(&self, value: f64) -> Vec<f64> {
        let mut found: Vec<f64> = Vec::new();
        for (i, p) in self.pieces.iter().enumerate() {
            let (a, b) = (self.breaks[i], self.breaks[i + 1]);
            for t in p.coefs().iter().map(|c| c - value).collect::<Bernstein>().roots() {
                let x = if t == 1.0 { b } else { a + t * (b - a) };
                if found.last().is_none_or(|l| x - l > 1e-12 * (b - a)) {
                    found.push(x);
                }
            }
        }
        found
    }
}
