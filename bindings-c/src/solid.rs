//! Closed solids, and their vertices.

use crate::NwError;
use crate::argument::{at, buffer, options};
use crate::boundary::{boundary, give};
use crate::error::{Failure, c_text};
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::plan::{NwPlan, wood};
use neckwright::solid::Solid;
use neckwright::spec::SolidOptions;
use std::ffi::{CStr, CString, c_char};

/// Closed solids. Freed by `nw_solids_free`.
pub struct NwSolids(());

handle!(NwSolids keeps Solids);

/// Solids with their names as C has them.
pub(crate) struct Solids {
    pub solids: Vec<Solid>,
    names: Vec<CString>,
}

impl Solids {
    fn of(solids: Vec<Solid>) -> Self {
        let names = solids.iter().map(|s| c_text(&s.name)).collect();
        Self { solids, names }
    }

    pub fn get(&self, i: usize) -> Result<&Solid, Failure> {
        at(&self.solids, i, "solid", "solids")
    }

    fn name(&self, i: usize) -> Result<&CStr, Failure> {
        Ok(at(&self.names, i, "solid", "solids")?)
    }
}

/// Numbers of vertices, edges and faces of a solid.
#[repr(C)]
pub struct NwSolidCounts {
    /// Vertices.
    pub vertices: usize,
    /// Edges.
    pub edges: usize,
    /// Faces.
    pub faces: usize,
}

/// The neck as closed solids: the neck wood, and the fretboard. The rod's channel, its pocket and the tuner holes
/// are cut, and the fret slots where `options_json` does not say `{"slots": false}`; `{"cubic_within": 0.001}` asks for splines of degree 3
/// along. It may be null; `nw_bounds` with `NW_SUBJECT_SOLID_OPTIONS` tells its keys.
///
/// Fails with `NW_GEOMETRY` where a slot comes out of the wood or the cubics take too many, with `NW_OUT_OF_RANGE` and the other kinds of
/// fault of options, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `options_json` is null or ends in a zero byte;
/// `solids_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_solids(
    neck: *const NwNeck,
    options_json: *const c_char,
    solids_out: *mut *mut NwSolids,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", SolidOptions::from_json) }?;
        let made = neck.solids(&options)?;
        Ok(handle::new(Solids::of(vec![made.neck_wood, made.fretboard])))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(solids_out, "solids_out", error_out, body) }
}

/// The wood after a stage of the carving plan as closed solids; `stage` counts from 0; `NW_STAGE_START` asks for the wood
/// before the first. Up to the transitions it is one, named `wood`;
/// from then on they are two, `neck wood` and `fretboard`. Channel and tuner holes count as wood here, unlike in
/// `nw_plan_wood_volume_mm3`.
///
/// Fails with the kinds of fault of the library, with `NW_NOTHING_THERE` for a stage that the plan does not
/// have, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `plan` is null or a handle that is not freed yet; `solids_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_plan_wood_solids(
    plan: *const NwPlan,
    stage: usize,
    solids_out: *mut *mut NwSolids,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let plan = unsafe { handle::read(plan, "plan") }?;
        Ok(handle::new(Solids::of(wood(plan, stage)?.solids()?)))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(solids_out, "solids_out", error_out, body) }
}

/// The number of solids.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `count_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solids_count(
    solids: *const NwSolids,
    count_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        Ok(solids.solids.len())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(count_out, "count_out", error_out, body) }
}

/// What a solid is of the neck. Lives as long as the handle.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `name_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_name(
    solids: *const NwSolids,
    solid: usize,
    name_out: *mut *const c_char,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        Ok(solids.name(solid)?.as_ptr())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(name_out, "name_out", error_out, body) }
}

/// How many vertices, edges and faces a solid has.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `counts_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_counts(
    solids: *const NwSolids,
    solid: usize,
    counts_out: *mut NwSolidCounts,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let solid = solids.get(solid)?;
        Ok(NwSolidCounts {
            vertices: solid.vertices.len(),
            edges: solid.edges.len(),
            faces: solid.faces.len(),
        })
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(counts_out, "counts_out", error_out, body) }
}

/// The vertices of a solid, `x`, `y`, `z` in mm into `vertices_mm`; `capacity` is at least three times their
/// number.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, with `NW_BUFFER`, `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `vertices_mm` is null or valid for `capacity`
/// elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_vertices(
    solids: *const NwSolids,
    solid: usize,
    vertices_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let all = solids.get(solid)?.vertices.as_flattened();
        // SAFETY: by this function's own condition.
        unsafe { buffer(vertices_mm, capacity, all.len(), "vertices_mm") }?.write(all);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Frees the solids; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solids_free(solids: *mut NwSolids) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(solids) };
}
