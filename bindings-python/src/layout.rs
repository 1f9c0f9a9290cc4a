//! Fret positions.

use crate::count::Count;
use crate::errors::call;
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;

/// Distances of the frets from the nut in equal divisions of the octave, in mm.
///
/// Fret ``n`` lies at ``scale_mm * (1 - 2 ** (-n / divisions))``. Each distance is within one unit in the last place of
/// the exact value.
///
/// Args:
///     scale_mm: Length of the open string, in mm; 0.001 to 1000000.
///     fret_count: Number of frets; 0 to 60.
///     divisions: Number of equal steps in an octave; 1 to 99.
///
/// Returns:
///     A new array of shape ``(fret_count,)``: frets 1 to ``fret_count``.
///
/// Raises:
///     NeckwrightError: an argument is out of its range; every such argument has its fault.
///     TypeError: an argument is no number, or a count is not whole.
///
/// >>> float(fret_positions_mm(640, 12)[11])
/// 320.0
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
