//! Necks, and what is read off them at stations.

use crate::argument::{along, each, filled, text};
use crate::boundary::{boundary, give};
use crate::document::document;
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::{NwDocument, NwError};
use neckwright::shape::{Neck, Side};
use serde::Serialize;
use std::ffi::c_char;

/// A neck. It never changes, and may be used from any number of threads at once. Freed by `nw_neck_free`.
pub struct NwNeck(());

handle!(NwNeck keeps Neck);

/// The side of the bass string.
pub const NW_SIDE_BASS: u32 = 0;
/// The side of the treble string.
pub const NW_SIDE_TREBLE: u32 = 1;

/// # Errors
/// - `NW_UNKNOWN_CHOICE`.
pub(crate) fn side(side: u32) -> Result<Side, Failure> {
    match side {
        NW_SIDE_BASS => Ok(Side::Bass),
        NW_SIDE_TREBLE => Ok(Side::Treble),
        _ => Err(Failure::unknown_choice("side", side, "NW_SIDE_BASS (0) and NW_SIDE_TREBLE (1)")),
    }
}

/// A neck of a specification in JSON; `{}` is a whole neck. Every field, its unit, default and bounds is in the schema that
/// `nw_schema` gives for `NW_SUBJECT_SPECIFICATION`.
///
/// Fails with the kinds of fault of the library (the error has them all, each with its path), or with `NW_NULL_POINTER`,
/// `NW_NOT_UTF8`.
///
/// Since 0.1.
///
/// # Safety
/// `json` is null or ends in a zero byte; `neck_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_from_json(
    json: *const c_char,
    neck_out: *mut *mut NwNeck,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    let body = || Ok(handle::new(Neck::from_json(unsafe { text(json, "json") }?)?));
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(neck_out, "neck_out", error_out, body) }
}

/// Frees the neck; a null handle is left alone. What was made of it stays.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_free(neck: *mut NwNeck) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(neck) };
}

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

/// Gives a result of the neck as a document.
///
/// # Safety
/// As the functions below.
pub(crate) unsafe fn told<T: Serialize>(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
    tell: impl FnOnce(&Neck) -> Result<T, Failure>,
) -> u32 {
    // SAFETY: by this function's own condition.
    let body = || document(&tell(unsafe { handle::read(neck, "neck") }?)?);
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
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

/// The neck's specification with every default filled in; it makes the same neck, to the last bit.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_specification(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.normalised().clone())) }
}

/// What the caliper should read at the nut and at every fret that lies on the neck: a list of `fret`, `x_mm`, `width_mm`,
/// `thickness_mm`, `girth_mm`, `carve_line_mm` (`bass`, `treble`) and `rod_wall_mm` (null where nothing is cut).
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_caliper_card(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.caliper_card())) }
}

/// The frets from the nut on: a list, on the neck's own hand.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_frets(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.frets())) }
}

/// The strings, bass to treble: a list, on the neck's own hand.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_strings(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.strings())) }
}

/// The strings' paths from nut to post: a list.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_string_paths(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.string_paths())) }
}

/// The markers: `face`, a list, and `side`, a list.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_markers(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        told(neck, document_out, error_out, |neck| {
            Ok(Markers { face: neck.layout().face_markers().to_vec(), side: neck.side_markers() })
        })
    }
}

/// First and last stations, mm: `neck_mm`, `wood_mm` (without the board), `shaft_mm` (from the volute's end to where the heel
/// begins), two numbers each.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_reach(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        told(neck, document_out, error_out, |neck| {
            Ok(Reach {
                neck_mm: neck.reach_mm(),
                wood_mm: neck.wood_reach_mm(),
                shaft_mm: neck.shaft_reach_mm(),
            })
        })
    }
}

/// The headstock's numbers, its tuner posts among them.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_headstock(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.headstock())) }
}

/// The volute's numbers.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_volute(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.volute())) }
}

/// The heel's numbers.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_heel(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.heel())) }
}

/// What is cut out for the rod: a list, the channel first and then the pocket; empty where there is no rod.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_rod_cuts(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.rod_cuts().to_vec())) }
}

/// Volumes, mm³.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_volume(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.volume_mm3())) }
}

/// Masses, kg: estimates, by the woods' usual densities where none is given.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_mass(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.mass_kg())) }
}

/// The box around the neck, mm.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_bounds(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.bounds())) }
}

/// The joints that a headstock glued on would have.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_joints(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.joints())) }
}

/// The least thickness of board and wood together, mm, proven over all stations: `value`, `x_mm`, `proven`.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_thickness(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.least_thickness())) }
}

/// The least wood around the rod's channel, mm, proven in space: `value`, `x_mm`, `proven`; null without a rod.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_rod_wall(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.least_rod_wall())) }
}

/// The least curvature across the back, 1/mm, proven: `value`, `x_mm`, `proven`.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_curvature(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.least_curvature())) }
}

/// Where a string comes nearest to the board's edge.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_margin(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.layout().least_margin())) }
}

/// What is possible but unusual about the neck: a list.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_warnings(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.warnings())) }
}

#[derive(Serialize)]
struct Markers {
    face: Vec<neckwright::layout::FaceMarker>,
    side: Vec<neckwright::layout::SideMarker>,
}

#[derive(Serialize)]
struct Reach {
    neck_mm: [f64; 2],
    wood_mm: [f64; 2],
    shaft_mm: [f64; 2],
}
