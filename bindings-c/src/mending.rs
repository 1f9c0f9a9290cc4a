//! Mending: the nearest fair neck in the wood that is left.

use crate::NwDocument;
use crate::NwError;
use crate::argument::options;
use crate::boundary::give;
use crate::document::document;
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::readings::NwReadings;
use neckwright::inspect::Mending;
use neckwright::spec::MendLimits;
use std::ffi::c_char;

/// What comes of mending. Freed by `nw_mending_free`.
pub struct NwMending(());

handle!(NwMending keeps Mending);

/// The nearest fair neck that lies within the wood that low readings tell of. `limits_json` may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_MEND_LIMITS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
/// That no neck does is not a failure: see `nw_mending_document`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` and `low` are null or handles that are not freed yet; `limits_json` is null or ends in a zero byte;
/// `mending_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_mend(
    neck: *const NwNeck,
    low: *const NwReadings,
    limits_json: *const c_char,
    mending_out: *mut *mut NwMending,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let low = unsafe { handle::read(low, "low") }?;
        // SAFETY: by this function's own condition.
        let limits = unsafe { options(limits_json, "limits_json", MendLimits::from_json) }?;
        Ok(handle::new(neck.mend(low, &limits)?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(mending_out, "mending_out", error_out, body) }
}

/// What comes of mending: `outcome` is `mended`, with `result` the neck's `specification`, `removed_mm3`,
/// `rows` (what to take off, where), `reached` and `notes`; or `impossible`, with `result` a list of what forbids it:
/// the `limit`, `by` how much in its `unit`, and `asked_by`. What to mind when wood is taken off is told by a plan of the mended
/// neck (`nw_plan_document`, `cautions`).
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `mending` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mending_document(
    mending: *const NwMending,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let mending = unsafe { handle::read(mending, "mending") }?;
        document(mending)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// The mended neck.
///
/// Fails with `NW_NOTHING_THERE` where mending is impossible, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `mending` is null or a handle that is not freed yet; `neck_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mending_neck(
    mending: *const NwMending,
    neck_out: *mut *mut NwNeck,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let mending = unsafe { handle::read(mending, "mending") }?;
        match mending {
            Mending::Mended(mended) => Ok(handle::new::<NwNeck>(mended.neck.clone())),
            Mending::Impossible(_) => {
                Err(Failure::nothing_there("mending", "impossible", "the document says what forbids it"))
            }
        }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(neck_out, "neck_out", error_out, body) }
}

/// Frees what came of mending; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `mending` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mending_free(mending: *mut NwMending) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(mending) };
}
