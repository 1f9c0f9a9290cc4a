//! For tests: a library that panics.

use crate::errors::{call, call_free};
use crate::record::record;
use neckwright::measure::Error;
use pyo3::prelude::*;
use serde::{Serialize, Serializer};

struct Panics;

impl Serialize for Panics {
    fn serialize<S: Serializer>(&self, _: S) -> Result<S::Ok, S::Error> {
        panic!("seven frets too many")
    }
}

/// Panics where the library is called, with the interpreter's lock (`"held"`) or without (`"free"`), or tells its answer.
#[pyfunction]
pub(crate) fn panic(py: Python<'_>, place: &str) -> PyResult<()> {
    let body = || -> Result<(), Error> { panic!("seven frets too many") };
    match place {
        "free" => call_free(py, body),
        "held" => call(py, body),
        _ => record(py, &Panics).map(drop),
    }
}
