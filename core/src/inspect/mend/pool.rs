//! Low readings of one place taken together: the lowest of many is lower than the wood, by its noise.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::low::{Place, there};
use crate::inspect::Measured;
use crate::inspect::readings::Placed;
use crate::measure::Station;
use crate::shape::{Neck, Side};

/// So near to each other along the neck and around the section readings are of one place, mm: no hand leaves a hollow that is
/// smaller, and the lines of a mended neck don't bend within it. Common practice, no source.
const ALONG_MM: f64 = 10.0;
const ACROSS_MM: f64 = 3.0;

/// What is of one place: what was measured, which stretch along, which strip across.
type Key = (u8, usize, i64);

/// Sums of readings with their weights.
#[derive(Clone, Debug)]
struct Sum {
    first: Placed,
    count: usize,
    weight: f64,
    x: f64,
    across: f64,
    by: f64,
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

/// The readings with all low ones of one place in one: at their mean place, as low as their weighted mean, with the
/// uncertainty of that. One that is alone, or that is not low, stays as it is.
pub(super) fn pooled(neck: &Neck, readings: &[Placed]) -> Vec<Placed> {
    let mut order: Vec<&Placed> = readings.iter().collect();
    order.sort_by(|a, b| a.x_mm.total_cmp(&b.x_mm));
    let mut sums: BTreeMap<Key, Sum> = BTreeMap::new();
    let mut all = Vec::with_capacity(readings.len());
    let mut stretches = [(f64::NEG_INFINITY, 0_usize); 6];
    for placed in order {
        let Ok((place, design, value)) = there(neck, placed) else {
            all.push(*placed);
            continue;
        };
        if value >= design {
            all.push(*placed);
            continue;
        }
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
        let weight = 1.0 / (placed.reading.uncertainty_mm * placed.reading.uncertainty_mm);
        let sum = sums.entry(key).or_insert(Sum {
            first: *placed,
            count: 0,
            weight: 0.0,
            x: 0.0,
            across: 0.0,
            by: 0.0,
        });
        sum.count += 1;
        sum.weight += weight;
        sum.x += weight * placed.x_mm;
        sum.across += weight * across;
        sum.by += weight * (design - value);
    }
    all.extend(sums.into_values().map(|sum| sum.mean(neck)));
    all
}

impl Sum {
    /// The one reading that they come to.
    fn mean(self, neck: &Neck) -> Placed {
        if self.count == 1 {
            return self.first;
        }
        let x_mm = self.x / self.weight;
        let mut reading = self.first.reading;
        reading.at = Station::Mm(x_mm);
        if let Measured::Point { across_mm } = &mut reading.measured {
            *across_mm = self.across / self.weight;
        }
        reading.uncertainty_mm = 1.0 / libm::sqrt(self.weight);
        reading.value_mm = 0.0;
        let mut mean = Placed { x_mm, reading };
        // What a reading of 0 comes to in the measure of the design tells what one has to show.
        match there(neck, &mean) {
            Ok((_, design, zero)) => mean.reading.value_mm = design - self.by / self.weight - zero,
            Err(_) => return self.first,
        }
        mean
    }
}
