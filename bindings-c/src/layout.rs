//! Frets, strings and the board of a neck.

use crate::along::at_stations;
use crate::argument::{apart, array, buffer, each, span, text};
use crate::boundary::{boundary, give};
use crate::document::document;
use crate::handle;
use crate::neck::{NwNeck, told};
use crate::{NwDocument, NwError};
use neckwright::layout::{Board, FretLine, Hump};
use neckwright::measure::{Error, Station};
use neckwright::shape::Neck;
use std::ffi::c_char;

#[derive(serde::Serialize)]
struct BoardFacts<'a> {
    start_mm: f64,
    end_mm: f64,
    nut_ends_mm: [f64; 2],
    thickness_mm: f64,
    binding_mm: f64,
    widths_mm: &'a [(f64, f64)],
    radius_at_nut_mm: Option<f64>,
    radius_growth: Option<f64>,
    least_edge_thickness_mm: f64,
    least_edge_thickness_at_mm: f64,
}

impl<'a> From<&'a Board> for BoardFacts<'a> {
    fn from(board: &'a Board) -> Self {
        let (radius, least) = (board.crown().law(), board.least_edge_thickness_mm());
        Self {
            start_mm: board.start_mm(),
            end_mm: board.end_mm(),
            nut_ends_mm: board.nut_ends_mm(),
            thickness_mm: board.thickness_mm(),
            binding_mm: board.binding_mm(),
            widths_mm: board.widths_mm(),
            radius_at_nut_mm: radius.map(|r| r.0),
            radius_growth: radius.map(|r| r.1),
            least_edge_thickness_mm: least.0,
            least_edge_thickness_at_mm: least.1,
        }
    }
}

#[derive(serde::Serialize)]
struct Whole<'a> {
    board: BoardFacts<'a>,
    scale_mm: f64,
    nut_line: FretLine,
    bridge_line: FretLine,
    total_wire_mm: f64,
    string_departures_cents: Vec<Vec<f64>>,
    humps: Vec<Hump>,
}

/// What of the layout is neither a fret nor a string: `scale_mm`, `nut_line` and `bridge_line` (each `x_mm` on the centreline and
/// `slope`, by how much `x` grows toward the treble side), `total_wire_mm`, `string_departures_cents` (for each string, for each fret,
/// how much sharp of the temperament it is stopped by length alone), and `humps` (for each string how the board stands off a straight
/// edge from the nut to the board's end: `height_mm`, `at_mm`), and the `board`: `start_mm`, `end_mm`, `nut_ends_mm` (where the nut's line
/// meets the edges), `thickness_mm`, `binding_mm`, `widths_mm` (station and width, straight in between), `radius_at_nut_mm` and
/// `radius_growth` for each mm of the station (null for a flat board), `least_edge_thickness_mm`, `least_edge_thickness_at_mm`. As on a
/// right-handed neck.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_layout(
    neck: *const NwNeck,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let layout = unsafe { handle::read(neck, "neck") }?.layout();
        document(&Whole {
            board: layout.board().into(),
            scale_mm: layout.scale_mm(),
            nut_line: layout.nut_line(),
            bridge_line: layout.bridge_line(),
            total_wire_mm: layout.total_wire_mm(),
            string_departures_cents: layout.string_departures_cents(),
            humps: layout.humps(),
        })
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(document_out, "document_out", error_out, body) }
}

/// How the board stands off a straight edge that is laid along a string's line from one station to another: `height_mm` and
/// `at_mm`. Strings count from 0, the bass string.
///
/// Fails with `NW_OUT_OF_RANGE` for a string that is not there, with `NW_OUTSIDE_NECK` or `NW_GEOMETRY` for stations off the board or
/// not in order, with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `document_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_hump(
    neck: *const NwNeck,
    string: usize,
    from_mm: f64,
    to_mm: f64,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let tell = |neck: &Neck| Ok(neck.layout().hump(string, from_mm, to_mm)?);
    // SAFETY: by this function's own condition.
    unsafe { told(neck, document_out, error_out, tell) }
}

/// Distances between the centres of a string and of the next one toward the treble side at `count` stations, mm, into `spacing_mm`.
/// Strings count from 0, the bass string.
///
/// Fails with `NW_OUT_OF_RANGE` where there are no such two strings, with `NW_OUTSIDE_NECK` for a station that is no number, with
/// `NW_NULL_POINTER`, `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` and `spacing_mm` are null or valid for `count` elements; `error_out` is null
/// or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_string_spacing_mm(
    neck: *const NwNeck,
    string: usize,
    x_mm: *const f64,
    count: usize,
    spacing_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read =
        |neck: &Neck, x: &[f64], out: &mut [f64]| each(x, out, |x| neck.layout().spacing_mm(string, x));
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, spacing_mm, ["x_mm", "spacing_mm"], error_out, read) }
}

/// Clear gaps between a string and the next one toward the treble side at `count` stations, mm, into `gap_mm`. Strings count from 0, the
/// bass string.
///
/// Fails as `nw_neck_string_spacing_mm`.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_neck_string_spacing_mm`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_string_gap_mm(
    neck: *const NwNeck,
    string: usize,
    x_mm: *const f64,
    count: usize,
    gap_mm: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |neck: &Neck, x: &[f64], out: &mut [f64]| each(x, out, |x| neck.layout().gap_mm(string, x));
    // SAFETY: by this function's own condition.
    unsafe { at_stations(neck, x_mm, count, gap_mm, ["x_mm", "gap_mm"], error_out, read) }
}

/// From the outer strings' outer sides to the board's edges at `count` stations, mm: bass and treble, two numbers for each station into
/// `margins_mm`. `capacity` is the number of elements that it has room for.
///
/// Fails with `NW_OUTSIDE_NECK` for a station that is not on the board, with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `x_mm` is null or valid for `count` elements, `margins_mm` for `capacity`; `error_out` is null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_margins_mm(
    neck: *const NwNeck,
    x_mm: *const f64,
    count: usize,
    margins_mm: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let (neck, stations) = unsafe { (handle::read(neck, "neck")?, array(x_mm, count, "x_mm")?) };
        let results = span(margins_mm, capacity.min(count.saturating_mul(2)), "margins_mm");
        apart(&[span(x_mm, count, "x_mm")], &[results])?;
        let margins = stations.iter().map(|x| neck.layout().try_margins_mm(*x).map(<[f64; 2]>::from));
        let all = margins.collect::<Result<Vec<_>, Error>>()?;
        let all = all.as_flattened();
        // SAFETY: by this function's own condition.
        unsafe { buffer(margins_mm, capacity, all.len(), "margins_mm") }?.write(all);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Where a station lies that is written as builders write it, such as `fret 5`, `nut`, `120` or `4 3/4 in`: mm from the nut.
///
/// Fails with `NW_UNREADABLE`, `NW_TOO_LARGE`, `NW_OUTSIDE_NECK`, `NW_NULL_POINTER`, `NW_NOT_UTF8` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `neck` is null or a handle that is not freed yet; `station` is null or ends in a zero byte; `x_mm_out` and `error_out` are null or
/// valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_neck_station_of_text_mm(
    neck: *const NwNeck,
    station: *const c_char,
    x_mm_out: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let (neck, station) = unsafe { (handle::read(neck, "neck")?, text(station, "station")?) };
        Ok(neck.layout().station_mm(&Station::parse(station)?)?)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(x_mm_out, "x_mm_out", error_out, body) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        NW_NOTHING_THERE, NW_OK, NW_OUT_OF_RANGE, nw_document_free, nw_document_json, nw_document_number,
        nw_document_part, nw_fret_positions_mm, nw_fret_positions_of_cents_mm,
        nw_fret_positions_of_ratios_mm, nw_neck_free, nw_neck_from_json, nw_neck_section_outline,
        nw_neck_specification, nw_neck_thickness_mm,
    };
    use std::ffi::CStr;
    use std::ptr::{null, null_mut};

    /// Makes a handle or panics.
    fn made<T>(call: impl FnOnce(*mut *mut T) -> u32) -> *mut T {
        let mut out = null_mut();
        assert_eq!(call(&raw mut out), NW_OK);
        out
    }

    fn neck(json: &CStr) -> *mut NwNeck {
        // SAFETY: a text that ends in a zero byte.
        made(|out| unsafe { nw_neck_from_json(json.as_ptr(), out, null_mut()) })
    }

    /// A number of a document.
    fn number(document: *const NwDocument, pointer: &CStr) -> f64 {
        let mut out = f64::NAN;
        // SAFETY: a live document, a text that ends in a zero byte.
        let code = unsafe { nw_document_number(document, pointer.as_ptr(), &raw mut out, null_mut()) };
        assert_eq!(code, NW_OK, "{pointer:?}");
        out
    }

    #[test]
    fn frets_by_cents_and_ratios_are_those_of_equal_divisions() {
        let cents: Vec<f64> = (1..=12).map(|n| 100.0 * f64::from(n)).collect();
        // The twelfth root of 2 and its powers; the last is the octave itself.
        let root = 1.0594630943592953;
        let mut ratios: Vec<f64> = std::iter::successors(Some(root), |r| Some(r * root)).take(11).collect();
        ratios.push(2.0);
        let mut found = [[0.0; 24]; 3];
        // SAFETY: buffers of the length that is told.
        unsafe {
            let [a, b, c] = found.each_mut().map(|buffer| buffer.as_mut_ptr());
            assert_eq!(nw_fret_positions_mm(640.0, 24, 12, a, 24, null_mut()), NW_OK);
            assert_eq!(
                nw_fret_positions_of_cents_mm(cents.as_ptr(), 12, 640.0, 24, b, 24, null_mut()),
                NW_OK
            );
            assert_eq!(
                nw_fret_positions_of_ratios_mm(ratios.as_ptr(), 12, 640.0, 24, c, 24, null_mut()),
                NW_OK
            );
            assert!(nw_fret_positions_of_cents_mm(null(), 0, 640.0, 1, b, 24, null_mut()) != NW_OK);
        }
        for (equal, other) in found[0].iter().zip(&found[1]).chain(found[0].iter().zip(&found[2])) {
            assert!((other - equal).abs() < 1e-9);
        }
        assert_eq!(found[0][11], 320.0);
    }

    #[test]
    fn strings_and_stations_of_a_neck() {
        let neck =
            neck(cr#"{"nut": {"width": 43, "string_spread": 36}, "strings": {"spacing": "even_centres"}}"#);
        let (x, mut spacing, mut gap, mut margins) = ([0.0], [0.0], [0.0], [0.0; 2]);
        // SAFETY: a live neck, buffers of the length that is told.
        unsafe {
            assert_eq!(
                nw_neck_string_spacing_mm(neck, 0, x.as_ptr(), 1, spacing.as_mut_ptr(), null_mut()),
                NW_OK
            );
            assert_eq!(nw_neck_string_gap_mm(neck, 0, x.as_ptr(), 1, gap.as_mut_ptr(), null_mut()), NW_OK);
            assert_eq!(nw_neck_margins_mm(neck, x.as_ptr(), 1, margins.as_mut_ptr(), 2, null_mut()), NW_OK);
            let none = nw_neck_string_spacing_mm(neck, 5, x.as_ptr(), 1, spacing.as_mut_ptr(), null_mut());
            assert_eq!(none, NW_OUT_OF_RANGE);
            // Six strings spread evenly over 36 mm, from centre to centre.
            assert!((spacing[0] - 7.2).abs() < 1e-12, "{spacing:?}");
            assert!(gap[0] < spacing[0] && gap[0] > spacing[0] - 2.0);
            assert!(margins.iter().all(|m| (2.5..3.5).contains(m)), "{margins:?}");

            let layout = made(|out| nw_neck_layout(neck, out, null_mut()));
            let mut station = 0.0;
            let at =
                |text: &CStr, out: *mut f64| nw_neck_station_of_text_mm(neck, text.as_ptr(), out, null_mut());
            assert_eq!(at(c"fret 12", &raw mut station), NW_OK);
            assert!((station - 0.5 * number(layout, c"/scale_mm")).abs() < 1e-9, "{station}");
            assert_eq!(at(c"4 in", &raw mut station), NW_OK);
            assert_eq!(station, 101.6);
            assert!(at(c"freet 5", &raw mut station) != NW_OK && station == 101.6);

            assert_eq!(number(layout, c"/nut_line/x_mm"), 0.0);
            assert_eq!(number(layout, c"/board/radius_at_nut_mm"), 305.0);
            let hump = made(|out| nw_neck_hump(neck, 0, 10.0, 300.0, out, null_mut()));
            assert!(number(hump, c"/height_mm") >= 0.0);
            let section = made(|out| nw_neck_section_outline(neck, 100.0, 0, out, null_mut()));
            assert!(number(section, c"/start_mm/0") < -20.0);
            for document in [layout, hump, section] {
                nw_document_free(document);
            }
            nw_neck_free(neck);
        }
    }

    #[test]
    fn a_part_of_a_document_makes_a_neck_again() {
        let first = neck(cr#"{"nut": {"width": "1 11/16 in"}, "hand": "left"}"#);
        // SAFETY: live handles, each freed once; texts that end in a zero byte.
        unsafe {
            let whole = made(|out| nw_neck_specification(first, out, null_mut()));
            let part = made(|out| nw_document_part(whole, c"".as_ptr(), out, null_mut()));
            let nut = made(|out| nw_document_part(whole, c"/nut".as_ptr(), out, null_mut()));
            let mut nothing = null_mut();
            let code = nw_document_part(whole, c"/nut/nothing".as_ptr(), &raw mut nothing, null_mut());
            assert!(code == NW_NOTHING_THERE && nothing.is_null());
            let json = |document| {
                let mut text = null();
                assert_eq!(nw_document_json(document, &raw mut text, null_mut()), NW_OK);
                CStr::from_ptr(text)
            };
            assert_eq!(json(whole), json(part));
            // It needs the whole no more.
            nw_document_free(whole);
            assert_eq!(number(nut, c"/width"), 42.8625);
            let second = neck(json(part));
            let (x, mut a, mut b) = ([10.0, 200.0], [0.0; 2], [1.0; 2]);
            assert_eq!(nw_neck_thickness_mm(first, x.as_ptr(), 2, a.as_mut_ptr(), null_mut()), NW_OK);
            assert_eq!(nw_neck_thickness_mm(second, x.as_ptr(), 2, b.as_mut_ptr(), null_mut()), NW_OK);
            assert_eq!(a.map(f64::to_bits), b.map(f64::to_bits));
            nw_document_free(part);
            nw_document_free(nut);
            nw_neck_free(first);
            nw_neck_free(second);
        }
    }
}
