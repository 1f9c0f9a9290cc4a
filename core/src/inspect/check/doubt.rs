//! Readings of one place that can't both be right.

use alloc::vec::Vec;

use super::row::{Deviation, Row};

/// Two readings that contradict each other.
///
/// Thicknesses and points next to the spine tell of the spine; two widths, two girths and two carve lines of one side tell
/// of the same thing too. Two such readings no more than 2 mm apart along the neck contradict each other where their
/// deviations from the finished neck differ by more than 6 of their combined standard uncertainties (the root of the sum of
/// both squares: JCGM 100:2008, 5.1.2) and a third of the way from one to the other besides: steeper no wood is left from
/// spot to spot (common practice, no source), but where the stage that they are held against steps itself: readings on either
/// side of such a step contradict nothing across it. Points tell of the spine within 0.15 of the carved
/// side's length from it where the surface is level to some 18°. Of a crowd each is held against the 32 before it.
///
/// A reading that is wrong contradicts all that are right, and takes one with it: of those before it the one that it contradicts
/// the most, or, where it comes before them, the first of them. Of the others those are in doubt too, each in a pair with the one in doubt that it contradicts the most, that no reading within
/// 2 mm bears out to 3 of their combined standard uncertainties: where all say something else none is the right one.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Doubt {
    /// Which readings, in the order given, from 0.
    pub readings: [usize; 2],
    /// The lines of the text they stood in; 0 where they were made in code.
    pub lines: [u32; 2],
    /// The first one's station, mm from the nut.
    pub x_mm: f64,
    /// How far apart their deviations lie, mm, and the combined standard uncertainty of that.
    pub apart: Deviation,
}

/// So far apart along the neck two readings may be for one to contradict the other.
const NEAR_MM: f64 = 2.0;
/// So many combined standard uncertainties, as for two readings of one place in [`Readings`](crate::inspect::Readings).
const TIMES: f64 = 6.0;
/// What wood may rise from spot to spot.
const STEEP: f64 = 1.0 / 3.0;
/// What bears a reading out lies no further from it.
const BEARS_OUT: f64 = 3.0;
/// Of a crowd at one place each reading is held against so many before it.
const CROWD: usize = 32;

/// What a reading tells of one line along the neck.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tell {
    /// Its row.
    pub row: usize,
    /// How many of the stage's own steps lie before it.
    pub steps: usize,
    /// How far around or across from the spine, whichever is more, mm, positive toward the treble side: of rough wood
    /// many places lie over one place of the finished neck.
    pub away: f64,
}

/// A reading that tells something, with what it tells.
type Teller<'a> = (Tell, &'a Row, Deviation);

/// By how many of their combined standard uncertainties two readings lie further apart than wood may rise.
fn apart((a, row_a, d_a): &Teller<'_>, (b, row_b, d_b): &Teller<'_>) -> f64 {
    if a.steps != b.steps {
        return f64::NEG_INFINITY;
    }
    let room = STEEP * libm::hypot(row_a.x_mm - row_b.x_mm, a.away - b.away);
    (libm::fabs(d_a.mm - d_b.mm) - room) / libm::hypot(d_a.uncertainty_mm, d_b.uncertainty_mm)
}

fn doubt((_, a, d_a): &Teller<'_>, (_, b, d_b): &Teller<'_>) -> Doubt {
    let mm = libm::fabs(d_a.mm - d_b.mm);
    let uncertainty_mm = libm::hypot(d_a.uncertainty_mm, d_b.uncertainty_mm);
    Doubt {
        readings: [a.reading, b.reading],
        lines: [a.line, b.line],
        x_mm: a.x_mm,
        apart: Deviation { mm, uncertainty_mm },
    }
}

/// The doubts of one line, its readings in the order of their stations.
pub(super) fn doubts(rows: &[Row], tells: &[Tell], found: &mut Vec<Doubt>) {
    let before = found.len();
    let teller = |tell: &Tell| {
        let row = rows.get(tell.row)?;
        Some((*tell, row, row.finished?))
    };
    let mut open: Vec<Teller<'_>> = Vec::new();
    for this in tells.iter().filter_map(teller) {
        open.retain(|other| this.1.x_mm - other.1.x_mm <= NEAR_MM);
        let first = open.len().saturating_sub(CROWD);
        let worst = open.iter().enumerate().skip(first).map(|(i, other)| (i, apart(&this, other)));
        let worst = worst.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, apart)| *apart > TIMES);
        if let Some((i, _)) = worst {
            found.push(doubt(&open.remove(i), &this));
        } else {
            if open.len() > CROWD {
                open.remove(0);
            }
            open.push(this);
        }
    }
    if found.len() > before {
        let all: Vec<Teller<'_>> = tells.iter().filter_map(teller).collect();
        let pairs = found.get(before..).unwrap_or_default();
        let mut named: Vec<usize> = pairs.iter().flat_map(|doubt| doubt.readings).collect();
        named.sort_unstable();
        found.extend((0..all.len()).filter_map(|i| left_over(&all, i, &named)));
    }
}

/// The doubt of a reading that is in no pair, contradicts one that is, and is borne out by none.
fn left_over(all: &[Teller<'_>], i: usize, named: &[usize]) -> Option<Doubt> {
    let this = all.get(i)?;
    let is_named = |other: &Teller<'_>| named.binary_search(&other.1.reading).is_ok();
    if is_named(this) {
        return None;
    }
    let beside = all.iter().enumerate().take(i + CROWD + 1).skip(i.saturating_sub(CROWD));
    let beside = beside.filter(|(k, other)| *k != i && libm::fabs(other.1.x_mm - this.1.x_mm) <= NEAR_MM);
    let mut worst: Option<(f64, &Teller<'_>)> = None;
    for (_, other) in beside {
        let apart = apart(this, other);
        if apart <= BEARS_OUT {
            return None;
        }
        if apart > TIMES && is_named(other) && worst.is_none_or(|(most, _)| apart > most) {
            worst = Some((apart, other));
        }
    }
    worst.map(|(_, other)| doubt(other, this))
}
