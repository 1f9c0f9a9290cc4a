//! Traces: edges in the parameters of a spline face.

use crate::NwError;
use crate::argument::{apart, at, buffer, span};
use crate::boundary::{boundary, give};
use crate::error::Failure;
use crate::handle;
use crate::solid::{NwSolids, Solids};
use crate::spline::knots;
use neckwright::solid::Trace;

/// An edge's trace on a spline face: a spline in the two parameters of the surface.
#[repr(C)]
pub struct NwTrace {
    /// Which edge.
    pub edge: usize,
    /// The degree.
    pub degree: u32,
    /// Always 0.
    pub reserved: u32,
    /// How many different knots it has.
    pub knots: usize,
    /// How many poles it has.
    pub poles: usize,
}

/// One of the traces of a face: `trace` counts from 0. Edges without one lie on isolines of the surface.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `trace_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_face_trace(
    solids: *const NwSolids,
    solid: usize,
    face: usize,
    trace: usize,
    trace_out: *mut NwTrace,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let trace = trace_of(solids, solid, face, trace)?;
        Ok(NwTrace {
            edge: trace.edge,
            degree: trace.knots.degree as u32,
            reserved: 0,
            knots: trace.knots.values.len(),
            poles: trace.poles.len(),
        })
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(trace_out, "trace_out", error_out, body) }
}

/// The spline of a trace, by the parameter of the edge's curve: two numbers for each pole, along and around,
/// into `poles`.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `knots` and `multiplicities` are null or valid for
/// `knots_capacity` elements, `poles` for twice `poles_capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_face_trace_spline(
    solids: *const NwSolids,
    solid: usize,
    face: usize,
    trace: usize,
    knots: *mut f64,
    multiplicities: *mut u32,
    knots_capacity: usize,
    poles: *mut f64,
    poles_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let trace = trace_of(solids, solid, face, trace)?;
        let all = trace.poles.as_flattened();
        let of_knots = trace.knots.values.len().min(knots_capacity);
        let places = [
            span(knots, of_knots, "knots"),
            span(multiplicities, of_knots, "multiplicities"),
            span(poles, all.len().min(poles_capacity.saturating_mul(2)), "poles"),
        ];
        apart(&[], &places)?;
        // SAFETY: by this function's own condition.
        unsafe {
            let out = buffer(poles, poles_capacity.saturating_mul(2), all.len(), "poles")?;
            self::knots(&trace.knots, knots, multiplicities, knots_capacity)?;
            out.write(all);
        }
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

fn trace_of(solids: &Solids, solid: usize, face: usize, trace: usize) -> Result<&Trace, Failure> {
    at(&at(&solids.get(solid)?.faces, face, "face", "faces")?.traces, trace, "trace", "traces")
}
