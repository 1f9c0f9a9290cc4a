//! Readings of one place that can't both be right.

use alloc::vec::Vec;

use super::row::{Deviation, Row};

/// Two readings that contradict each other.
///
/// Thicknesses and points next to the spine tell of the spine; two widths, two girths and two carve lines of one side tell
/// of the same thing too. Two such readings no more than 2 mm apart along the neck contradict each other where their
/// deviations from the finished neck differ by more than 6 of their combined standard uncertainties (the root of the sum of
/// both squares: JCGM 100:2008, 5.1.2) and a third of the way from one to the other besides: steeper no wood is left from
/// spot to spot, at whatever stage (common practice, no source). Points tell of the spine within 0.15 of the carved
/// side's length from it where the surface is level to some 18°. Of a crowd each is held against the 32 before it.
#[derive(Clone, Copy, Debug, PartialEq)]
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
/// Of a crowd at one place each reading is held against so many before it.
const CROWD: usize = 32;

/// What a reading tells of one line along the neck.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tell {
    /// Its row.
    pub row: usize,
    /// How far around or across from the spine, whichever is more, mm, positive toward the treble side: of rough wood
    /// many places lie over one place of the finished neck.
    pub away: f64,
}

/// The doubts of one line, its readings in the order of their stations. No reading is in two of them: one that is wrong
/// contradicts all that are right, and takes the one with it that it contradicts the most.
pub(super) fn doubts(rows: &[Row], tells: &[Tell], found: &mut Vec<Doubt>) {
    let mut open: Vec<(Tell, &Row, Deviation)> = Vec::new();
    for tell in tells {
        let Some(row) = rows.get(tell.row) else { continue };
        let Some(d) = row.finished else { continue };
        open.retain(|(_, other, _)| row.x_mm - other.x_mm <= NEAR_MM);
        let first = open.len().saturating_sub(CROWD);
        let beyond = |(_, (other, other_row, other_d)): &(usize, &(Tell, &Row, Deviation))| {
            let room = STEEP * libm::hypot(row.x_mm - other_row.x_mm, tell.away - other.away);
            let combined = libm::hypot(d.uncertainty_mm, other_d.uncertainty_mm);
            (libm::fabs(d.mm - other_d.mm) - room) / combined
        };
        let worst = open.iter().enumerate().skip(first).map(|pair| (pair.0, beyond(&pair)));
        let worst = worst.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, beyond)| *beyond > TIMES);
        if let Some((i, _)) = worst {
            let (_, other, other_d) = open.remove(i);
            found.push(Doubt {
                readings: [other.reading, row.reading],
                lines: [other.line, row.line],
                x_mm: other.x_mm,
                apart: Deviation {
                    mm: libm::fabs(d.mm - other_d.mm),
                    uncertainty_mm: libm::hypot(d.uncertainty_mm, other_d.uncertainty_mm),
                },
            });
        } else {
            if open.len() > CROWD {
                open.remove(0);
            }
            open.push((*tell, row, d));
        }
    }
}
