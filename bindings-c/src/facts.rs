//! What is told of a neck as a whole.

use crate::neck::{NwNeck, told};
use crate::{NwDocument, NwError};
use neckwright::layout::{FaceMarker, SideMarker};
use serde::Serialize;

#[derive(Serialize)]
struct Markers {
    face: Vec<FaceMarker>,
    side: Vec<SideMarker>,
}

#[derive(Serialize)]
struct Reach {
    neck_mm: [f64; 2],
    wood_mm: [f64; 2],
    shaft_mm: [f64; 2],
}

/// The neck's specification with every default filled in; it makes the same neck, to the last bit.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_specification(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.normalised().clone())) }
}

/// What the caliper should read at the nut and at every fret that lies on the neck: a list of `fret`, `x_mm`, `width_mm`,
/// `thickness_mm`, `girth_mm`, `carve_line_mm` (`bass`, `treble`) and `rod_wall_mm` (null where nothing is cut).
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_caliper_card(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.caliper_card())) }
}

/// The frets from the nut on: a list, on the neck's own hand.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_frets(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.frets())) }
}

/// The strings, bass to treble: a list, on the neck's own hand.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_strings(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.strings())) }
}

/// The strings' paths from nut to post: a list.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_string_paths(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.string_paths())) }
}

/// The markers: `face`, a list, and `side`, a list.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_markers(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        told(neck, document_out, error_out, |neck| {
            Ok(Markers { face: neck.layout().face_markers().to_vec(), side: neck.side_markers() })
        })
    }
}

/// First and last stations, mm: `neck_mm`, `wood_mm` (without the board), `shaft_mm` (from the volute's end to where the heel
/// begins), two numbers each.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_reach(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        told(neck, document_out, error_out, |neck| {
            Ok(Reach {
                neck_mm: neck.reach_mm(),
                wood_mm: neck.wood_reach_mm(),
                shaft_mm: neck.shaft_reach_mm(),
            })
        })
    }
}

/// The headstock's numbers, its tuner posts among them.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_headstock(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.headstock())) }
}

/// The volute's numbers.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_volute(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.volute())) }
}

/// The heel's numbers.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_heel(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.heel())) }
}

/// What is cut out for the rod: a list, the channel first and then the pocket; empty where there is no rod.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_rod_cuts(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.rod_cuts().to_vec())) }
}

/// Volumes, mm³.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_volume(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.volume_mm3())) }
}

/// Masses, kg: estimates, by the woods' usual densities where none is given.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_mass(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.mass_kg())) }
}

/// The box around the neck, mm.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_bounds(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.bounds())) }
}

/// The joints that a headstock glued on would have.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_joints(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.joints())) }
}

/// The least thickness of board and wood together, mm, proven over all stations: `value`, `x_mm`, `proven`.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_thickness(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.least_thickness())) }
}

/// The least wood around the rod's channel, mm, proven in space: `value`, `x_mm`, `proven`; null without a rod.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_rod_wall(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.least_rod_wall())) }
}

/// The least curvature across the back, 1/mm, proven: `value`, `x_mm`, `proven`.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_curvature(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.least_curvature())) }
}

/// Where a string comes nearest to the board's edge.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_least_margin(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.layout().least_margin())) }
}

/// What is possible but unusual about the neck: a list.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_warnings(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, |neck| Ok(neck.warnings())) }
}
