//! The kernels of all widths over one row, and how far each stands out.

use alloc::vec::Vec;

use super::super::basis::{Basis, product};
use super::super::normal::nearness;
use super::super::sequence::{Datum, Line, Sequence};
use super::accepted::Accepted;
use super::curve::{ALL, fair_curves};
use super::kernel::{Kernel, LEFT, Spot, kernel};

/// The most departures of one row, and on how many places no more than one may come.
const MOST: usize = 8;
const PLACES_EACH: usize = 4;

/// What is scanned of one row.
pub(super) struct Scan<'a> {
    pub(super) line: Line,
    pub(super) data: &'a [Datum],
    /// Roots of the weights; 0 where a departure that was accepted took the place.
    pub(super) roots: Vec<f64>,
    /// The fair curves on what is not taken.
    pub(super) basis: Basis,
    pub(super) accepted: Vec<Accepted>,
    /// Whether more than one is.
    pub(super) several: bool,
    /// What the fair curve leaves of the deviations.
    pub(super) rest: Vec<f64>,
    /// All kernels, from the widest on.
    pub(super) spots: Vec<Spot>,
    /// What a kernel has on the places that it touches, kernel after kernel.
    pub(super) values: Vec<f64>,
    /// Statistics of the kernels that can be told from the fair curve.
    pub(super) stands: Vec<(f64, usize)>,
}

impl<'a> Scan<'a> {
    /// The row beside its fair curve, without kernels yet.
    pub(super) fn bare(sequence: &'a Sequence) -> Self {
        let data = sequence.data.as_slice();
        let roots: Vec<f64> = data.iter().map(|d| libm::sqrt(d.weight)).collect();
        let basis = fair_curves(sequence.line, data, &roots, ALL);
        let mut scan = Self {
            line: sequence.line,
            data,
            roots,
            basis,
            accepted: Vec::new(),
            several: false,
            rest: Vec::new(),
            spots: Vec::new(),
            values: Vec::new(),
            stands: Vec::new(),
        };
        scan.leave();
        scan
    }

    pub(super) fn new(sequence: &'a Sequence) -> Self {
        let mut scan = Self::bare(sequence);
        scan.lay();
        scan.look();
        scan
    }

    /// What the fair curve leaves of the deviations.
    fn leave(&mut self) {
        self.rest.clear();
        self.rest.extend(self.data.iter().zip(&self.roots).map(|(d, root)| root * d.value));
        self.basis.remove_from(&mut self.rest);
    }

    /// How far the kernel stands out that does most, if that may be further than `least`: without laying those that
    /// can't. A kernel's statistic is no more than the length of what the fair curve leaves, and what may be told from the
    /// fair curve has at least a share of the kernel left.
    pub(super) fn loudest(&self, least: f64) -> Option<f64> {
        if self.rest.iter().map(|r| r * r).sum::<f64>() <= least * least {
            return None;
        }
        let mut most = least;
        let mut loud = false;
        let mut buffer = Vec::new();
        self.each_kernel(&mut buffer, |kernel, all| {
            let values = &all[kernel.begin..];
            let both = self.with_rest(kernel.first, values);
            if both * both > LEFT * kernel.square * most * most {
                let left = kernel.square - self.basis.square_along(kernel.first, values);
                if left > LEFT * kernel.square {
                    let t = libm::fabs(both / libm::sqrt(left));
                    if t >= most {
                        (most, loud) = (t, true);
                    }
                }
            }
            all.clear();
        });
        loud.then_some(most)
    }

    /// Adds the values of a kernel to a list: the first place that it touches, and the sum of the values' squares. No place
    /// before one that is given is touched.
    pub(super) fn kernel(
        &self,
        from: usize,
        centre: f64,
        width: f64,
        values: &mut Vec<f64>,
    ) -> Option<(usize, f64)> {
        let before = self.data.get(from..)?.iter().take_while(|d| d.at <= centre - width);
        let first = from + before.count();
        let (data, roots) = (self.data.get(first..)?, self.roots.get(first..)?);
        let touched = data.iter().take_while(|d| d.at < centre + width).count();
        let touched = data.iter().zip(roots).take(touched);
        let begin = values.len();
        let (mut high, mut square, mut fourth) = (0, 0.0, 0.0);
        let steep = 1.0 / width;
        values.extend(touched.map(|(d, root)| {
            let k = kernel((d.at - centre) * steep);
            high += usize::from(k > 0.3 && *root > 0.0);
            let value = root * k;
            let both = value * value;
            square += both;
            fourth += both * both;
            value
        }));
        // A departure that one reading alone tells of is a slip of the hand.
        if high < 2 || square * square < 1.5 * fourth {
            values.truncate(begin);
            return None;
        }
        Some((first, square))
    }

    /// The kernels of all widths that lie over the row, from the widest on; the values of each are added to a list.
    fn each_kernel(&self, all: &mut Vec<f64>, mut tell: impl FnMut(&Kernel, &mut Vec<f64>)) {
        let (Some(a), Some(b)) = (self.data.first(), self.data.last()) else { return };
        let (n, span) = (self.data.len(), b.at - a.at);
        if span <= 0.0 || self.basis.rank() + 3 > self.open() {
            return;
        }
        let least = 1.5 * span / (n - 1) as f64;
        let mut widths = 0;
        while least * libm::exp2(f64::from(widths)) <= 0.35 * span {
            widths += 1;
        }
        for k in (0..widths).rev() {
            let width = least * libm::exp2(f64::from(k));
            // Kernels of one width lie half of it apart: of evenly read places each is touched by four.
            let count = libm::ceil(2.0 * span / width) as usize;
            let step = span / count as f64;
            let mut from = 0;
            for i in 0..=count {
                let centre = a.at + step * i as f64;
                let begin = all.len();
                if let Some((first, square)) = self.kernel(from, centre, width, all) {
                    from = first;
                    tell(&Kernel { centre, width, first, begin, square }, all);
                }
            }
        }
    }

    /// Lays kernels of all widths over the row.
    pub(super) fn lay(&mut self) {
        self.basis.prepare();
        let n = self.data.len();
        // So much do some twenty places want.
        let (mut all, mut spots) = (Vec::with_capacity(12 * n), Vec::with_capacity(2 * n + 8));
        self.each_kernel(&mut all, |kernel, all| {
            let Kernel { centre, width, first, begin, square: whole } = *kernel;
            let along = self.basis.along(first, &all[begin..]);
            let left = whole - product(&along, &along);
            spots.push(Spot { centre, width, first, values: [begin, all.len()], square: whole, along, left });
        });
        (self.values, self.spots) = (all, spots);
    }

    fn values_of(&self, spot: &Spot) -> &[f64] {
        &self.values[spot.values[0]..spot.values[1]]
    }

    /// The product of a kernel with what the fair curve leaves.
    pub(super) fn with_rest(&self, first: usize, values: &[f64]) -> f64 {
        let rest = &self.rest[first..first + values.len()];
        values.iter().zip(rest).map(|(k, r)| k * r).sum::<f64>()
    }

    pub(super) fn t(&self, first: usize, values: &[f64], left: f64) -> f64 {
        self.with_rest(first, values) / libm::sqrt(left)
    }

    /// Looks at every kernel beside the fair curve that there is now.
    pub(super) fn look(&mut self) {
        self.stands.clear();
        let most = MOST.min(self.data.len() / PLACES_EACH);
        if self.accepted.len() >= most {
            return;
        }
        let told = self.spots.iter().enumerate().filter(|(_, spot)| spot.left > LEFT * spot.square);
        let stand = |(i, spot): (usize, &Spot)| (self.t(spot.first, self.values_of(spot), spot.left), i);
        self.stands = told.map(stand).collect();
    }

    /// For each kernel that can be told from the fair curve its nearness to the one that it hangs on: the one before it or
    /// the next wider one at its place.
    pub(super) fn each_nearness(&self, mut tell: impl FnMut(Option<f64>)) {
        let (mut wider, mut these): (Vec<&Spot>, Vec<&Spot>) = (Vec::new(), Vec::new());
        let mut latest = f64::NAN;
        for spot in self.stands.iter().map(|(_, i)| &self.spots[*i]) {
            if spot.width != latest {
                core::mem::swap(&mut wider, &mut these);
                these.clear();
                if latest != 2.0 * spot.width {
                    wider.clear();
                }
                latest = spot.width;
            }
            let with = |other: &&Spot| libm::fabs(self.correlation(other, spot));
            let before = these.last().map(with);
            let near = wider.partition_point(|w| w.centre < spot.centre);
            let around = [near.checked_sub(1), Some(near)]
                .into_iter()
                .flatten()
                .filter_map(|i| wider.get(i).map(|w| (w, libm::fabs(w.centre - spot.centre))))
                .min_by(|p, q| p.1.total_cmp(&q.1))
                .map(|(w, _)| with(w));
            let parent = [before, around].into_iter().flatten().max_by(f64::total_cmp);
            tell(parent.map(nearness));
            these.push(spot);
        }
    }

    /// How far the kernel stands out that does most.
    pub(super) fn most(&self) -> Option<f64> {
        self.stands.iter().map(|s| libm::fabs(s.0)).max_by(f64::total_cmp)
    }

    fn correlation(&self, a: &Spot, b: &Spot) -> f64 {
        let (p, q) = (self.values_of(a), self.values_of(b));
        let (from, to) = (a.first.max(b.first), (a.first + p.len()).min(b.first + q.len()));
        let mut sum = 0.0;
        if from < to {
            let (p, q) = (&p[from - a.first..to - a.first], &q[from - b.first..to - b.first]);
            sum = p.iter().zip(q).map(|(x, y)| x * y).sum();
        }
        sum -= product(&a.along, &b.along);
        sum / libm::sqrt(a.left * b.left)
    }

    /// How many places no departure took.
    pub(super) fn open(&self) -> usize {
        self.roots.iter().filter(|root| **root > 0.0).count()
    }

    /// What a kernel anywhere has beside the fair curve, of length 1, and its statistic.
    pub(super) fn beside(&self, (centre, width): (f64, f64)) -> (Vec<f64>, f64) {
        let own = self.data.iter().zip(&self.roots).map(|(d, root)| root * kernel((d.at - centre) / width));
        let column = self.basis.beside(own.collect()).unwrap_or_default();
        let t = column.iter().zip(&self.rest).map(|(k, r)| k * r).sum();
        (column, t)
    }

    /// Takes places out of the row.
    pub(super) fn take(&mut self, places: &[usize]) {
        for i in places {
            if let Some(root) = self.roots.get_mut(*i) {
                *root = 0.0;
            }
        }
        self.basis = fair_curves(self.line, self.data, &self.roots, ALL);
        self.leave();
    }
}
