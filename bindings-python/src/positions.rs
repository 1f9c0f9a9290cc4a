//! Fret positions without a neck.

use crate::errors::{call, call_free, wrong_type};
use crate::given::{Given, Mm};
use crate::record::record;
use crate::stations::{Meant, Numbers};
use neckwright::layout::{Temperament, usual_gauges_mm as usual};
use neckwright::measure::{Error, Fault, Kind};
use neckwright::spec::Ratio;
use numpy::{IntoPyArray, PyArray1, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::prelude::*;

/// Distances of the frets from the nut in equal divisions of the octave.
///
/// Fret ``n`` lies at ``scale_mm * (1 - 2 ** (-n / divisions))``. Each distance is within one unit in the last place of
/// the exact value.
///
/// Parameters
/// ----------
/// scale_mm : float, str or quantity
///     Length of the open string, mm; 0.001 to 1000000.
/// fret_count : int
///     Number of frets; 0 to 60.
/// divisions : int
///     Number of equal steps in an octave; 1 to 99.
///
/// Returns
/// -------
/// ndarray
///     mm, of shape ``(fret_count,)``: frets 1 to ``fret_count``.
///
/// Raises
/// ------
/// NeckwrightError
///     An argument is out of its range; every such argument has its fault.
/// TypeError
///     An argument is no number, or a count is not whole.
///
/// Examples
/// --------
/// >>> from neckwright import fret_positions_mm
/// >>> float(fret_positions_mm(640, 12)[11])
/// 320.0
///
/// Notes
/// -----
/// Rust: ``layout::fret_positions_mm``, ``layout::fret_positions_into``. C: ``nw_fret_positions_mm``.
#[pyfunction]
#[pyo3(
    signature = (scale_mm, fret_count, *, divisions = Given::of(12)),
    text_signature = "(scale_mm, fret_count, *, divisions=12)"
)]
pub(crate) fn fret_positions_mm(
    py: Python<'_>,
    scale_mm: Given<Mm>,
    fret_count: Given<u32>,
    divisions: Given<u32>,
) -> PyResult<Bound<'_, PyArray1<f64>>> {
    let Mm(scale_mm) = scale_mm.named(py, "scale_mm")?;
    let (fret_count, divisions) = (fret_count.named(py, "fret_count")?, divisions.named(py, "divisions")?);
    let positions = call(py, || neckwright::layout::fret_positions_mm(scale_mm, fret_count, divisions))?;
    Ok(positions.into_pyarray(py))
}

/// A list of numbers that have no unit to be told in, or of texts that are read.
fn listed(
    given: &Bound<'_, PyAny>,
    name: &str,
    text: &dyn Fn(&str) -> Result<f64, Error>,
) -> PyResult<Vec<f64>> {
    match Numbers::of(given, &Meant { name, text, lengths: false })? {
        Numbers::Many(array) if array.ndim() == 1 => Ok(array.try_readonly()?.as_slice()?.to_vec()),
        _ => Err(wrong_type(name, "a list of numbers", given)),
    }
}

fn of<'py>(
    py: Python<'py>,
    scale_mm: Given<Mm>,
    fret_count: Given<u32>,
    temperament: impl FnOnce() -> Result<Temperament, Error> + Send,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let (Mm(scale_mm), fret_count) = (scale_mm.named(py, "scale_mm")?, fret_count.named(py, "fret_count")?);
    Ok(call_free(py, || temperament()?.positions_mm(scale_mm, fret_count))?.into_pyarray(py))
}

/// Distances of the frets from the nut by a table of pitches.
///
/// Parameters
/// ----------
/// cents : array
///     Cents of frets 1, 2, … above the open string, rising; the last one is the period after which they repeat.
/// scale_mm : float, str or quantity
///     Length of the open string, mm.
/// fret_count : int
///     Number of frets; 0 to 60.
///
/// Returns
/// -------
/// ndarray
///     mm, of shape ``(fret_count,)``.
///
/// Raises
/// ------
/// NeckwrightError
///     Cents that do not rise or are out of their range; a scale or a count out of its range.
///
/// Examples
/// --------
/// >>> from neckwright import fret_positions_of_cents_mm
/// >>> round(float(fret_positions_of_cents_mm([700, 1200], 640, 2)[1]), 9)
/// 320.0
///
/// Notes
/// -----
/// Rust: ``layout::Temperament::from_cents``, ``layout::Temperament::positions_mm``. C: ``nw_fret_positions_of_cents_mm``.
#[pyfunction]
pub(crate) fn fret_positions_of_cents_mm<'py>(
    py: Python<'py>,
    cents: &Bound<'py, PyAny>,
    scale_mm: Given<Mm>,
    fret_count: Given<u32>,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let no_text = |text: &str| {
        let fault = Fault::new(Kind::WrongType, "cents", "cents are numbers without a unit");
        Err(fault.value(format!("{text:?}"), "").remedy("give the number itself").into())
    };
    let cents = listed(cents, "cents", &no_text)?;
    of(py, scale_mm, fret_count, || Temperament::from_cents(&cents))
}

/// Distances of the frets from the nut by a table of ratios.
///
/// Parameters
/// ----------
/// ratios : array
///     Frequencies of frets 1, 2, … over that of the open string, rising; the last one is the period after which they repeat.
///     Numbers, or texts such as ``"3:2"`` and ``"18/17"``.
/// scale_mm : float, str or quantity
///     Length of the open string, mm.
/// fret_count : int
///     Number of frets; 0 to 60.
///
/// Returns
/// -------
/// ndarray
///     mm, of shape ``(fret_count,)``.
///
/// Raises
/// ------
/// NeckwrightError
///     Ratios that do not rise or are out of their range; a scale or a count out of its range.
///
/// Examples
/// --------
/// >>> from neckwright import fret_positions_of_ratios_mm
/// >>> round(float(fret_positions_of_ratios_mm([3 / 2, 2], 640, 2)[1]), 9)
/// 320.0
///
/// Notes
/// -----
/// Rust: ``layout::Temperament::from_ratios``, ``layout::Temperament::positions_mm``. C: ``nw_fret_positions_of_ratios_mm``.
#[pyfunction]
pub(crate) fn fret_positions_of_ratios_mm<'py>(
    py: Python<'py>,
    ratios: &Bound<'py, PyAny>,
    scale_mm: Given<Mm>,
    fret_count: Given<u32>,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let ratios = listed(ratios, "ratios", &|text| Ok(Ratio::parse(text)?.value()))?;
    of(py, scale_mm, fret_count, || Temperament::from_ratios(&ratios))
}

/// Fret positions put on a grid, as a rule or a machine has it, and what that costs in pitch.
///
/// Parameters
/// ----------
/// scale_mm : float, str or quantity
///     Length of the open string, mm.
/// fret_count : int
///     Number of frets; 0 to 60.
/// grid_mm : float, str or quantity
///     The grid, mm.
/// divisions : int
///     Number of equal steps in an octave; 1 to 99.
///
/// Returns
/// -------
/// tuple of records.Rounded
///
/// Raises
/// ------
/// NeckwrightError
///     An argument out of its range.
///
/// Notes
/// -----
/// Rust: ``layout::Temperament::rounded``. C: ``nw_rounded_positions``.
#[pyfunction]
#[pyo3(
    signature = (scale_mm, fret_count, grid_mm, *, divisions = Given::of(12)),
    text_signature = "(scale_mm, fret_count, grid_mm, *, divisions=12)"
)]
pub(crate) fn rounded_positions(
    py: Python<'_>,
    scale_mm: Given<Mm>,
    fret_count: Given<u32>,
    grid_mm: Given<Mm>,
    divisions: Given<u32>,
) -> PyResult<Bound<'_, PyAny>> {
    let Mm(scale_mm) = scale_mm.named(py, "scale_mm")?;
    let (fret_count, divisions) = (fret_count.named(py, "fret_count")?, divisions.named(py, "divisions")?);
    let Mm(grid_mm) = grid_mm.named(py, "grid_mm")?;
    let rounded = call_free(py, || Temperament::equal(divisions)?.rounded(scale_mm, fret_count, grid_mm))?;
    record(py, &rounded)
}

/// Gauges of the strings of a usual set.
///
/// Parameters
/// ----------
/// count : int
///     Number of strings.
///
/// Returns
/// -------
/// ndarray
///     mm, bass string first, of shape ``(count,)``.
///
/// Raises
/// ------
/// NeckwrightError
///     A number of strings that there is no usual set of.
///
/// Notes
/// -----
/// Rust: ``layout::usual_gauges_mm``. C: ``nw_usual_gauges_mm``.
#[pyfunction]
pub(crate) fn usual_gauges_mm(py: Python<'_>, count: Given<u32>) -> PyResult<Bound<'_, PyArray1<f64>>> {
    let count = count.named(py, "count")?;
    Ok(call(py, || usual(count))?.to_vec().into_pyarray(py))
}
