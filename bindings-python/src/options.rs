//! Options: keyword arguments that the library reads as a document.

use crate::errors::call;
use crate::subject::Subject;
use crate::value::keywords;
use neckwright::spec::{
    CloudOptions, CopyOptions, DxfOptions, InspectionOptions, MendLimits, MeshOptions, PaperOptions,
    SolidOptions, TemplateOptions,
};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A small document that is given by keywords.
pub(crate) trait Options: Subject {
    /// All of them, those that were not given too: what results are compared by.
    fn text(&self) -> String;
}

macro_rules! options {
    ($($name:ident),+) => {
        $(impl Options for $name {
            fn text(&self) -> String {
                self.to_json()
            }
        })+
    };
}

options!(
    CloudOptions,
    CopyOptions,
    DxfOptions,
    InspectionOptions,
    MendLimits,
    MeshOptions,
    PaperOptions,
    SolidOptions,
    TemplateOptions
);

/// # Errors
/// - `NeckwrightError`, `TypeError`: as of any document.
pub(crate) fn options<O: Options>(py: Python<'_>, given: Option<&Bound<'_, PyDict>>) -> PyResult<O> {
    let value = keywords(given, O::bounds)?;
    call(py, || O::from_value(&value))
}
