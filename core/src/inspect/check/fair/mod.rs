//! Flats and bumps: departures from a fair curve, whatever allowance is still on.

mod accepted;
mod choice;
mod curve;
mod kernel;
mod scan;
mod step;

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

pub(crate) use kernel::HALF_HEIGHT;

use super::family::Family;
use super::normal::{Tails, above};
use super::queue::Queue;
use super::sequence::{Line, Sequence};
use choice::Told;
use scan::Scan;

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

/// The fewest places along a line, and around a section, of which anything is said.
pub(crate) const LEAST_ALONG: usize = 7;
pub(crate) const LEAST_AROUND: usize = 9;

/// The most places of a row in which departures from its fair curve are looked for: of more, those next to each other are
/// averaged. A departure that a hand feels is wider than that.
pub(crate) const MOST_PLACES: usize = 96;

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
    for (sequence, mut scan) in open {
        for (Told { centre, width, p }, [height, uncertainty]) in scan.told() {
            found.push(Bump { sequence, centre, width, height, uncertainty, p });
        }
    }
    found.sort_by(|a, b| a.p.total_cmp(&b.p));
    found
}

#[cfg(test)]
mod tests {
    use super::super::sequence::Datum;
    use super::kernel::kernel;
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
