//! Faces of solids: poles, knots and weights, for a host's own constructors.

use crate::NwError;
use crate::argument::{apart, at, buffer, span};
use crate::boundary::{boundary, give};
use crate::error::Failure;
use crate::handle;
use crate::solid::NwSolids;
use crate::spline::{knots, poles};
use neckwright::solid::{Face, Knots, SplineSurface, Surface};

/// A plane.
pub const NW_SURFACE_PLANE: u32 = 0;
/// A round cylinder.
pub const NW_SURFACE_CYLINDER: u32 = 1;
/// A spline surface.
pub const NW_SURFACE_SPLINE: u32 = 2;
/// The first parameter of a spline surface, along the neck.
pub const NW_DIRECTION_ALONG: u32 = 0;
/// The second one, around it.
pub const NW_DIRECTION_AROUND: u32 = 1;

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

/// The knots of a face's spline surface in one of its parameters: `direction` is one of `NW_DIRECTION_…`.
///
/// Fails with `NW_NOTHING_THERE` for a number that nothing has or a face that is no spline, with
/// `NW_UNKNOWN_CHOICE`, `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `knots` and `multiplicities` are null or valid for
/// `knots_capacity` elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_face_knots(
    solids: *const NwSolids,
    solid: usize,
    face: usize,
    direction: u32,
    knots: *mut f64,
    multiplicities: *mut u32,
    knots_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        let spline = spline_of(at(&solids.get(solid)?.faces, face, "face", "faces")?, face)?;
        let which = match direction {
            NW_DIRECTION_ALONG => &spline.knots[0],
            NW_DIRECTION_AROUND => &spline.knots[1],
            _ => {
                let choices = "NW_DIRECTION_ALONG (0) and NW_DIRECTION_AROUND (1)";
                return Err(Failure::unknown_choice("direction", direction, choices));
            }
        };
        let used = which.values.len().min(knots_capacity);
        apart(&[], &[span(knots, used, "knots"), span(multiplicities, used, "multiplicities")])?;
        // SAFETY: by this function's own condition.
        unsafe { self::knots(which, knots, multiplicities, knots_capacity) }
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

fn spline_of(face: &Face, i: usize) -> Result<&SplineSurface, Failure> {
    match &face.surface {
        Surface::Spline(spline) => Ok(spline),
        _ => Err(Failure::nothing_there("face", &i.to_string(), "this face is no spline")),
    }
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
