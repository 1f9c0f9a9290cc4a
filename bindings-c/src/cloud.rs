//! Scans: clouds of points.

use crate::NwDocument;
use crate::NwError;
use crate::argument::{array, options};
use crate::boundary::give;
use crate::document::document;
use crate::handle;
use crate::neck::NwNeck;
use neckwright::inspect::{copy_cloud, place_cloud};
use neckwright::measure::Error;
use neckwright::shape::Neck;
use neckwright::spec::CloudOptions;
use serde::Serialize;
use std::ffi::c_char;

/// Tells what comes of a scan and of a neck beside it.
///
/// # Safety
/// As the functions below.
unsafe fn told<T: Serialize>(
    neck: *const NwNeck,
    points_mm: *const f64,
    count: usize,
    options_json: *const c_char,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
    tell: impl FnOnce(&Neck, &[[f64; 3]], &CloudOptions) -> Result<T, Error>,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let points = unsafe { array(points_mm.cast::<[f64; 3]>(), count, "points_mm") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", CloudOptions::from_json) }?;
        document(&tell(neck, points, &options)?)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// Places a scan of a neck, `count` points `x`, `y`, `z` in mm in a frame of their own, on it: `pose`,
/// `rms_mm`, `noise_mm`, `departures`, `readings` and more. `options_json` may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_CLOUD_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `points_mm` is null or valid for three times `count`
/// elements; `options_json` is null or ends in a zero byte; `document_out` and `error_out` are null or valid
/// for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_place_cloud(
    neck: *const NwNeck,
    points_mm: *const f64,
    count: usize,
    options_json: *const c_char,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        told(neck, points_mm, count, options_json, document_out, error_out, |neck, points, options| {
            place_cloud(neck, points, options)
        })
    }
}

/// Copies a neck from a scan, `count` points `x`, `y`, `z` in mm in a frame of their own: `placed`, `copied`
/// with its `specification`, and `readings`. `neck` is the one whose numbers are fitted. `options_json` may
/// be null.
///
/// Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `points_mm` is null or valid for three times `count`
/// elements; `options_json` is null or ends in a zero byte; `document_out` and `error_out` are null or valid
/// for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_copy_cloud(
    neck: *const NwNeck,
    points_mm: *const f64,
    count: usize,
    options_json: *const c_char,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        told(neck, points_mm, count, options_json, document_out, error_out, |neck, points, options| {
            copy_cloud(neck.normalised(), points, options)
        })
    }
}
