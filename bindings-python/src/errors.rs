//! Turns the library's errors into Python's.

use neckwright::measure::{Error, Fault};
use pyo3::exceptions::PyRuntimeError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyTuple, PyType};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Calls the library; its error becomes a `NeckwrightError`. A panic becomes a `RuntimeError`, because what pyo3
/// would make of it is no `Exception` and passes by every handler.
pub(crate) fn call<T>(py: Python<'_>, body: impl FnOnce() -> Result<T, Error>) -> PyResult<T> {
    // Nothing that a panic could leave half done is used again.
    match catch_unwind(AssertUnwindSafe(body)) {
        Ok(Ok(value)) => Ok(value),
        Ok(Err(error)) => Err(raised(py, &error)),
        Err(_) => Err(PyRuntimeError::new_err("an error of the library, please report it")),
    }
}

/// The exception for an error; where it can't be made, the exception that says why.
pub(crate) fn raised(py: Python<'_>, error: &Error) -> PyErr {
    exception(py, error).unwrap_or_else(|e| e)
}

fn exception(py: Python<'_>, error: &Error) -> PyResult<PyErr> {
    static ERROR: PyOnceLock<Py<PyType>> = PyOnceLock::new();
    let class = ERROR.import(py, "neckwright._errors", "NeckwrightError")?;
    let faults: Vec<_> = error.faults().iter().map(|f| python_fault(py, f)).collect::<PyResult<_>>()?;
    let arguments = (error.to_string(), PyTuple::new(py, faults)?, error.more());
    Ok(PyErr::from_value(class.call1(arguments)?))
}

fn python_fault<'py>(py: Python<'py>, fault: &Fault) -> PyResult<Bound<'py, PyAny>> {
    static FAULT: PyOnceLock<Py<PyType>> = PyOnceLock::new();
    let fields = PyDict::new(py);
    fields.set_item("code", fault.kind.code())?;
    fields.set_item("kind", fault.kind.name())?;
    fields.set_item("path", &fault.path)?;
    fields.set_item("value", &fault.value)?;
    fields.set_item("unit", fault.unit)?;
    fields.set_item("lowest", fault.lowest)?;
    fields.set_item("highest", fault.highest)?;
    fields.set_item("reason", &fault.reason)?;
    fields.set_item("remedy", &fault.remedy)?;
    fields.set_item("message", fault.to_string())?;
    FAULT.import(py, "neckwright._errors", "Fault")?.call((), Some(&fields))
}
