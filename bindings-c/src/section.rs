//! Sections: what a cut square to the centreline shows.

use crate::argument::{apart, array, buffer, span};
use crate::boundary::{boundary, give};
use crate::error::Failure;
use crate::handle;
use crate::neck::{NwNeck, side, told};
use crate::{NwDocument, NwError};
use neckwright::shape::{Bend, Moments, Outline, Part, Section};

/// Board and neck wood together, the rod's channel filled.
pub const NW_PART_WHOLE: u32 = 0;
/// The fretboard.
pub const NW_PART_FRETBOARD: u32 = 1;
/// The neck wood, the rod's channel filled.
pub const NW_PART_NECK_WOOD: u32 = 2;
/// What is cut out for the rod.
pub const NW_PART_CHANNEL: u32 = 3;

fn part(part: u32) -> Result<Option<Part>, Failure> {
    match part {
        NW_PART_WHOLE => Ok(None),
        NW_PART_FRETBOARD => Ok(Some(Part::Fretboard)),
        NW_PART_NECK_WOOD => Ok(Some(Part::NeckWood)),
        NW_PART_CHANNEL => Ok(Some(Part::Channel)),
        _ => Err(Failure::unknown_choice("part", part, "NW_PART_WHOLE (0) to NW_PART_CHANNEL (3)")),
    }
}

/// The outline of a part; an empty one where the section does not meet it.
fn outline(section: &Section, of: Option<Part>) -> Option<Outline> {
    of.map_or_else(|| Some(section.outline()), |of| section.part_outline(of))
}

/// Area and moments of the sections at `count` stations, six numbers for each station into `moments`: area in mm², the centroid's
/// `y` and `z` in mm, and about the centroid `∫(z−z̄)²`, `∫(y−ȳ)²` and `∫(y−ȳ)(z−z̄)` in mm⁴. Exact but for rounding; NaN for the
/// centroid and 0 for the others where the section does not meet the part. `part` is one of `NW_PART_…`, `capacity` the number of
/// elements that `moments` has room for, at least six times `count`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_UNKNOWN_CHOICE`, `NW_BUFFER`, `NW_OVERLAP`,
/// `NW_NULL_POINTER`, `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` is null or valid for `count` elements, `moments` for `capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_section_moments(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    part: u32,
    moments: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let (neck, stations) = unsafe { (handle::read(neck, "neck")?, array(x_mm, count, "x_mm")?) };
        let results = span(moments, capacity.min(count.saturating_mul(6)), "moments");
        apart(&[span(x_mm, count, "x_mm")], &[results])?;
        let of = self::part(part)?;
        let told = |m: Moments| {
            let centroid = if m.area_mm2 == 0.0 { [f64::NAN; 2] } else { m.centroid_mm() };
            let central = if m.area_mm2 == 0.0 { [0.0; 3] } else { m.central_mm4() };
            [m.area_mm2, centroid[0], centroid[1], central[0], central[1], central[2]]
        };
        let at = |x: &f64| {
            let section = neck.section(*x)?;
            Ok(told(of.map_or_else(|| section.moments(), |of| section.part_moments(of))))
        };
        let all: Vec<[f64; 6]> = stations.iter().map(at).collect::<Result<_, Failure>>()?;
        let all = all.as_flattened();
        // SAFETY: by this function's own condition.
        unsafe { buffer(moments, capacity, all.len(), "moments") }?.write(all);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The four control points of one side of the back at a station, from the carve line to the spine: `y` and `z` of each in mm, eight
/// numbers into `control_points_mm`. In the neck's frame: a left-handed neck's treble side has negative `y`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_NOTHING_THERE` beyond the end of the neck wood, with
/// `NW_UNKNOWN_CHOICE`, `NW_BUFFER`, `NW_NULL_POINTER`, `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `control_points_mm` is null or valid for `capacity` elements; `error_out` is null or
/// valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_section_control_points(
    neck: *const NwNeck,
    x_mm: f64,
    side: u32,
    control_points_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let neck = unsafe { handle::read(neck, "neck") }?;
        let points = neck.section(x_mm)?.control_points_mm(self::side(side)?).ok_or_else(|| {
            Failure::nothing_there("x_mm", &x_mm.to_string(), "the neck wood has ended before this station")
        })?;
        // SAFETY: by this function's own condition.
        let out = unsafe { buffer(control_points_mm, capacity, 8, "control_points_mm") }?;
        out.write(points.as_flattened());
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Where a section's back is bent most and least: `sharpest` and `flattest`, each with `curvature_per_mm` (positive where the back is
/// rounded outward), `side` and `at_mm` (`y` and `z`); null where no curve is carved.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_section_bends(
    neck: *const NwNeck,
    x_mm: f64,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let tell = |neck: &neckwright::shape::Neck| {
        let section = neck.section(x_mm)?;
        Ok(Bends { sharpest: section.sharpest(), flattest: section.flattest() })
    };
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, tell) }
}

#[derive(serde::Serialize)]
struct Bends {
    sharpest: Option<Bend>,
    flattest: Option<Bend>,
}

/// How many corners `nw_neck_section_polyline` writes, into `count_out`; 0 where the section does not meet the part.
///
/// Fails as `nw_neck_section_polyline`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `count_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_section_polyline_count(
    neck: *const NwNeck,
    x_mm: f64,
    part: u32,
    chord_mm: f64,
    count_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let section = unsafe { handle::read(neck, "neck") }?.section(x_mm)?;
        Ok(match outline(&section, self::part(part)?) {
            Some(outline) => outline.polyline(chord_mm)?.len(),
            None => 0,
        })
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(count_out, "count_out", error_out, body) }
}

/// Corners of a polyline around a part of the section at a station, none of it further than `chord_mm` (1e-6 to 10) from the outline:
/// `y` and `z` of each in mm into `corners_mm`, the last the same as the first. `part` is one of `NW_PART_…`, `capacity` the number of
/// elements that `corners_mm` has room for, at least twice `nw_neck_section_polyline_count`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_OUT_OF_RANGE`, `NW_UNKNOWN_CHOICE`, `NW_BUFFER`,
/// `NW_NULL_POINTER`, `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `corners_mm` is null or valid for `capacity` elements; `error_out` is null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_section_polyline(
    neck: *const NwNeck,
    x_mm: f64,
    part: u32,
    chord_mm: f64,
    corners_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let section = unsafe { handle::read(neck, "neck") }?.section(x_mm)?;
        let corners = match outline(&section, self::part(part)?) {
            Some(outline) => outline.polyline(chord_mm)?,
            None => Vec::new(),
        };
        let corners = corners.as_flattened();
        // SAFETY: by this function's own condition.
        unsafe { buffer(corners_mm, capacity, corners.len(), "corners_mm") }?.write(corners);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// The outline of a part of the section at a station, exact: `start_mm` (`y` and `z`), and `segments`, each from where the one before
/// ends, by its `kind`: a `line` or a `cubic` has its end, or its two handles and its end, in `to_mm`; a `crown` is the upper arc of a
/// circle about `y = 0`, `z = -radius_mm` to `y = to_y_mm`. Null where the section does not meet the part. `part` is one of `NW_PART_…`.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_UNKNOWN_CHOICE`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_section_outline(
    neck: *const NwNeck,
    x_mm: f64,
    part: u32,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let tell = |neck: &neckwright::shape::Neck| Ok(outline(&neck.section(x_mm)?, self::part(part)?));
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, tell) }
}
