//! Readings, and what they say about a neck.

use crate::argument::{along, array, each, filled, options, text};
use crate::boundary::give;
use crate::document::document;
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::plan::{NwPlan, stage};
use crate::{NwBytes, NwDocument, NwError};
use neckwright::inspect::{
    BadReadings, Copied, Inspection, Mending, Readings, copy_cloud, copy_neck, place_cloud,
};
use neckwright::spec::{CloudOptions, CopyOptions, InspectionOptions, MendLimits};
use std::ffi::c_char;

/// Readings of instruments. Freed by `nw_readings_free`.
pub struct NwReadings(());

handle!(NwReadings keeps Readings);

/// What readings say about a neck. Freed by `nw_inspection_free`.
pub struct NwInspection(());

handle!(NwInspection keeps Inspection);

/// What comes of mending. Freed by `nw_mending_free`.
pub struct NwMending(());

handle!(NwMending keeps Mending);

/// A neck copied from readings. Freed by `nw_copied_free`.
pub struct NwCopied(());

handle!(NwCopied keeps Copied);

/// Nothing is lost: the good ones are there for who asks for them.
fn all_or_nothing(read: Result<Readings, BadReadings>) -> Result<Readings, Failure> {
    read.map_err(|bad| bad.error.into())
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
    let body = || {
        // SAFETY: by this function's own condition.
        let text = unsafe { self::text(text, "text") }?;
        Ok(handle::new(all_or_nothing(Readings::from_csv(text))?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(readings_out, "readings_out", error_out, body) }
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
    let body = || {
        // SAFETY: by this function's own condition.
        let text = unsafe { self::text(text, "text") }?;
        Ok(handle::new(Readings::from_csv(text).unwrap_or_else(|bad| bad.good)))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(readings_out, "readings_out", error_out, body) }
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
    let body = || {
        // SAFETY: by this function's own condition.
        let text = unsafe { self::text(text, "text") }?;
        Ok(handle::new(all_or_nothing(Readings::from_json(text))?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(readings_out, "readings_out", error_out, body) }
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
    let body = || {
        // SAFETY: by this function's own condition.
        let text = unsafe { self::text(text, "text") }?;
        Ok(handle::new(Readings::from_json(text).unwrap_or_else(|bad| bad.good)))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(readings_out, "readings_out", error_out, body) }
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
        readings.check_on(neck).map_err(|bad| bad.error.into())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { crate::boundary::boundary(error_out, body) }
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

/// What readings say about a neck on the bench. `plan` and `stage` are the plan's stage after which they were
/// taken; counted from 0 (the wood before the first, `NW_STAGE_START`, is no stage to inspect); with a null plan they are held
/// against the finished neck alone, and `stage` counts for nothing. `options_json` may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_INSPECTION_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOTHING_THERE` for a stage that the plan does not
/// have, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck`, `readings` and `plan` are null or handles that are not freed yet; `options_json` is null or ends
/// in a zero byte; `inspection_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_inspect(
    neck: *const NwNeck,
    readings: *const NwReadings,
    plan: *const NwPlan,
    stage: usize,
    options_json: *const c_char,
    inspection_out: *mut *mut NwInspection,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", InspectionOptions::from_json) }?;
        let made = if plan.is_null() {
            neck.inspect(readings, &options)?
        } else {
            // SAFETY: by this function's own condition.
            let plan = unsafe { handle::read(plan, "plan") }?;
            neck.inspect_stage(readings, self::stage(plan, stage)?, &options)?
        };
        Ok(handle::new(made))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(inspection_out, "inspection_out", error_out, body) }
}

/// All that the inspection says: `rows` (every reading), `doubtful`, `misread`, `low`, `unfair`, `map`,
/// `stage_map`, and `sentences` for the bench.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `inspection` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid
/// for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_inspection_document(
    inspection: *const NwInspection,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let inspection = unsafe { handle::read(inspection, "inspection") }?;
        document(inspection)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// The readings that low patches were found in: what `nw_neck_mend` is given. `readings` are those that were
/// inspected.
///
/// Fails with `NW_CONFLICT` for other readings, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `inspection` and `readings` are null or handles that are not freed yet; `readings_out` and `error_out` are
/// null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_inspection_low_readings(
    inspection: *const NwInspection,
    readings: *const NwReadings,
    readings_out: *mut *mut NwReadings,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let inspection = unsafe { handle::read(inspection, "inspection") }?;
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        Ok(handle::new(inspection.low_readings(readings)?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(readings_out, "readings_out", error_out, body) }
}

/// Frees the inspection; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `inspection` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_inspection_free(inspection: *mut NwInspection) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(inspection) };
}

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

/// Copies a neck from readings: the numbers of `base` are fitted to them. `options_json` may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_COPY_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `base` and `readings` are null or handles that are not freed yet; `options_json` is null or ends in a zero
/// byte; `copied_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_copy(
    base: *const NwNeck,
    readings: *const NwReadings,
    options_json: *const c_char,
    copied_out: *mut *mut NwCopied,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let base = unsafe { handle::read(base, "base") }?;
        // SAFETY: by this function's own condition.
        let readings = unsafe { handle::read(readings, "readings") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", CopyOptions::from_json) }?;
        Ok(handle::new(copy_neck(base.normalised(), readings, &options)?))
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
    unsafe { crate::boundary::boundary(error_out, body) }
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
pub unsafe extern "C" fn nw_cloud_place(
    neck: *const NwNeck,
    points_mm: *const f64,
    count: usize,
    options_json: *const c_char,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let points = unsafe { array(points_mm.cast::<[f64; 3]>(), count, "points_mm") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", CloudOptions::from_json) }?;
        document(&place_cloud(neck, points, &options)?)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
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
pub unsafe extern "C" fn nw_cloud_copy(
    neck: *const NwNeck,
    points_mm: *const f64,
    count: usize,
    options_json: *const c_char,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let points = unsafe { array(points_mm.cast::<[f64; 3]>(), count, "points_mm") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", CloudOptions::from_json) }?;
        document(&copy_cloud(neck.normalised(), points, &options)?)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

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

#[derive(serde::Serialize)]
struct Next {
    mean_uncertainty_mm: f64,
    readings: Vec<neckwright::inspect::Suggestion>,
}
