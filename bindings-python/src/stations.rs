//! Numbers in and out: one for one, an array for an array.

use crate::errors::{call, call_free, wrong_size, wrong_type};
use crate::quantity::{is_quantity, length_mm};
use neckwright::measure::Error;
use numpy::{IntoPyArray, PyArrayDyn, PyArrayMethods, PyReadonlyArrayDyn, PyUntypedArrayMethods};
use pyo3::exceptions::{PyOverflowError, PyTypeError};
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyString, PyTuple};

/// An array that the library writes its answers to.
pub(crate) type Out<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// What was given for numbers of one kind, mm for the most part.
pub(crate) enum Numbers<'py> {
    One(f64),
    /// An array in C order, with memory of its own only where the one that was given could not be used as it is.
    Many(Bound<'py, PyArrayDyn<f64>>),
}

/// How an argument is called, and how a text is read that is given for it.
pub(crate) struct Meant<'a> {
    pub name: &'a str,
    pub text: &'a dyn Fn(&str) -> Result<f64, Error>,
}

impl<'py> Numbers<'py> {
    pub fn of(given: &Bound<'py, PyAny>, meant: &Meant<'_>) -> PyResult<Self> {
        let py = given.py();
        if given.is_instance_of::<PyFloat>() {
            return Ok(Self::One(given.extract()?));
        }
        if let Ok(array) = given.cast::<PyArrayDyn<f64>>() {
            return Self::of_array(shown(array.as_any())?.cast_into()?);
        }
        if is_quantity(given) {
            return Self::of(&length_mm(given, meant.name)?, meant);
        }
        let is_array = given.hasattr("__array__")? || given.hasattr("__array_interface__")?;
        if is_list(given) {
            // numpy would take their numbers and forget their units.
            if has_quantities(given, 64)? {
                let all =
                    given.try_iter()?.map(|one| scalar(&one?, meant)).collect::<PyResult<Vec<f64>>>()?;
                return Self::of_array(all.into_pyarray(py).to_dyn().clone());
            }
        } else if !is_array {
            return scalar(given, meant).map(Self::One);
        }
        let numpy = py.import("numpy")?;
        // What has no regular shape is no array.
        let array = numpy
            .call_method1("asanyarray", (given,))
            .map_err(|_| wrong_type(meant.name, "an array of numbers", given))?;
        let kind = array.getattr("dtype")?.getattr("kind")?.extract::<String>()?;
        match kind.as_str() {
            "f" | "i" | "u" => {
                let float = PyDict::new(py);
                float.set_item("dtype", "float64")?;
                float.set_item("order", "C")?;
                let shown = shown(&array.call_method1("astype", ("float64",))?)?;
                let plain = numpy.call_method("array", (shown,), Some(&float))?;
                Self::of_array(plain.cast_into()?)
            }
            // Texts, quantities, fractions: one after the other.
            "O" | "U" => {
                let shape = array.getattr("shape")?;
                let all = array.call_method0("ravel")?.call_method0("tolist")?;
                let all = all.try_iter()?.map(|one| scalar(&one?, meant)).collect::<PyResult<Vec<f64>>>()?;
                Self::of_array(all.into_pyarray(py).call_method1("reshape", (shape,))?.cast_into()?)
            }
            _ => Err(PyTypeError::new_err(format!("{}: an array of numbers is needed", meant.name))),
        }
    }

    fn of_array(array: Bound<'py, PyArrayDyn<f64>>) -> PyResult<Self> {
        if array.ndim() == 0 {
            return Ok(Self::One(array.call_method0("item")?.extract()?));
        }
        if array.is_c_contiguous() && array.is_aligned() {
            return Ok(Self::Many(array));
        }
        let plain = array.py().import("numpy")?.call_method1("array", (&array, "float64"))?;
        let plain = plain.call_method1("copy", ("C",))?;
        Ok(Self::Many(plain.cast_into()?))
    }
}

impl<'py> Numbers<'py> {
    /// As numpy takes them.
    pub fn object(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        Ok(match self {
            Self::One(x) => PyFloat::new(py, *x).into_any(),
            Self::Many(array) => array.clone().into_any(),
        })
    }

    /// All of them one after the other, and the shape that they were given in.
    pub fn listed(&self) -> PyResult<(Vec<f64>, Vec<usize>)> {
        match self {
            Self::One(x) => Ok((vec![*x], Vec::new())),
            Self::Many(array) => Ok((read_only(array)?.as_slice()?.to_vec(), array.shape().to_vec())),
        }
    }
}

fn is_list(given: &Bound<'_, PyAny>) -> bool {
    given.is_instance_of::<PyList>() || given.is_instance_of::<PyTuple>()
}

/// Whether a list, or one in it, has quantities among its numbers. No deeper than numpy's arrays have axes: what holds
/// itself is left to numpy to refuse.
fn has_quantities(list: &Bound<'_, PyAny>, depth: usize) -> PyResult<bool> {
    for one in list.try_iter()? {
        let one = one?;
        if one.is_instance_of::<PyFloat>() || one.is_instance_of::<PyInt>() {
            continue;
        }
        if is_list(&one) {
            if depth > 0 && has_quantities(&one, depth - 1)? {
                return Ok(true);
            }
        } else if is_quantity(&one) {
            return Ok(true);
        }
    }
    Ok(false)
}

/// What a masked array hides is no number.
fn shown<'py>(array: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    if array.hasattr("mask")? { array.call_method1("filled", (f64::NAN,)) } else { Ok(array.clone()) }
}

/// One number; a text is read, a quantity told in mm, and what is larger than any float is infinite.
fn scalar(given: &Bound<'_, PyAny>, meant: &Meant<'_>) -> PyResult<f64> {
    let py = given.py();
    if given.is_instance_of::<PyBool>() {
        return Err(wrong_type(meant.name, "a number", given));
    }
    if let Ok(text) = given.cast::<PyString>() {
        let text = text.to_cow()?;
        return call(py, || (meant.text)(&text));
    }
    if is_quantity(given) {
        return scalar(&length_mm(given, meant.name)?, meant);
    }
    if given.is_instance_of::<PyInt>() || given.hasattr("__float__")? || given.hasattr("__index__")? {
        return match given.extract::<f64>() {
            Err(error) if error.is_instance_of::<PyOverflowError>(py) => {
                Ok(if given.lt(0)? { f64::NEG_INFINITY } else { f64::INFINITY })
            }
            Err(_) => Err(wrong_type(meant.name, "a number", given)),
            good => good,
        };
    }
    Err(wrong_type(meant.name, "a number, a text like \"fret 5\", a quantity or an array of them", given))
}

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
            into_array(py, &array, &[], out, many)
        }
        Numbers::Many(array) => into_array(py, &array, array.shape(), out, many),
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
    let Ok(out) = out.cast::<PyArrayDyn<f64>>() else {
        return Err(wrong_type("out", "an array of float64", out));
    };
    if out.shape() != shape {
        return Err(wrong_size(py, "out", &format!("{:?}", out.shape()), &format!("{shape:?}")));
    }
    if !out.is_c_contiguous() {
        return Err(PyTypeError::new_err("out: an array in C order is needed"));
    }
    // In place of the numbers that were given, they are read from a copy.
    let shared = {
        let read = given.try_readonly();
        read.is_ok() && out.try_readwrite().is_err()
    };
    let copy;
    let given = if shared {
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

fn read_only<'py>(array: &Bound<'py, PyArrayDyn<f64>>) -> PyResult<PyReadonlyArrayDyn<'py, f64>> {
    let busy = |_| PyTypeError::new_err("the array is being written to by another call");
    array.try_readonly().map_err(busy)
}

/// One answer after the other; nothing is written before all are there.
pub(crate) fn each(x: &[f64], out: &mut [f64], f: impl Fn(f64) -> Result<f64, Error>) -> Result<(), Error> {
    let all: Vec<f64> = x.iter().map(|x| f(*x)).collect::<Result<_, _>>()?;
    out.copy_from_slice(&all);
    Ok(())
}
