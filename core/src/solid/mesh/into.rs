//! A mesh into buffers of the caller's.

use super::triangles::Mesh;
use crate::measure::{Error, Fault, Kind};

/// A number that meshes are written in.
pub trait Real: Copy {
    /// The nearest to a number of double precision.
    fn nearest(value: f64) -> Self;
}

impl Real for f64 {
    fn nearest(value: f64) -> Self {
        value
    }
}

impl Real for f32 {
    fn nearest(value: f64) -> Self {
        value as Self
    }
}

/// Refuses a buffer that does not hold just so many.
pub(in crate::solid) fn sized(name: &str, len: usize, wanted: usize) -> Result<(), Error> {
    if len == wanted {
        return Ok(());
    }
    Err(Fault::new(Kind::Buffer, name, "needs one place for each value")
        .value(len, "places")
        .range(wanted as f64, wanted as f64)
        .into())
}

impl Mesh {
    /// Writes its vertices into the caller's buffers of `f64` or `f32`: positions in mm and normals, three values for each
    /// vertex, and station and girth, two for each.
    ///
    /// # Errors
    /// - a buffer of another size than `3 · n`, `3 · n` and `2 · n` for `n` vertices;
    /// - those of [`Mesh::check`]; nothing is written then.
    pub fn vertices_into<T: Real>(
        &self,
        positions_mm: &mut [T],
        normals: &mut [T],
        station_girth: &mut [T],
    ) -> Result<(), Error> {
        let count = self.positions_mm.len();
        sized("positions_mm", positions_mm.len(), 3 * count)?;
        sized("normals", normals.len(), 3 * count)?;
        sized("station_girth", station_girth.len(), 2 * count)?;
        self.check()?;
        let write = |out: &mut [T], from: &mut dyn Iterator<Item = f64>| {
            out.iter_mut().zip(from).for_each(|(out, value)| *out = T::nearest(value));
        };
        write(positions_mm, &mut self.positions_mm.iter().flatten().copied());
        write(normals, &mut self.normals.iter().flatten().copied());
        write(station_girth, &mut self.station_girth.iter().flatten().copied());
        Ok(())
    }

    /// Writes the vertices of its triangles into the caller's buffer, three for each.
    ///
    /// # Errors
    /// - a buffer of another size than `3 · n` for `n` triangles;
    /// - those of [`Mesh::check`]; nothing is written then.
    pub fn indices_into(&self, indices: &mut [u32]) -> Result<(), Error> {
        sized("indices", indices.len(), 3 * self.triangles.len())?;
        self.check()?;
        indices.copy_from_slice(self.triangles.as_flattened());
        Ok(())
    }
}
