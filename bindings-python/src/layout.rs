//! Fret positions.

use crate::count::Count;
use crate::errors::call;
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;

/// Distances of the frets from the nut in equal divisions of the octave, in mm.
///
/// A new array of frets 1 to `fret_count`; `NeckwrightError` where an argument is out of its range. The stub of the
/// package has the ranges.
#[pyfunction]
#[pyo3(
    signature = (scale_mm, fret_count, *, divisions = Count::of(12)),
    text_signature = "(scale_mm, fret_count, *, divisions=12)"
)]
pub(crate) fn fret_positions_mm(
    py: Python<'_>,
    scale_mm: f64,
    fret_count: Count,
    divisions: Count,
) -> PyResult<Bound<'_, PyArray1<f64>>> {
    let (fret_count, divisions) = (fret_count.named(py, "fret_count")?, divisions.named(py, "divisions")?);
    let positions = call(py, || neckwright::layout::fret_positions_mm(scale_mm, fret_count, divisions))?;
    Ok(positions.into_pyarray(py))
}
