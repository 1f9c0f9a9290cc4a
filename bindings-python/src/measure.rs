//! Measures as builders write them, and what the trade's tables say.

use crate::choice::choice;
use crate::errors::{call, call_free, fault, named, renamed, wrong_type};
use crate::given::{Degrees, Given, Mm, word};
use crate::quantity::Quantity;
use crate::record::record;
use crate::stations::{Meant, Numbers, Place};
use neckwright::measure::{Angle, Error, Length, Sixtyfourths};
use neckwright::shape::{density_kg_m3, fullness, known_species};
use neckwright::spec::Shape;
use numpy::{IntoPyArray, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::{PyFloat, PyString};

/// A length in mm: a text as builders write it, or a quantity.
///
/// Parameters
/// ----------
/// length : str or quantity
///     Such as ``"43 mm"``, ``"4.3 cm"``, ``"1 11/16 in"`` or ``"0.86 in"``; a decimal without a unit is in mm.
///
/// Returns
/// -------
/// float
///     mm, the nearest to the exact value, an inch being 25.4 mm.
///
/// Raises
/// ------
/// NeckwrightError
///     ``unreadable`` for a text that is no length, ``wrong_type`` for another quantity.
/// TypeError
///     Something else.
///
/// Examples
/// --------
/// >>> from neckwright import length_mm
/// >>> length_mm("25 1/2 in")
/// 647.7
///
/// Notes
/// -----
/// Rust: ``measure::Length::parse``. C: ``nw_length_mm``.
#[pyfunction]
pub(crate) fn length_mm(length: &Bound<'_, PyAny>) -> PyResult<f64> {
    if let Ok(text) = length.cast::<PyString>() {
        let text = text.to_cow()?;
        return call(length.py(), || {
            Length::parse(&text).map(Length::mm).map_err(|error| named(error, "length"))
        });
    }
    if let Some(quantity) = Quantity::of(length) {
        return quantity.one("mm")?.ok_or_else(|| fault(length.py(), quantity.no_length("length")));
    }
    Err(wrong_type("length", "a text or a quantity", length))
}

/// An angle in degrees, of a text as builders write it.
///
/// Parameters
/// ----------
/// text : str
///     Such as ``"10 deg"``, ``"10°"`` or ``"1 in 6"``.
///
/// Returns
/// -------
/// float
///     Degrees.
///
/// Raises
/// ------
/// NeckwrightError
///     ``unreadable`` for a text that is no angle.
///
/// Examples
/// --------
/// >>> from neckwright import angle_deg
/// >>> round(angle_deg("1 in 6"), 4)
/// 9.4623
///
/// Notes
/// -----
/// Rust: ``measure::Angle::parse``. C: ``nw_angle_deg``.
#[pyfunction]
pub(crate) fn angle_deg(py: Python<'_>, text: Given<String>) -> PyResult<f64> {
    let text = text.named(py, "text")?;
    call(py, || Angle::parse(&text).map(Angle::deg).map_err(|error| named(error, "text")))
}

#[derive(serde::Serialize)]
#[serde(rename = "Sixtyfourths")]
struct Told {
    text: String,
    mm: f64,
    error_mm: f64,
}

/// A length in 64ths of an inch, and how far off that is.
///
/// Parameters
/// ----------
/// length_mm : float, str or quantity
///     The length, mm.
/// rounding : {"nearest", "up", "down"}
///     To which 64th.
///
/// Returns
/// -------
/// records.Sixtyfourths
///
/// Raises
/// ------
/// NeckwrightError
///     A word for none of them, or a length that is no number.
///
/// Examples
/// --------
/// >>> from neckwright import sixtyfourths
/// >>> sixtyfourths(42.8625).text
/// '1 11/16 in'
///
/// Notes
/// -----
/// Rust: ``measure::Length::try_from_mm``, ``measure::Length::nearest_64th``, ``measure::Length::ceil_64th``, ``measure::Length::floor_64th``, ``measure::Sixtyfourths``. C: ``nw_sixtyfourths``.
#[pyfunction]
#[pyo3(
    signature = (length_mm, *, rounding = word("nearest")),
    text_signature = "(length_mm, *, rounding=\"nearest\")"
)]
pub(crate) fn sixtyfourths<'py>(
    py: Python<'py>,
    length_mm: Given<Mm>,
    rounding: Given<String>,
) -> PyResult<Bound<'py, PyAny>> {
    type Rounding = fn(Length) -> Sixtyfourths;
    let all: [(&str, Rounding); 3] =
        [("nearest", Length::nearest_64th), ("up", Length::ceil_64th), ("down", Length::floor_64th)];
    let Mm(length_mm) = length_mm.named(py, "length_mm")?;
    let round = choice(py, rounding, "rounding", &all)?;
    let told = call(py, || {
        let rounded = round(Length::try_from_mm(length_mm)?);
        Ok(Told { text: rounded.to_string(), mm: rounded.length().mm(), error_mm: rounded.error_mm() })
    })?;
    record(py, &told)
}

/// How far the arc of a circle lies under its crown, at a distance from the middle.
///
/// Parameters
/// ----------
/// radius_mm : float, str, quantity or array of them
///     Radius, mm.
/// y_mm : float, str, quantity or array of them
///     Distance from the middle, mm; broadcast against the radius.
///
/// Returns
/// -------
/// float or ndarray
///     mm.
///
/// Raises
/// ------
/// NeckwrightError
///     A radius that is not above 0, or a distance that the circle does not reach; of arrays it is named by its place in the result.
///
/// Examples
/// --------
/// >>> from neckwright import sagitta_mm
/// >>> sagitta_mm(5, [3, 4])
/// array([1., 2.])
///
/// Notes
/// -----
/// Rust: ``layout::try_sagitta_mm``. C: ``nw_sagitta_mm``.
#[pyfunction]
pub(crate) fn sagitta_mm<'py>(
    radius_mm: &Bound<'py, PyAny>,
    y_mm: &Bound<'py, PyAny>,
) -> PyResult<Bound<'py, PyAny>> {
    let py = radius_mm.py();
    let text = |text: &str| Ok(Length::parse(text)?.mm());
    let radius = Numbers::of(radius_mm, &Meant { name: "radius_mm", text: &text, lengths: true })?;
    let y = Numbers::of(y_mm, &Meant { name: "y_mm", text: &text, lengths: true })?;
    if let (Numbers::One(radius), Numbers::One(y)) = (&radius, &y) {
        let sagitta = call(py, || neckwright::layout::try_sagitta_mm(*radius, *y))?;
        return Ok(PyFloat::new(py, sagitta).into_any());
    }
    let [one_radius, one_y] = [&radius, &y].map(|numbers| matches!(numbers, Numbers::One(_)));
    let numpy = py.import("numpy")?;
    let both = numpy.call_method1("broadcast_arrays", (radius.object(py)?, y.object(py)?))?;
    let whole = |i: usize| {
        let one = numpy.call_method1("ascontiguousarray", (both.get_item(i)?,))?;
        Numbers::of(&one, &Meant { name: "radius_mm", text: &text, lengths: true })?.listed()
    };
    let ((radius, shape), (y, _)) = (whole(0)?, whole(1)?);
    let one = |(i, (r, y)): (usize, (&f64, &f64))| {
        // Of an argument that is one number, that number is meant.
        let at = |path: &str| match (path, &one_radius, &one_y) {
            ("radius_mm", false, _) | ("y_mm", _, false) => Some(Place::of(path, i, &shape).to_string()),
            _ => None,
        };
        neckwright::layout::try_sagitta_mm(*r, *y).map_err(|error| renamed(error, at))
    };
    let all =
        call_free(py, || radius.iter().zip(&y).enumerate().map(one).collect::<Result<Vec<f64>, Error>>())?;
    Ok(all.into_pyarray(py).reshape(shape)?.into_any())
}

/// The scarf of a headstock that is glued on.
///
/// Parameters
/// ----------
/// angle_deg : float, str or quantity
///     Angle of the headstock, degrees; a text such as ``"10 deg"`` or ``"1 in 6"``.
/// stock_mm : float, str or quantity
///     Thickness of the stock, mm.
///
/// Returns
/// -------
/// records.Scarf
///
/// Raises
/// ------
/// NeckwrightError
///     An argument out of its range.
///
/// Notes
/// -----
/// Rust: ``shape::scarf``. C: ``nw_scarf``.
#[pyfunction]
pub(crate) fn scarf(
    py: Python<'_>,
    angle_deg: Given<Degrees>,
    stock_mm: Given<Mm>,
) -> PyResult<Bound<'_, PyAny>> {
    let (Degrees(angle_deg), Mm(stock_mm)) =
        (angle_deg.named(py, "angle_deg")?, stock_mm.named(py, "stock_mm")?);
    record(py, &call(py, || neckwright::shape::scarf(angle_deg, stock_mm))?)
}

#[derive(serde::Serialize)]
struct KnownWood {
    species: &'static str,
    density_kg_m3: Option<f64>,
}

/// The woods whose usual densities are known.
///
/// Returns
/// -------
/// tuple of records.KnownWood
///     Usual densities, kg/m³; boards differ by a sixth and more.
///
/// Examples
/// --------
/// >>> from neckwright import known_woods
/// >>> "cherry, black" in [wood.species for wood in known_woods()]
/// True
///
/// Notes
/// -----
/// Rust: ``shape::known_species``, ``shape::density_kg_m3``. C: ``nw_known_woods``.
#[pyfunction]
pub(crate) fn known_woods(py: Python<'_>) -> PyResult<Bound<'_, PyAny>> {
    let all = known_species().map(|species| KnownWood { species, density_kg_m3: density_kg_m3(species) });
    record(py, &all.collect::<Vec<_>>())
}

#[derive(serde::Serialize)]
struct KnownShape {
    shape: Shape,
    shoulder: f64,
    belly: f64,
    lean: f64,
}

/// The trade's shapes of the back, and the fullness that each stands for.
///
/// Returns
/// -------
/// tuple of records.KnownShape
///
/// Examples
/// --------
/// >>> from neckwright import known_shapes
/// >>> [known.shape for known in known_shapes()]
/// ['C', 'D', 'U', 'V', 'soft V']
///
/// Notes
/// -----
/// Rust: ``shape::fullness``. C: ``nw_known_shapes``.
#[pyfunction]
pub(crate) fn known_shapes(py: Python<'_>) -> PyResult<Bound<'_, PyAny>> {
    let named = |shape: &Shape| {
        let of = fullness(*shape);
        KnownShape { shape: *shape, shoulder: of.shoulder, belly: of.belly, lean: of.lean }
    };
    record(py, &Shape::ALL.iter().map(named).collect::<Vec<_>>())
}
