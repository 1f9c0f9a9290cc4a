//! Necks copied from readings.

use crate::NwDocument;
use crate::NwError;
use crate::argument::{along, each, filled, options};
use crate::boundary::{boundary, give};
use crate::document::document;
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::readings::NwReadings;
use neckwright::inspect::{Copied, Suggestion, copy_neck};
use neckwright::spec::CopyOptions;
use std::ffi::c_char;

/// A neck copied from readings. Freed by `nw_copied_free`.
pub struct NwCopied(());

handle!(NwCopied keeps Copied);

#[derive(serde::Serialize)]
struct Next {
    mean_uncertainty_mm: f64,
    readings: Vec<Suggestion>,
}

/// Copies a neck from readings: the numbers of `neck`, which the copy begins from, are fitted to them. `options_json` may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_COPY_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` and `readings` are null or handles that are not freed yet; `options_json` is null or ends in a zero
/// byte; `copied_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_copy(
    neck: *const NwNeck,
    readings: *const NwReadings,
    options_json: *const c_char,
    copied_out: *mut *mut NwCopied,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", CopyOptions::from_json) }?;
        Ok(handle::new(copy_neck(neck.normalised(), readings, &options)?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(copied_out, "copied_out", error_out, body) }
}

/// All that the copy says: `specification`, `numbers`, `kept`, `moved`, `covariance`, `residuals`, `unused`,
/// `chi2`, `degrees_of_freedom`, `p_value`, `misfit`, `pull`, `steps`.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `copied` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_copied_document(
    copied: *const NwCopied,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let copied = unsafe { handle::read(copied, "copied") }?;
        document(copied)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// The `most` readings that would make the copy sharpest, each after those before it: a list; and how sharp
/// it is now: `mean_uncertainty_mm` (null where it can't be told) and `readings`.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `copied` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_copied_sharpest_next(
    copied: *const NwCopied,
    most: usize,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let copied = unsafe { handle::read(copied, "copied") }?;
        document(&Next {
            mean_uncertainty_mm: copied.mean_uncertainty_mm(),
            readings: copied.sharpest_next(most),
        })
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// The copy's standard uncertainty of thickness at `count` stations of the shaft, mm, into `uncertainty_mm`.
///
/// Fails with `NW_OUTSIDE_NECK`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is
/// written.
///
/// Since 0.1.
///
/// # Safety
/// `copied` is null or a handle that is not freed yet; `x_mm` and `uncertainty_mm` are null or valid for
/// `count` elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_copied_thickness_uncertainty_mm(
    copied: *const NwCopied,
    x_mm: *const f64,
    count: usize,
    uncertainty_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let copied = unsafe { handle::read(copied, "copied") }?;
        // SAFETY: by this function's own condition.
        let (x_mm, out) = unsafe { along(x_mm, count, uncertainty_mm, ["x_mm", "uncertainty_mm"]) }?;
        filled(x_mm, out, |x_mm, out| each(x_mm, out, |x| copied.thickness_uncertainty_mm(x)))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Frees the copy; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `copied` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_copied_free(copied: *mut NwCopied) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(copied) };
}
