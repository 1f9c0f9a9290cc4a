//! Two necks beside each other.

use crate::NwDocument;
use crate::NwError;
use crate::boundary::give;
use crate::document::document;
use crate::handle;
use crate::neck::NwNeck;

/// How far two necks are apart, and where: `greatest` and each part, with what is proven; a list of `rows` at
/// the frets.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` and `other` are null or handles that are not freed yet; `document_out` and `error_out` are null or
/// valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_compare(
    neck: *const NwNeck,
    other: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let other = unsafe { handle::read(other, "other") }?;
        document(&neck.compare(other))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// Whether two necks are nowhere further apart than `tolerance_mm`: 1 where that is proven, otherwise 0, for a tolerance that is less
/// than 0 or no number too. A left-handed neck is compared as its right-handed twin.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` and `other` are null or handles that are not freed yet; `within_out` and `error_out` are null or
/// valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_within(
    neck: *const NwNeck,
    other: *const NwNeck,
    tolerance_mm: f64,
    within_out: *mut u32,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let other = unsafe { handle::read(other, "other") }?;
        Ok(u32::from(neck.within(other, tolerance_mm)))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(within_out, "within_out", error_out, body) }
}
