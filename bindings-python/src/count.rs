//! Counts as arguments.

use crate::errors::raised;
use neckwright::measure::{Fault, Kind};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;

/// A count given in Python, where whole numbers know no bounds. What the library can't even be given is kept as text
/// and reported under the argument's name; the library's own bounds are its own affair.
pub(crate) struct Count(Result<u32, String>);

impl Count {
    pub(crate) const fn of(count: u32) -> Self {
        Self(Ok(count))
    }

    pub(crate) fn named(self, py: Python<'_>, argument: &str) -> PyResult<u32> {
        self.0.map_err(|given| {
            let fault = Fault::new(Kind::OutOfRange, argument, "not a count");
            raised(py, &fault.value(given, "").range(0.0, f64::from(u32::MAX)).into())
        })
    }
}

impl<'py> FromPyObject<'_, 'py> for Count {
    type Error = PyErr;

    fn extract(argument: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
        if let Ok(count) = argument.extract::<u32>() {
            return Ok(Self::of(count));
        }
        let Ok(whole) = argument.call_method0("__index__") else {
            return Err(PyTypeError::new_err("a whole number is needed"));
        };
        Ok(Self(whole.extract::<u32>().map_err(|_| whole.to_string())))
    }
}
