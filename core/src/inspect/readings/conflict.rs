//! Readings that contradict each other.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use crate::inspect::{Measured, Reading};
use crate::measure::{Fault, Kind, Station, exactly, told};
use crate::shape::Side;

/// Two readings of one thing contradict each other where they differ by more than so many times their combined standard
/// uncertainty, the root of the sum of both squares (JCGM 100:2008, 5.1.2). Noise alone does that to one pair of 500
/// million if it is normal.
const TIMES: f64 = 6.0;

/// So many low bits of a key tell the reading, the others its place.
const INDEX_BITS: u32 = 25;

/// A reading that is contradicted, and by which.
pub(super) struct Contradiction {
    pub index: u32,
    pub other: u32,
}

impl Contradiction {
    pub(super) fn fault(&self, list: &[Reading], path: String, other: &str) -> Fault {
        let fault = Fault::new(Kind::Conflict, path, "");
        let (Some(a), Some(b)) = (list.get(self.index as usize), list.get(self.other as usize)) else {
            return fault;
        };
        let combined = combined(a.uncertainty_mm, b.uncertainty_mm);
        let apart = libm::fabs(a.value_mm - b.value_mm) / combined;
        let reason = format!(
            "{other} says {} mm of the same place, and they differ by {} times their combined standard uncertainty",
            exactly(b.value_mm),
            libm::round(apart * 10.0) / 10.0
        );
        Fault { reason, ..fault }
            .value(exactly(a.value_mm), "mm")
            .range(told(b.value_mm - TIMES * combined), told(b.value_mm + TIMES * combined))
            .remedy("measure again and take out the one that is wrong")
    }
}

fn combined(a: f64, b: f64) -> f64 {
    libm::sqrt(a * a + b * b)
}

/// What was measured and where; the same bits for the same thing. Points of a flat side lie one below the other at the same
/// place across and contradict nothing.
pub(super) fn place(reading: &Reading) -> [u64; 2] {
    // Adding 0 makes 0 of -0.
    let (station, mm) = match reading.at {
        Station::Mm(mm) => (mm + 0.0, 0),
        Station::Fret(0.0) => (0.0, 0),
        Station::Fret(fret) => (fret, 8),
    };
    let what = match reading.measured {
        Measured::Thickness => 0,
        Measured::Width => 1,
        Measured::Girth => 2,
        Measured::CarveLine(Side::Bass) => 3,
        Measured::CarveLine(Side::Treble) => 4,
        Measured::Point { .. } => 5,
        Measured::Radius => 6,
    };
    [what + mm, station.to_bits()]
}

/// The bits of a place, well stirred.
fn stirred(place: [u64; 2]) -> u64 {
    let mut hash = 0x9e37_79b9_7f4a_7c15_u64;
    for word in place {
        hash = (hash ^ word).wrapping_mul(0xff51_afd7_ed55_8ccd);
        hash ^= hash >> 32;
    }
    hash
}

/// Every reading that another one contradicts, rising. In the time of a sort, whatever the readings are.
pub(super) fn contradictions(list: &[Reading]) -> Vec<Contradiction> {
    let index_of = |key: u64| (key & ((1 << INDEX_BITS) - 1)) as u32;
    let mut keys: Vec<u64> = Vec::with_capacity(list.len());
    let single = list.iter().zip(0_u64..).filter(|(r, _)| !matches!(r.measured, Measured::Point { .. }));
    keys.extend(single.map(|(reading, i)| stirred(place(reading)) >> INDEX_BITS << INDEX_BITS | i));
    keys.sort_unstable();
    let mut found = Vec::new();
    let mut group: Vec<(u32, &Reading)> = Vec::new();
    for run in keys.chunk_by(|a, b| a >> INDEX_BITS == b >> INDEX_BITS).filter(|run| run.len() > 1) {
        group.clear();
        group.extend(run.iter().filter_map(|key| Some((index_of(*key), list.get(index_of(*key) as usize)?))));
        // Two places may share their stirred bits.
        if group.windows(2).any(|pair| matches!(pair, [a, b] if place(a.1) != place(b.1))) {
            group.sort_unstable_by_key(|(index, reading)| (place(reading), *index));
        }
        for same in group.chunk_by(|a, b| place(a.1) == place(b.1)) {
            within(same, &mut found);
        }
    }
    found.sort_unstable_by_key(|contradiction| contradiction.index);
    found
}

/// The contradictions among readings of one place.
fn within(same: &[(u32, &Reading)], found: &mut Vec<Contradiction>) {
    let span = |f: fn(&Reading) -> f64| {
        same.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, reading)| {
            let value = f(reading);
            (low.min(value), high.max(value))
        })
    };
    let ((lowest, highest), (surest, _)) = (span(|r| r.value_mm), span(|r| r.uncertainty_mm));
    if highest - lowest <= TIMES * combined(surest, surest) {
        return;
    }
    let mut sures: Vec<f64> = same.iter().map(|(_, reading)| reading.uncertainty_mm).collect();
    sures.sort_unstable_by(f64::total_cmp);
    sures.dedup();
    // Against those that say less, and against those that say more.
    let [below, above] = [1.0, -1.0].map(|sign| Reaches::of(same, &sures, sign));
    for (index, reading) in same {
        let by = [&below, &above].into_iter().filter_map(|reaches| reaches.least(reading));
        let nearest = by.min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((room, other)) = nearest
            && room < 0.0
        {
            found.push(Contradiction { index: *index, other });
        }
    }
}

/// How far up readings reach: one of value `v` and uncertainty `u` up to `v + 6 √(u² + U²)` for another of uncertainty `U`,
/// which contradicts it where its value lies above. The least reach for every `U` is found in a tree after Li Chao: two
/// such curves cross once at most, for the slope of the one with the smaller `u` is greater everywhere.
struct Reaches<'a> {
    /// All uncertainties, rising.
    sures: &'a [f64],
    /// For each stretch of them the curve that is least in its middle, among those that no stretch around it kept.
    nodes: Vec<Option<(u32, f64, f64)>>,
    sign: f64,
}

impl<'a> Reaches<'a> {
    fn of(same: &[(u32, &Reading)], sures: &'a [f64], sign: f64) -> Self {
        let mut reaches = Self { sures, nodes: vec![None; 2 * sures.len().next_power_of_two()], sign };
        for (index, reading) in same {
            reaches.insert((*index, sign * reading.value_mm, reading.uncertainty_mm));
        }
        reaches
    }

    fn reach(&self, curve: (u32, f64, f64), place: usize) -> f64 {
        let sure = self.sures.get(place).or(self.sures.last()).copied().unwrap_or(0.0);
        curve.1 + TIMES * combined(curve.2, sure)
    }

    fn insert(&mut self, mut curve: (u32, f64, f64)) {
        let (mut node, mut low, mut high) = (1, 0, self.nodes.len() / 2);
        loop {
            let middle = low + (high - low) / 2;
            let Some(kept) = self.nodes.get(node).copied() else { return };
            let Some(mut kept) = kept else {
                if let Some(free) = self.nodes.get_mut(node) {
                    *free = Some(curve);
                }
                return;
            };
            if self.reach(curve, middle) < self.reach(kept, middle) {
                core::mem::swap(&mut curve, &mut kept);
                if let Some(place) = self.nodes.get_mut(node) {
                    *place = Some(kept);
                }
            }
            if high - low <= 1 {
                return;
            }
            // The other one can only be less on the side where it is so at the end.
            if self.reach(curve, low) < self.reach(kept, low) {
                (node, high) = (2 * node, middle);
            } else if self.reach(curve, high - 1) < self.reach(kept, high - 1) {
                (node, low) = (2 * node + 1, middle);
            } else {
                return;
            }
        }
    }

    /// By how much the least reach exceeds a reading, in combined uncertainties' own unit, and whose it is.
    fn least(&self, reading: &Reading) -> Option<(f64, u32)> {
        let place = self.sures.partition_point(|sure| *sure < reading.uncertainty_mm);
        let mut node = place + self.nodes.len() / 2;
        let mut least: Option<(f64, u32)> = None;
        while node > 0 {
            if let Some(curve) = self.nodes.get(node).copied().flatten() {
                let room = self.reach(curve, place) - self.sign * reading.value_mm;
                if least.is_none_or(|(least, _)| room < least) {
                    least = Some((room, curve.0));
                }
            }
            node /= 2;
        }
        least
    }
}
