//! Whether a mesh's lists go together: meshes are open to their makers.

use alloc::format;
use alloc::string::String;

use super::triangles::Mesh;
use crate::measure::{Error, Fault, Kind};

/// What mends most faults of a mesh.
const AS_MADE: &str = "take the mesh as it was made, or change all of its lists together";
/// How far a normal's length may be from 1.
const LENGTH: f64 = 1e-6;

/// A number that single precision can't hold, named by its list.
fn unheld(path: String, number: f64, unit: &'static str) -> Fault {
    let most = f64::from(f32::MAX);
    Fault::new(Kind::OutOfRange, path, "is no number, or too large for one of single precision")
        .value(number, unit)
        .range(-most, most)
        .remedy("leave the vertex and its triangles out, or give its numbers")
}

impl Mesh {
    /// Whether all that is told of its vertices goes together.
    ///
    /// # Errors
    /// - `normals`, `station_girth` or `same_place` of another length than `positions_mm`;
    /// - a number that is none, or too large for one of single precision;
    /// - a normal whose length is further than 1e-6 from 1;
    /// - a `same_place` that names a vertex after it, or one at another place;
    /// - a triangle with a corner that is no vertex.
    pub fn check(&self) -> Result<(), Error> {
        self.checked("")
    }

    /// The same, with what comes before the names of its lists in the errors.
    pub(crate) fn checked(&self, within: &str) -> Result<(), Error> {
        let at = |field: &str, i: usize| format!("{within}{field}[{i}]");
        let count = self.positions_mm.len();
        let lists = [
            ("normals", self.normals.len()),
            ("station_girth", self.station_girth.len()),
            ("same_place", self.same_place.len()),
        ];
        if let Some((list, length)) = lists.into_iter().find(|(_, length)| *length != count) {
            let reason = format!("tells of another number of vertices than positions_mm, which has {count}");
            return Err(Fault::new(Kind::Conflict, format!("{within}{list}"), reason)
                .value(length, "entries")
                .range(count as f64, count as f64)
                .remedy(AS_MADE)
                .into());
        }
        for i in 0..count {
            let lists = [
                ("positions_mm", &self.positions_mm[i][..], "mm"),
                ("normals", &self.normals[i][..], ""),
                ("station_girth", &self.station_girth[i][..], "mm"),
            ];
            for (list, numbers, unit) in lists {
                if let Some(number) = numbers.iter().find(|c| !(**c as f32).is_finite()) {
                    return Err(unheld(at(list, i), *number, unit).into());
                }
            }
            let length = libm::sqrt(self.normals[i].iter().map(|c| c * c).sum());
            if libm::fabs(length - 1.0) > LENGTH || length.is_nan() {
                return Err(Fault::new(Kind::OutOfRange, at("normals", i), "has another length than 1")
                    .value(length, "")
                    .range(1.0 - LENGTH, 1.0 + LENGTH)
                    .remedy("divide it by its length")
                    .into());
            }
            let first = self.same_place[i];
            let there = self.positions_mm.get(first as usize).filter(|_| first as usize <= i);
            let reason = match there {
                None => "has to name this vertex or one before it",
                Some(place) if *place != self.positions_mm[i] => "names a vertex that lies at another place",
                Some(_) => continue,
            };
            return Err(Fault::new(Kind::Conflict, at("same_place", i), reason)
                .value(first, "")
                .range(0.0, i as f64)
                .remedy(AS_MADE)
                .into());
        }
        let beyond = |t: &[u32; 3]| t.iter().copied().find(|v| *v as usize >= count);
        let strays = self.triangles.iter().enumerate();
        if let Some((i, v)) = strays.filter_map(|(i, t)| Some((i, beyond(t)?))).next() {
            let fault =
                Fault::new(Kind::Conflict, at("triangles", i), "has a corner that is no vertex of the mesh");
            let last = count.checked_sub(1).map(|last| last as f64);
            return Err(fault.value(v, "").range(last.map(|_| 0.0), last).remedy(AS_MADE).into());
        }
        Ok(())
    }
}
