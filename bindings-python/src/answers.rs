//! Numbers out: one for one, an array for an array, in new memory or where the caller wants them.

use crate::errors::{call, call_free, wrong_size, wrong_type};
use crate::quantity::Quantity;
use crate::stations::{Meant, Numbers, of_element, read_only, unravelled};
use neckwright::measure::Error;
use numpy::{Element, PyArrayDyn, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::PyFloat;
use std::ops::Range;

/// An array that the library writes its answers to.
pub(crate) type Out<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// Answers for numbers: a float for one, an array of the same shape for an array, written to `out` where it is given.
pub(crate) fn answered<'py>(
    given: &Bound<'py, PyAny>,
    meant: &Meant<'_>,
    out: Out<'_, 'py>,
    one: impl FnOnce(f64) -> Result<f64, Error>,
    many: impl FnOnce(&[f64], &mut [f64]) -> Result<(), Error> + Send,
) -> PyResult<Bound<'py, PyAny>> {
    let py = given.py();
    match Numbers::of(given, meant)? {
        Numbers::One(x) if out.is_none() => Ok(PyFloat::new(py, call(py, || one(x))?).into_any()),
        Numbers::One(x) => {
            let array = numpy::PyArray1::from_slice(py, &[x]).to_dyn().clone();
            let name = meant.name;
            let many =
                |x: &[f64], out: &mut [f64]| many(x, out).map_err(|error| unravelled(error, name, &[]));
            into_array(py, &array, &[], out, many)
        }
        Numbers::Many(array) => {
            let (name, shape) = (meant.name, array.shape());
            let many =
                |x: &[f64], out: &mut [f64]| many(x, out).map_err(|error| unravelled(error, name, shape));
            into_array(py, &array, shape, out, many)
        }
    }
}

fn into_array<'py>(
    py: Python<'py>,
    given: &Bound<'py, PyArrayDyn<f64>>,
    shape: &[usize],
    out: Out<'_, 'py>,
    many: impl FnOnce(&[f64], &mut [f64]) -> Result<(), Error> + Send,
) -> PyResult<Bound<'py, PyAny>> {
    let Some(out) = out else {
        // Of numpy's own making, which asks the system for large arrays in large pages.
        let answers = PyArrayDyn::<f64>::zeros(py, shape.to_vec(), false);
        written(py, given, &answers, many)?;
        return Ok(answers.into_any());
    };
    let Some(out) = out.cast::<PyArrayDyn<f64>>().ok().filter(|_| is_bare(out)) else {
        return Err(wrong_type("out", "an array of float64, without unit and mask,", out));
    };
    if out.shape() != shape {
        return Err(wrong_size(py, "out", &format!("{:?}", out.shape()), &format!("{shape:?}")));
    }
    if !out.is_c_contiguous() {
        return Err(PyTypeError::new_err("out: an array in C order is needed"));
    }
    // In place of the numbers that were given, they are read from a copy.
    let copy;
    let given = if overlap(&memory(given), &memory(out)) {
        copy = given.call_method1("copy", ("C",))?.cast_into::<PyArrayDyn<f64>>()?;
        &copy
    } else {
        given
    };
    written(py, given, out, many)?;
    Ok(out.clone().into_any())
}

fn written<'py>(
    py: Python<'py>,
    given: &Bound<'py, PyArrayDyn<f64>>,
    out: &Bound<'py, PyArrayDyn<f64>>,
    many: impl FnOnce(&[f64], &mut [f64]) -> Result<(), Error> + Send,
) -> PyResult<()> {
    let x = read_only(given)?;
    let x = x.as_slice()?;
    let mut out = out
        .try_readwrite()
        .map_err(|error| PyTypeError::new_err(format!("out: it can't be written to: {error}")))?;
    let out = out.as_slice_mut().map_err(|_| PyTypeError::new_err("out: it is not aligned"))?;
    call_free(py, || many(x, out))
}

/// Whether an array is one of numbers alone: one with a unit would give it to the answers, one with a mask hide some.
pub(crate) fn is_bare(array: &Bound<'_, PyAny>) -> bool {
    Quantity::of(array).is_none() && !array.hasattr("mask").unwrap_or(true)
}

/// The bytes that an array in C order lies in. Whose they are says nothing: two arrays may be of two owners that share them.
pub(crate) fn memory<T: Element>(array: &Bound<'_, PyArrayDyn<T>>) -> Range<usize> {
    let start = array.data() as usize;
    start..start + array.len() * size_of::<T>()
}

/// Whether two stretches of memory have a byte in common.
pub(crate) fn overlap(one: &Range<usize>, other: &Range<usize>) -> bool {
    one.start.max(other.start) < one.end.min(other.end)
}

/// One answer after the other; nothing is written before all are there. What is wrong with one number is told of that one.
pub(crate) fn each(
    name: &str,
    x: &[f64],
    out: &mut [f64],
    f: impl Fn(f64) -> Result<f64, Error>,
) -> Result<(), Error> {
    out.copy_from_slice(&all(name, x, f)?);
    Ok(())
}

/// The answer for each of several numbers, whatever it is.
pub(crate) fn all<T>(name: &str, x: &[f64], f: impl Fn(f64) -> Result<T, Error>) -> Result<Vec<T>, Error> {
    let one = |(i, x): (usize, &f64)| f(*x).map_err(|error| of_element(error, name, i));
    x.iter().enumerate().map(one).collect()
}
