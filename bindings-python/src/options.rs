//! Options: keyword arguments that the library reads as a document.

use crate::errors::call;
use crate::value::keywords;
use neckwright::measure::Error;
use neckwright::spec::{
    BoundRow, CloudOptions, CopyOptions, DxfOptions, InspectionOptions, MendLimits, MeshOptions,
    PaperOptions, SolidOptions, TemplateOptions,
};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde_json::Value;

/// A small document that is given by keywords.
pub(crate) trait Options: Sized {
    fn read(value: &Value) -> Result<Self, Error>;
    /// All of them, those that were not given too: what results are compared by.
    fn text(&self) -> String;
    fn bounds() -> Vec<BoundRow>;
}

macro_rules! options {
    ($($name:ident),+) => {
        $(impl Options for $name {
            fn read(value: &Value) -> Result<Self, Error> {
                Self::from_value(value)
            }

            fn text(&self) -> String {
                self.to_json()
            }

            fn bounds() -> Vec<BoundRow> {
                Self::bounds()
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
    call(py, || O::read(&value))
}
