//! What a pose rests on where a part of the neck that would hold it was not scanned.

use super::field::BASE_OFF_MM;
use super::fit::{Known, LEVER_MM};

/// A neck's ends, of which the base tells where they lie.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rest {
    /// First and last station, mm.
    pub reach: [f64; 2],
}

impl Rest {
    /// What is known of a pose whose depth rests on headstock and heel unless the board's face was seen, and its place across
    /// unless both sides were.
    pub fn added(self, mut known: Known, face: bool, sides: bool) -> Known {
        if !face {
            self.add(&mut known, 5, 1, -1.0);
        }
        if !sides {
            self.add(&mut known, 4, 2, 1.0);
        }
        known
    }

    /// Either end off by itself in one direction: a shift of the middle, and a turn that goes with it by its sign.
    fn add(self, known: &mut Known, shift: usize, turn: usize, sign: f64) {
        let [from, to] = self.reach;
        for (off, still) in [(from, to), (to, from)] {
            let mut error = [0.0; 6];
            error[shift] = BASE_OFF_MM * (known.centre[0] - still) / (off - still);
            error[turn] = sign * BASE_OFF_MM * LEVER_MM / (off - still);
            for (row, a) in known.covariance.iter_mut().zip(error) {
                for (value, b) in row.iter_mut().zip(error) {
                    *value += a * b;
                }
            }
        }
    }
}
