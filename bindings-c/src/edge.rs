//! Edges of solids.

use crate::NwError;
use crate::argument::{apart, at, span};
use crate::boundary::{boundary, give};
use crate::error::Failure;
use crate::handle;
use crate::solid::NwSolids;
use crate::spline::{knots, poles};
use neckwright::solid::{Curve, Edge};

/// A straight edge.
pub const NW_CURVE_LINE: u32 = 0;
/// An arc of a circle.
pub const NW_CURVE_ARC: u32 = 1;
/// A spline.
pub const NW_CURVE_SPLINE: u32 = 2;

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
