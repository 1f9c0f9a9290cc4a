//! Binary STL.

use alloc::format;
use alloc::vec::Vec;

use super::parts::{ColouredMesh, apart, check, counted, singles};
use crate::measure::Error;
use crate::solid::Point3;

/// The square of a triangle, from its corners before they were rounded; nought where it has none.
fn normal([a, b, c]: [Point3; 3]) -> [f32; 3] {
    let (u, v) = ([0, 1, 2].map(|k| b[k] - a[k]), [0, 1, 2].map(|k| c[k] - a[k]));
    let cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    let length = libm::sqrt(cross.iter().map(|c| c * c).sum());
    if length > 0.0 { cross.map(|c| (c / length) as f32 + 0.0) } else { [0.0; 3] }
}

/// A binary STL file of all meshes, one after the other: 84 bytes and 50 for each triangle. Millimetres in the neck's own frame.
///
/// The format has neither names nor colours nor a unit, and numbers of single precision only; a triangle two of whose corners are
/// one place then is left out, which leaves a watertight mesh watertight. Where solids touch, as neck wood and fretboard do along
/// the glue line, a program that joins all vertices of one file finds more than two triangles at an edge: write them to files of
/// their own for it.
///
/// # Errors
/// - no mesh that has a triangle: many programs refuse a file without one;
/// - a mesh whose lists don't fit each other, or with a number that is none;
/// - a part of a colour outside 0 to 1;
/// - more than 4,294,967,295 triangles.
pub fn stl(name: &str, meshes: &[ColouredMesh<'_>]) -> Result<Vec<u8>, Error> {
    check(meshes)?;
    // A file that begins with "solid" is taken for one of the other kind, of text.
    let header = format!("neckwright {}, mm: {name}", crate::VERSION);
    let told = header.chars().map(|c| if (' '..='~').contains(&c) { c as u8 } else { b'?' });
    let mut out: Vec<u8> = told.chain(core::iter::repeat(b' ')).take(80).collect();
    out.extend([0; 4]);
    let mut count = 0;
    for (mesh, _) in meshes {
        out.reserve(50 * mesh.triangles.len());
        let corners = singles(mesh);
        for (triangle, places) in apart(mesh, &corners) {
            let square = normal(triangle.map(|v| mesh.positions_mm[v as usize]));
            for number in core::iter::once(square).chain(places).flatten() {
                out.extend(number.to_le_bytes());
            }
            out.extend([0; 2]);
            count += 1;
        }
    }
    out[80..84].copy_from_slice(&counted(count, "triangles")?.to_le_bytes());
    Ok(out)
}
