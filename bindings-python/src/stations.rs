//! Numbers in: one, or an array of them.

use crate::errors::{call, fault, named, renamed, wrong_type};
use crate::given::converted;
use crate::number::{is_truth, plain};
use crate::quantity::Quantity;
use neckwright::measure::{Error, Fault, Kind};
use numpy::{
    IntoPyArray, PyArrayDyn, PyArrayMethods, PyReadonlyArrayDyn, PyUntypedArray, PyUntypedArrayMethods,
};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyFloat, PyList, PyMemoryView, PySequence, PyString, PyTuple};
use std::fmt::{Display, Formatter};

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
    /// Whether they are lengths, so that a quantity can be told in mm.
    pub lengths: bool,
}

impl Meant<'_> {
    /// Refuses a quantity.
    fn refused(&self, quantity: &Quantity<'_, '_>, path: String) -> Fault {
        if self.lengths {
            return quantity.no_length(path);
        }
        let wrong = Fault::new(Kind::WrongType, path, "numbers without a unit are needed here");
        wrong.value(quantity.shown(), "").remedy("give the number itself")
    }
}

/// An argument, or one number of it: `x_mm`, `x_mm[3]`, `x_mm[1, 2]`.
#[derive(Clone, Copy)]
pub(crate) struct Place<'a> {
    name: &'a str,
    /// Which number in C order, and the shape of all.
    index: Option<(usize, &'a [usize])>,
}

impl<'a> Place<'a> {
    pub fn of(name: &'a str, index: usize, shape: &'a [usize]) -> Self {
        Self { name, index: Some((index, shape)) }
    }

    fn whole(name: &'a str) -> Self {
        Self { name, index: None }
    }
}

impl Display for Place<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name)?;
        let Some((index, shape)) = self.index else { return Ok(()) };
        let mut below: usize = shape.iter().product();
        let mut rest = index;
        for (axis, size) in shape.iter().enumerate() {
            below /= (*size).max(1);
            let at = rest / below.max(1);
            rest %= below.max(1);
            write!(f, "{}{at}", if axis == 0 { "[" } else { ", " })?;
        }
        f.write_str("]")
    }
}

/// What is wrong with one number of an argument, told of that one.
pub(crate) fn of_element(error: Error, name: &str, index: usize) -> Error {
    renamed(error, |path| (path == name).then(|| format!("{name}[{index}]")))
}

/// The same of an array of several axes, where `name[5]` is its fifth number in C order.
pub(crate) fn unravelled(error: Error, name: &str, shape: &[usize]) -> Error {
    if shape.len() == 1 {
        return error;
    }
    renamed(error, |path| {
        if shape.is_empty() {
            return path.starts_with(name).then(|| name.to_owned());
        }
        let index = path.strip_prefix(name)?.strip_prefix('[')?.strip_suffix(']')?.parse().ok()?;
        Some(Place::of(name, index, shape).to_string())
    })
}

impl<'py> Numbers<'py> {
    pub fn of(given: &Bound<'py, PyAny>, meant: &Meant<'_>) -> PyResult<Self> {
        let array =
            !given.is_exact_instance_of::<PyFloat>() && given.is_exact_instance_of::<PyUntypedArray>();
        if array {
            // None of its own class hides anything.
            return match given.cast::<PyArrayDyn<f64>>() {
                Ok(array) => Self::in_order(array.clone()),
                Err(_) => Self::of_array(given, meant),
            };
        }
        if let Some(number) = plain(given) {
            return Ok(Self::One(number));
        }
        if given.is_instance_of::<PyString>() {
            return scalar(given, meant, Place::whole(meant.name)).map(Self::One);
        }
        // Before arrays: those of some packages are arrays of numpy too, with a unit that numpy would forget.
        if let Some(quantity) = Quantity::of(given) {
            return Self::of_quantity(&quantity, meant);
        }
        if is_list(given) {
            return Self::of_list(given, meant);
        }
        if is_array(given)? {
            return Self::of_array(given, meant);
        }
        scalar(given, meant, Place::whole(meant.name)).map(Self::One)
    }

    /// The one number that is asked for.
    pub fn one(given: &Bound<'py, PyAny>, meant: &Meant<'_>) -> PyResult<f64> {
        match Self::of(given, meant)? {
            Self::One(number) => Ok(number),
            Self::Many(_) => Err(wrong_type(meant.name, "one number", given)),
        }
    }

    fn of_quantity(quantity: &Quantity<'_, 'py>, meant: &Meant<'_>) -> PyResult<Self> {
        let refused = || fault(quantity.py(), meant.refused(quantity, meant.name.to_owned()));
        let told = if meant.lengths { quantity.mm()? } else { None };
        let told = told.ok_or_else(refused)?;
        if let Some(number) = plain(&told) {
            return Ok(Self::One(number));
        }
        // What is told has no unit any more, or it was no quantity.
        if Quantity::of(&told).is_some() && !told.is_instance_of::<PyUntypedArray>() {
            return Err(refused());
        }
        let no_text = |_: &str| Err(quantity.no_length("").into());
        let bare = told.py().import("numpy")?.call_method1("asarray", (told,))?;
        Self::of_array(&bare, &Meant { name: meant.name, text: &no_text, lengths: false })
    }

    /// Of a list with numbers, texts and quantities, as they come; of one with lists in it what numpy makes.
    fn of_list(given: &Bound<'py, PyAny>, meant: &Meant<'_>) -> PyResult<Self> {
        let mut all = Vec::new();
        for (i, one) in given.try_iter()?.enumerate() {
            let one = one?;
            if let Some(number) = plain(&one) {
                all.push(number);
            } else if is_list(&one) || (Quantity::of(&one).is_none() && is_array(&one)?) {
                check_nested(given, meant.name)?;
                return Self::of_array(given, meant);
            } else {
                all.push(scalar(&one, meant, Place::of(meant.name, i, &[usize::MAX]))?);
            }
        }
        Ok(Self::Many(all.into_pyarray(given.py()).to_dyn().clone()))
    }

    /// Of what numpy can make an array of.
    fn of_array(given: &Bound<'py, PyAny>, meant: &Meant<'_>) -> PyResult<Self> {
        let py = given.py();
        if let Ok(array) = given.cast::<PyArrayDyn<f64>>() {
            return Self::in_order(shown(array.as_any())?.cast_into()?);
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
                Self::in_order(plain.cast_into()?)
            }
            // Texts, quantities, fractions: one after the other.
            "O" | "U" => {
                let shape = array.getattr("shape")?.extract::<Vec<usize>>()?;
                let all = array.call_method0("ravel")?.call_method0("tolist")?;
                let one = |(i, one): (usize, PyResult<Bound<'py, PyAny>>)| {
                    scalar(&one?, meant, Place::of(meant.name, i, &shape))
                };
                let all = all.try_iter()?.enumerate().map(one).collect::<PyResult<Vec<f64>>>()?;
                Self::in_order(all.into_pyarray(py).call_method1("reshape", (&shape,))?.cast_into()?)
            }
            _ => Err(PyTypeError::new_err(format!("{}: an array of numbers is needed", meant.name))),
        }
    }

    fn in_order(array: Bound<'py, PyArrayDyn<f64>>) -> PyResult<Self> {
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

/// A sequence whose members are looked at one by one: a list, a tuple, a range, whatever says that it is one and does not lay
/// its memory open.
pub(crate) fn is_list(given: &Bound<'_, PyAny>) -> bool {
    given.is_instance_of::<PyList>()
        || given.is_instance_of::<PyTuple>()
        || (given.cast::<PySequence>().is_ok()
            && !given.is_instance_of::<PyString>()
            && PyMemoryView::from(given).is_err())
}

/// What numpy takes for an array: by its own protocols, or by memory that is laid open.
fn is_array(given: &Bound<'_, PyAny>) -> PyResult<bool> {
    Ok(given.hasattr("__array__")?
        || given.hasattr("__array_interface__")?
        || PyMemoryView::from(given).is_ok())
}

/// No array of numpy has more axes.
const MOST_AXES: usize = 64;
/// How many lists there may be in a list. What holds one list in many places has more of them than time has seconds.
const MOST_LISTS: usize = 4_000_000;

/// Refuses what numpy would take for numbers and is none, or would take for ever: truth values, quantities, whose unit it would
/// forget, what a mask hides, lists that hold themselves.
pub(crate) fn check_nested(list: &Bound<'_, PyAny>, name: &str) -> PyResult<()> {
    nested(list, name, MOST_AXES, &mut MOST_LISTS.clone())
}

fn nested(list: &Bound<'_, PyAny>, name: &str, depth: usize, left: &mut usize) -> PyResult<()> {
    let refused = |one: &Bound<'_, PyAny>| wrong_type(name, "an array of numbers", one);
    for one in list.try_iter()? {
        let one = one?;
        if plain(&one).is_some() || one.is_instance_of::<PyString>() {
            continue;
        }
        if is_truth(&one) || Quantity::of(&one).is_some() || !has_numbers(&one) {
            return Err(refused(&one));
        }
        if is_list(&one) {
            if depth == 0 || *left == 0 {
                return Err(refused(list));
            }
            *left -= 1;
            nested(&one, name, depth - 1, left)?;
        }
    }
    Ok(())
}

/// Whether an array within a list is one of numbers, none of them hidden; what is no array is not judged.
fn has_numbers(one: &Bound<'_, PyAny>) -> bool {
    let Ok(kind) = one.getattr("dtype").and_then(|sort| sort.getattr("kind")?.extract::<String>()) else {
        return true;
    };
    ["f", "i", "u"].contains(&kind.as_str()) && !one.hasattr("mask").unwrap_or(false)
}

/// What a masked array hides is no number.
pub(crate) fn shown<'py>(array: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    if array.hasattr("mask")? { array.call_method1("filled", (f64::NAN,)) } else { Ok(array.clone()) }
}

/// One number; a text is read, a quantity told in mm, and what is larger than any float is infinite.
fn scalar(given: &Bound<'_, PyAny>, meant: &Meant<'_>, place: Place<'_>) -> PyResult<f64> {
    let py = given.py();
    if let Some(number) = plain(given) {
        return Ok(number);
    }
    if let Ok(text) = given.cast::<PyString>() {
        let text = text.to_cow()?;
        return call(py, || (meant.text)(&text).map_err(|error| named(error, &place.to_string())));
    }
    if let Some(quantity) = Quantity::of(given) {
        let told = if meant.lengths { quantity.one("mm")? } else { None };
        return told.ok_or_else(|| fault(py, meant.refused(&quantity, place.to_string())));
    }
    let needed = "a number, a text like \"fret 5\", a quantity or an array of them";
    converted(given).ok_or_else(|| wrong_type(&place.to_string(), needed, given))
}

pub(crate) fn read_only<'py>(array: &Bound<'py, PyArrayDyn<f64>>) -> PyResult<PyReadonlyArrayDyn<'py, f64>> {
    let busy = |_| PyTypeError::new_err("the array is being written to by another call");
    array.try_readonly().map_err(busy)
}
