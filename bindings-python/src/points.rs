//! Arrays of points.

use crate::errors::{fault, wrong_size, wrong_type};
use crate::quantity::Quantity;
use crate::stations::{check_nested, is_list, shown};
use numpy::ndarray::{Dimension, Ix2};
use numpy::{
    Element, IntoPyArray, PyArray, PyArray2, PyArrayDyn, PyArrayMethods, PyUntypedArray,
    PyUntypedArrayMethods,
};
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyDict, PyTuple};

/// A new array with a row for each point.
pub(crate) fn array<'py, T: Element + Clone, const N: usize>(
    py: Python<'py>,
    points: &[[T; N]],
) -> PyResult<Bound<'py, PyArray2<T>>> {
    points.as_flattened().to_vec().into_pyarray(py).reshape([points.len(), N])
}

/// A number whose bytes an array is made of.
pub(crate) trait Plain: Element + Copy {
    type Bytes: AsRef<[u8]>;
    fn bytes(self) -> Self::Bytes;
}

macro_rules! plain {
    ($($of:ty),+) => {
        $(impl Plain for $of {
            type Bytes = [u8; size_of::<$of>()];

            fn bytes(self) -> Self::Bytes {
                self.to_ne_bytes()
            }
        })+
    };
}

plain!(f64, u32, i64);

/// An array that can't be written to, and can't be made so: its memory is that of an object of Python's that never changes.
/// What owns its memory may be given leave to write to it by anyone.
pub(crate) fn unchanging<'py, T: Plain, D: Dimension>(
    py: Python<'py>,
    numbers: &[T],
    shape: D,
) -> PyResult<Bound<'py, PyArray<T, D>>> {
    let memory = PyBytes::new_with(py, size_of_val(numbers), |memory| {
        for (place, number) in memory.chunks_exact_mut(size_of::<T>()).zip(numbers) {
            place.copy_from_slice(number.bytes().as_ref());
        }
        Ok(())
    })?;
    let made = PyDict::new(py);
    made.set_item("shape", PyTuple::new(py, shape.slice())?)?;
    made.set_item("dtype", T::get_dtype(py))?;
    made.set_item("buffer", memory)?;
    Ok(py.get_type::<PyUntypedArray>().call((), Some(&made))?.cast_into()?)
}

/// Points that can't be written to.
pub(crate) fn fixed<'py, T: Plain, const N: usize>(
    py: Python<'py>,
    points: &[[T; N]],
) -> PyResult<Bound<'py, PyArray2<T>>> {
    unchanging(py, points.as_flattened(), Ix2(points.len(), N))
}

/// Points in space, `(n, 3)`, of which a copy is made.
pub(crate) fn of_space(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<Vec<[f64; 3]>> {
    let py = given.py();
    if let Some(quantity) = Quantity::of(given) {
        let refused = || fault(py, quantity.no_length(argument));
        let told = quantity.mm()?.ok_or_else(refused)?;
        let bare = py.import("numpy")?.call_method1("asarray", (told,))?;
        return if Quantity::of(&bare).is_some() { Err(refused()) } else { of_space(&bare, argument) };
    }
    let kind = PyDict::new(py);
    kind.set_item("dtype", "float64")?;
    kind.set_item("order", "C")?;
    let wrong = || wrong_type(argument, "an array of points, (n, 3),", given);
    if is_list(given) {
        check_nested(given, argument)?;
    }
    let array = py.import("numpy")?.call_method1("asanyarray", (given,)).map_err(|_| wrong())?;
    if Quantity::of(&array).is_some() {
        return Err(wrong());
    }
    let sort: String = array.getattr("dtype")?.getattr("kind")?.extract()?;
    if !["f", "i", "u"].contains(&sort.as_str()) {
        return Err(wrong());
    }
    let float = shown(&array.call_method1("astype", ("float64",))?)?;
    let array = py.import("numpy")?.call_method("array", (float,), Some(&kind))?;
    let array = array.cast_into::<PyArrayDyn<f64>>()?;
    let [_, 3] = *array.shape() else {
        return Err(wrong_size(py, argument, &format!("{:?}", array.shape()), "(n, 3)"));
    };
    let read = array.readonly();
    let (points, _) = read.as_slice()?.as_chunks::<3>();
    Ok(points.to_vec())
}
