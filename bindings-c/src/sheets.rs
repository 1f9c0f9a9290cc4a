//! Sheets at full size, as SVG, DXF and PDF.

use crate::argument::{array, at, options};
use crate::boundary::give;
use crate::error::{Failure, c_text};
use crate::handle::{self, handle};
use crate::inspection::NwInspection;
use crate::neck::NwNeck;
use crate::plan::NwPlan;
use crate::{NwBytes, NwError};
use neckwright::measure::Station;
use neckwright::paper::{self, Gauge, Sheet};
use neckwright::spec::{DxfOptions, PaperOptions, TemplateOptions};
use std::ffi::{CString, c_char};

/// Drawings on paper. Freed by `nw_sheets_free`.
pub struct NwSheets(());

handle!(NwSheets keeps Sheets);

/// Sheets with their titles as C has them.
pub(crate) struct Sheets {
    sheets: Vec<Sheet>,
    titles: Vec<CString>,
}

impl Sheets {
    fn of(sheets: Vec<Sheet>) -> Self {
        let titles = sheets.iter().map(|s| c_text(&s.title));
        Self { titles: titles.collect(), sheets }
    }
}

/// The neck from above.
pub const NW_SHEET_PLAN: u32 = 0;
/// The neck from its side.
pub const NW_SHEET_SIDE: u32 = 1;
/// A strip with the frets.
pub const NW_SHEET_FRET_STRIP: u32 = 2;
/// The fretboard.
pub const NW_SHEET_BOARD: u32 = 3;
/// The headstock with its tuner holes.
pub const NW_SHEET_HEADSTOCK: u32 = 4;
/// Section gauges with the shape of the neck.
pub const NW_SHEET_POSITIVE_GAUGES: u32 = 5;
/// Section gauges to hold against the neck.
pub const NW_SHEET_NEGATIVE_GAUGES: u32 = 6;
/// Templates of volute and heel.
pub const NW_SHEET_TRANSITIONS: u32 = 7;
/// Radius gauges of the board; no sheet where it is flat.
pub const NW_SHEET_RADIUS_GAUGES: u32 = 8;

/// One sheet of the neck: `sheet` is one of `NW_SHEET_…`. `options_json`, of templates, may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_TEMPLATE_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_UNKNOWN_CHOICE`, `NW_NOT_UTF8`, `NW_NULL_POINTER`
/// or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `options_json` is null or ends in a zero byte;
/// `sheets_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_sheet(
    neck: *const NwNeck,
    sheet: u32,
    options_json: *const c_char,
    sheets_out: *mut *mut NwSheets,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", TemplateOptions::from_json) }?;
        let made = match sheet {
            NW_SHEET_PLAN => paper::plan(neck),
            NW_SHEET_SIDE => paper::side(neck),
            NW_SHEET_FRET_STRIP => paper::fret_strip(neck, &options)?,
            NW_SHEET_BOARD => paper::board(neck, &options)?,
            NW_SHEET_HEADSTOCK => paper::headstock(neck, &options)?,
            NW_SHEET_POSITIVE_GAUGES => paper::gauges(neck, Gauge::Positive, &options)?,
            NW_SHEET_NEGATIVE_GAUGES => paper::gauges(neck, Gauge::Negative, &options)?,
            NW_SHEET_TRANSITIONS => paper::transitions(neck, &options)?,
            NW_SHEET_RADIUS_GAUGES => {
                return Ok(handle::new(Sheets::of(
                    paper::radius_gauges(neck, &options)?.into_iter().collect(),
                )));
            }
            _ => {
                let choices = "NW_SHEET_PLAN (0) to NW_SHEET_RADIUS_GAUGES (8)";
                return Err(Failure::unknown_choice("sheet", sheet, choices));
            }
        };
        Ok(handle::new(Sheets::of(vec![made])))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(sheets_out, "sheets_out", error_out, body) }
}

/// All sheets to work from, in the order in which they are needed; with the blank and the saw's lines where
/// `plan` is not null. `options_json` may be null; `nw_bounds` with `NW_SUBJECT_TEMPLATE_OPTIONS` tells its keys.
///
/// Fails with `NW_CONFLICT` for the plan of another neck, with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` and `plan` are null or handles that are not freed yet; `options_json` is null or ends in a zero
/// byte; `sheets_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_templates(
    neck: *const NwNeck,
    plan: *const NwPlan,
    options_json: *const c_char,
    sheets_out: *mut *mut NwSheets,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", TemplateOptions::from_json) }?;
        let plan = if plan.is_null() {
            None
        } else {
            // SAFETY: by this function's own condition.
            Some(unsafe { handle::read(plan, "plan") }?)
        };
        Ok(handle::new(Sheets::of(paper::templates(neck, plan, &options)?)))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(sheets_out, "sheets_out", error_out, body) }
}

/// Sections at `count` stations, mm from the nut, on one sheet.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` is null or valid for `count` elements;
/// `sheets_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_section_sheet(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    sheets_out: *mut *mut NwSheets,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let x_mm = unsafe { array(x_mm, count, "x_mm") }?;
        let stations: Vec<Station> = x_mm.iter().map(|x| Station::Mm(*x)).collect();
        Ok(handle::new(Sheets::of(vec![paper::sections(neck, &stations)?])))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(sheets_out, "sheets_out", error_out, body) }
}

/// The pages of a carving plan, one for each stage, in their order.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `sheets_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_sheets(
    plan: *const NwPlan,
    sheets_out: *mut *mut NwSheets,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        Ok(handle::new(Sheets::of(paper::carving_pages(plan))))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(sheets_out, "sheets_out", error_out, body) }
}

/// An inspection's map of what is left to take; no sheet where it has none. `neck` is the one that was inspected, whatever its name.
///
/// Fails with `NW_CONFLICT` for another neck, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `inspection` and `neck` are null or handles that are not freed yet; `sheets_out` and `error_out` are null
/// or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_inspection_sheets(
    inspection: *const NwInspection,
    neck: *const NwNeck,
    sheets_out: *mut *mut NwSheets,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let inspection = unsafe { handle::read(inspection, "inspection") }?;
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        inspection.check_of(neck)?;
        Ok(handle::new(Sheets::of(paper::inspection(neck, inspection).into_iter().collect())))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(sheets_out, "sheets_out", error_out, body) }
}

/// The number of sheets.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `sheets` is null or a handle that is not freed yet; `count_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sheets_count(
    sheets: *const NwSheets,
    count_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let sheets = unsafe { handle::read(sheets, "sheets") }?;
        Ok(sheets.sheets.len())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(count_out, "count_out", error_out, body) }
}

/// What is drawn on a sheet. Lives as long as the handle.
///
/// Fails with `NW_NOTHING_THERE` for a number that no sheet has, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `sheets` is null or a handle that is not freed yet; `title_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sheets_title(
    sheets: *const NwSheets,
    sheet: usize,
    title_out: *mut *const c_char,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let sheets = unsafe { handle::read(sheets, "sheets") }?;
        Ok(at(&sheets.titles, sheet, "sheet", "sheets")?.as_ptr())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(title_out, "title_out", error_out, body) }
}

/// A sheet as an SVG drawing at full size.
///
/// Fails with `NW_NOTHING_THERE` for a number that no sheet has, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `sheets` is null or a handle that is not freed yet; `bytes_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sheets_svg(
    sheets: *const NwSheets,
    sheet: usize,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let sheets = unsafe { handle::read(sheets, "sheets") }?;
        Ok(handle::new::<NwBytes>(at(&sheets.sheets, sheet, "sheet", "sheets")?.to_svg()?.into_bytes()))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}

/// The sheets of `count` handles as one DXF drawing, in order. `options_json` may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_DXF_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `sheets` is null or valid for `count` elements, each null or a handle that is not freed yet;
/// `options_json` is null or ends in a zero byte; `bytes_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sheets_dxf(
    sheets: *const *const NwSheets,
    count: usize,
    options_json: *const c_char,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", DxfOptions::from_json) }?;
        // SAFETY: by this function's own condition.
        let all = unsafe { together(sheets, count) }?;
        Ok(handle::new::<NwBytes>(paper::dxf(&all, &options)?.into_bytes()))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}

/// The sheets of `count` handles as one PDF document, in order. `options_json` may be null; keys:
/// `nw_bounds` with `NW_SUBJECT_PAPER_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `sheets` is null or valid for `count` elements, each null or a handle that is not freed yet;
/// `options_json` is null or ends in a zero byte; `bytes_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sheets_pdf(
    sheets: *const *const NwSheets,
    count: usize,
    options_json: *const c_char,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", PaperOptions::from_json) }?;
        // SAFETY: by this function's own condition.
        let all = unsafe { together(sheets, count) }?;
        Ok(handle::new::<NwBytes>(paper::pdf(&all, &options)?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}

/// Frees the sheets; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `sheets` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sheets_free(sheets: *mut NwSheets) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(sheets) };
}

/// # Safety
/// As `nw_sheets_pdf`.
unsafe fn together(sheets: *const *const NwSheets, count: usize) -> Result<Vec<Sheet>, Failure> {
    // SAFETY: by this function's own condition.
    let handles = unsafe { array(sheets, count, "sheets") }?;
    let mut all = Vec::new();
    for sheets in handles {
        // SAFETY: by this function's own condition.
        all.extend(unsafe { handle::read(*sheets, "sheets") }?.sheets.iter().cloned());
    }
    Ok(all)
}
