//! Closed solids: faces as poles, knots and weights, for a host's own constructors.

use crate::argument::{Out, apart, at, buffer, options, span, text};
use crate::boundary::{boundary, give};
use crate::error::{Failure, c_text};
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::plan::{NwPlan, wood};
use crate::{NwBytes, NwError};
use neckwright::exchange::{StepOptions, StepProtocol, step};
use neckwright::solid::{Curve, Edge, Face, Knots, Solid, Surface, Trace};
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

/// A straight edge.
pub const NW_CURVE_LINE: u32 = 0;
/// An arc of a circle.
pub const NW_CURVE_ARC: u32 = 1;
/// A spline.
pub const NW_CURVE_SPLINE: u32 = 2;
/// A plane.
pub const NW_SURFACE_PLANE: u32 = 0;
/// A round cylinder.
pub const NW_SURFACE_CYLINDER: u32 = 1;
/// A spline surface.
pub const NW_SURFACE_SPLINE: u32 = 2;
/// STEP AP242 (ISO 10303-242).
pub const NW_STEP_AP242: u32 = 0;
/// STEP AP214 (ISO 10303-214), for programs that read nothing newer.
pub const NW_STEP_AP214: u32 = 1;

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

/// An edge, which two faces share. What its curve does not have is 0.
#[repr(C)]
pub struct NwEdge {
    /// The vertex where it starts.
    pub start: usize,
    /// The vertex where it ends.
    pub end: usize,
    /// One of `NW_CURVE_…`.
    pub curve: u32,
    /// Of a spline: the degree.
    pub degree: u32,
    /// Of a spline: how many different knots it has.
    pub knots: usize,
    /// Of a spline: how many poles it has.
    pub poles: usize,
    /// Of a spline: 1 if its poles have weights, otherwise 0.
    pub rational: u32,
    /// Always 0.
    pub reserved: u32,
    /// How far it may lie off either of its faces, mm: 0 where it lies on both but for rounding.
    pub within_mm: f64,
    /// Of an arc: the circle's centre, mm. The arc goes counter-clockwise about the axis from start to end.
    pub centre_mm: [f64; 3],
    /// Of an arc: the axis, of length 1.
    pub axis: [f64; 3],
    /// Of an arc: the radius, mm.
    pub radius_mm: f64,
}

/// A face. What its surface does not have is 0.
#[repr(C)]
pub struct NwFace {
    /// One of `NW_SURFACE_…`.
    pub surface: u32,
    /// 1 if the surface's normal points out of the solid, otherwise 0. A spline's is that of its first parameter's direction times
    /// its second's.
    pub outward: u32,
    /// How many loops bound it: the outer one and those of holes.
    pub loops: usize,
    /// How many edges there are in all its loops.
    pub steps: usize,
    /// How many edges have a trace.
    pub traces: usize,
    /// Of a plane: a point of it; of a cylinder: a point of its axis; mm.
    pub point_mm: [f64; 3],
    /// Of a plane: the normal; of a cylinder: the axis; of length 1.
    pub axis: [f64; 3],
    /// Square to it, of length 1.
    pub across: [f64; 3],
    /// Of a cylinder: the radius, mm.
    pub radius_mm: f64,
    /// Of a spline: the degrees of both parameters, along and around.
    pub degree: [u32; 2],
    /// Of a spline: how many different knots either parameter has.
    pub knots: [usize; 2],
    /// Of a spline: how many rows of poles there are along, and how many poles in each.
    pub poles: [usize; 2],
    /// Of a spline: 1 if its poles have weights, otherwise 0.
    pub rational: u32,
    /// Always 0.
    pub reserved: u32,
}

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

/// Writes knots and how often each counts.
///
/// # Safety
/// `values` and `multiplicities` are null or valid for `capacity` elements.
unsafe fn knots(
    knots: &Knots,
    values: *mut f64,
    multiplicities: *mut u32,
    capacity: usize,
) -> Result<(), Failure> {
    let n = knots.values.len();
    // SAFETY: by this function's own condition.
    let (v, m) = unsafe {
        (buffer(values, capacity, n, "knots")?, buffer(multiplicities, capacity, n, "multiplicities")?)
    };
    v.write(&knots.values);
    m.write_each(knots.multiplicities.iter().map(|times| *times as u32));
    Ok(())
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
pub unsafe extern "C" fn nw_plan_stage_solids(
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
pub unsafe extern "C" fn nw_solids_name(
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

/// An edge of a solid.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `edge_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_edge(
    solids: *const NwSolids,
    solid: usize,
    edge: usize,
    edge_out: *mut NwEdge,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        Ok(told_edge(at(&solids.get(solid)?.edges, edge, "edge", "edges")?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(edge_out, "edge_out", error_out, body) }
}

/// The spline of an edge: `knots_capacity` is at least the edge's number of knots, `poles_capacity` its
/// number of poles. `poles_mm` takes `x`, `y`, `z` of each pole, `weights` one number for each, 1 where the
/// spline has none; it may be null.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has or an edge that is no spline, with
/// `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `knots` and `multiplicities` are null or valid for
/// `knots_capacity` elements, `poles_mm` for three times `poles_capacity`, `weights` for `poles_capacity`;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_edge_spline(
    solids: *const NwSolids,
    solid: usize,
    edge: usize,
    knots: *mut f64,
    multiplicities: *mut u32,
    knots_capacity: usize,
    poles_mm: *mut f64,
    weights: *mut f64,
    poles_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let Curve::Spline(spline) = &at(&solids.get(solid)?.edges, edge, "edge", "edges")?.curve else {
            return Err(Failure::nothing_there("edge", &edge.to_string(), "this edge is no spline"));
        };
        let (of_knots, of_poles) =
            (spline.knots.values.len().min(knots_capacity), spline.poles.len().min(poles_capacity));
        let places = [
            span(knots, of_knots, "knots"),
            span(multiplicities, of_knots, "multiplicities"),
            span(poles_mm, 3 * of_poles, "poles_mm"),
            span(weights, of_poles, "weights"),
        ];
        apart(&[], &places)?;
        // SAFETY: by this function's own condition.
        unsafe {
            let out = poles(spline.poles.len(), poles_mm, weights, poles_capacity)?;
            self::knots(&spline.knots, knots, multiplicities, knots_capacity)?;
            out.write(spline.poles.as_flattened(), spline.weights.as_deref());
        }
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// A face of a solid.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `face_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_face(
    solids: *const NwSolids,
    solid: usize,
    face: usize,
    face_out: *mut NwFace,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        Ok(told_face(at(&solids.get(solid)?.faces, face, "face", "faces")?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(face_out, "face_out", error_out, body) }
}

/// The knots of a face's spline surface in one of its parameters: `direction` 0 is along, 1 around.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has or a face that is no spline, with
/// `NW_UNKNOWN_CHOICE`, `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `knots` and `multiplicities` are null or valid for
/// `capacity` elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_face_knots(
    solids: *const NwSolids,
    solid: usize,
    face: usize,
    direction: u32,
    knots: *mut f64,
    multiplicities: *mut u32,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let spline = spline_of(at(&solids.get(solid)?.faces, face, "face", "faces")?, face)?;
        let which = match direction {
            0 => &spline.knots[0],
            1 => &spline.knots[1],
            _ => return Err(Failure::unknown_choice("direction", direction, "0 (along) and 1 (around)")),
        };
        let used = which.values.len().min(capacity);
        apart(&[], &[span(knots, used, "knots"), span(multiplicities, used, "multiplicities")])?;
        // SAFETY: by this function's own condition.
        unsafe { self::knots(which, knots, multiplicities, capacity) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The poles of a face's spline surface, row by row: of each row along all poles around. `poles_mm` takes
/// `x`, `y`, `z` of each, `weights` one number for each, 1 where the spline has none; it may be null.
/// `poles_capacity` is the number of poles that both have room for: at least that of rows times that of poles in each.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has or a face that is no spline, with `NW_BUFFER`, `NW_OVERLAP`,
/// `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `poles_mm` is null or valid for three times `poles_capacity`
/// elements, `weights` for `poles_capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_face_poles(
    solids: *const NwSolids,
    solid: usize,
    face: usize,
    poles_mm: *mut f64,
    weights: *mut f64,
    poles_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let spline = spline_of(at(&solids.get(solid)?.faces, face, "face", "faces")?, face)?;
        let all = spline.poles.concat();
        let used = all.len().min(poles_capacity);
        apart(&[], &[span(poles_mm, 3 * used, "poles_mm"), span(weights, used, "weights")])?;
        // SAFETY: by this function's own condition.
        let out = unsafe { poles(all.len(), poles_mm, weights, poles_capacity) }?;
        out.write(all.as_flattened(), spline.weights.as_ref().map(|w| w.concat()).as_deref());
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The loops of a face, each counter-clockwise as seen from outside, the outer one first: how many edges each
/// has into `sizes`, then the edges of all loops in order into `edges`, and into `forward` 1 for one that is
/// gone along from its start, otherwise 0.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has, with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or
/// `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `sizes` is null or valid for `loops_capacity`
/// elements, `edges` and `forward` for `steps_capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_face_loops(
    solids: *const NwSolids,
    solid: usize,
    face: usize,
    sizes: *mut usize,
    loops_capacity: usize,
    edges: *mut usize,
    forward: *mut u8,
    steps_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let face = at(&solids.get(solid)?.faces, face, "face", "faces")?;
        let steps: usize = face.loops.iter().map(Vec::len).sum();
        let places = [
            span(sizes, face.loops.len().min(loops_capacity), "sizes"),
            span(edges, steps.min(steps_capacity), "edges"),
            span(forward, steps.min(steps_capacity), "forward"),
        ];
        apart(&[], &places)?;
        // SAFETY: by this function's own condition.
        let (sizes, edges, forward) = unsafe {
            (
                buffer(sizes, loops_capacity, face.loops.len(), "sizes")?,
                buffer(edges, steps_capacity, steps, "edges")?,
                buffer(forward, steps_capacity, steps, "forward")?,
            )
        };
        let steps = face.loops.concat();
        sizes.write_each(face.loops.iter().map(Vec::len));
        edges.write_each(steps.iter().map(|step| step.edge));
        forward.write_each(steps.iter().map(|step| u8::from(step.forward)));
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
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

/// The solids as a STEP file (ISO 10303-21): named products in one assembly called `name`, millimetres, the
/// same bytes every time. `colours` are `colour_count` times red, green and blue from 0 to 1, one for each
/// solid; null and 0 for the usual ones. `protocol` is one of `NW_STEP_…`.
///
/// Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of solids, with
/// `NW_UNKNOWN_CHOICE`, `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `name` is null or ends in a zero byte; `colours` is
/// null or valid for three times `colour_count` elements; `bytes_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solids_step(
    solids: *const NwSolids,
    name: *const c_char,
    protocol: u32,
    colours: *const f64,
    colour_count: usize,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        // SAFETY: by this function's own condition.
        let name = unsafe { text(name, "name") }?;
        let colours = {
            // SAFETY: by this function's own condition.
            unsafe { crate::colour::colours(colours, colour_count, solids.solids.len()) }?
        };
        let protocol = match protocol {
            NW_STEP_AP242 => StepProtocol::Ap242,
            NW_STEP_AP214 => StepProtocol::Ap214,
            _ => {
                return Err(Failure::unknown_choice(
                    "protocol",
                    protocol,
                    "NW_STEP_AP242 (0) and NW_STEP_AP214 (1)",
                ));
            }
        };
        let options = StepOptions { protocol };
        let coloured: Vec<_> = solids.solids.iter().zip(colours).collect();
        Ok(handle::new::<NwBytes>(step(name, &coloured, &options)?.into_bytes()))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
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

/// Room for poles and their weights.
struct Poles {
    poles: Out<f64>,
    weights: Option<Out<f64>>,
}

impl Poles {
    fn write(self, poles: &[f64], weights: Option<&[f64]>) {
        self.poles.write(poles);
        match (self.weights, weights) {
            (Some(out), Some(weights)) => out.write(weights),
            (Some(out), None) => out.write_each(std::iter::repeat_n(1.0, poles.len() / 3)),
            (None, _) => {}
        }
    }
}

/// # Safety
/// `poles` is null or valid for three times `capacity` elements, `weights` for `capacity`.
unsafe fn poles(count: usize, poles: *mut f64, weights: *mut f64, capacity: usize) -> Result<Poles, Failure> {
    // SAFETY: by this function's own condition.
    let out = unsafe { buffer(poles, capacity.saturating_mul(3), 3 * count, "poles_mm") }?;
    let weights = if weights.is_null() {
        None
    } else {
        // SAFETY: by this function's own condition.
        Some(unsafe { buffer(weights, capacity, count, "weights") }?)
    };
    Ok(Poles { poles: out, weights })
}

fn spline_of(face: &Face, i: usize) -> Result<&neckwright::solid::SplineSurface, Failure> {
    match &face.surface {
        Surface::Spline(spline) => Ok(spline),
        _ => Err(Failure::nothing_there("face", &i.to_string(), "this face is no spline")),
    }
}

fn trace_of(solids: &Solids, solid: usize, face: usize, trace: usize) -> Result<&Trace, Failure> {
    at(&at(&solids.get(solid)?.faces, face, "face", "faces")?.traces, trace, "trace", "traces")
}

fn told_edge(edge: &Edge) -> NwEdge {
    let mut told = NwEdge {
        start: edge.ends[0],
        end: edge.ends[1],
        curve: NW_CURVE_LINE,
        degree: 0,
        knots: 0,
        poles: 0,
        rational: 0,
        reserved: 0,
        within_mm: edge.within_mm,
        centre_mm: [0.0; 3],
        axis: [0.0; 3],
        radius_mm: 0.0,
    };
    match &edge.curve {
        Curve::Line => {}
        Curve::Arc { centre, axis, radius_mm } => {
            told.curve = NW_CURVE_ARC;
            (told.centre_mm, told.axis, told.radius_mm) = (*centre, *axis, *radius_mm);
        }
        Curve::Spline(spline) => {
            told.curve = NW_CURVE_SPLINE;
            told.degree = spline.knots.degree as u32;
            (told.knots, told.poles) = (spline.knots.values.len(), spline.poles.len());
            told.rational = u32::from(spline.weights.is_some());
        }
    }
    told
}

fn told_face(face: &Face) -> NwFace {
    let mut told = NwFace {
        surface: NW_SURFACE_PLANE,
        outward: u32::from(face.outward),
        loops: face.loops.len(),
        steps: face.loops.iter().map(Vec::len).sum(),
        traces: face.traces.len(),
        point_mm: [0.0; 3],
        axis: [0.0; 3],
        across: [0.0; 3],
        radius_mm: 0.0,
        degree: [0; 2],
        knots: [0; 2],
        poles: [0; 2],
        rational: 0,
        reserved: 0,
    };
    match &face.surface {
        Surface::Plane { point, normal, along } => {
            (told.point_mm, told.axis, told.across) = (*point, *normal, *along);
        }
        Surface::Cylinder { point, axis, across, radius_mm } => {
            told.surface = NW_SURFACE_CYLINDER;
            (told.point_mm, told.axis, told.across) = (*point, *axis, *across);
            told.radius_mm = *radius_mm;
        }
        Surface::Spline(spline) => {
            told.surface = NW_SURFACE_SPLINE;
            let both = spline.knots.each_ref();
            told.degree = both.map(|knots| knots.degree as u32);
            told.knots = both.map(|knots| knots.values.len());
            told.poles = both.map(Knots::poles);
            told.rational = u32::from(spline.weights.is_some());
        }
    }
    told
}
