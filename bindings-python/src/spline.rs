//! Numbers of splines: knots, how often each counts, parameters.

use crate::errors::fault;
use crate::given::Given;
use crate::points::unchanging;
use neckwright::measure::{Fault, Kind};
use neckwright::solid::Knots;
use numpy::PyArray1;
use numpy::ndarray::Ix1;
use pyo3::prelude::*;

/// Numbers that can't be written to.
pub(crate) fn numbers<'py>(py: Python<'py>, all: &[f64]) -> PyResult<Bound<'py, PyArray1<f64>>> {
    unchanging(py, all, Ix1(all.len()))
}

/// Counts that can't be written to.
pub(crate) fn counts<'py>(py: Python<'py>, all: &[usize]) -> PyResult<Bound<'py, PyArray1<i64>>> {
    let all: Vec<i64> = all.iter().map(|count| *count as i64).collect();
    unchanging(py, &all, Ix1(all.len()))
}

/// A parameter from the first knot to the last.
pub(crate) fn on(py: Python<'_>, knots: &Knots, given: Given<f64>, argument: &str) -> PyResult<f64> {
    let parameter = given.named(py, argument)?;
    let (Some(first), Some(last)) = (knots.values.first(), knots.values.last()) else { return Ok(parameter) };
    if (*first..=*last).contains(&parameter) {
        return Ok(parameter);
    }
    let wrong = Fault::new(Kind::OutOfRange, argument, "the spline is not there").value(parameter, "");
    Err(fault(py, wrong.range(*first, *last).remedy("give a parameter between its outer knots")))
}
