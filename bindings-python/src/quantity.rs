//! Quantities of other packages: a number with a unit of its own, as pint has them.

use crate::errors::fault;
use neckwright::measure::{Fault, Kind};
use pyo3::intern;
use pyo3::prelude::*;

/// Whether it has a number and a unit and can be told in another. No package is asked for its types: none has to be
/// there, and any that keeps to the same names is welcome.
pub(crate) fn is_quantity(value: &Bound<'_, PyAny>) -> bool {
    let py = value.py();
    [intern!(py, "magnitude"), intern!(py, "units"), intern!(py, "to")]
        .iter()
        .all(|name| value.hasattr(name).unwrap_or(false))
}

/// Its number in a unit, where it can be told in that.
fn told<'py>(value: &Bound<'py, PyAny>, unit: &str) -> Option<Bound<'py, PyAny>> {
    value.call_method1("to", (unit,)).ok()?.getattr("magnitude").ok()
}

/// A length's number of millimetres: one, or an array of them.
pub(crate) fn length_mm<'py>(value: &Bound<'py, PyAny>, argument: &str) -> PyResult<Bound<'py, PyAny>> {
    told(value, "millimeter").ok_or_else(|| {
        let reason = "this quantity is no length";
        fault(value.py(), Fault::new(Kind::WrongType, argument, reason).value(value, ""))
    })
}

/// A length or an angle as documents write it, with its unit, so that the library itself sees which of them it is.
pub(crate) fn written(value: &Bound<'_, PyAny>, path: &str) -> Result<String, Fault> {
    let number = |unit| told(value, unit)?.extract::<f64>().ok().filter(|number| number.is_finite());
    // A plain number has no unit to tell; of those that are counted in 1, only an angle has one.
    let plain = value.getattr("units").is_ok_and(|units| {
        let name = units.to_string();
        name.is_empty() || name == "dimensionless"
    });
    let written = number("millimeter")
        .map(|mm| format!("{mm} mm"))
        .or_else(|| number("degree").filter(|_| !plain).map(|deg| format!("{deg} deg")));
    written.ok_or_else(|| {
        Fault::new(Kind::WrongType, path, "this quantity is neither a finite length nor an angle")
            .value(value, "")
            .remedy("give the number itself, in the field's own unit")
    })
}
