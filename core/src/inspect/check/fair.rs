//! Flats and bumps: departures from a fair curve, whatever allowance is still on.

use alloc::vec::Vec;
use smallvec::SmallVec;

use super::basis::{Along, Basis};
use super::family::{Candidate, family_p};
use super::normal::{Tails, nearness};
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

/// The most departures of one row.
const MOST: usize = 8;

/// What stands out as much as this share of the clearest may be the clearer one, and how many of them are tried.
const NEARLY: f64 = 0.7;
const MOST_NEAR: usize = 10;

/// So much of a kernel has to be left by the fair curve for it to be told from one.
const LEFT: f64 = 0.25;

fn kernel(d: f64) -> f64 {
    let rest = (1.0 - d * d).max(0.0);
    rest * rest
}

/// What is scanned of one row.
struct Scan<'a> {
    data: &'a [Datum],
    roots: Vec<f64>,
    /// The fair curves, and the departures that were accepted.
    basis: Basis,
    accepted: Vec<(f64, f64, f64)>,
    /// What the fair curve leaves of the deviations.
    rest: Vec<f64>,
    places: Vec<(f64, f64)>,
    candidates: Vec<Candidate>,
}

/// One kernel on the places that it touches.
struct Spot {
    first: usize,
    values: SmallVec<[f64; 24]>,
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
    let mut basis = Basis::new(data.len());
    let mut add = |f: &dyn Fn(f64, &Datum) -> f64| {
        basis.add(data.iter().zip(roots).map(|(d, root)| root * f(unit(d), d)).collect());
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
    fn new(sequence: &'a Sequence) -> Self {
        let data = sequence.data.as_slice();
        let roots: Vec<f64> = data.iter().map(|d| libm::sqrt(d.weight)).collect();
        let basis = fair_curves(sequence.line, data, &roots);
        let mut scan = Self {
            data,
            roots,
            basis,
            accepted: Vec::new(),
            rest: Vec::new(),
            places: Vec::new(),
            candidates: Vec::new(),
        };
        scan.look();
        scan
    }

    fn spot(&self, centre: f64, width: f64) -> Option<Spot> {
        let first = self.data.partition_point(|d| d.at <= centre - width);
        let last = self.data.partition_point(|d| d.at < centre + width);
        let mut values: SmallVec<[f64; 24]> = SmallVec::new();
        let (mut high, mut square, mut fourth) = (0, 0.0, 0.0);
        for (d, root) in self.data.get(first..last)?.iter().zip(self.roots.get(first..last)?) {
            let k = kernel((d.at - centre) / width);
            high += usize::from(k > 0.3);
            let value = root * k;
            square += value * value;
            fourth += value * value * value * value;
            values.push(value);
        }
        // A departure that one reading alone tells of is a slip of the hand.
        if high < 2 || square * square < 1.5 * fourth {
            return None;
        }
        let along = self.basis.along(first, &values);
        let left = square - along.iter().map(|a| a * a).sum::<f64>();
        (left > LEFT * square).then_some(Spot { first, values, along, left })
    }

    fn t(&self, spot: &Spot) -> f64 {
        let rest = &self.rest[spot.first..spot.first + spot.values.len()];
        spot.values.iter().zip(rest).map(|(k, r)| k * r).sum::<f64>() / libm::sqrt(spot.left)
    }

    /// Looks at every kernel again.
    fn look(&mut self) {
        self.rest = self.data.iter().zip(&self.roots).map(|(d, root)| root * d.value).collect();
        self.basis.remove_from(&mut self.rest);
        self.places.clear();
        self.candidates.clear();
        let (Some(a), Some(b)) = (self.data.first(), self.data.last()) else { return };
        let (n, span) = (self.data.len(), b.at - a.at);
        if span <= 0.0 || self.basis.rank() + 3 > n {
            return;
        }
        let mut widths: Vec<f64> = Vec::new();
        let mut width = 1.5 * span / (n - 1) as f64;
        while width <= 0.35 * span {
            widths.push(width);
            width *= 2.0;
        }
        // From the widest on: a kernel hangs on the one before it or on the next wider one at its place.
        let mut wider: Vec<Spot> = Vec::new();
        let mut wider_at: Vec<f64> = Vec::new();
        for width in widths.into_iter().rev() {
            let count = libm::ceil(2.0 * span / width) as usize;
            let (mut spots, mut at): (Vec<Spot>, Vec<f64>) = (Vec::new(), Vec::new());
            for i in 0..=count {
                let centre = a.at + span * i as f64 / count as f64;
                let Some(spot) = self.spot(centre, width) else { continue };
                let before = spots.last().map(|s| correlation(s, &spot));
                let near = wider_at.partition_point(|x| *x < centre);
                let around = [near.checked_sub(1), Some(near)]
                    .into_iter()
                    .flatten()
                    .filter_map(|i| wider_at.get(i).map(|x| (i, libm::fabs(x - centre))))
                    .min_by(|p, q| p.1.total_cmp(&q.1))
                    .and_then(|(i, _)| wider.get(i))
                    .map(|s| correlation(s, &spot));
                let parent = [before, around]
                    .into_iter()
                    .flatten()
                    .max_by(|p, q| libm::fabs(*p).total_cmp(&libm::fabs(*q)));
                self.candidates.push(Candidate { t: self.t(&spot), nearness: parent.map(nearness) });
                self.places.push((centre, width));
                spots.push(spot);
                at.push(centre);
            }
            (wider, wider_at) = (spots, at);
        }
    }

    /// The kernel that stands out most. A hollow between two places is a bump on either side of it, and the scan's steps may
    /// favour the wrong one: so all that stand out nearly as much are looked at closely.
    fn clearest(&self) -> Option<(f64, f64)> {
        let most = self.candidates.iter().map(|c| libm::fabs(c.t)).fold(0.0, f64::max);
        let near = self.candidates.iter().zip(&self.places);
        let mut near: Vec<(f64, (f64, f64))> =
            near.map(|(c, p)| (libm::fabs(c.t), *p)).filter(|(t, _)| *t >= NEARLY * most).collect();
        near.sort_by(|a, b| b.0.total_cmp(&a.0));
        near.truncate(MOST_NEAR);
        let refined = near.into_iter().map(|(_, place)| self.refined(place));
        refined.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(place, _)| place)
    }

    /// The kernel nearby that stands out most, and how much: centre and width are not bound to the scan's steps.
    fn refined(&self, (centre, width): (f64, f64)) -> ((f64, f64), f64) {
        let t = |c: f64, w: f64| self.spot(c, w).map_or(0.0, |spot| libm::fabs(self.t(&spot)));
        let (mut best, mut value) = ((centre, width), t(centre, width));
        let (mut step, mut grow) = (0.25 * width, 1.25);
        for _ in 0..7 {
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
            step *= 0.5;
            grow = libm::sqrt(grow);
        }
        (best, value)
    }

    fn accept(&mut self, p: f64) {
        let Some((centre, width)) = self.clearest() else { return };
        let column = self.column(|d| kernel((d.at - centre) / width));
        self.basis.add(column);
        self.accepted.push((centre, width, p));
        self.look();
        if self.accepted.len() >= MOST {
            self.places.clear();
            self.candidates.clear();
        }
    }

    fn column(&self, f: impl Fn(&Datum) -> f64) -> Vec<f64> {
        self.data.iter().zip(&self.roots).map(|(d, root)| root * f(d)).collect()
    }

    /// Height of one accepted kernel beside the fair curve and the others, and its standard uncertainty, which counts in
    /// that its centre and width are read off the same deviations.
    fn height(&self, line: Line, which: usize) -> Option<[f64; 2]> {
        let mut basis = fair_curves(line, self.data, &self.roots);
        for (i, (centre, width, _)) in self.accepted.iter().enumerate() {
            if i != which {
                basis.add(self.column(|d| kernel((d.at - centre) / width)));
            }
        }
        let (centre, width, _) = *self.accepted.get(which)?;
        let own = self.column(|d| kernel((d.at - centre) / width));
        let left = |basis: &Basis| {
            let mut rest = own.clone();
            basis.remove_from(&mut rest);
            let square: f64 = rest.iter().map(|x| x * x).sum();
            (rest, square)
        };
        let (mut rest, mut square) = left(&basis);
        let slope = |d: &Datum| {
            let x = (d.at - centre) / width;
            x * (1.0 - x * x).max(0.0)
        };
        let wider = |d: &Datum| slope(d) * (d.at - centre) / width;
        for shift in [&slope as &dyn Fn(&Datum) -> f64, &wider] {
            let mut with = basis.clone();
            with.add(self.column(shift));
            let (r, s) = left(&with);
            if with.rank() < self.data.len() && s > 0.2 * square {
                (rest, square, basis) = (r, s, with);
            }
        }
        let along: f64 =
            rest.iter().zip(self.data).zip(&self.roots).map(|((k, d), root)| k * root * d.value).sum();
        (square > 0.0).then(|| [along / square, 1.0 / libm::sqrt(square)])
    }
}

fn correlation(a: &Spot, b: &Spot) -> f64 {
    let (from, to) = (a.first.max(b.first), (a.first + a.values.len()).min(b.first + b.values.len()));
    let mut sum = 0.0;
    if from < to {
        let (p, q) = (&a.values[from - a.first..to - a.first], &b.values[from - b.first..to - b.first]);
        sum = p.iter().zip(q).map(|(x, y)| x * y).sum();
    }
    sum -= a.along.iter().zip(&b.along).map(|(x, y)| x * y).sum::<f64>();
    sum / libm::sqrt(a.left * b.left)
}

/// All flats and bumps of rows with enough places, the clearest first, where the family of all kernels of all rows alarms no
/// more often than is stated. Each that is found joins the fair curve before the rest is looked at again.
pub(crate) fn flats_and_bumps(sequences: &[Sequence], significance: f64) -> Vec<Bump> {
    let enough = |s: &Sequence| {
        s.data.len() >= if matches!(s.line, Line::Section(_)) { LEAST_AROUND } else { LEAST_ALONG }
    };
    let mut scans: Vec<(usize, Scan<'_>)> =
        sequences.iter().enumerate().filter(|(_, s)| enough(s)).map(|(i, s)| (i, Scan::new(s))).collect();
    loop {
        let all = scans
            .iter()
            .enumerate()
            .flat_map(|(k, (_, scan))| scan.candidates.iter().map(move |c| (k, libm::fabs(c.t))));
        let Some((k, t)) = all.max_by(|a, b| a.1.total_cmp(&b.1)) else { break };
        let p = family_p(scans.iter().flat_map(|(_, s)| &s.candidates), t, Tails::Both);
        if p > significance {
            break;
        }
        scans[k].1.accept(p);
    }
    let mut found: Vec<Bump> = Vec::new();
    for (sequence, scan) in &scans {
        let line = sequences[*sequence].line;
        for (i, (centre, width, p)) in scan.accepted.iter().enumerate() {
            if let Some([height, uncertainty]) = scan.height(line, i) {
                let (sequence, centre, width, p) = (*sequence, *centre, *width, *p);
                found.push(Bump { sequence, centre, width, height, uncertainty, p });
            }
        }
    }
    found.sort_by(|a, b| a.p.total_cmp(&b.p));
    found
}
