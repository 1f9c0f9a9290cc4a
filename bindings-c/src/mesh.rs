//! Meshes into the caller's buffers.

use crate::NwError;
use crate::argument::{apart, buffer, options, span};
use crate::boundary::{boundary, give};
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::solid::NwSolids;
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

/// The triangles of a mesh: three vertices of each, counter-clockwise as seen from outside, into `indices`. `capacity` is the number of
/// elements that it has room for, at least three times the mesh's triangles.
///
/// Fails with `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `mesh` is null or a handle that is not freed yet; `indices` is null or valid for `capacity`
/// elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_mesh_triangles(
    mesh: *const NwMesh,
    indices: *mut u32,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let mesh = unsafe { handle::read(mesh, "mesh") }?;
        let all = mesh.triangles.as_flattened();
        // SAFETY: by this function's own condition.
        unsafe { buffer(indices, capacity, all.len(), "indices") }?.write(all);
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
