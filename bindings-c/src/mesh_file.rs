//! Files of meshes.

use crate::argument::{array, text};
use crate::boundary::give;
use crate::colour::colours;
use crate::error::Failure;
use crate::handle;
use crate::mesh::NwMesh;
use crate::{NwBytes, NwError};
use neckwright::exchange::{ColouredMesh, gltf, stl, threemf};
use neckwright::measure::Error;
use std::ffi::c_char;

/// Meshes as a binary STL file, all of them as one in millimetres. `colours` are `colour_count` times
/// red, green and blue from 0 to 1, one for each mesh; null and 0 for the usual ones.
///
/// Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of meshes, with `NW_NOT_UTF8`,
/// `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `meshes` is null or valid for `count` elements, each null or a handle that is not freed yet; `name` is
/// null or ends in a zero byte; `colours` is null or valid for three times `colour_count` elements; `bytes_out` and
/// `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_meshes_stl(
    meshes: *const *const NwMesh,
    count: usize,
    name: *const c_char,
    colours: *const f64,
    colour_count: usize,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { file(meshes, count, name, (colours, colour_count), bytes_out, error_out, stl) }
}

/// Meshes as a 3MF file in millimetres, each with its name and colour. `colours` are `colour_count`
/// times red, green and blue from 0 to 1, one for each mesh; null and 0 for the usual ones.
///
/// Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of meshes, with `NW_NOT_UTF8`,
/// `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `meshes` is null or valid for `count` elements, each null or a handle that is not freed yet; `name` is
/// null or ends in a zero byte; `colours` is null or valid for three times `colour_count` elements; `bytes_out` and
/// `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_meshes_threemf(
    meshes: *const *const NwMesh,
    count: usize,
    name: *const c_char,
    colours: *const f64,
    colour_count: usize,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { file(meshes, count, name, (colours, colour_count), bytes_out, error_out, threemf) }
}

/// Meshes as a binary glTF file in metres, as its standard has it, each with its name and colour. `colours`
/// are `colour_count` times red, green and blue from 0 to 1, one for each mesh; null and 0 for the usual ones.
///
/// Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of meshes, with `NW_NOT_UTF8`,
/// `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `meshes` is null or valid for `count` elements, each null or a handle that is not freed yet; `name` is
/// null or ends in a zero byte; `colours` is null or valid for three times `colour_count` elements; `bytes_out` and
/// `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_meshes_gltf(
    meshes: *const *const NwMesh,
    count: usize,
    name: *const c_char,
    colours: *const f64,
    colour_count: usize,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe { file(meshes, count, name, (colours, colour_count), bytes_out, error_out, gltf) }
}

/// Writes meshes with their colours.
///
/// # Safety
/// As `nw_meshes_stl`.
unsafe fn file(
    meshes: *const *const NwMesh,
    count: usize,
    name: *const c_char,
    (colours, colour_count): (*const f64, usize),
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
    write: impl FnOnce(&str, &[ColouredMesh<'_>]) -> Result<Vec<u8>, Error>,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let (meshes, name) = unsafe { (array(meshes, count, "meshes")?, text(name, "name")?) };
        // SAFETY: as above.
        let colours = unsafe { self::colours(colours, colour_count, count) }?;
        let coloured = meshes
            .iter()
            .zip(colours)
            // SAFETY: as above.
            .map(|(mesh, colour)| Ok((unsafe { handle::read(*mesh, "meshes") }?, colour)))
            .collect::<Result<Vec<ColouredMesh<'_>>, Failure>>()?;
        Ok(handle::new(write(name, &coloured)?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}
