//! Readings of instruments.

use crate::argument::text;
use crate::boundary::{boundary, give};
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::{NwBytes, NwError};
use neckwright::inspect::Readings;
use neckwright::measure::Error;
use std::ffi::c_char;

/// Readings of instruments. Freed by `nw_readings_free`.
pub struct NwReadings(());

handle!(NwReadings keeps Readings);

/// Reads a text.
///
/// # Safety
/// As the functions below.
unsafe fn read(
    text: *const c_char,
    readings_out: *mut *mut NwReadings,
    error_out: *mut *mut NwError,
    read: impl FnOnce(&str) -> Result<Readings, Error>,
) -> u32 {
    // SAFETY: by this function's own condition.
    let body = || Ok(handle::new(read(unsafe { self::text(text, "text") }?)?));
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(readings_out, "readings_out", error_out, body) }
}

/// Readings from comma-separated values (RFC 4180) with a header such as `at,quantity,value`.
///
/// Fails with the kinds of fault of the library (the error names each line), or with `NW_NULL_POINTER`,
/// `NW_NOT_UTF8`. `nw_readings_from_csv_good` reads what is sound of such a text.
///
/// Since 0.1.
///
/// # Safety
/// `text` is null or ends in a zero byte; `readings_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_from_csv(
    text: *const c_char,
    readings_out: *mut *mut NwReadings,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { read(text, readings_out, error_out, |text| Readings::from_csv(text).map_err(|bad| bad.error)) }
}

/// The readings that are sound out of comma-separated values (RFC 4180) with a header such as
/// `at,quantity,value`, however many are not. What is wrong is told by `nw_readings_from_csv`.
///
/// Fails with `NW_NULL_POINTER`, `NW_NOT_UTF8`.
///
/// Since 0.1.
///
/// # Safety
/// `text` is null or ends in a zero byte; `readings_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_from_csv_good(
    text: *const c_char,
    readings_out: *mut *mut NwReadings,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        read(
            text,
            readings_out,
            error_out,
            |text| Ok(Readings::from_csv(text).unwrap_or_else(|bad| bad.good)),
        )
    }
}

/// Readings from a JSON document; its schema is that of `nw_schema` with `NW_SUBJECT_READINGS`.
///
/// Fails with the kinds of fault of the library (the error names each line), or with `NW_NULL_POINTER`,
/// `NW_NOT_UTF8`. `nw_readings_from_json_good` reads what is sound of such a text.
///
/// Since 0.1.
///
/// # Safety
/// `text` is null or ends in a zero byte; `readings_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_from_json(
    text: *const c_char,
    readings_out: *mut *mut NwReadings,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { read(text, readings_out, error_out, |text| Readings::from_json(text).map_err(|bad| bad.error)) }
}

/// The readings that are sound out of a JSON document; its schema is that of `nw_schema` with
/// `NW_SUBJECT_READINGS`, however many are not. What is wrong is told by `nw_readings_from_json`.
///
/// Fails with `NW_NULL_POINTER`, `NW_NOT_UTF8`.
///
/// Since 0.1.
///
/// # Safety
/// `text` is null or ends in a zero byte; `readings_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_from_json_good(
    text: *const c_char,
    readings_out: *mut *mut NwReadings,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        read(text, readings_out, error_out, |text| {
            Ok(Readings::from_json(text).unwrap_or_else(|bad| bad.good))
        })
    }
}

/// The number of readings.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `readings` is null or a handle that is not freed yet; `count_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_count(
    readings: *const NwReadings,
    count_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        Ok(readings.len())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(count_out, "count_out", error_out, body) }
}

/// The readings as comma-separated values, which is read back bit for bit.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `readings` is null or a handle that is not freed yet; `bytes_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_csv(
    readings: *const NwReadings,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        Ok(handle::new::<NwBytes>(readings.to_csv().into_bytes()))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}

/// The readings as a JSON document, which is read back bit for bit.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `readings` is null or a handle that is not freed yet; `bytes_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_json(
    readings: *const NwReadings,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        Ok(handle::new::<NwBytes>(readings.to_json().into_bytes()))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}

/// Whether every reading can be taken on a neck: each station on it, each side and place there.
///
/// Fails with the kinds of fault of the library, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `readings` and `neck` are null or handles that are not freed yet; `error_out` is null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_check_on(
    readings: *const NwReadings,
    neck: *const NwNeck,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        readings.check_on(neck).map_err(|bad| Failure::from(bad.error))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Frees the readings; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `readings` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_readings_free(readings: *mut NwReadings) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(readings) };
}
