//! Stretches that lie below the finished neck.

use alloc::vec::Vec;
use core::ops::Range;

use super::family::Family;
use super::normal::{Tails, above, nearness};
use super::queue::Queue;
use super::sequence::{Datum, Sequence};

/// One stretch of a row that lies too low.
#[derive(Clone, Debug)]
pub(crate) struct Low {
    pub sequence: usize,
    pub places: Range<usize>,
    pub p: f64,
}

/// Neighbouring places of a row, none of them in a stretch that was accepted, and of their stretches the one that lies
/// lowest.
struct Run {
    sequence: usize,
    lowest: Range<usize>,
    places: Range<usize>,
}

/// One stretch of a run, and the sums of its readings' weights and weighted values.
#[derive(Clone, Copy)]
struct Stretch {
    start: usize,
    size: usize,
    weight: f64,
    sum: f64,
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

/// Looks at stretches of 1, 2, 3, 5, 8, … consecutive places, a quarter of their size apart, from the longest to single
/// places, each with its nearness, if it is asked for, to the one that it hangs on: its neighbour or a longer one that holds
/// it.
fn each_stretch(data: &[Datum], mut look: impl FnMut(&Stretch, &dyn Fn() -> Option<f64>)) {
    let n = data.len();
    // Weight and weighted sum of every stretch of a size; each is made of two shorter ones.
    let mut sizes: Vec<(usize, Vec<[f64; 2]>)> = Vec::with_capacity(8);
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
    let (mut longer, mut longer_size): (Vec<Stretch>, usize) = (Vec::with_capacity(n), 0);
    let mut these: Vec<Stretch> = Vec::with_capacity(n);
    for (size, sums) in sizes.iter().rev() {
        let (size, step, longer_step) = (*size, step_of(*size), step_of(longer_size));
        these.clear();
        for (start, [weight, sum]) in sums.iter().enumerate().step_by(step) {
            // What another row says too is looked at there.
            if size == 1 && data[start].shared {
                continue;
            }
            // The square of the correlation with a stretch that holds it or begins before it, times its weight: their common
            // weight is one's own, or the other's less its start's.
            let with = |other: &Stretch| {
                let both = if other.start <= start && start + size <= other.start + other.size {
                    *weight
                } else {
                    let apart = data.get(other.start..start.min(other.start + other.size));
                    other.weight - apart.unwrap_or_default().iter().map(|d| d.weight).sum::<f64>()
                };
                let both = both.clamp(0.0, *weight);
                both * both / other.weight
            };
            let nearness = || {
                let before = these.last().map_or(0.0, with);
                let middle = (start + size / 2).saturating_sub(longer_size / 2);
                let around = (middle + longer_step / 2) / longer_step;
                let around = longer.get(around).or(longer.last()).map_or(0.0, with);
                let nearest = before.max(around);
                (nearest > 0.0).then(|| nearness(libm::sqrt(nearest / weight)))
            };
            let stretch = Stretch { start, size, weight: *weight, sum: *sum };
            look(&stretch, &nearness);
            these.push(stretch);
        }
        core::mem::swap(&mut longer, &mut these);
        longer_size = size;
    }
}

fn step_of(size: usize) -> usize {
    (size / 4).max(1)
}

/// The runs of all rows before anything is taken out.
fn whole_runs(sequences: &[Sequence]) -> impl Iterator<Item = (usize, Range<usize>)> {
    sequences.iter().enumerate().flat_map(|(i, Sequence { line, data })| {
        let mut to = 0;
        data.chunk_by(|a, b| b.at - a.at <= line.widest_gap_mm()).map(move |run| {
            to += run.len();
            (i, to - run.len()..to)
        })
    })
}

/// What is scanned of all rows.
struct Scan<'a> {
    sequences: &'a [Sequence],
    /// All candidates; none, as long as nothing would alarm if it were the only one of all.
    family: Option<Family>,
    runs: Vec<Run>,
    queue: Queue,
    significance: f64,
    /// What lies no further below 0 does not alarm.
    least: f64,
}

impl<'a> Scan<'a> {
    fn new(sequences: &'a [Sequence], significance: f64) -> Self {
        let least = Tails::Below.least(significance);
        let (runs, queue) = (Vec::new(), Queue::default());
        let mut scan = Self { sequences, family: None, runs, queue, significance, least };
        whole_runs(sequences).for_each(|(sequence, places)| scan.add(sequence, places));
        scan
    }

    /// The family of all candidates before anything is taken out; `None` where what stands out so far is no alarm in it.
    fn whole_family(&self, stands: f64) -> Option<Family> {
        let mut family = Family::new(Tails::Below);
        let mut ask = 1;
        for (count, (sequence, places)) in whole_runs(self.sequences).enumerate() {
            let data = self.sequences.get(sequence).and_then(|s| s.data.get(places));
            each_stretch(data.unwrap_or_default(), |_, nearness| family.add(nearness()));
            // All of them alarm no less often than those so far.
            if count + 1 == ask {
                if family.clone().p(stands) > self.significance {
                    return None;
                }
                ask *= 2;
            }
        }
        Some(family)
    }

    /// Adds a run.
    fn add(&mut self, sequence: usize, places: Range<usize>) {
        let sequences = self.sequences;
        let Some(data) = sequences.get(sequence).and_then(|s| s.data.get(places.clone())) else { return };
        // The root of this is no less than how far any stretch stands out.
        let below = |d: &Datum| {
            let value = d.value.min(0.0);
            d.weight * value * value
        };
        if self.family.is_none() && data.iter().map(below).sum::<f64>() <= self.least * self.least {
            return;
        }
        let mut lowest: Option<(f64, Range<usize>)> = None;
        let family = &mut self.family;
        let mut least = 0.0;
        each_stretch(data, |stretch, nearness| {
            if let Some(family) = family {
                family.add(nearness());
            }
            if stretch.sum >= 0.0 || stretch.sum * stretch.sum <= least * least * stretch.weight {
                return;
            }
            let t = stretch.sum / libm::sqrt(stretch.weight);
            // The whole stretch has to alarm, and that part of it which is told.
            if let Some((part, places)) = lowest_part(data, stretch.start..stretch.start + stretch.size)
                && part.max(t) < least
            {
                least = part.max(t);
                lowest = Some((least, places));
            }
        });
        if let Some((t, low)) = lowest {
            let lowest = places.start + low.start..places.start + low.end;
            self.queue.push(-t, self.runs.len());
            self.runs.push(Run { sequence, lowest, places });
        }
    }

    /// Each that is low enough, and taken out before the next is looked for.
    fn find(&mut self) -> Vec<Low> {
        let significance = self.significance;
        let mut found: Vec<Low> = Vec::new();
        while let Some((stands, which)) = self.queue.pop() {
            // The family alarms no less often than one of it alone.
            if above(stands) > significance {
                break;
            }
            if self.family.is_none() {
                self.family = self.whole_family(stands);
            }
            let Some(p) = self.family.as_mut().map(|family| family.p(stands)) else { break };
            let Some(run) = self.runs.get(which).filter(|_| p <= significance) else { break };
            found.push(Low { sequence: run.sequence, places: run.lowest.clone(), p });
            self.split(which);
        }
        found
    }

    /// Takes out of a run the stretch that lies lowest: what is left on either side are runs of their own.
    fn split(&mut self, which: usize) {
        let Some(Run { sequence, lowest, places }) = self.runs.get(which) else { return };
        let (sequence, sides) = (*sequence, [places.start..lowest.start, lowest.end..places.end]);
        let sequences = self.sequences;
        let data = sequences.get(sequence).and_then(|s| s.data.get(places.clone()));
        if let Some(family) = &mut self.family {
            each_stretch(data.unwrap_or_default(), |_, nearness| family.remove(nearness()));
        }
        sides.into_iter().for_each(|side| self.add(sequence, side));
    }
}

/// All stretches that lie below 0 where the family of all candidates of all rows alarms no more often than is stated, in the
/// order of their rows and places. Each that is found, the lowest first, is taken out before the rest is looked at again.
pub(crate) fn low_patches(sequences: &[Sequence], significance: f64) -> Vec<Low> {
    joined(Scan::new(sequences, significance).find(), sequences)
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

#[cfg(test)]
mod tests {
    use super::super::sequence::Line;
    use super::*;

    /// Rows around sections, every other pair of places low.
    fn pitted(count: usize) -> Vec<Sequence> {
        let datum = |k: usize| Datum {
            at: 4.0 * k as f64,
            value: if k % 4 < 2 { -0.3 } else { 0.3 },
            weight: 1e3,
            share: 0.0,
            shared: false,
            ends: [4.0 * k as f64; 2],
        };
        (0..count).map(|i| Sequence { line: Line::Section(i), data: (0..20).map(datum).collect() }).collect()
    }

    #[test]
    fn four_times_the_rows_and_patches_are_four_times_the_work() {
        let work = |count: usize| {
            let rows = pitted(count);
            let mut scan = Scan::new(&rows, 0.01);
            let found = scan.find().len();
            (scan.family.expect("something was found").work, found)
        };
        let (few, many) = (work(40), work(160));
        assert_eq!(few.1, 200);
        assert_eq!(many, (4 * few.0, 4 * few.1));
    }

    /// What was taken out piece by piece leaves no more behind than rounding does.
    #[test]
    fn the_family_is_that_of_the_runs_that_are_left() {
        let rows = pitted(30);
        let mut scan = Scan::new(&rows, 0.01);
        assert_eq!(scan.find().len(), 150);
        let mut left = Scan::new(&[], 0.01);
        (left.sequences, left.family) = (&rows, Some(Family::new(Tails::Below)));
        for i in 0..rows.len() {
            (0..5).for_each(|k| left.add(i, 4 * k + 2..4 * k + 4));
        }
        for u in [1.0, 3.0, 5.0] {
            let [got, expected] = [&mut scan, &mut left].map(|scan| scan.family.as_mut().unwrap().p(u));
            assert!(libm::fabs(got / expected - 1.0) < 1e-12, "{u}: {got} and not {expected}");
        }
    }
}
