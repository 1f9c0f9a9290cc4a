//! What documents there are: their schemas, defaults and bounds.

use crate::boundary::give;
use crate::document::document;
use crate::error::Failure;
use crate::{NwDocument, NwError};
use neckwright::inspect::Readings;
use neckwright::spec::{
    BoundRow, CloudOptions, CopyOptions, DxfOptions, InspectionOptions, MendLimits, MeshOptions,
    PaperOptions, SolidOptions, Specification, Stock, TemplateOptions,
};

/// The specification of a neck.
pub const NW_SUBJECT_SPECIFICATION: u32 = 0;
/// The stock that a neck is made of, and the tools.
pub const NW_SUBJECT_STOCK: u32 = 1;
/// Readings of instruments.
pub const NW_SUBJECT_READINGS: u32 = 2;
/// Options of solids.
pub const NW_SUBJECT_SOLID_OPTIONS: u32 = 3;
/// Options of meshes.
pub const NW_SUBJECT_MESH_OPTIONS: u32 = 4;
/// Options of templates.
pub const NW_SUBJECT_TEMPLATE_OPTIONS: u32 = 5;
/// Options of pages.
pub const NW_SUBJECT_PAPER_OPTIONS: u32 = 6;
/// Options of DXF drawings.
pub const NW_SUBJECT_DXF_OPTIONS: u32 = 7;
/// Options of inspecting.
pub const NW_SUBJECT_INSPECTION_OPTIONS: u32 = 8;
/// Limits of mending.
pub const NW_SUBJECT_MEND_LIMITS: u32 = 9;
/// Options of copying from readings.
pub const NW_SUBJECT_COPY_OPTIONS: u32 = 10;
/// Options of scans.
pub const NW_SUBJECT_CLOUD_OPTIONS: u32 = 11;

#[derive(serde::Serialize)]
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

fn rows(rows: Vec<BoundRow>) -> Vec<Row> {
    let row = |r: BoundRow| Row {
        path: r.path,
        takes: r.takes,
        unit: r.unit,
        lowest: r.lowest,
        highest: r.highest,
        default: r.default,
        why: r.why,
        doc: r.doc,
    };
    rows.into_iter().map(row).collect()
}

/// The JSON Schema (2020-12) of a document that the library reads: `NW_SUBJECT_SPECIFICATION`,
/// `NW_SUBJECT_STOCK` or `NW_SUBJECT_READINGS`. Of the others there is the table of `nw_bounds`.
///
/// Fails with `NW_UNKNOWN_CHOICE` or `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_schema(
    subject: u32,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || match subject {
        NW_SUBJECT_SPECIFICATION => document(&Specification::schema()),
        NW_SUBJECT_STOCK => document(&Stock::schema()),
        NW_SUBJECT_READINGS => document(&Readings::schema()),
        _ => Err(Failure::unknown_choice("subject", subject, "those with a schema, 0 to 2")),
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// The table of bounds of a document that the library reads, one of `NW_SUBJECT_…` but readings: a list of
/// `path`, `takes`, `unit`, `lowest`, `highest` (null where there is none), `default`, `why` and `doc`.
///
/// Fails with `NW_UNKNOWN_CHOICE` or `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_bounds(
    subject: u32,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        let table = match subject {
            NW_SUBJECT_SPECIFICATION => Specification::bounds(),
            NW_SUBJECT_STOCK => Stock::bounds(),
            NW_SUBJECT_SOLID_OPTIONS => SolidOptions::bounds(),
            NW_SUBJECT_MESH_OPTIONS => MeshOptions::bounds(),
            NW_SUBJECT_TEMPLATE_OPTIONS => TemplateOptions::bounds(),
            NW_SUBJECT_PAPER_OPTIONS => PaperOptions::bounds(),
            NW_SUBJECT_DXF_OPTIONS => DxfOptions::bounds(),
            NW_SUBJECT_INSPECTION_OPTIONS => InspectionOptions::bounds(),
            NW_SUBJECT_MEND_LIMITS => MendLimits::bounds(),
            NW_SUBJECT_COPY_OPTIONS => CopyOptions::bounds(),
            NW_SUBJECT_CLOUD_OPTIONS => CloudOptions::bounds(),
            _ => {
                return Err(Failure::unknown_choice(
                    "subject",
                    subject,
                    "those with bounds, 0, 1 and 3 to 11",
                ));
            }
        };
        document(&rows(table))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}
