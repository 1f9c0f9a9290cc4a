//! Meshes as they come to a writer.

use alloc::format;
use alloc::vec::Vec;

use crate::measure::{Error, Fault, Kind};
use crate::solid::{Mesh, Point3};

/// A mesh and the colour it is shown in: red, green and blue as on a screen (sRGB), from 0 to 1.
pub type ColouredMesh<'a> = (&'a Mesh, [f64; 3]);

/// Meshes are open to their makers: whether all of what a writer follows leads somewhere, and to a triangle at least.
pub(super) fn check(meshes: &[ColouredMesh<'_>]) -> Result<(), Error> {
    if meshes.iter().all(|(mesh, _)| mesh.triangles.is_empty()) {
        let reason = "a file of meshes has one triangle at least";
        let fault = Fault::new(Kind::Missing, "meshes", reason).value(0, "triangles").range(1.0, None);
        return Err(fault.remedy("give the meshes to write, or write no file").into());
    }
    for (m, (mesh, colour)) in meshes.iter().enumerate() {
        if let Some(i) = colour.iter().position(|c| !(0.0..=1.0).contains(c)) {
            return Err(Fault::new(
                Kind::OutOfRange,
                format!("meshes[{m}].colour[{i}]"),
                "this is no part of a colour",
            )
            .value(colour[i], "")
            .range(0.0, 1.0)
            .remedy("give red, green and blue from 0 to 1: a number of 0 to 255 divided by 255")
            .into());
        }
        mesh.checked(&format!("meshes[{m}]."))?;
    }
    Ok(())
}

/// A count as a format holds it, in 32 bits.
pub(super) fn counted(count: usize, what: &str) -> Result<u32, Error> {
    u32::try_from(count).map_err(|_| {
        Fault::new(Kind::TooLarge, "meshes", format!("the format counts {what} in 32 bits"))
            .value(count, what_unit(what))
            .range(0.0, f64::from(u32::MAX))
            .remedy("a larger chord tolerance makes fewer triangles")
            .into()
    })
}

fn what_unit(what: &str) -> &'static str {
    if what == "bytes" { "bytes" } else { "triangles" }
}

/// A point in single precision; minus nought is nought, so that one place has the same bits everywhere.
pub(super) fn single(p: Point3) -> [f32; 3] {
    p.map(|c| (c + 0.0) as f32 + 0.0)
}

/// The triangles whose corners are three places in single precision too.
///
/// Where an edge is so short that rounding makes its ends one place, the two triangles beside it are left out. What was around
/// them closes up by that, since their other edges come to lie on each other: a watertight mesh stays one. A triangle with three
/// corners on one line is kept, as the mesh would open beside it.
pub(super) fn apart<'a>(
    mesh: &'a Mesh,
    corners: &'a [[f32; 3]],
) -> impl Iterator<Item = (&'a [u32; 3], [[f32; 3]; 3])> {
    let with = |t: &'a [u32; 3]| (t, t.map(|v| corners[v as usize]));
    mesh.triangles.iter().map(with).filter(|(_, [a, b, c])| a != b && b != c && c != a)
}

/// The vertices in single precision.
pub(super) fn singles(mesh: &Mesh) -> Vec<[f32; 3]> {
    mesh.positions_mm.iter().map(|p| single(*p)).collect()
}
