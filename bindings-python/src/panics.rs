//! For tests: a library that panics.

use crate::errors::{call, call_free};
use neckwright::measure::Error;
use pyo3::prelude::*;

/// Panics where the library is called, with the interpreter's lock or without.
#[pyfunction]
pub(crate) fn panic(py: Python<'_>, free: bool) -> PyResult<()> {
    let body = || -> Result<(), Error> { panic!("seven frets too many") };
    if free { call_free(py, body) } else { call(py, body) }
}
