//! Meshes into the caller's buffers, and as files.

use crate::argument::{apart, array, buffer, options, span, text};
use crate::boundary::{boundary, give};
use crate::colour::colours;
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::neck::NwNeck;
use crate::solid::NwSolids;
use crate::{NwBytes, NwError};
use neckwright::exchange::{ColouredMesh, gltf, stl, threemf};
use neckwright::measure::Error;
use neckwright::solid::{Mesh, Real};
use neckwright::spec::MeshOptions;
use std::ffi::c_char;

/// A solid as triangles. Freed by `nw_mesh_free`.
pub struct NwMesh(());

handle!(NwMesh keeps Mesh);

/// Numbers of a mesh, and how near it comes to its solid.
#[repr(C)]
pub struct NwMeshCounts {
    /// Vertices.
    pub vertices: usize,
    /// Triangles.
    pub triangles: usize,
    /// How far at most any point of the solid's faces lies from the triangles, and of the triangles from the faces, mm; proven.
    pub chord_mm: f64,
}

/// A solid as a closed mesh of triangles, no further from its faces than the options' chord. `options_json`
/// may be null; keys: `nw_bounds` with `NW_SUBJECT_MESH_OPTIONS`.
///
/// Fails with the kinds of fault of the library, with `NW_NOTHING_THERE` for a number that no solid has, with
/// `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `options_json` is null or ends in a zero byte;
/// `mesh_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solid_mesh(
    solids: *const NwSolids,
    solid: usize,
    options_json: *const c_char,
    mesh_out: *mut *mut NwMesh,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        // SAFETY: by this function's own condition.
        let options = unsafe { options(options_json, "options_json", MeshOptions::from_json) }?;
        Ok(handle::new(solids.get(solid)?.mesh(&options)?))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(mesh_out, "mesh_out", error_out, body) }
}

/// How many vertices and triangles a mesh has, and the tolerance it keeps.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `mesh` is null or a handle that is not freed yet; `counts_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mesh_counts(
    mesh: *const NwMesh,
    counts_out: *mut NwMeshCounts,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let mesh = unsafe { handle::read(mesh, "mesh") }?;
        Ok(NwMeshCounts {
            vertices: mesh.positions_mm.len(),
            triangles: mesh.triangles.len(),
            chord_mm: mesh.chord_mm,
        })
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(counts_out, "counts_out", error_out, body) }
}

/// The vertices of a mesh: `x`, `y`, `z` in mm of each into `positions_mm`, the normal out of the solid into
/// `normals`, station (mm from the nut) and girth (0 to 1) into `station_girth`. A vertex belongs to one
/// face, so that normals do not round edges over: see `nw_mesh_same_place`. `vertices_capacity` is the
/// number of vertices that all buffers have room for, at least the mesh's.
///
/// Fails with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `mesh` is null or a handle that is not freed yet; `positions_mm` and `normals` are null or valid for three
/// times `vertices_capacity` elements, `station_girth` for twice; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mesh_vertices(
    mesh: *const NwMesh,
    positions_mm: *mut f64,
    normals: *mut f64,
    station_girth: *mut f64,
    vertices_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        unsafe { vertices(mesh, positions_mm, normals, station_girth, vertices_capacity) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The vertices of a mesh in single precision: `x`, `y`, `z` in mm of each into `positions_mm`, the normal
/// out of the solid into `normals`, station (mm from the nut) and girth (0 to 1) into `station_girth`. A
/// vertex belongs to one face, so that normals do not round edges over: see `nw_mesh_same_place`. `vertices_capacity`
/// is the number of vertices that all buffers have room for, at least the mesh's.
///
/// Fails with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `mesh` is null or a handle that is not freed yet; `positions_mm` and `normals` are null or valid for three
/// times `vertices_capacity` elements, `station_girth` for twice; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mesh_vertices_f32(
    mesh: *const NwMesh,
    positions_mm: *mut f32,
    normals: *mut f32,
    station_girth: *mut f32,
    vertices_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        unsafe { vertices(mesh, positions_mm, normals, station_girth, vertices_capacity) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The triangles of a mesh: three vertices of each, counter-clockwise as seen from outside, into `indices`.
/// `triangles_capacity` is the number of triangles that the buffer has room for, at least the mesh's.
///
/// Fails with `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `mesh` is null or a handle that is not freed yet; `indices` is null or valid for three times `triangles_capacity`
/// elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mesh_triangles(
    mesh: *const NwMesh,
    indices: *mut u32,
    triangles_capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let mesh = unsafe { handle::read(mesh, "mesh") }?;
        let all = mesh.triangles.as_flattened();
        // SAFETY: by this function's own condition.
        unsafe { buffer(indices, triangles_capacity.saturating_mul(3), all.len(), "indices") }?.write(all);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// For each vertex of a mesh the first one at the same place: what makes the mesh watertight. `capacity` is
/// at least the number of vertices.
///
/// Fails with `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `mesh` is null or a handle that is not freed yet; `first` is null or valid for `capacity` elements;
/// `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mesh_same_place(
    mesh: *const NwMesh,
    first: *mut u32,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let mesh = unsafe { handle::read(mesh, "mesh") }?;
        // SAFETY: by this function's own condition.
        let out = unsafe { buffer(first, capacity, mesh.same_place.len(), "first") }?;
        out.write(&mesh.same_place);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Frees the mesh; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `mesh` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mesh_free(mesh: *mut NwMesh) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(mesh) };
}

/// The carved back as a grid of points: a row for each of `count` stations, in it `columns` places from the
/// bass carve line to the treble one, even in the parameter of either side's cubic; `x`, `y`, `z` in mm into
/// `positions_mm`, normals out of the wood into `normals`. `points_capacity` is the number of points that the
/// buffers have room for, at least `count` times `columns`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck's wood, with `NW_BUFFER`,
/// `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
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
/// `columns` places from the bass carve line to the treble one, even in the parameter of either side's cubic;
/// `x`, `y`, `z` in mm into `positions_mm`, normals out of the wood into `normals`. `points_capacity` is the number
/// of points that the buffers have room for, at least `count` times `columns`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck's wood, with `NW_BUFFER`,
/// `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
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
    let body = || {
        // SAFETY: by this function's own condition.
        unsafe { file(meshes, count, name, (colours, colour_count), stl) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
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
    let body = || {
        // SAFETY: by this function's own condition.
        unsafe { file(meshes, count, name, (colours, colour_count), threemf) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
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
    let body = || {
        // SAFETY: by this function's own condition.
        unsafe { file(meshes, count, name, (colours, colour_count), gltf) }
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}

/// # Safety
/// As `nw_mesh_vertices`.
unsafe fn vertices<T: Real>(
    mesh: *const NwMesh,
    positions_mm: *mut T,
    normals: *mut T,
    station_girth: *mut T,
    capacity: usize,
) -> Result<(), Failure> {
    // SAFETY: by this function's own condition.
    let mesh = unsafe { handle::read(mesh, "mesh") }?;
    let count = mesh.positions_mm.len();
    let (three, two) = (capacity.saturating_mul(3), capacity.saturating_mul(2));
    let places = [
        span(positions_mm, three.min(3 * count), "positions_mm"),
        span(normals, three.min(3 * count), "normals"),
        span(station_girth, two.min(2 * count), "station_girth"),
    ];
    apart(&[], &places)?;
    // SAFETY: by this function's own condition.
    let (positions, normals, station_girth) = unsafe {
        (
            buffer(positions_mm, three, 3 * count, "positions_mm")?,
            buffer(normals, three, 3 * count, "normals")?,
            buffer(station_girth, two, 2 * count, "station_girth")?,
        )
    };
    positions.write_each(nearest(mesh.positions_mm.as_flattened()));
    normals.write_each(nearest(mesh.normals.as_flattened()));
    station_girth.write_each(nearest(mesh.station_girth.as_flattened()));
    Ok(())
}

fn nearest<T: Real>(all: &[f64]) -> impl ExactSizeIterator<Item = T> {
    all.iter().map(|value| T::nearest(*value))
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

/// # Safety
/// As `nw_meshes_stl`.
unsafe fn file(
    meshes: *const *const NwMesh,
    count: usize,
    name: *const c_char,
    (colours, colour_count): (*const f64, usize),
    write: impl FnOnce(&str, &[ColouredMesh<'_>]) -> Result<Vec<u8>, Error>,
) -> Result<*mut NwBytes, Failure> {
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
}
