//! Low readings of one place taken together: the lowest of many is lower than the wood, by its noise.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::limit::Asking;
use super::low::{Place, there};
use crate::inspect::readings::Placed;
use crate::inspect::{Measured, Reading};
use crate::measure::Station;
use crate::shape::{Neck, Side};

/// So near to each other along the neck and around the section readings are of one place, mm: no hand leaves a hollow that is
/// smaller, and the lines of a mended neck don't bend within it. Common practice, no source.
const ALONG_MM: f64 = 10.0;
const ACROSS_MM: f64 = 3.0;

/// What is of one place: what was measured, which stretch along, which strip across.
type Key = (u8, usize, i64);

/// A reading that lies deeper than the mean of its place by more than so many standard uncertainties is not its noise.
const APART: f64 = 4.5;

/// One low reading of a place.
#[derive(Clone, Copy, Debug)]
struct Member {
    index: usize,
    placed: Placed,
    across: f64,
    by: f64,
}

impl Member {
    fn weight(&self) -> f64 {
        1.0 / (self.placed.reading.uncertainty_mm * self.placed.reading.uncertainty_mm)
    }
}

fn kind(place: Place) -> u8 {
    match place {
        Place::Spine => 0,
        Place::Edges => 1,
        Place::Carve(Side::Bass) => 2,
        Place::Carve(Side::Treble) => 3,
        Place::Back(Side::Bass, _) => 4,
        Place::Back(Side::Treble, _) => 5,
    }
}

/// Readings of which all low ones of one place are one.
pub(super) struct Pool {
    pub readings: Vec<Placed>,
    /// Of which readings given each is made, rising.
    from: Vec<Vec<Asking>>,
}

impl Pool {
    fn put(&mut self, placed: Placed, mut from: Vec<Asking>) {
        from.sort_by_key(|asking| asking.index);
        self.readings.push(placed);
        self.from.push(from);
    }

    /// Of which readings given one is made.
    pub fn from(&self, index: usize) -> &[Asking] {
        self.from.get(index).map_or(&[], Vec::as_slice)
    }
}

fn asking(index: usize, placed: &Placed) -> Asking {
    Asking { index, line: placed.reading.line, x_mm: placed.x_mm }
}

/// The readings with all low ones of one place in one: at their mean place, as low as their weighted mean, with the
/// uncertainty of that. One that is alone, that is not low, or that lies deeper than noise would have it, stays as it is.
pub(super) fn pooled(neck: &Neck, readings: &[Placed]) -> Pool {
    let mut order: Vec<(usize, &Placed)> = readings.iter().enumerate().collect();
    order.sort_by(|a, b| a.1.x_mm.total_cmp(&b.1.x_mm));
    let mut places: BTreeMap<Key, Vec<Member>> = BTreeMap::new();
    let mut all = Pool { readings: Vec::with_capacity(readings.len()), from: Vec::new() };
    let mut stretches = [(f64::NEG_INFINITY, 0_usize); 6];
    for (index, placed) in order {
        let Some((place, design, value)) =
            there(neck, placed).ok().filter(|(_, design, value)| value < design)
        else {
            all.put(*placed, alloc::vec![asking(index, placed)]);
            continue;
        };
        let kind = kind(place);
        let Some((from, stretch)) = stretches.get_mut(usize::from(kind)) else { continue };
        if placed.x_mm - *from > ALONG_MM {
            (*from, *stretch) = (placed.x_mm, *stretch + 1);
        }
        let across = match placed.reading.measured {
            Measured::Point { across_mm } => across_mm,
            _ => 0.0,
        };
        let key = (kind, *stretch, libm::floor(across / ACROSS_MM) as i64);
        places.entry(key).or_default().push(Member { index, placed: *placed, across, by: design - value });
    }
    for members in places.into_values() {
        let [by, uncertainty] = mean(&members, |m| m.by);
        let apart = |m: &Member| {
            m.by - by > APART * libm::hypot(m.placed.reading.uncertainty_mm, uncertainty) && members.len() > 1
        };
        let (alone, rest): (Vec<Member>, Vec<Member>) = members.iter().copied().partition(apart);
        alone.iter().for_each(|m| all.put(m.placed, alloc::vec![asking(m.index, &m.placed)]));
        if let Some(placed) = one(neck, &rest) {
            all.put(placed, rest.iter().map(|m| asking(m.index, &m.placed)).collect());
        }
    }
    all
}

/// Weighted mean of a measure of readings, and its standard uncertainty.
fn mean(members: &[Member], of: impl Fn(&Member) -> f64) -> [f64; 2] {
    let weight: f64 = members.iter().map(Member::weight).sum();
    let sum: f64 = members.iter().map(|m| m.weight() * of(m)).sum();
    [sum / weight, 1.0 / libm::sqrt(weight)]
}

/// The one reading that those of a place come to.
fn one(neck: &Neck, members: &[Member]) -> Option<Placed> {
    let first = members.first()?.placed;
    if members.len() == 1 {
        return Some(first);
    }
    let [by, uncertainty_mm] = mean(members, |m| m.by);
    let [x_mm, _] = mean(members, |m| m.placed.x_mm);
    let mut reading = Reading { at: Station::Mm(x_mm), uncertainty_mm, value_mm: 0.0, ..first.reading };
    if let Measured::Point { across_mm } = &mut reading.measured {
        *across_mm = mean(members, |m| m.across)[0];
    }
    // What a reading of 0 comes to in the measure of the design tells what one has to show.
    let Ok((_, design, zero)) = there(neck, &Placed { x_mm, reading }) else { return Some(first) };
    reading.value_mm = design - by - zero;
    Some(Placed { x_mm, reading })
}
