//! Quantities of other packages: a number with a unit of its own.

use crate::number::{number, plain};
use neckwright::measure::{Fault, Kind};
use numpy::{PyUntypedArray, PyUntypedArrayMethods};
use pyo3::exceptions::PyException;
use pyo3::intern;
use pyo3::prelude::*;
use pyo3::types::PyString;

/// Something that has a number and a unit and can be told in another. No package is asked for its types: none has to be
/// there, and any that keeps to the same names is welcome: `to`, `magnitude` or `value`, `units` or `unit`.
pub(crate) struct Quantity<'a, 'py> {
    given: &'a Bound<'py, PyAny>,
    number: &'a Bound<'py, PyString>,
}

/// What no quantity of a length is.
const NO_LENGTH: &str = "this quantity is no length";
/// What a length is that is several, or whose number is none.
const SEVERAL: &str = "one number is needed here";
/// What to give instead.
const GIVE_A_LENGTH: &str = "give millimetres as a number, a text like \"4 3/4 in\" or a quantity of length";

impl<'a, 'py> Quantity<'a, 'py> {
    pub fn py(&self) -> Python<'py> {
        self.given.py()
    }

    pub fn of(given: &'a Bound<'py, PyAny>) -> Option<Self> {
        let py = given.py();
        let has = |name: &Bound<'py, PyString>| given.hasattr(name).unwrap_or(false);
        let one_of = |names: [&'a Bound<'py, PyString>; 2]| names.into_iter().find(|name| has(name));
        if !has(intern!(py, "to")) {
            return None;
        }
        one_of([intern!(py, "units"), intern!(py, "unit")])?;
        let number = one_of([intern!(py, "magnitude"), intern!(py, "value")])?;
        Some(Self { given, number })
    }

    /// Its number in a unit, or the array of them, where it can be told in that.
    ///
    /// # Errors
    /// - what is no `Exception` goes through: an interruption says nothing of a unit.
    fn told(&self, unit: &str) -> PyResult<Option<Bound<'py, PyAny>>> {
        match self.given.call_method1("to", (unit,)).and_then(|told| told.getattr(self.number)) {
            Ok(told) => Ok(Some(told)),
            Err(error) if error.is_instance_of::<PyException>(self.given.py()) => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Its one number in a unit. A quantity again, which some odd one may give, is none, nor are several numbers.
    pub fn one(&self, unit: &str) -> PyResult<Option<f64>> {
        let Some(told) = self.told(unit)? else { return Ok(None) };
        if let Some(number) = plain(&told) {
            return Ok(Some(number));
        }
        let several = told.cast::<PyUntypedArray>().is_ok_and(|array| array.ndim() > 0);
        let odd = Quantity::of(&told).is_some() && !told.is_instance_of::<PyUntypedArray>();
        Ok(if several || odd { None } else { number(&told).ok() })
    }

    /// A length's number of millimetres, or the array of them.
    pub fn mm(&self) -> PyResult<Option<Bound<'py, PyAny>>> {
        self.told("mm")
    }

    /// Itself, as messages show it.
    pub fn shown(&self) -> String {
        let whole = self.given.to_string();
        let short: String = whole.chars().take(40).flat_map(char::escape_debug).collect();
        if short.len() < whole.len() { short + "…" } else { short }
    }

    /// Refuses it where one length is needed.
    pub fn no_length(&self, path: impl Into<String>) -> Fault {
        let several = self.mm().is_ok_and(|told| told.is_some());
        let reason = if several { SEVERAL } else { NO_LENGTH };
        Fault::new(Kind::WrongType, path, reason).value(self.shown(), "").remedy(GIVE_A_LENGTH)
    }

    /// Whether it is counted in 1.
    fn is_bare(&self) -> bool {
        let py = self.given.py();
        [intern!(py, "units"), intern!(py, "unit")].into_iter().any(|name| {
            self.given.getattr(name).is_ok_and(|unit| {
                let name = unit.to_string();
                name.is_empty() || name == "dimensionless"
            })
        })
    }

    /// Its number of degrees. Of those that are counted in 1 none is an angle.
    pub fn degrees(&self) -> PyResult<Option<f64>> {
        if self.is_bare() { Ok(None) } else { self.one("degree") }
    }

    /// A length or an angle as documents write it, with its unit, so that the library itself sees which of them it is.
    pub fn written(&self, path: &str) -> PyResult<Result<String, Fault>> {
        let finite = |number: Option<f64>| number.filter(|number| number.is_finite());
        if let Some(mm) = finite(self.one("mm")?) {
            return Ok(Ok(format!("{mm} mm")));
        }
        if let Some(degrees) = finite(self.degrees()?) {
            return Ok(Ok(format!("{degrees} deg")));
        }
        let reason = "this quantity is neither a finite length nor an angle";
        let fault = Fault::new(Kind::WrongType, path, reason).value(self.shown(), "");
        Ok(Err(fault.remedy("give the number itself, in the field's own unit")))
    }
}
