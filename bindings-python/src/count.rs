//! Counts as arguments.

use crate::errors::fault;
use neckwright::measure::{Fault, Kind};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;

/// A count given in Python, where whole numbers know no bounds. What the library can't even be given is kept and told
/// under the argument's name; the library's own bounds are its own affair.
pub(crate) struct Count(Result<u32, Wrong>);

enum Wrong {
    /// A whole number that is no count, as text.
    Number(String),
    /// The name of a type that is none of whole numbers.
    Type(String),
}

impl Count {
    pub(crate) const fn of(count: u32) -> Self {
        Self(Ok(count))
    }

    pub(crate) fn named(self, py: Python<'_>, argument: &str) -> PyResult<u32> {
        self.0.map_err(|wrong| match wrong {
            Wrong::Number(given) => {
                let wrong = Fault::new(Kind::OutOfRange, argument, "not a count");
                fault(py, wrong.value(given, "").range(0.0, f64::from(u32::MAX)))
            }
            Wrong::Type(name) => {
                PyTypeError::new_err(format!("{argument}: a whole number is needed, not {name}"))
            }
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
            return Ok(Self(Err(Wrong::Type(argument.get_type().name()?.to_string()))));
        };
        Ok(Self(whole.extract::<u32>().map_err(|_| Wrong::Number(whole.to_string()))))
    }
}
