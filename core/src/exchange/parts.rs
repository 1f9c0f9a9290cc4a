//! Meshes as they come to a writer.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::measure::{Error, Fault, Kind};
use crate::solid::{Mesh, Point3};

/// A mesh and the colour it is shown in: red, green and blue as on a screen (sRGB), from 0 to 1.
pub type ColouredMesh<'a> = (&'a Mesh, [f64; 3]);

fn wrong(path: String, reason: &str) -> Error {
    Fault::new(Kind::Conflict, path, reason).into()
}

/// Meshes are open to their makers: whether all of what a writer follows leads somewhere.
pub(super) fn check(meshes: &[ColouredMesh<'_>]) -> Result<(), Error> {
    for (m, (mesh, colour)) in meshes.iter().enumerate() {
        let at = |field: &str, i: usize| format!("meshes[{m}].{field}[{i}]");
        if let Some(i) = colour.iter().position(|c| !(0.0..=1.0).contains(c)) {
            return Err(Fault::new(Kind::OutOfRange, at("colour", i), "this is no part of a colour")
                .value(colour[i], "")
                .range(0.0, 1.0)
                .into());
        }
        let count = mesh.positions_mm.len();
        let all = [mesh.normals.len(), mesh.station_girth.len(), mesh.same_place.len()];
        if all.iter().any(|other| *other != count) {
            return Err(wrong(
                format!("meshes[{m}]"),
                "its vertices are not told equally often in all of its lists",
            ));
        }
        let told = |i: usize| {
            let numbers = mesh.positions_mm[i].iter().chain(&mesh.normals[i]).chain(&mesh.station_girth[i]);
            numbers.into_iter().all(|c| (*c as f32).is_finite())
        };
        if let Some(i) = (0..count).find(|i| !told(*i)) {
            return Err(wrong(
                at("vertices", i),
                "has a number that is none, or is too large for one of single precision",
            ));
        }
        if let Some(i) = (0..count).find(|i| mesh.same_place[*i] as usize > *i) {
            return Err(wrong(at("same_place", i), "has to name this vertex or one before it"));
        }
        if let Some(i) = mesh.triangles.iter().position(|t| t.iter().any(|v| *v as usize >= count)) {
            return Err(wrong(at("triangles", i), "has a corner that is no vertex of the mesh"));
        }
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
