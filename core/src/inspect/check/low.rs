//! Stretches that lie below the finished neck.

use alloc::vec::Vec;
use core::ops::Range;

use super::family::{Candidate, family_p};
use super::normal::{Tails, nearness};
use super::sequence::Sequence;

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
    boxes: Vec<Range<usize>>,
    candidates: Vec<Candidate>,
}

/// Weight and weighted sum of a stretch.
fn sums(sequence: &Sequence, places: Range<usize>) -> [f64; 2] {
    let data = sequence.data.get(places).unwrap_or_default();
    data.iter().fold([0.0; 2], |[w, s], d| [w + d.weight, s + d.weight * d.value])
}

/// Weighted mean of a stretch and its standard uncertainty.
pub(crate) fn mean(sequence: &Sequence, places: Range<usize>) -> [f64; 2] {
    let [weight, sum] = sums(sequence, places);
    [sum / weight, 1.0 / libm::sqrt(weight)]
}

impl Scan {
    /// Stretches of 1, 2, 3, 5, 8, … consecutive places, a quarter of their size apart.
    fn new(sequence: &Sequence, taken: Vec<bool>) -> Self {
        let mut scan = Self { taken, boxes: Vec::new(), candidates: Vec::new() };
        let n = sequence.data.len();
        let mut from = 0;
        while from < n {
            if scan.taken[from] {
                from += 1;
                continue;
            }
            let to = (from..n).find(|i| scan.taken[*i]).unwrap_or(n);
            scan.run(sequence, from..to);
            from = to;
        }
        scan
    }

    fn run(&mut self, sequence: &Sequence, run: Range<usize>) {
        let n = run.len();
        let mut sizes: Vec<usize> = Vec::new();
        let (mut a, mut b) = (1, 2);
        while a <= n {
            sizes.push(a);
            (a, b) = (b, a + b);
        }
        // From the longest to single places: a stretch hangs on its neighbour or on a longer one that holds it.
        let mut longer: Option<(Range<usize>, usize, usize)> = None;
        for size in sizes.into_iter().rev() {
            let step = (size / 4).max(1);
            let begin = self.boxes.len();
            for k in 0..=(n - size) / step {
                let places = run.start + k * step..run.start + k * step + size;
                if size == 1 && sequence.data[places.start].shared {
                    continue;
                }
                let [weight, sum] = sums(sequence, places.clone());
                let with = |i: usize| {
                    let other: &Range<usize> = &self.boxes[i];
                    let common = other.start.max(places.start)..other.end.min(places.end);
                    if common.is_empty() {
                        return 0.0;
                    }
                    let [all, _] = sums(sequence, other.clone());
                    let [both, _] = sums(sequence, common);
                    both / libm::sqrt(weight * all)
                };
                let before = (self.boxes.len() > begin).then(|| with(self.boxes.len() - 1));
                let around = longer.as_ref().filter(|l| !l.0.is_empty()).map(|(held, long, step)| {
                    let start = (k * step_of(size) + size / 2).saturating_sub(long / 2);
                    with((held.start + (start + step / 2) / step).min(held.end - 1))
                });
                let nearest = before.unwrap_or(0.0).max(around.unwrap_or(0.0));
                self.candidates.push(Candidate {
                    t: sum / libm::sqrt(weight),
                    nearness: (nearest > 0.0).then(|| nearness(nearest)),
                });
                self.boxes.push(places);
            }
            longer = Some((begin..self.boxes.len(), size, step));
        }
    }
}

fn step_of(size: usize) -> usize {
    (size / 4).max(1)
}

/// All stretches that lie below 0 where the family of all candidates of all rows alarms no more often than is stated, the
/// lowest first. Each that is found is taken out before the rest is looked at again.
pub(crate) fn low_patches(sequences: &[Sequence], significance: f64) -> Vec<Low> {
    let mut scans: Vec<Scan> =
        sequences.iter().map(|s| Scan::new(s, alloc::vec![false; s.data.len()])).collect();
    let mut found: Vec<Low> = Vec::new();
    loop {
        let all = scans.iter().enumerate().flat_map(|(s, scan)| {
            scan.candidates.iter().zip(&scan.boxes).map(move |(c, places)| (s, c.t, places))
        });
        let Some((sequence, t, places)) = all.min_by(|a, b| a.1.total_cmp(&b.1)) else { break };
        if t >= 0.0 {
            break;
        }
        let p = family_p(scans.iter().flat_map(|s| &s.candidates), -t, Tails::Below);
        if p > significance {
            break;
        }
        let places = places.clone();
        let mut taken = core::mem::take(&mut scans[sequence].taken);
        taken[places.clone()].fill(true);
        scans[sequence] = Scan::new(&sequences[sequence], taken);
        found.push(Low { sequence, places, p });
    }
    joined(found)
}

/// Stretches that touch are one.
fn joined(mut found: Vec<Low>) -> Vec<Low> {
    found.sort_by_key(|low| (low.sequence, low.places.start));
    let mut whole: Vec<Low> = Vec::with_capacity(found.len());
    for low in found {
        match whole.last_mut() {
            Some(last) if last.sequence == low.sequence && last.places.end == low.places.start => {
                last.places.end = low.places.end;
                last.p = last.p.min(low.p);
            }
            _ => whole.push(low),
        }
    }
    whole
}
