//! What is read off a neck at stations.

use crate::NwError;
use crate::argument::{along, each, filled};
use crate::boundary::boundary;
use crate::error::Failure;
use crate::handle;
use crate::neck::NwNeck;
use neckwright::shape::Neck;

/// Reads something of the neck at many stations.
///
/// # Safety
/// As the functions below.
#[inline]
pub(crate) unsafe fn at_stations<E: Into<Failure>>(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    out: *mut f64,
    names: [&str; 2],
    error_out: *mut *mut NwError,
    read: impl FnOnce(&Neck, &[f64], &mut [f64]) -> Result<(), E>,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: as above.
        let (x_mm, out) = unsafe { along(x_mm, count, out, names) }?;
        filled(x_mm, out, |x_mm, out| read(neck, x_mm, out))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Thickness at `count` stations, mm, into `thickness_mm`: from the board's crown, frets not counted, to the spine; on the headstock
/// and beyond the board's end from the wood's own top face, square to the crown line.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
/// `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` and `thickness_mm` are null or valid for `count` elements and do not overlap;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_thickness_mm(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    thickness_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, x: &[f64], out: &mut [f64]| neck.thickness_mm_into(x, out);
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, thickness_mm, ["x_mm", "thickness_mm"], error_out, read) }
}

/// Width at `count` stations, mm, into `width_mm`: board edge to board edge; on the headstock and beyond the board's end the wood's
/// own.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
/// `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` and `width_mm` are null or valid for `count` elements and do not overlap;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_width_mm(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    width_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, x: &[f64], out: &mut [f64]| neck.width_mm_into(x, out);
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, width_mm, ["x_mm", "width_mm"], error_out, read) }
}

/// Girth at `count` stations, mm, into `girth_mm`: a tape laid around the back from one top edge of the board to the other.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
/// `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` and `girth_mm` are null or valid for `count` elements and do not overlap;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_girth_mm(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    girth_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, x: &[f64], out: &mut [f64]| neck.girth_mm_into(x, out);
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, girth_mm, ["x_mm", "girth_mm"], error_out, read) }
}

/// Depth of the carve line below the crown plane at `count` stations on one side (`NW_SIDE_BASS` or `NW_SIDE_TREBLE`), mm, into
/// `carve_line_mm`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, `NW_UNKNOWN_CHOICE`, or with `NW_NULL_POINTER`,
/// `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` and `carve_line_mm` are null or valid for `count` elements and do not overlap;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_carve_line_mm(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    side: u32,
    carve_line_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, x: &[f64], out: &mut [f64]| {
        neck.carve_line_mm_into(x, crate::neck::side(side)?, out).map_err(Failure::from)
    };
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, carve_line_mm, ["x_mm", "carve_line_mm"], error_out, read) }
}

/// Least wood between the rod's channel and the outside in the sections at `count` stations, mm, into `rod_wall_mm`; NaN where
/// nothing is cut. In space there can be less: see `nw_neck_least_rod_wall`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
/// `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` and `rod_wall_mm` are null or valid for `count` elements and do not overlap;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_rod_wall_mm(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    rod_wall_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, x: &[f64], out: &mut [f64]| neck.rod_wall_mm_into(x, out);
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, rod_wall_mm, ["x_mm", "rod_wall_mm"], error_out, read) }
}

/// Stations of `count` frets, mm from the nut along the centreline, into `x_mm`; any real fret number from 0 (the nut) on.
///
/// Fails with `NW_OUT_OF_RANGE` for a fret below 0 or beyond the temperament, or with `NW_NULL_POINTER`, `NW_WRONG_HANDLE`,
/// `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `fret` and `x_mm` are null or valid for `count` elements and do not overlap;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_station_mm(
    neck: *const NwNeck,
    fret: *const f64,
    count: usize,
    x_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, fret: &[f64], out: &mut [f64]| each(fret, out, |fret| neck.station_mm(fret));
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, fret, count, x_mm, ["fret", "x_mm"], error_out, read) }
}

/// Real fret numbers whose lines cross the centreline at `count` stations, into `fret`.
///
/// Fails with `NW_OUTSIDE_NECK` or `NW_OUT_OF_RANGE` for a station without one, or with `NW_NULL_POINTER`, `NW_WRONG_HANDLE`,
/// `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_neck_thickness_mm`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_fret_at(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    fret: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, x: &[f64], out: &mut [f64]| each(x, out, |x| neck.fret_at(x));
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, fret, ["x_mm", "fret"], error_out, read) }
}
