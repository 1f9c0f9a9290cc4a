//! Plain numbers: what is one by itself, without a text to read or a unit to tell it in.

use pyo3::exceptions::PyOverflowError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBool, PyFloat, PyInt, PyType};

/// numpy's real numbers. Not `timedelta64`, which is one of its integers by descent.
const NUMPY: [&str; 15] = [
    "float64",
    "int64",
    "float32",
    "int32",
    "float16",
    "longdouble",
    "int8",
    "int16",
    "uint8",
    "uint16",
    "uint32",
    "uint64",
    "longlong",
    "ulonglong",
    "intc",
];

fn numpy(py: Python<'_>) -> PyResult<&[Py<PyType>]> {
    static TYPES: PyOnceLock<Vec<Py<PyType>>> = PyOnceLock::new();
    let types = TYPES.get_or_try_init(py, || {
        let numpy = py.import("numpy")?;
        let of = |name| Ok(numpy.getattr(name)?.cast_into::<PyType>()?.unbind());
        NUMPY.into_iter().map(of).collect::<PyResult<Vec<_>>>()
    })?;
    Ok(types)
}

/// A number of Python or numpy; `None` for anything else, truth values too.
pub(crate) fn plain(given: &Bound<'_, PyAny>) -> Option<f64> {
    if given.is_exact_instance_of::<PyFloat>() {
        return given.extract().ok();
    }
    let of = given.get_type();
    let known = given.is_exact_instance_of::<PyInt>()
        || numpy(given.py()).is_ok_and(|all| all.iter().any(|known| of.is(known)));
    if known { number(given).ok() } else { None }
}

/// The number of what can be made one; what is larger than any float is infinite.
pub(crate) fn number(given: &Bound<'_, PyAny>) -> PyResult<f64> {
    match given.extract::<f64>() {
        Err(error) if error.is_instance_of::<PyOverflowError>(given.py()) => {
            Ok(if given.lt(0)? { f64::NEG_INFINITY } else { f64::INFINITY })
        }
        made => made,
    }
}

/// A truth value, which Python counts among the integers.
pub(crate) fn is_truth(given: &Bound<'_, PyAny>) -> bool {
    static NUMPY: PyOnceLock<Py<PyType>> = PyOnceLock::new();
    given.is_instance_of::<PyBool>()
        || NUMPY
            .import(given.py(), "numpy", "bool_")
            .is_ok_and(|truth| given.is_instance(truth).unwrap_or(false))
}
