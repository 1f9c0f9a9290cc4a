//! Arrays of points.

use crate::errors::{wrong_size, wrong_type};
use numpy::{Element, IntoPyArray, PyArray2, PyArrayDyn, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A new array with a row for each point.
pub(crate) fn array<'py, T: Element + Clone, const N: usize>(
    py: Python<'py>,
    points: &[[T; N]],
) -> PyResult<Bound<'py, PyArray2<T>>> {
    points.as_flattened().to_vec().into_pyarray(py).reshape([points.len(), N])
}

/// An array that can't be written to, so that whoever has it can't change what it was made from.
pub(crate) fn fixed<'py, T: Element + Clone, const N: usize>(
    py: Python<'py>,
    points: &[[T; N]],
) -> PyResult<Bound<'py, PyArray2<T>>> {
    let made = array(py, points)?;
    made.call_method1("setflags", (false,))?;
    Ok(made)
}

/// Points in space, `(n, 3)`, of which a copy is made.
pub(crate) fn of_space(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<Vec<[f64; 3]>> {
    let py = given.py();
    let kind = PyDict::new(py);
    kind.set_item("dtype", "float64")?;
    kind.set_item("order", "C")?;
    let wrong = || wrong_type(argument, "an array of points, (n, 3),", given);
    let array = py.import("numpy")?.call_method1("asarray", (given,)).map_err(|_| wrong())?;
    let sort: String = array.getattr("dtype")?.getattr("kind")?.extract()?;
    if !["f", "i", "u"].contains(&sort.as_str()) {
        return Err(wrong());
    }
    let array = py.import("numpy")?.call_method("array", (array,), Some(&kind))?;
    let array = array.cast_into::<PyArrayDyn<f64>>()?;
    let [_, 3] = *array.shape() else {
        return Err(wrong_size(py, argument, &format!("{:?}", array.shape()), "(n, 3)"));
    };
    let read = array.readonly();
    let (points, _) = read.as_slice()?.as_chunks::<3>();
    Ok(points.to_vec())
}
