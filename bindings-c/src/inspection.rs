//! What readings say about a neck.

use crate::NwDocument;
use crate::NwError;
use crate::argument::options;
use crate::boundary::give;
use crate::document::document;
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::plan::{NwPlan, stage};
use crate::readings::NwReadings;
use neckwright::inspect::Inspection;
use neckwright::spec::InspectionOptions;
use std::ffi::c_char;

/// What readings say about a neck. Freed by `nw_inspection_free`.
pub struct NwInspection(());

handle!(NwInspection keeps Inspection);

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
