//! Stretches that lie below the finished neck.

use alloc::vec::Vec;
use core::ops::Range;

use super::family::Family;
use super::normal::{Tails, Weights, nearness};
use super::sequence::{Datum, Sequence};

/// One stretch of a row that lies too low.
#[derive(Clone, Debug)]
pub(crate) struct Low {
    pub sequence: usize,
    pub places: Range<usize>,
    pub p: f64,
}

/// What is scanned of one row.
struct Scan {
    /// Places that an accepted stretch has taken.
    taken: Vec<bool>,
    weights: Weights,
    /// The stretch that lies lowest, and its statistic.
    lowest: Option<(f64, Range<usize>)>,
}

/// One stretch, and the sum of its readings' weights.
struct Stretch {
    start: usize,
    size: usize,
    weight: f64,
}

/// Weighted mean of a stretch and its standard uncertainty.
pub(crate) fn mean(sequence: &Sequence, places: Range<usize>) -> [f64; 2] {
    let data = sequence.data.get(places).unwrap_or_default();
    let [weight, sum] = data.iter().fold([0.0; 2], |[w, s], d| [w + d.weight, s + d.weight * d.value]);
    [sum / weight, 1.0 / libm::sqrt(weight)]
}

/// A place that is not below 0 ends a stretch where it lies above the mean of the others by more than so many combined
/// standard uncertainties.
const APART: f64 = 2.5;

/// Of a stretch the part without places that are not low which lies lowest, and its statistic.
fn lowest_part(data: &[Datum], places: Range<usize>) -> Option<(f64, Range<usize>)> {
    let here = data.get(places.clone())?;
    let [weight, sum] = here.iter().fold([0.0; 2], |[w, s], d| [w + d.weight, s + d.weight * d.value]);
    let above = |d: &Datum| {
        let rest = weight - d.weight;
        let apart = d.value - (sum - d.weight * d.value) / rest;
        if d.value >= 0.0 && rest > 0.0 { apart / libm::sqrt(1.0 / d.weight + 1.0 / rest) } else { 0.0 }
    };
    let scores = here.iter().map(above).enumerate();
    let highest = scores.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, score)| *score > APART);
    match (highest, here) {
        (Some((i, _)), _) => {
            let middle = places.start + i;
            let sides = [places.start..middle, middle + 1..places.end];
            sides.into_iter().filter_map(|side| lowest_part(data, side)).min_by(|a, b| a.0.total_cmp(&b.0))
        }
        // What another row says too is looked at there.
        (None, [] | [Datum { shared: true, .. }]) => None,
        (None, _) => Some((sum / libm::sqrt(weight), places)),
    }
}

impl Scan {
    /// Stretches of 1, 2, 3, 5, 8, … consecutive places, a quarter of their size apart.
    fn new(sequence: &Sequence, taken: Vec<bool>) -> Self {
        let mut scan = Self { taken, weights: Weights::none(), lowest: None };
        let n = sequence.data.len();
        let mut from = 0;
        while from < n {
            if scan.taken[from] {
                from += 1;
                continue;
            }
            let ends = |i: &usize| {
                let gap = sequence.data[*i].at - sequence.data[i - 1].at;
                scan.taken[*i] || gap > sequence.line.widest_gap_mm()
            };
            let to = (from + 1..n).find(ends).unwrap_or(n);
            scan.run(sequence, from..to);
            from = to;
        }
        scan
    }

    fn run(&mut self, sequence: &Sequence, run: Range<usize>) {
        let n = run.len();
        let data = &sequence.data[run.clone()];
        // Weight and weighted sum of every stretch of a size; each is made of two shorter ones.
        let mut sizes: Vec<(usize, Vec<[f64; 2]>)> = Vec::new();
        let (mut a, mut b) = (1, 2);
        while a <= n {
            let all = match sizes.as_slice() {
                [.., (small, short), (large, long)] if small + large == a => {
                    let pairs = long.iter().zip(short.iter().skip(*large));
                    pairs.map(|(p, q)| [p[0] + q[0], p[1] + q[1]]).collect()
                }
                [(1, single)] => single.windows(2).map(|w| [w[0][0] + w[1][0], w[0][1] + w[1][1]]).collect(),
                _ => data.iter().map(|d| [d.weight, d.weight * d.value]).collect(),
            };
            sizes.push((a, all));
            (a, b) = (b, a + b);
        }
        // From the longest to single places: a stretch hangs on its neighbour or on a longer one that holds it.
        let (mut longer, mut longer_size): (Vec<Stretch>, usize) = (Vec::new(), 0);
        for (size, sums) in sizes.iter().rev() {
            let (size, step) = (*size, step_of(*size));
            let mut these: Vec<Stretch> = Vec::with_capacity(n / step + 1);
            for (start, [weight, sum]) in sums.iter().enumerate().step_by(step) {
                if size == 1 && data[start].shared {
                    continue;
                }
                // Of a stretch that holds it or begins with it, their common weight is one's own, or the other's less its start's.
                let with = |other: &Stretch| {
                    let both = if other.start <= start && start + size <= other.start + other.size {
                        *weight
                    } else {
                        let apart = data.get(other.start..start.min(other.start + other.size));
                        other.weight - apart.unwrap_or_default().iter().map(|d| d.weight).sum::<f64>()
                    };
                    both.clamp(0.0, *weight) / libm::sqrt(weight * other.weight)
                };
                let before = these.last().map_or(0.0, with);
                let middle = (start + size / 2).saturating_sub(longer_size / 2);
                let step = step_of(longer_size);
                let around = (middle + step / 2) / step;
                let around = longer.get(around).or(longer.last()).map_or(0.0, with);
                let nearest = before.max(around);
                self.weights.add((nearest > 0.0).then(|| nearness(nearest)));
                let t = sum / libm::sqrt(*weight);
                let least = self.lowest.as_ref().map_or(f64::INFINITY, |lowest| lowest.0);
                // The whole stretch has to alarm, and that part of it which is told.
                if t < least
                    && let Some((part, places)) = lowest_part(data, start..start + size)
                    && part.max(t) < least
                {
                    self.lowest = Some((part.max(t), run.start + places.start..run.start + places.end));
                }
                these.push(Stretch { start, size, weight: *weight });
            }
            (longer, longer_size) = (these, size);
        }
    }
}

fn step_of(size: usize) -> usize {
    (size / 4).max(1)
}

/// All stretches that lie below 0 where the family of all candidates of all rows alarms no more often than is stated, the
/// lowest first. Each that is found is taken out before the rest is looked at again.
pub(crate) fn low_patches(sequences: &[Sequence], significance: f64) -> Vec<Low> {
    let family = Family::new(Tails::Below);
    let mut scans: Vec<Scan> =
        sequences.iter().map(|s| Scan::new(s, alloc::vec![false; s.data.len()])).collect();
    let mut found: Vec<Low> = Vec::new();
    loop {
        let all = scans.iter().enumerate().filter_map(|(i, scan)| Some((i, scan.lowest.as_ref()?)));
        let Some((sequence, (t, places))) = all.min_by(|a, b| a.1.0.total_cmp(&b.1.0)) else { break };
        if *t >= 0.0 {
            break;
        }
        let p = family.p(scans.iter().map(|s| &s.weights), -t);
        if p > significance {
            break;
        }
        let places = places.clone();
        let mut taken = core::mem::take(&mut scans[sequence].taken);
        taken[places.clone()].fill(true);
        scans[sequence] = Scan::new(&sequences[sequence], taken);
        found.push(Low { sequence, places, p });
    }
    joined(found, sequences)
}

/// Stretches that touch are one, if nothing between them is wide open or not low.
fn joined(mut found: Vec<Low>, sequences: &[Sequence]) -> Vec<Low> {
    let one = |a: &Low, b: &Low| {
        let Some(Sequence { line, data }) = sequences.get(a.sequence) else { return false };
        let whole = a.places.start..b.places.end;
        let ends = [data.get(a.places.end.wrapping_sub(1)), data.get(b.places.start)];
        let near = matches!(ends, [Some(a), Some(b)] if b.at - a.at <= line.widest_gap_mm());
        near && lowest_part(data, whole.clone()).is_some_and(|part| part.1 == whole)
    };
    found.sort_by_key(|low| (low.sequence, low.places.start));
    let mut whole: Vec<Low> = Vec::with_capacity(found.len());
    for low in found {
        match whole.last_mut() {
            Some(last)
                if last.sequence == low.sequence
                    && last.places.end == low.places.start
                    && one(last, &low) =>
            {
                last.places.end = low.places.end;
                last.p = last.p.min(low.p);
            }
            _ => whole.push(low),
        }
    }
    whole
}
