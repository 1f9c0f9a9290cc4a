//! Meshes as they come to a writer.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::measure::{Error, Fault, Kind};
use crate::solid::{Mesh, Point3};

/// A mesh and the colour it is shown in: red, green and blue as on a screen (sRGB), from 0 to 1.
pub type ColouredMesh<'a> = (&'a Mesh, [f64; 3]);

/// What mends most faults of a mesh.
const AS_MADE: &str = "write the mesh as it was made, or change all of its lists together";

/// A number that single precision can't hold, named by its list.
fn unheld(path: String, number: f64, unit: &'static str) -> Fault {
    let most = f64::from(f32::MAX);
    Fault::new(Kind::OutOfRange, path, "is no number, or too large for one of single precision")
        .value(number, unit)
        .range(-most, most)
        .remedy("leave the vertex and its triangles out, or give its numbers")
}

/// Meshes are open to their makers: whether all of what a writer follows leads somewhere.
pub(super) fn check(meshes: &[ColouredMesh<'_>]) -> Result<(), Error> {
    for (m, (mesh, colour)) in meshes.iter().enumerate() {
        let at = |field: &str, i: usize| format!("meshes[{m}].{field}[{i}]");
        if let Some(i) = colour.iter().position(|c| !(0.0..=1.0).contains(c)) {
            return Err(Fault::new(Kind::OutOfRange, at("colour", i), "this is no part of a colour")
                .value(colour[i], "")
                .range(0.0, 1.0)
                .remedy("give red, green and blue from 0 to 1: a number of 0 to 255 divided by 255")
                .into());
        }
        let count = mesh.positions_mm.len();
        let lists = [
            ("normals", mesh.normals.len()),
            ("station_girth", mesh.station_girth.len()),
            ("same_place", mesh.same_place.len()),
        ];
        if let Some((list, length)) = lists.into_iter().find(|(_, length)| *length != count) {
            let reason = format!("tells of another number of vertices than positions_mm, which has {count}");
            return Err(Fault::new(Kind::Conflict, format!("meshes[{m}].{list}"), reason)
                .value(length, "entries")
                .range(count as f64, count as f64)
                .remedy(AS_MADE)
                .into());
        }
        for i in 0..count {
            let lists = [
                ("positions_mm", &mesh.positions_mm[i][..], "mm"),
                ("normals", &mesh.normals[i][..], ""),
                ("station_girth", &mesh.station_girth[i][..], "mm"),
            ];
            for (list, numbers, unit) in lists {
                if let Some(number) = numbers.iter().find(|c| !(**c as f32).is_finite()) {
                    return Err(unheld(at(list, i), *number, unit).into());
                }
            }
        }
        if let Some(i) = (0..count).find(|i| mesh.same_place[*i] as usize > *i) {
            return Err(Fault::new(
                Kind::Conflict,
                at("same_place", i),
                "has to name this vertex or one before it",
            )
            .value(mesh.same_place[i], "")
            .range(0.0, i as f64)
            .remedy(AS_MADE)
            .into());
        }
        let beyond = |t: &[u32; 3]| t.iter().copied().find(|v| *v as usize >= count);
        let strays = mesh.triangles.iter().enumerate();
        if let Some((i, v)) = strays.filter_map(|(i, t)| Some((i, beyond(t)?))).next() {
            let fault =
                Fault::new(Kind::Conflict, at("triangles", i), "has a corner that is no vertex of the mesh");
            let last = count.checked_sub(1).map(|last| last as f64);
            return Err(fault.value(v, "").range(last.map(|_| 0.0), last).remedy(AS_MADE).into());
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
