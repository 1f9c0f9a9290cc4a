//! Whether readings are those that something was made of.

use super::Readings;
use super::conflict::place;
use crate::inspect::Measured;

/// So many readings, and a digest of what they say, in their order. Neither their name nor the lines that they stood on
/// count: they say nothing of the neck. Whole numbers only, so it is the same everywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Fingerprint {
    pub count: usize,
    digest: u64,
}

/// The two halves of a product, one upon the other: every bit of both factors tells in it.
fn folded(a: u64, b: u64) -> u64 {
    let product = u128::from(a) * u128::from(b);
    product as u64 ^ (product >> 64) as u64
}

impl Fingerprint {
    /// One pass, three multiplications a reading, of which one waits for the reading before.
    pub fn of(readings: &Readings) -> Self {
        // Odd, with as many bits set as not; any would do.
        const SALT: [u64; 4] =
            [0x9e37_79b9_7f4a_7c15, 0xbf58_476d_1ce4_e5b9, 0x94d0_49bb_1331_11eb, 0xd6e8_feb8_6659_fd93];
        let digest = readings.iter().fold(SALT[0], |digest, reading| {
            let [what, station] = place(reading);
            let across = match reading.measured {
                Measured::Point { across_mm } => across_mm,
                _ => 0.0,
            };
            // Adding 0 makes 0 of -0.
            let [value, sure, across] =
                [reading.value_mm, reading.uncertainty_mm, across].map(|mm| (mm + 0.0).to_bits());
            let read = folded(station ^ SALT[0], value ^ SALT[1]);
            let how = folded(across ^ SALT[2], sure ^ SALT[3].wrapping_add(what));
            folded(digest ^ read, how ^ SALT[0])
        });
        Self { count: readings.len(), digest }
    }
}
