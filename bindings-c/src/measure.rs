//! Measures as builders write them, and what the trade's tables say.

use crate::argument::{buffer, text};
use crate::boundary::{boundary, give};
use crate::document::document;
use crate::error::Failure;
use crate::{NwDocument, NwError};
use neckwright::layout::{Temperament, try_sagitta_mm, usual_gauges_mm};
use neckwright::measure::{Angle, Length};
use neckwright::shape::{Fullness, density_kg_m3, fullness, known_species, scarf};
use neckwright::spec::Shape;
use std::ffi::c_char;

/// The nearest 64th of an inch.
pub const NW_ROUND_NEAREST: u32 = 0;
/// The next one above.
pub const NW_ROUND_UP: u32 = 1;
/// The next one below.
pub const NW_ROUND_DOWN: u32 = 2;

/// A length as builders write it, in mm: `43`, `4.3 cm`, `1 11/16 in`, `1-11/16"`.
///
/// Fails with `NW_UNREADABLE`, `NW_TOO_LARGE`, `NW_NULL_POINTER` or `NW_NOT_UTF8`.
///
/// Since 0.1.
///
/// # Safety
/// `text` is null or ends in a zero byte; `length_mm_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_length_mm(
    text: *const c_char,
    length_mm_out: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let text = unsafe { self::text(text, "text") }?;
        Ok(Length::parse(text)?.mm())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(length_mm_out, "length_mm_out", error_out, body) }
}

/// An angle as builders write it, in degrees.
///
/// Fails with `NW_UNREADABLE`, `NW_TOO_LARGE`, `NW_NULL_POINTER` or `NW_NOT_UTF8`.
///
/// Since 0.1.
///
/// # Safety
/// `text` is null or ends in a zero byte; `angle_deg_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_angle_deg(
    text: *const c_char,
    angle_deg_out: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let text = unsafe { self::text(text, "text") }?;
        Ok(Angle::parse(text)?.deg())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(angle_deg_out, "angle_deg_out", error_out, body) }
}

/// A length in inches to a 64th: `text`, such as `1 11/16 in`, `mm`, and `error_mm`, by how much that is more
/// than what was given. `rounding` is one of `NW_ROUND_…`.
///
/// Fails with `NW_OUT_OF_RANGE` for what is no number, or more than 1e6 mm either way, with `NW_UNKNOWN_CHOICE` or `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sixtyfourths(
    length_mm: f64,
    rounding: u32,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        let length = Length::try_from_mm(length_mm)?;
        let rounded = match rounding {
            NW_ROUND_NEAREST => length.nearest_64th(),
            NW_ROUND_UP => length.ceil_64th(),
            NW_ROUND_DOWN => length.floor_64th(),
            _ => {
                return Err(Failure::unknown_choice(
                    "rounding",
                    rounding,
                    "NW_ROUND_NEAREST (0) to NW_ROUND_DOWN (2)",
                ));
            }
        };
        document(&serde_json::json!({
            "text": rounded.to_string(),
            "mm": rounded.length().mm(),
            "error_mm": rounded.error_mm(),
        }))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// What rounding every fret's position to a grid of `grid_mm` does to its pitch: a list for frets 1 to
/// `fret_count`. `scale_mm`, `fret_count` and `divisions` are those of `nw_fret_positions_mm`, `grid_mm` a millionth to a tenth of the
/// scale.
///
/// Fails with `NW_OUT_OF_RANGE`, `NW_GEOMETRY` or `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_rounded_positions(
    scale_mm: f64,
    fret_count: u32,
    divisions: u32,
    grid_mm: f64,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || document(&Temperament::equal(divisions)?.rounded(scale_mm, fret_count, grid_mm)?);
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// How far the crown of a board with `radius_mm` (above 0; infinite for a flat board) has fallen at `y_mm` from its middle, mm.
///
/// Fails with `NW_OUT_OF_RANGE` for another radius or a place that the circle does not reach, or with `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `sagitta_mm_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_sagitta_mm(
    radius_mm: f64,
    y_mm: f64,
    sagitta_mm_out: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || Ok(try_sagitta_mm(radius_mm, y_mm)?);
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(sagitta_mm_out, "sagitta_mm_out", error_out, body) }
}

/// The scarf of a headstock that is tilted by `angle_deg` (1 to 45), in stock of `stock_mm` (1 to 200).
///
/// Fails with `NW_OUT_OF_RANGE` or `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_scarf(
    angle_deg: f64,
    stock_mm: f64,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || document(&scarf(angle_deg, stock_mm)?);
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// Usual diameters of `count` strings (1 to 12), mm, from the first (treble) on as the core's table has them, into
/// `gauges_mm`.
///
/// Fails with `NW_OUT_OF_RANGE` where no table has so many, with `NW_BUFFER` or `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `gauges_mm` is null or valid for `capacity` elements; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_usual_gauges_mm(
    count: u32,
    gauges_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        let all = usual_gauges_mm(count)?;
        // SAFETY: by this function's own condition.
        unsafe { buffer(gauges_mm, capacity, all.len(), "gauges_mm") }?.write(all);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The woods whose usual density the library knows: a list of `species` and `density_kg_m3`.
///
/// Fails with `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_known_woods(
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        let all: Vec<_> = known_species()
            .map(|species| serde_json::json!({ "species": species, "density_kg_m3": density_kg_m3(species) }))
            .collect();
        document(&all)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

#[derive(serde::Serialize)]
struct NamedShape {
    shape: Shape,
    shoulder: f64,
    belly: f64,
    lean: f64,
}

/// The shapes of a back that have a name, `C` and others, with the numbers behind it: a list of `shape`, `shoulder`, `belly` and
/// `lean`, all without a unit, as a specification's `shaft.profile` takes them.
///
/// Fails with `NW_NULL_POINTER`.
///
/// Since 0.1.
///
/// # Safety
/// `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_known_shapes(
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        let named = |shape: &Shape| {
            let Fullness { shoulder, belly, lean } = fullness(*shape);
            NamedShape { shape: *shape, shoulder, belly, lean }
        };
        document(&Shape::ALL.iter().map(named).collect::<Vec<_>>())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}
