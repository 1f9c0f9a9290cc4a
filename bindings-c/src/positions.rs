//! Fret positions, without a neck.

use crate::NwError;
use crate::argument::{apart, array, buffer, span};
use crate::boundary::boundary;
use neckwright::layout::{Temperament, fret_positions_mm};
use neckwright::measure::Error;

/// The distances of frets 1 to `fret_count` from the nut, in mm, into the first `fret_count` elements of `positions_mm`.
///
/// `scale_mm` is the length of the open string (0.001 to 1,000,000), `divisions` the number of equal steps in an octave (1 to 99; 12 for
/// the usual temperament), `fret_count` 0 to 60. `capacity` is the number of elements that `positions_mm` has room for, at least `fret_count`.
///
/// Fails with `NW_OUT_OF_RANGE` for an argument out of its bounds (the error names the bounds), with `NW_BUFFER` or
/// `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `positions_mm` is null or valid for `capacity` elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_fret_positions_mm(
    scale_mm: f64,
    fret_count: u32,
    divisions: u32,
    positions_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: null or valid by this function's own condition.
        let out = unsafe { buffer(positions_mm, capacity, fret_count as usize, "positions_mm") }?;
        out.write(&fret_positions_mm(scale_mm, fret_count, divisions)?);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// As `nw_fret_positions_mm`, for frets at `cents` above the open string, fret 1 first, rising, up to 99 of them. Where the last is a
/// whole number of octaves the table begins again from there; any other table knows no more frets than it has entries.
///
/// Fails with `NW_OUT_OF_RANGE`, `NW_CONFLICT`, `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or the kinds of fault of the library; then nothing is
/// written.
///
/// Since 0.1.
///
/// # Safety
/// `cents` is null or valid for `count` elements, `positions_mm` for `capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_fret_positions_of_cents_mm(
    cents: *const f64,
    count: usize,
    scale_mm: f64,
    fret_count: u32,
    positions_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        of_steps(
            (cents, count, "cents"),
            Temperament::from_cents,
            scale_mm,
            fret_count,
            (positions_mm, capacity),
            error_out,
        )
    }
}

/// As `nw_fret_positions_of_cents_mm`, for frets at frequency `ratios` to the open string, above 1 and rising.
///
/// Fails as `nw_fret_positions_of_cents_mm`.
///
/// Since 0.1.
///
/// # Safety
/// `ratios` is null or valid for `count` elements, `positions_mm` for `capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_fret_positions_of_ratios_mm(
    ratios: *const f64,
    count: usize,
    scale_mm: f64,
    fret_count: u32,
    positions_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        of_steps(
            (ratios, count, "ratios"),
            Temperament::from_ratios,
            scale_mm,
            fret_count,
            (positions_mm, capacity),
            error_out,
        )
    }
}

/// Positions by the steps of an octave: where they lie, how many they are, and what they are called.
///
/// # Safety
/// As the functions above.
unsafe fn of_steps(
    (steps, count, name): (*const f64, usize, &str),
    temperament: impl FnOnce(&[f64]) -> Result<Temperament, Error>,
    scale_mm: f64,
    fret_count: u32,
    (positions_mm, capacity): (*mut f64, usize),
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: null or valid by this function's own condition.
        let given = unsafe { array(steps, count, name) }?;
        let results = span(positions_mm, capacity.min(fret_count as usize), "positions_mm");
        apart(&[span(steps, count, name)], &[results])?;
        let temperament = temperament(given)?;
        // SAFETY: as above.
        let out = unsafe { buffer(positions_mm, capacity, fret_count as usize, "positions_mm") }?;
        out.write(&temperament.positions_mm(scale_mm, fret_count)?);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}
