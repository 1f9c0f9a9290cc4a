//! Where the frets go when there is only a scale and a division of the octave.

use alloc::vec;
use alloc::vec::Vec;

use super::double::{Double, root_of_half, taken_from};
use crate::measure::{Error, Fault, Kind};

/// The most divisions of the octave.
pub const MAX_DIVISIONS: u32 = 99;
/// The most frets.
pub const MAX_FRETS: u32 = 60;
/// Shortest and longest string that fret positions are asked for, mm. Wider than any neck's, so that a scale may also
/// be given in inches or as 1.
pub const SCALE_RANGE_MM: (f64, f64) = (1e-3, 1e6);

/// `LANES` powers are carried along side by side: each waits for its own last product only.
const LANES: usize = 4;

/// For each division of the octave the first powers of `2^(-1/N)`: 1, 2, 3 and 4 steps.
static STEPS: [[Double; LANES]; MAX_DIVISIONS as usize + 1] = steps();

const fn steps() -> [[Double; LANES]; MAX_DIVISIONS as usize + 1] {
    let mut table = [[Double::ONE; LANES]; MAX_DIVISIONS as usize + 1];
    let mut n = 1;
    while n < table.len() {
        let root = root_of_half(n as u32);
        let mut lane = 0;
        while lane < LANES {
            table[n][lane] = root.power(lane as u32 + 1);
            lane += 1;
        }
        n += 1;
    }
    table
}

/// `2^-octaves`, exactly.
#[inline(always)]
pub(super) const fn halved(octaves: u32) -> f64 {
    f64::from_bits((1023 - octaves as u64) << 52)
}

/// What is left of `scale` at fret `n` of `1..=99` equal divisions of the octave: `scale * 2^(-n/divisions)`. The same
/// bits as [`fret_positions_into`] works with.
pub(super) fn left_of_equal(scale: f64, n: u32, divisions: u32) -> Double {
    let steps = &STEPS[divisions as usize];
    let (octaves, n) = (n / divisions, n % divisions);
    let mut left = Double::new(scale);
    if n > 0 {
        let (lane, turns) = ((n as usize - 1) % LANES, (n as usize - 1) / LANES);
        left = steps[lane].times_f64(scale);
        for _ in 0..turns {
            left = left.times(steps[LANES - 1]);
        }
    }
    left.scaled(halved(octaves))
}

/// Writes the fret that leaves `left`, and the frets one, two, three octaves above it, which leave one half, one quarter,
/// one eighth exactly.
#[inline(always)]
fn write(scale: f64, mut left: Double, n: usize, divisions: usize, out: &mut [f64]) {
    let mut at = n - 1;
    while at < out.len() {
        out[at] = taken_from(scale, left);
        left = left.scaled(0.5);
        at += divisions;
    }
}

fn fill(scale: f64, divisions: usize, out: &mut [f64]) {
    let steps = &STEPS[divisions];
    let by = steps[LANES - 1];
    let mut left = *steps;
    for lane in &mut left {
        *lane = lane.times_f64(scale);
    }
    let last = out.len().min(divisions - 1);
    let mut n = 1;
    while n + LANES <= last {
        for (lane, left) in left.iter_mut().enumerate() {
            write(scale, *left, n + lane, divisions, out);
            *left = left.times(by);
        }
        n += LANES;
    }
    for (lane, left) in left.iter().enumerate() {
        if n + lane <= last {
            write(scale, *left, n + lane, divisions, out);
        }
    }
    write(scale, Double::new(0.5 * scale), divisions, divisions, out);
}

/// Faults of the arguments of the functions below, under the names they have there.
pub(super) fn check_arguments(scale_mm: f64, fret_count: usize, divisions: u32) -> Result<(), Error> {
    let (shortest, longest) = SCALE_RANGE_MM;
    let mut faults = Vec::new();
    if !(shortest..=longest).contains(&scale_mm) {
        faults.push(
            Fault::new(Kind::OutOfRange, "scale_mm", "not the length of a string")
                .value(scale_mm, "mm")
                .range(shortest, longest),
        );
    }
    if fret_count > MAX_FRETS as usize {
        faults.push(
            Fault::new(Kind::OutOfRange, "fret_count", "more frets than a neck has")
                .value(fret_count, "")
                .range(0.0, f64::from(MAX_FRETS)),
        );
    }
    if !(1..=MAX_DIVISIONS).contains(&divisions) {
        faults.push(
            Fault::new(Kind::OutOfRange, "divisions", "not a number of equal divisions of the octave")
                .value(divisions, "")
                .range(1.0, f64::from(MAX_DIVISIONS)),
        );
    }
    Error::unless_none(faults)
}

/// Distances of frets `1..=fret_count` from the nut, mm, for `divisions` equal divisions of the octave:
/// `scale_mm * (1 - 2^(-n/divisions))`.
///
/// Each is within one unit in the last place of the exact value for the `scale_mm` given, and nearly always is the number
/// nearest to it: the work is done in twice the precision and rounded once. 0 frets give an empty list. With few divisions
/// and many frets the last ones come so near to the bridge that they may round to the scale itself.
///
/// ```
/// let frets = neckwright::layout::fret_positions_mm(640.0, 24, 12)?;
/// assert_eq!(frets[11], 320.0);
/// assert!((frets[0] - 35.920_440).abs() < 1e-6);
/// # Ok::<(), neckwright::measure::Error>(())
/// ```
///
/// # Errors
/// - `scale_mm` outside 0.001..=1000000 or not a number;
/// - `fret_count` above 60;
/// - `divisions` outside 1..=99.
pub fn fret_positions_mm(scale_mm: f64, fret_count: u32, divisions: u32) -> Result<Vec<f64>, Error> {
    check_arguments(scale_mm, fret_count as usize, divisions)?;
    let mut out = vec![0.0; fret_count as usize];
    fill(scale_mm, divisions as usize, &mut out);
    Ok(out)
}

/// As [`fret_positions_mm`], into a buffer of the caller's: frets `1..=out.len()`.
///
/// # Errors
/// - as [`fret_positions_mm`], the count being `out.len()`; `out` is then left as it was.
pub fn fret_positions_into(scale_mm: f64, divisions: u32, out: &mut [f64]) -> Result<(), Error> {
    check_arguments(scale_mm, out.len(), divisions)?;
    fill(scale_mm, divisions as usize, out);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_fret_has_the_bits_of_the_whole_row() {
        for divisions in 1..=MAX_DIVISIONS {
            let scale = 611.3 + f64::from(divisions);
            let row = fret_positions_mm(scale, MAX_FRETS, divisions).unwrap();
            for n in 1..=MAX_FRETS {
                let one = taken_from(scale, left_of_equal(scale, n, divisions));
                assert_eq!(one, row[n as usize - 1], "fret {n} of {divisions}");
            }
        }
    }

    #[test]
    fn arguments_are_checked_all_at_once() {
        let error = fret_positions_mm(f64::NAN, 61, 0).unwrap_err();
        assert_eq!(error.faults().len(), 3);
        let mut out = [7.0; 2];
        assert!(fret_positions_into(f64::INFINITY, 12, &mut out).is_err());
        assert_eq!(out, [7.0; 2]);
        assert!(fret_positions_mm(640.0, 0, 12).unwrap().is_empty());
    }
}
