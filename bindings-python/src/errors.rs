//! Turns the library's errors into Python's.

use neckwright::measure::{Error, Fault, Kind};
use pyo3::exceptions::{PyRuntimeError, PyTypeError};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyTuple, PyType};
use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Calls the library; its error becomes a `NeckwrightError`. A panic becomes a `RuntimeError`, because what pyo3
/// would make of it is no `Exception` and passes by every handler.
pub(crate) fn call<T>(py: Python<'_>, body: impl FnOnce() -> Result<T, Error>) -> PyResult<T> {
    // Nothing that a panic could leave half done is used again.
    match catch_unwind(AssertUnwindSafe(body)) {
        Ok(Ok(value)) => Ok(value),
        Ok(Err(error)) => Err(raised(py, &error)),
        Err(payload) => Err(panicked(&*payload)),
    }
}

/// The same with the interpreter free for other threads meanwhile: for all that takes longer than a microsecond.
pub(crate) fn call_free<T: Send>(
    py: Python<'_>,
    body: impl FnOnce() -> Result<T, Error> + Send,
) -> PyResult<T> {
    match py.detach(|| catch_unwind(AssertUnwindSafe(body)).map_err(|payload| words(&*payload))) {
        Ok(Ok(value)) => Ok(value),
        Ok(Err(error)) => Err(raised(py, &error)),
        Err(words) => Err(reported(&words)),
    }
}

/// The same for what the library does while its answer is told to Python.
pub(crate) fn caught<T>(body: impl FnOnce() -> PyResult<T>) -> PyResult<T> {
    catch_unwind(AssertUnwindSafe(body)).unwrap_or_else(|payload| Err(panicked(&*payload)))
}

/// As `call`, for what can't fail.
pub(crate) fn ask<T: Send>(py: Python<'_>, body: impl FnOnce() -> T + Send) -> PyResult<T> {
    call_free(py, || Ok(body()))
}

fn words(payload: &(dyn Any + Send)) -> String {
    let text = payload.downcast_ref::<&str>().map(|text| (*text).to_owned());
    text.or_else(|| payload.downcast_ref::<String>().cloned()).unwrap_or_default()
}

fn panicked(payload: &(dyn Any + Send)) -> PyErr {
    reported(&words(payload))
}

fn reported(words: &str) -> PyErr {
    PyRuntimeError::new_err(format!("an error of the library, please report it: {words}"))
}

/// The exception for an error; where it can't be made, the exception that says why.
pub(crate) fn raised(py: Python<'_>, error: &Error) -> PyErr {
    exception(py, error).unwrap_or_else(|e| e)
}

/// The exception for one fault.
pub(crate) fn fault(py: Python<'_>, fault: Fault) -> PyErr {
    raised(py, &fault.into())
}

/// The same faults, each at a path that only whoever asked knows.
pub(crate) fn renamed(error: Error, path: impl Fn(&str) -> Option<String>) -> Error {
    let renamed = error.faults().iter().cloned().map(|mut fault| {
        if let Some(path) = path(&fault.path) {
            fault.path = path;
        }
        fault
    });
    Error::unless_none(renamed.collect()).err().unwrap_or(error)
}

/// The same faults, all of one argument.
pub(crate) fn named(error: Error, argument: &str) -> Error {
    renamed(error, |_| Some(argument.to_owned()))
}

/// A list with one place too many or too few.
pub(crate) fn wrong_size(py: Python<'_>, argument: &str, given: &str, needed: &str) -> PyErr {
    let reason = format!("needs the shape {needed}");
    fault(py, Fault::new(Kind::Buffer, argument, reason).value(given, ""))
}

/// A `TypeError` that names the argument.
pub(crate) fn wrong_type(argument: &str, needed: &str, given: &Bound<'_, PyAny>) -> PyErr {
    PyTypeError::new_err(format!("{argument}: {needed} is needed, not {}", typed(given)))
}

/// The name of something's type.
pub(crate) fn typed(given: &Bound<'_, PyAny>) -> String {
    given.get_type().name().map_or_else(|_| "something else".to_owned(), |name| name.to_string())
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
