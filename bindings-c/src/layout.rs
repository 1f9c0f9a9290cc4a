//! Fret positions.

use crate::NwError;
use crate::argument::buffer;
use crate::boundary::boundary;

/// The distances of frets 1 to `fret_count` from the nut, in mm, into the first `fret_count` elements of `positions_mm`.
///
/// `scale_mm` is the length of the open string, `divisions` the number of equal steps in an octave (12 for the usual
/// temperament). `capacity` is the number of elements that `positions_mm` has room for, at least `fret_count`.
///
/// Fails with `NW_OUT_OF_RANGE` for an argument out of its bounds (the error names the bounds), with `NW_BUFFER`,
/// `NW_NULL_POINTER` or `NW_PANIC`.
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
        Ok(neckwright::layout::fret_positions_into(scale_mm, divisions, out)?)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}
