//! Flats and bumps: departures from a fair curve, whatever allowance is still on.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;
use core::ops::Range;

use super::basis::{Along, Basis, product, take_off};
use super::family::Family;
use super::normal::{Tails, above, nearness};
use super::queue::Queue;
use super::sequence::{Datum, Line, Sequence};

/// A flat or a bump: a kernel `(1 − d²)²` with `d = (x − c)/w`, which rises within `w` of its centre.
///
/// It is smooth, ends at 0 with no slope, and costs no call.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bump {
    pub sequence: usize,
    pub centre: f64,
    pub width: f64,
    /// Height over the fair curve at its centre, mm, and its standard uncertainty.
    pub height: f64,
    pub uncertainty: f64,
    pub p: f64,
}

/// Of the width, where the kernel has half its height: `√(1 − √½)`.
pub(crate) const HALF_HEIGHT: f64 = 0.541_196_100_146_197;

/// The fewest places along a line, and around a section, of which anything is said.
pub(crate) const LEAST_ALONG: usize = 7;
pub(crate) const LEAST_AROUND: usize = 9;

/// The most places of a row in which departures from its fair curve are looked for: of more, those next to each other are
/// averaged. A departure that a hand feels is wider than that.
pub(crate) const MOST_PLACES: usize = 96;

/// The most departures of one row, and on how many places no more than one may come.
const MOST: usize = 8;
const PLACES_EACH: usize = 4;

/// What stands out as much as this share of the clearest may be the clearer one, and how many of them are tried.
const NEARLY: f64 = 0.7;
const MOST_NEAR: usize = 6;

/// So much of a kernel has to be left by the fair curve for it to be told from one.
const LEFT: f64 = 0.25;

fn kernel(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

/// So much has to be left of a step that is even over its stretch: less than of a kernel, as nothing is told of its height.
const LEFT_OF_STEP: f64 = 0.05;

/// The longest such stretch, as a share of the row.
const LONGEST: f64 = 0.4;

/// A step says where a departure is if it stands out by so many standard uncertainties: by noise alone one of all those in a
/// row does so once in some ten thousand times, so that the rate of false alarms stays.
const FAR: f64 = 5.0;

/// Neighbouring places that lie off by the same, whatever lies beside them.
struct Step {
    places: Range<usize>,
    t: f64,
}

/// What is done next about a row: what is told, and the step whose places are taken out with it.
struct Choice {
    told: Option<Told>,
    step: Option<Step>,
}

/// A kernel that is told.
struct Told {
    centre: f64,
    width: f64,
    p: f64,
}

/// A departure that was accepted, and the places that it took.
struct Accepted {
    centre: f64,
    width: f64,
    p: f64,
    places: Vec<usize>,
}

/// What is scanned of one row.
struct Scan<'a> {
    line: Line,
    data: &'a [Datum],
    /// Roots of the weights; 0 where a departure that was accepted took the place.
    roots: Vec<f64>,
    /// The fair curves on what is not taken.
    basis: Basis,
    accepted: Vec<Accepted>,
    /// What the fair curve leaves of the deviations.
    rest: Vec<f64>,
    /// All kernels, from the widest on.
    spots: Vec<Spot>,
    /// What a kernel has on the places that it touches, kernel after kernel.
    values: Vec<f64>,
    /// Statistics of the kernels that can be told from the fair curve.
    stands: Vec<(f64, usize)>,
}

/// One kernel before anything is asked of it: the first place that it touches, where its values begin in a list, and the sum
/// of their squares.
struct Kernel {
    centre: f64,
    width: f64,
    first: usize,
    begin: usize,
    square: f64,
}

/// One kernel on the places that it touches.
struct Spot {
    centre: f64,
    width: f64,
    first: usize,
    /// Where its values begin and end.
    values: [usize; 2],
    square: f64,
    /// What lies along the basis, and what that leaves of the square.
    along: Along,
    left: f64,
}

/// The fair curves of a row: a low polynomial, and around a section an allowance along the spine too, as it lies square to
/// the surface, even or slanting.
fn fair_curves(line: Line, data: &[Datum], roots: &[f64]) -> Basis {
    let (a, b) = match (data.first(), data.last()) {
        (Some(a), Some(b)) => (a.at, b.at),
        _ => (0.0, 1.0),
    };
    let unit = |d: &Datum| if b > a { (2.0 * d.at - a - b) / (b - a) } else { 0.0 };
    // The place in the row, from -1 to 1, and the weight's root.
    let places: Vec<[f64; 2]> = data.iter().zip(roots).map(|(d, root)| [unit(d), *root]).collect();
    let mut basis = Basis::new(data.len());
    let mut add = |f: &dyn Fn(f64, &Datum) -> f64| {
        basis.add(data.iter().zip(&places).map(|(d, [x, root])| root * f(*x, d)));
    };
    let degree = match line {
        Line::Section(_) => 2,
        _ => match data.len() {
            ..10 => 1,
            10..16 => 2,
            _ => 3,
        },
    };
    add(&|_, _| 1.0);
    add(&|x, _| x);
    if degree > 1 {
        add(&|x, _| x * x);
    }
    if degree > 2 {
        add(&|x, _| x * x * x);
    }
    if matches!(line, Line::Section(_)) {
        add(&|_, d| d.share);
        add(&|x, d| x * d.share);
    }
    basis
}

impl<'a> Scan<'a> {
    /// The row beside its fair curve, without kernels yet.
    fn bare(sequence: &'a Sequence) -> Self {
        let data = sequence.data.as_slice();
        let roots: Vec<f64> = data.iter().map(|d| libm::sqrt(d.weight)).collect();
        let basis = fair_curves(sequence.line, data, &roots);
        let mut scan = Self {
            line: sequence.line,
            data,
            roots,
            basis,
            accepted: Vec::new(),
            rest: Vec::new(),
            spots: Vec::new(),
            values: Vec::new(),
            stands: Vec::new(),
        };
        scan.leave();
        scan
    }

    fn new(sequence: &'a Sequence) -> Self {
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
    fn loudest(&self, least: f64) -> Option<f64> {
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
    fn kernel(&self, from: usize, centre: f64, width: f64, values: &mut Vec<f64>) -> Option<(usize, f64)> {
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
    fn lay(&mut self) {
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
    fn with_rest(&self, first: usize, values: &[f64]) -> f64 {
        let rest = &self.rest[first..first + values.len()];
        values.iter().zip(rest).map(|(k, r)| k * r).sum::<f64>()
    }

    fn t(&self, first: usize, values: &[f64], left: f64) -> f64 {
        self.with_rest(first, values) / libm::sqrt(left)
    }

    /// Looks at every kernel beside the fair curve that there is now.
    fn look(&mut self) {
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
    fn each_nearness(&self, mut tell: impl FnMut(Option<f64>)) {
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
    fn most(&self) -> Option<f64> {
        self.stands.iter().map(|s| libm::fabs(s.0)).max_by(f64::total_cmp)
    }

    /// The kernel that stands out most. A hollow between two places is a bump on either side of it, and the scan's steps may
    /// favour the wrong one: so all that stand out nearly as much are looked at closely, of neighbours the clearest. Its
    /// place, how far it stands out there, and how far the clearest of those that were scanned does.
    fn clearest(&self, which: impl Fn(f64, f64, f64) -> bool) -> Option<((f64, f64), f64, f64)> {
        let all = self.stands.iter().map(|(t, i)| (*t, &self.spots[*i]));
        let mut near: Vec<(f64, &Spot)> =
            all.filter(|(t, spot)| which(spot.centre, spot.width, *t)).collect();
        let most = near.iter().map(|(t, _)| libm::fabs(*t)).max_by(f64::total_cmp)?;
        near.retain(|(t, _)| libm::fabs(*t) >= NEARLY * most);
        near.sort_by(|a, b| libm::fabs(b.0).total_cmp(&libm::fabs(a.0)));
        let mut kept: Vec<(f64, &Spot)> = Vec::with_capacity(MOST_NEAR);
        for (t, spot) in near {
            let same = |(other, by): &(f64, &Spot)| {
                other * t > 0.0
                    && libm::fabs(by.centre - spot.centre) <= 0.6 * by.width
                    && spot.width <= 2.1 * by.width
                    && by.width <= 2.1 * spot.width
            };
            if kept.len() < MOST_NEAR && !kept.iter().any(same) {
                kept.push((t, spot));
            }
        }
        // All of them roughly, and the clearest to the end.
        let rough = kept.into_iter().map(|(_, spot)| {
            let start = (spot.centre, spot.width);
            (start, self.refined(start, start, 0..3, LEFT))
        });
        let (start, (place, _)) = rough.max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
        let (place, t) = self.refined(start, place, 3..7, LEFT);
        Some((place, t, most))
    }

    /// The kernel nearby that stands out most, and how much: centre and width are not bound to the scan's steps. Looked for
    /// from a place found before, in steps halved so many times.
    fn refined(
        &self,
        (centre, width): (f64, f64),
        place: (f64, f64),
        halved: Range<u32>,
        least: f64,
    ) -> ((f64, f64), f64) {
        let mut values: Vec<f64> = Vec::with_capacity(self.data.len());
        let mut t = |c: f64, w: f64| {
            values.clear();
            let from = self.data.partition_point(|d| d.at <= c - w);
            let Some((first, square)) = self.kernel(from, c, w, &mut values) else { return 0.0 };
            let left = square - self.basis.square_along(first, &values);
            if left > least * square { libm::fabs(self.t(first, &values, left)) } else { 0.0 }
        };
        let (mut best, mut value) = (place, t(place.0, place.1));
        for k in halved {
            let share = libm::exp2(-f64::from(k));
            let (step, grow) = (0.25 * width * share, libm::pow(1.25, share));
            for _ in 0..4 {
                let (c, w) = best;
                let tries = [(c - step, w), (c + step, w), (c, w * grow), (c, w / grow)];
                let within = |p: &(f64, f64)| {
                    libm::fabs(p.0 - centre) <= 0.6 * width && p.1 <= 1.7 * width && p.1 >= 0.6 * width
                };
                let next = tries
                    .into_iter()
                    .filter(within)
                    .map(|p| (p, t(p.0, p.1)))
                    .max_by(|p, q| p.1.total_cmp(&q.1));
                match next {
                    Some((p, v)) if v > value => (best, value) = (p, v),
                    _ => break,
                }
            }
        }
        (best, value)
    }

    /// How many places no departure took.
    fn open(&self) -> usize {
        self.roots.iter().filter(|root| **root > 0.0).count()
    }

    /// The step that stands out most of those that are asked for, no longer than a share of the row.
    fn clearest_step(&self, longest: f64, mut which: impl FnMut(&Step) -> bool) -> Option<Step> {
        // Sums from the first place on: of the weights, with what the fair curve leaves, and along each of its columns.
        let sums = |f: &dyn Fn(usize) -> f64| -> Vec<f64> {
            let mut sum = 0.0;
            let after = (0..self.data.len()).map(|i| {
                sum += f(i);
                sum
            });
            core::iter::once(0.0).chain(after).collect()
        };
        let roots = &self.roots;
        let (square, rest) = (sums(&|i| roots[i] * roots[i]), sums(&|i| roots[i] * self.rest[i]));
        let along: Vec<Vec<f64>> = self.basis.each().map(|c| sums(&|i| roots[i] * c[i])).collect();
        let longest = (longest * self.data.len() as f64) as usize;
        let mut most: Option<Step> = None;
        for from in 0..self.data.len() {
            for to in from + 1..=self.data.len().min(from + longest.max(1)) {
                let of = |sums: &[f64]| sums[to] - sums[from];
                let whole = of(&square);
                let left = whole - along.iter().map(|c| of(c)).map(|a| a * a).sum::<f64>();
                if left > LEFT_OF_STEP * whole {
                    let t = of(&rest) / libm::sqrt(left);
                    let step = Step { places: from..to, t };
                    let more = |most: &Step| libm::fabs(t) > libm::fabs(most.t);
                    if most.as_ref().is_none_or(more) && which(&step) {
                        most = Some(step);
                    }
                }
            }
        }
        most
    }

    /// Whether a kernel tells of a step.
    fn tells_of(&self, step: &Step, (centre, width): (f64, f64), t: f64) -> bool {
        let places = self.data.get(step.places.clone()).unwrap_or_default();
        let (Some(a), Some(b)) = (places.first(), places.last()) else { return false };
        let half = HALF_HEIGHT * width;
        t * step.t > 0.0 && centre + half >= a.at && centre - half <= b.at
    }

    /// What is told next, whose chance is given. Not every departure has a kernel's shape: beside one that has not, the fair
    /// curve is bent, and the clearest kernel may be where the wood is fair. A step that stands out more tells where the
    /// departure is; if no kernel there alarms, as where it is of one place at the row's end, nothing is told of it.
    fn choose(&self, p: f64, mut alarms: impl FnMut(f64) -> Option<f64>) -> Choice {
        let Some((place, t, _)) = self.clearest(|_, _, _| true) else {
            return Choice { told: None, step: None };
        };
        let mut told = Some(Told { centre: place.0, width: place.1, p });
        let mut step = self.clearest_step(LONGEST, |_| true).filter(|step| libm::fabs(step.t) > t.max(FAR));
        if let Some(step) = &step
            && !self.tells_of(step, place, self.beside(place).1)
        {
            told = self.told_of(step, &mut alarms);
        }
        if let Some(told) = &told
            && let Some(single) = self.rival((told.centre, told.width), &mut alarms)
        {
            let instead = self.told_of(&single, &mut alarms);
            step = Some(single);
            return Choice { told: instead, step };
        }
        Choice { told, step }
    }

    /// The kernel that tells of a step, if it alarms.
    fn told_of(&self, step: &Step, alarms: &mut impl FnMut(f64) -> Option<f64>) -> Option<Told> {
        let (place, _, most) = self.clearest(|centre, width, t| self.tells_of(step, (centre, width), t))?;
        let p = alarms(most)?;
        let (centre, width) = place;
        self.tells_of(step, place, self.beside(place).1).then_some(Told { centre, width, p })
    }

    /// A single place that a kernel doesn't tell of, which stands out nearly as much and without which the kernel would not
    /// alarm: it may as well be all that is wrong.
    fn rival(&self, place: (f64, f64), alarms: &mut impl FnMut(f64) -> Option<f64>) -> Option<Step> {
        let (column, t) = self.beside(place);
        self.clearest_step(0.0, |single| {
            let (i, step) = (single.places.start, single);
            let hangs = column.get(i).copied().unwrap_or(0.0) / libm::sqrt(1.0 - self.basis.leverage(i));
            !self.tells_of(step, place, t)
                && libm::fabs(step.t) >= FAR.max(NEARLY * libm::fabs(t))
                && alarms(libm::fabs(t - hangs * step.t) / libm::sqrt(1.0 - hangs * hangs)).is_none()
        })
    }

    /// What a kernel anywhere has beside the fair curve, of length 1, and its statistic.
    fn beside(&self, (centre, width): (f64, f64)) -> (Vec<f64>, f64) {
        let own = self.data.iter().zip(&self.roots).map(|(d, root)| root * kernel((d.at - centre) / width));
        let column = self.basis.beside(own.collect()).unwrap_or_default();
        let t = column.iter().zip(&self.rest).map(|(k, r)| k * r).sum();
        (column, t)
    }

    /// Accepts a choice, and looks at what its places leave: whatever shape it has in truth, they hold the fair curve no
    /// more, nor are they matched again.
    fn accept(&mut self, choice: Choice, alarms: impl Fn(&f64) -> bool) {
        let mut values = Vec::new();
        let mut touched = 0..0;
        let mut sign = choice.step.as_ref().map_or(0.0, |step| step.t);
        if let Some(told) = &choice.told
            && let Some((first, _)) = self.kernel(0, told.centre, told.width, &mut values)
        {
            touched = first..first + values.len();
            sign = self.with_rest(first, &values);
        }
        let step = choice.step.map_or(0..0, |step| step.places);
        let open = |i: &usize| self.roots.get(*i).is_some_and(|root| *root > 0.0);
        let whole = touched.chain(step).filter(open);
        let mut places: Vec<usize> = whole.collect();
        places.sort_unstable();
        places.dedup();
        self.take(&places);
        let mut wider = false;
        while let Some(next) = self.more_of_it(&places, sign, &alarms) {
            self.take(&[next]);
            wider = true;
            places.push(next);
            places.sort_unstable();
        }
        if let Some(Told { mut centre, mut width, p }) = choice.told {
            // Kernels that the fair curve leaves little of are not looked for: this one is such.
            if wider {
                for i in &places {
                    if let (Some(root), Some(d)) = (self.roots.get_mut(*i), self.data.get(*i)) {
                        *root = libm::sqrt(d.weight);
                    }
                }
                self.take(&[]);
                ((centre, width), _) = self.refined((centre, width), (centre, width), 0..7, LEFT_OF_STEP);
                self.take(&places);
            }
            self.accepted.push(Accepted { centre, width, p, places });
        }
        self.lay();
        self.look();
    }

    /// Takes places out of the row.
    fn take(&mut self, places: &[usize]) {
        for i in places {
            if let Some(root) = self.roots.get_mut(*i) {
                *root = 0.0;
            }
        }
        self.basis = fair_curves(self.line, self.data, &self.roots);
        self.leave();
    }

    /// The neighbour of a stretch that lies off the fair curve to the same side and would alarm alone: the departure is wider
    /// than its kernel.
    fn more_of_it(&self, places: &[usize], sign: f64, alarms: &impl Fn(&f64) -> bool) -> Option<usize> {
        let (first, last) = (*places.first()?, *places.last()?);
        let off = |i: usize| {
            let free = 1.0 - self.basis.leverage(i);
            (*self.roots.get(i)? > 0.0 && free > LEFT)
                .then(|| (self.rest[i] * sign.signum() / libm::sqrt(free), i))
        };
        let sides = [first.checked_sub(1), Some(last + 1)];
        let off = sides.into_iter().flatten().filter_map(off).filter(|(t, _)| *t > 0.0 && alarms(t));
        Some(off.max_by(|a, b| a.0.total_cmp(&b.0))?.1)
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

    /// Height of one accepted kernel beside the fair curve through what no other took, and its standard uncertainty, which
    /// counts in that its centre and width are read off the same deviations.
    fn height(&self, accepted: &Accepted) -> Option<[f64; 2]> {
        let Accepted { centre, width, places, .. } = accepted;
        let own = |d: &Datum| kernel((d.at - centre) / width);
        let mut roots = self.roots.clone();
        for i in places {
            if let (Some(d), Some(root)) = (self.data.get(*i), roots.get_mut(*i)) {
                *root = libm::sqrt(d.weight);
            }
        }
        let mut basis = fair_curves(self.line, self.data, &roots);
        let open = roots.iter().filter(|root| **root > 0.0).count();
        let column = |f: &dyn Fn(&Datum) -> f64| -> Vec<f64> {
            self.data.iter().zip(&roots).map(|(d, root)| root * f(d)).collect()
        };
        let square_of = |column: &[f64]| column.iter().map(|x| x * x).sum::<f64>();
        let mut rest = column(&own);
        basis.remove_from(&mut rest);
        let mut square = square_of(&rest);
        let slope = |d: &Datum| {
            let x = (d.at - centre) / width;
            x * (1.0 - x * x).max(0.0)
        };
        let wider = |d: &Datum| slope(d) * (d.at - centre) / width;
        for shift in [&slope as &dyn Fn(&Datum) -> f64, &wider] {
            if basis.rank() + 1 >= open {
                break;
            }
            let Some(shift) = basis.beside(column(shift)) else { continue };
            let mut less = rest.clone();
            take_off(&mut less, &shift);
            let left = square_of(&less);
            if left > 0.2 * square {
                (rest, square) = (less, left);
                basis.push(&shift);
            }
        }
        let along: f64 =
            rest.iter().zip(self.data).zip(&roots).map(|((k, d), root)| k * root * d.value).sum();
        (square > 0.0).then(|| [along / square, 1.0 / libm::sqrt(square)])
    }
}

/// All flats and bumps of rows with enough places, the clearest first, where the family of all kernels of all rows alarms no
/// more often than is stated. The places of each that is found are taken out before the rest is looked at
/// again.
pub(crate) fn flats_and_bumps(sequences: &[Sequence], significance: f64) -> Vec<Bump> {
    search(sequences, significance, &mut Family::new(Tails::Both))
}

fn search(sequences: &[Sequence], significance: f64, family: &mut Family) -> Vec<Bump> {
    let enough = |s: &Sequence| {
        s.data.len() >= if matches!(s.line, Line::Section(_)) { LEAST_AROUND } else { LEAST_ALONG }
    };
    let rows = || sequences.iter().enumerate().filter(|(_, s)| enough(s));
    let mut queue = Queue::default();
    let least = Tails::Both.least(significance);
    let alarms = |t: &f64| 2.0 * above(*t) <= significance;
    // The rows in which one kernel would alarm if it were the only one of all.
    let loud: Vec<(usize, f64)> = rows()
        .filter_map(|(i, sequence)| Some((i, Scan::bare(sequence).loudest(least).filter(alarms)?)))
        .collect();
    let Some(loudest) = loud.iter().map(|(_, t)| *t).max_by(f64::total_cmp) else { return Vec::new() };
    // Kernels take room: they are kept of those rows alone.
    let mut open: BTreeMap<usize, Scan<'_>> = BTreeMap::new();
    let mut ask = 1;
    for (count, (i, sequence)) in rows().enumerate() {
        let scan = Scan::new(sequence);
        scan.each_nearness(|nearness| family.add(nearness));
        // All of them alarm no less often than those so far.
        if count + 1 == ask {
            if family.clone().p(loudest) > significance {
                return Vec::new();
            }
            ask *= 2;
        }
        if let Ok(k) = loud.binary_search_by_key(&i, |(i, _)| *i) {
            queue.push(loud[k].1, i);
            open.insert(i, scan);
        }
    }
    while let Some((t, i)) = queue.pop() {
        let p = family.p(t);
        let Some(scan) = open.get_mut(&i).filter(|_| p <= significance) else { break };
        let choice = scan.choose(p, |t| Some(family.p(t)).filter(|p| *p <= significance));
        scan.each_nearness(|nearness| family.remove(nearness));
        scan.accept(choice, alarms);
        scan.each_nearness(|nearness| family.add(nearness));
        scan.most().into_iter().for_each(|t| queue.push(t, i));
    }
    let mut found: Vec<Bump> = Vec::new();
    for (sequence, scan) in &open {
        for accepted in &scan.accepted {
            if let Some([height, uncertainty]) = scan.height(accepted) {
                let (sequence, centre, width, p) = (*sequence, accepted.centre, accepted.width, accepted.p);
                found.push(Bump { sequence, centre, width, height, uncertainty, p });
            }
        }
    }
    found.sort_by(|a, b| a.p.total_cmp(&b.p));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows around sections, each with one bump.
    fn bumpy(count: usize) -> Vec<Sequence> {
        let datum = |i: usize, k: usize| Datum {
            at: 4.0 * k as f64,
            value: 0.3 + 0.2 * kernel((k as f64 - 6.0 - (i % 8) as f64) / 3.0),
            weight: 1e3,
            share: 0.0,
            shared: false,
            ends: [4.0 * k as f64; 2],
        };
        let row = |i: usize| (0..20).map(|k| datum(i, k)).collect();
        (0..count).map(|i| Sequence { line: Line::Section(i), data: row(i) }).collect()
    }

    #[test]
    fn four_times_the_rows_and_bumps_are_four_times_the_work() {
        let work = |count: usize| {
            let mut family = Family::new(Tails::Both);
            let found = search(&bumpy(count), 0.01, &mut family);
            assert!(found.len() >= count, "{} of {count}", found.len());
            (family.work, found.len())
        };
        let (few, many) = (work(40), work(160));
        assert_eq!(many, (4 * few.0, 4 * few.1));
    }

    /// Rows with noise of all sizes: what is looked at closely only where it may stand out is what a look at all finds.
    #[test]
    fn the_loudest_of_a_row_is_that_of_all_its_kernels() {
        let mut state = 5_u32;
        let mut noise = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state) / f64::from(u32::MAX) - 0.5
        };
        let (mut loud, mut quiet) = (0, 0);
        for i in 0..400 {
            let n = 9 + i % 30;
            let size = [0.02, 0.06, 0.12, 0.3][i % 4];
            let line = if i % 3 == 0 { Line::Spine } else { Line::Section(i) };
            let mut at = 0.0;
            let data = (0..n).map(|_| {
                at += 4.0 + noise();
                let (value, share) = (size * noise(), 0.6 + 0.3 * noise());
                Datum { at, value, weight: 1e3 * (1.0 + noise()), share, shared: false, ends: [at; 2] }
            });
            let row = Sequence { line, data: data.collect() };
            for significance in [0.2, 0.05, 0.01] {
                let least = Tails::Both.least(significance);
                let alarms = |t: &f64| 2.0 * above(*t) <= significance;
                let all = Scan::new(&row).most().filter(alarms);
                let found = Scan::bare(&row).loudest(least).filter(alarms);
                match (all, found) {
                    (Some(all), Some(found)) => {
                        assert!(libm::fabs(all - found) < 1e-9 * all, "{all} {found}")
                    }
                    (all, found) => assert_eq!(all, found),
                }
                if all.is_some() { loud += 1 } else { quiet += 1 }
            }
        }
        assert!(loud > 200 && quiet > 200, "{loud} {quiet}");
    }
}
