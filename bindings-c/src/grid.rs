//! The carved back as a grid of points.

use crate::NwError;
use crate::argument::{apart, array, buffer, span};
use crate::boundary::boundary;
use crate::error::Failure;
use crate::handle;
use crate::neck::NwNeck;
use neckwright::solid::Real;

/// The carved back as a grid of points: a row for each of `count` stations, in it `columns` places (2 or more) from the
/// bass carve line to the treble one, even in the parameter of either side's cubic; `x`, `y`, `z` in mm into
/// `positions_mm`, normals out of the wood into `normals`. `points_capacity` is the number of points that the
/// buffers have room for, at least `count` times `columns`.
///
/// Fails with `NW_OUT_OF_RANGE` for fewer than 2 columns, with `NW_OUTSIDE_NECK` for a station that is not on the neck's wood, with
/// `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` is null or valid for `count` elements,
/// `positions_mm` and `normals` for three times `points_capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_back_grid(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    columns: usize,
    positions_mm: *mut f64,
    normals: *mut f64,
    points_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        unsafe { grid(neck, x_mm, count, columns, positions_mm, normals, points_capacity) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The carved back as a grid of points in single precision: a row for each of `count` stations, in it
/// `columns` places (2 or more) from the bass carve line to the treble one, even in the parameter of either side's cubic;
/// `x`, `y`, `z` in mm into `positions_mm`, normals out of the wood into `normals`. `points_capacity` is the number
/// of points that the buffers have room for, at least `count` times `columns`.
///
/// Fails with `NW_OUT_OF_RANGE` for fewer than 2 columns, with `NW_OUTSIDE_NECK` for a station that is not on the neck's wood, with
/// `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` is null or valid for `count` elements,
/// `positions_mm` and `normals` for three times `points_capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_back_grid_f32(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    columns: usize,
    positions_mm: *mut f32,
    normals: *mut f32,
    points_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        unsafe { grid(neck, x_mm, count, columns, positions_mm, normals, points_capacity) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// # Safety
/// As `nw_neck_back_grid`.
unsafe fn grid<T: Real>(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    columns: usize,
    positions_mm: *mut T,
    normals: *mut T,
    capacity: usize,
) -> Result<(), Failure> {
    // SAFETY: by this function's own condition.
    let (neck, x_mm) = unsafe { (handle::read(neck, "neck")?, array(x_mm, count, "x_mm")?) };
    let (room, needed) = (capacity.saturating_mul(3), count.saturating_mul(columns).saturating_mul(3));
    let used = room.min(needed);
    let places = [span(positions_mm, used, "positions_mm"), span(normals, used, "normals")];
    apart(&[span(x_mm.as_ptr(), count, "x_mm")], &places)?;
    // SAFETY: by this function's own condition.
    let (positions, normals) = unsafe {
        (buffer(positions_mm, room, needed, "positions_mm")?, buffer(normals, room, needed, "normals")?)
    };
    let mut made = [vec![T::nearest(0.0); needed], vec![T::nearest(0.0); needed]];
    let [own_positions, own_normals] = &mut made;
    neck.back_grid_into(x_mm, columns, own_positions, own_normals)?;
    positions.write(own_positions);
    normals.write(own_normals);
    Ok(())
}
