//! Necks.

use crate::argument::text;
use crate::boundary::give;
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
