//! The carving plan and the wood after each of its stages.

use crate::argument::{along, apart, array, at, buffer, each, filled, length, lengths, options, span};
use crate::boundary::{boundary, give};
use crate::document::document;
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::{NwDocument, NwError};
use neckwright::carve::{CarvingPlan, Stage, Wood};
use neckwright::spec::Stock;
use std::ffi::c_char;

/// A carving plan: every stage from the blank to the last grit. It never changes, and may be used from any number of threads at
/// once. It keeps what it needs of the neck. Freed by `nw_plan_free`.
pub struct NwPlan(());

handle!(NwPlan keeps CarvingPlan);

/// The wood before the first stage, where a stage's number is asked for.
///
/// cbindgen:ignore
// The generator has no word for the greatest size; `cbindgen.toml` says it in C.
pub const NW_STAGE_START: usize = usize::MAX;

pub(crate) fn stage(plan: &CarvingPlan, index: usize) -> Result<&Stage, Failure> {
    at(plan.stages(), index, "stage", "stages")
}

pub(crate) fn wood(plan: &CarvingPlan, index: usize) -> Result<&Wood, Failure> {
    if index == NW_STAGE_START { Ok(plan.start()) } else { Ok(&stage(plan, index)?.wood) }
}

#[derive(serde::Serialize)]
struct Whole<'a> {
    stock: &'a Stock,
    stages: &'a [Stage],
    stock_mm3: f64,
    finished_mm3: f64,
    stops_mm: [f64; 2],
    glued_from_mm: f64,
}

/// The carving plan of a neck from a piece of stock, in JSON (its schema: `nw_schema` with
/// `NW_SUBJECT_STOCK`); null for the usual stock.
///
/// Fails with the kinds of fault of the library (`NW_TOO_DEEP`, `NW_TOO_SMALL` and others; the error has them
/// all), or with `NW_NULL_POINTER`, `NW_NOT_UTF8`, `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `stock_json` is null or ends in a zero byte; `plan_out`
/// and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_carving_plan(
    neck: *const NwNeck,
    stock_json: *const c_char,
    plan_out: *mut *mut NwPlan,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let stock = unsafe { options(stock_json, "stock_json", Stock::from_json) }?;
        Ok(handle::new(neck.carving_plan(&stock)?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(plan_out, "plan_out", error_out, body) }
}

/// All that the plan says: `stock`, `stages` (each with its `name`, `action`, `tool`, `lines` to mark,
/// `checks`, `cautions`, `removed_mm3`, `left_mm3`, `clearance` and `details`), `stock_mm3`, `finished_mm3`,
/// `stops_mm`, `glued_from_mm`. The cautions are part of the work: show them.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_document(
    plan: *const NwPlan,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        document(&Whole {
            stock: plan.stock(),
            stages: plan.stages(),
            stock_mm3: plan.stock_mm3(),
            finished_mm3: plan.finished_mm3(),
            stops_mm: plan.stops_mm(),
            glued_from_mm: plan.glued_from_mm(),
        })
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// The number of stages.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `count_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_stage_count(
    plan: *const NwPlan,
    count_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        Ok(plan.stages().len())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(count_out, "count_out", error_out, body) }
}

/// Areas of board and neck wood together after a stage, in the sections at `count` stations, mm², into
/// `area_mm2`; the rod's channel filled, 0 off the wood. `stage` counts from 0; `NW_STAGE_START` asks for the
/// wood before the first.
///
/// Fails with `NW_NOTHING_THERE` for a stage that the plan does not have, with `NW_OUT_OF_RANGE` for a station that is no number (or more
/// than 1e6 mm either way), with `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `x_mm` and `area_mm2` are null or valid for `count`
/// elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_area_mm2(
    plan: *const NwPlan,
    stage: usize,
    x_mm: *const f64,
    count: usize,
    area_mm2: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        let wood = wood(plan, stage)?;
        // SAFETY: by this function's own condition.
        let (x_mm, out) = unsafe { along(x_mm, count, area_mm2, ["x_mm", "area_mm2"]) }?;
        lengths(x_mm, "x_mm")?;
        out.write_each(x_mm.iter().map(|x| wood.area_mm2(*x)));
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Volume of board and neck wood together after a stage, mm³; the rod's channel and the tuner holes are taken off from the stage on that
/// cuts them. `stage` counts from 0; `NW_STAGE_START` asks
/// for the wood before the first.
///
/// Fails with `NW_NOTHING_THERE` for a stage that the plan does not have, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `volume_mm3_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_volume_mm3(
    plan: *const NwPlan,
    stage: usize,
    volume_mm3_out: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        Ok(wood(plan, stage)?.volume_mm3())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(volume_mm3_out, "volume_mm3_out", error_out, body) }
}

/// First and last station of the wood after a stage, mm, two numbers into `reach_mm`. `stage` counts from 0;
/// `NW_STAGE_START` asks for the wood before the first.
///
/// Fails with `NW_NOTHING_THERE`, `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `reach_mm` is null or valid for `capacity` elements;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_reach_mm(
    plan: *const NwPlan,
    stage: usize,
    reach_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        let reach = wood(plan, stage)?.reach_mm();
        // SAFETY: by this function's own condition.
        unsafe { buffer(reach_mm, capacity, 2, "reach_mm") }?.write(&reach);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Depths of the wood's underside below the crown plane on the centreline after a stage, at `count` stations,
/// mm, into `depth_mm`. `stage` counts from 0; `NW_STAGE_START` asks for the wood before the first.
///
/// Fails with `NW_OUTSIDE_NECK` for a station without wood, with `NW_NOTHING_THERE`, `NW_OVERLAP`,
/// `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `x_mm` and `depth_mm` are null or valid for `count`
/// elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_depth_mm(
    plan: *const NwPlan,
    stage: usize,
    x_mm: *const f64,
    count: usize,
    depth_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        let wood = wood(plan, stage)?;
        // SAFETY: by this function's own condition.
        let (x_mm, out) = unsafe { along(x_mm, count, depth_mm, ["x_mm", "depth_mm"]) }?;
        filled(x_mm, out, |x_mm, out| each(x_mm, out, |x| wood.depth_mm(x)))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Whether points lie in the wood after a stage, or no further than `within_mm` outside it, measured across
/// or down in its section: `count` points `x`, `y`, `z` in mm, and for each 1 or 0 into `inside`. Channel and
/// tuner holes count as wood. `stage` counts from 0; `NW_STAGE_START` asks for the wood before the first.
///
/// Fails with `NW_NOTHING_THERE`, with `NW_OUT_OF_RANGE` for what is no number (or more than 1e6 mm either way), with `NW_OVERLAP`,
/// `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `points_mm` is null or valid for three times `count`
/// elements, `inside` for `count`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_contains(
    plan: *const NwPlan,
    stage: usize,
    points_mm: *const f64,
    count: usize,
    within_mm: f64,
    inside: *mut u8,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        let wood = wood(plan, stage)?;
        // SAFETY: by this function's own condition.
        let points = unsafe { array(points_mm.cast::<[f64; 3]>(), count, "points_mm") }?;
        apart(&[span(points.as_ptr(), count, "points_mm")], &[span(inside, count, "inside")])?;
        // SAFETY: by this function's own condition.
        let out = unsafe { buffer(inside, count, count, "inside") }?;
        lengths(points.as_flattened(), "points_mm")?;
        length(within_mm, "within_mm")?;
        out.write_each(points.iter().map(|p| u8::from(wood.contains_mm(*p, within_mm))));
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// How many corners `nw_plan_wood_polyline` writes.
///
/// Fails as `nw_plan_wood_polyline`.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `count_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_polyline_count(
    plan: *const NwPlan,
    stage: usize,
    x_mm: f64,
    chord_mm: f64,
    count_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        Ok(wood(plan, stage)?.polyline_mm(length(x_mm, "x_mm")?, chord_mm)?.len())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(count_out, "count_out", error_out, body) }
}

/// Corners of the section of board and wood after a stage, counter-clockwise, none further than `chord_mm`
/// (1e-6 to 10) from its outline: `y` and `z` of each in mm into `corners_mm`, the last the same as the
/// first; none off the wood. `capacity` is at least twice `nw_plan_wood_polyline_count`. `stage` counts from 0; `NW_STAGE_START` asks for the wood
/// before the first.
///
/// Fails with `NW_OUT_OF_RANGE`, `NW_NOTHING_THERE`, `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`;
/// then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `corners_mm` is null or valid for `capacity` elements;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_polyline(
    plan: *const NwPlan,
    stage: usize,
    x_mm: f64,
    chord_mm: f64,
    corners_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        let corners = wood(plan, stage)?.polyline_mm(length(x_mm, "x_mm")?, chord_mm)?;
        let corners = corners.as_flattened();
        // SAFETY: by this function's own condition.
        unsafe { buffer(corners_mm, capacity, corners.len(), "corners_mm") }?.write(corners);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Frees the plan; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_free(plan: *mut NwPlan) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(plan) };
}
