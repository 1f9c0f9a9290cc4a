//! What documents there are: their schemas, defaults and bounds.

use crate::choice::choice;
use crate::errors::ask;
use crate::given::Given;
use crate::record::record;
use neckwright::inspect::Readings;
use neckwright::measure::Error;
use neckwright::spec::{
    BoundRow, CloudOptions, CopyOptions, DxfOptions, InspectionOptions, MendLimits, MeshOptions,
    PaperOptions, SolidOptions, Specification, Stock, TemplateOptions,
};
use pyo3::prelude::*;
use serde_json::Value;

/// Whose documents are read by tables of bounds.
pub(crate) trait Subject: Sized {
    fn from_value(value: &Value) -> Result<Self, Error>;
    fn bounds() -> Vec<BoundRow>;
}

macro_rules! subject {
    ($($name:ident),+) => {
        $(impl Subject for $name {
            fn from_value(value: &Value) -> Result<Self, Error> {
                Self::from_value(value)
            }

            fn bounds() -> Vec<BoundRow> {
                Self::bounds()
            }
        })+
    };
}

subject!(
    Specification,
    Stock,
    SolidOptions,
    MeshOptions,
    TemplateOptions,
    PaperOptions,
    DxfOptions,
    InspectionOptions,
    MendLimits,
    CopyOptions,
    CloudOptions
);

type Schema = fn() -> Value;
type Table = fn() -> Vec<BoundRow>;

#[derive(serde::Serialize)]
#[serde(rename = "BoundRow")]
struct Row {
    path: String,
    takes: String,
    unit: &'static str,
    lowest: Option<f64>,
    highest: Option<f64>,
    default: String,
    why: &'static str,
    doc: &'static str,
}

impl From<BoundRow> for Row {
    fn from(row: BoundRow) -> Self {
        Self {
            path: row.path,
            takes: row.takes,
            unit: row.unit,
            lowest: row.lowest,
            highest: row.highest,
            default: row.default,
            why: row.why,
            doc: row.doc,
        }
    }
}

/// The JSON Schema (2020-12) of a document that the library reads.
///
/// Parameters
/// ----------
/// subject : {"specification", "stock", "readings"}
///     Of which.
///
/// Returns
/// -------
/// dict
///
/// Raises
/// ------
/// NeckwrightError
///     A word for none of them.
///
/// Examples
/// --------
/// >>> from neckwright import schema
/// >>> schema("stock")["type"]
/// 'object'
///
/// Notes
/// -----
/// Rust: ``spec::Specification::schema``, ``spec::Stock::schema``, ``inspect::Readings::schema``. C: ``nw_schema``.
#[pyfunction]
pub(crate) fn schema<'py>(py: Python<'py>, subject: Given<String>) -> PyResult<Bound<'py, PyAny>> {
    let all: [(&str, Schema); 3] =
        [("specification", Specification::schema), ("stock", Stock::schema), ("readings", Readings::schema)];
    let made = choice(py, subject, "subject", &all)?;
    record(py, &ask(py, made)?)
}

/// The table of bounds of a document or of options: every field with what it takes, its unit, range, default, and why.
///
/// Parameters
/// ----------
/// subject : str
///     ``"specification"``, ``"stock"``, ``"solid_options"``, ``"mesh_options"``, ``"template_options"``, ``"paper_options"``,
///     ``"dxf_options"``, ``"inspection_options"``, ``"mend_limits"``, ``"copy_options"`` or ``"cloud_options"``.
///
/// Returns
/// -------
/// tuple of records.BoundRow
///
/// Raises
/// ------
/// NeckwrightError
///     A word for none of them.
///
/// Examples
/// --------
/// >>> from neckwright import bounds
/// >>> row = [row for row in bounds("specification") if row.path == "nut.width"][0]
/// >>> row.lowest, row.highest, row.unit
/// (15.0, 120.0, 'mm')
///
/// Notes
/// -----
/// Rust: ``spec::Specification::bounds``, ``spec::Stock::bounds``. C: ``nw_bounds``.
#[pyfunction]
pub(crate) fn bounds<'py>(py: Python<'py>, subject: Given<String>) -> PyResult<Bound<'py, PyAny>> {
    let all: [(&str, Table); 11] = [
        ("specification", Specification::bounds),
        ("stock", Stock::bounds),
        ("solid_options", SolidOptions::bounds),
        ("mesh_options", MeshOptions::bounds),
        ("template_options", TemplateOptions::bounds),
        ("paper_options", PaperOptions::bounds),
        ("dxf_options", DxfOptions::bounds),
        ("inspection_options", InspectionOptions::bounds),
        ("mend_limits", MendLimits::bounds),
        ("copy_options", CopyOptions::bounds),
        ("cloud_options", CloudOptions::bounds),
    ];
    let made = choice(py, subject, "subject", &all)?;
    record(py, &ask(py, || made().into_iter().map(Row::from).collect::<Vec<_>>())?)
}
