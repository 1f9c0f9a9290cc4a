//! Gauges of the neck's sections.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::frame::Frame;
use crate::measure::{Error, Fault, Kind};
use crate::paper::draft::Draft;
use crate::paper::layer::Layer;
use crate::paper::offset::piece;
use crate::paper::path::{Path, Point, Segment};
use crate::paper::sections::{self, rows, top_ends};
use crate::paper::sheet::Sheet;
use crate::paper::station::{mm, name};
use crate::paper::text::{Anchor, TEXT_MM, Text};
use crate::shape::{Neck, Outline, Part, Section};
use crate::spec::{Hand, TemplateOptions};

/// Width of a plate's ears beside the neck, and its height below the spine, mm; common practice, no source: stiff enough of card,
/// and wide enough to hold.
const EAR_MM: f64 = 12.0;
const BODY_MM: f64 = 12.0;
/// The frets whose gauges are drawn where none are asked for; common practice, no source: those with markers, and the first.
const USUAL: [u32; 7] = [1, 3, 5, 7, 9, 12, 15];

/// Which of the two kinds a gauge is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Gauge {
    /// The neck's section itself, board and all: to lay on a drawing or to trace.
    Positive,
    /// A plate with the neck's back cut out, to hold against it: its upper edges lie on the glue line, so that it serves with
    /// the board on or off.
    Negative,
}

/// The stations of the gauges, mm; all faults of those that were asked for.
fn stations(neck: &Neck, options: &TemplateOptions) -> Result<Vec<f64>, Error> {
    let [from, to] = neck.shaft_reach_mm();
    let Some(given) = &options.gauge_stations else {
        let frets = neck.layout().frets().iter().filter(|f| USUAL.contains(&f.number)).map(|f| f.line.x_mm);
        let mut all: Vec<f64> = frets.filter(|x| *x >= from && *x <= to).collect();
        if all.len() < 2 {
            all = vec![from, 0.5 * (from + to), to];
        }
        return Ok(all);
    };
    let [first, last] = neck.wood_reach_mm();
    let (mut all, mut faults) = (Vec::new(), Vec::new());
    for (i, station) in given.iter().enumerate() {
        let path = format!("gauge_stations[{i}]");
        match neck.layout().station_at(station, &path) {
            Ok(x) if x >= first && x <= last => all.push(x),
            Ok(x) => {
                let fault =
                    Fault::new(Kind::OutsideNeck, path, "there is no wood of the neck at this station");
                let fault = fault.value(x, "mm").range(first, last);
                faults.push(fault.remedy("give a station between the headstock's tip and the heel's end"));
            }
            Err(error) => faults.extend_from_slice(error.faults()),
        }
    }
    Error::unless_none(faults)?;
    Ok(all)
}

/// The sections that the gauges are of: with the allowance on, where there is one.
fn cuts(neck: &Neck, options: &TemplateOptions) -> Result<Vec<Section>, Error> {
    let stations = stations(neck, options)?;
    let allowance = options.allowance.mm();
    if allowance <= 0.0 {
        return stations.into_iter().map(|x| neck.section(x)).collect();
    }
    let back = neck.thickened(allowance).ok_or_else(|| no_allowance(allowance))?;
    Ok(stations.into_iter().map(|x| neck.section_over(&back, x)).collect())
}

pub(super) fn no_allowance(allowance_mm: f64) -> Error {
    let reason = "no neck of so much more wood can be shown to lie outside the finished one";
    Fault::new(Kind::Geometry, "allowance", reason)
        .value(allowance_mm, "mm")
        .remedy("draw the templates of the finished neck, with an allowance of 0")
        .into()
}

fn no_top(station: usize, x: f64) -> Fault {
    let reason = "the wood's section has no level top here that a gauge could be laid out from";
    Fault::new(Kind::Geometry, format!("gauge_stations[{station}]"), reason)
        .value(x, "mm")
        .remedy("give a station a little farther along the neck")
}

/// The back's contour from the glue line's left end down and round to its right end, as a path of the section's own segments.
fn back(wood: &Outline) -> Option<Path> {
    let whole = sections::path(wood);
    let top = whole.corners(1).iter().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
    // Where the back runs up into the board, its points at the glue line are found by rounding.
    let on_top = |p: Point| p[1] > top - 1e-6;
    let n = whole.segments.len();
    let start = |i: usize| if i == 0 { whole.start } else { whole.segments[i - 1].end() };
    // Outlines run counter-clockwise: the top from the right to the left.
    let reach = |i: &usize| start(*i)[0] - whole.segments[*i].end()[0];
    let is_top = |i: &usize| {
        let segment = &whole.segments[*i];
        matches!(segment, Segment::Line(_)) && on_top(start(*i)) && on_top(segment.end())
    };
    let at = (0..n).filter(is_top).max_by(|a, b| reach(a).total_cmp(&reach(b)))?;
    let segments = (1..n).map(|k| whole.segments[(at + k) % n]).collect();
    Some(Path { start: whole.segments[at].end(), segments, closed: false })
}

/// The plate around a back: its ears, its lower edge, and the contour from the right to the left.
fn plate(contour: &Path) -> Path {
    let [left, right] = [contour.start, contour.segments.last().map_or(contour.start, Segment::end)];
    let [first, last] = bounds(contour);
    let (low, out) = (first[1] - BODY_MM, [first[0] - EAR_MM, last[0] + EAR_MM]);
    let mut segments: Vec<Segment> =
        [[out[0], low], [out[1], low], [out[1], right[1]], right].map(Segment::Line).into();
    let mut starts = vec![contour.start];
    starts.extend(contour.segments.iter().map(Segment::end));
    for (segment, to) in contour.segments.iter().zip(&starts).rev() {
        segments.push(match *segment {
            Segment::Line(_) => Segment::Line(*to),
            Segment::Cubic(a, b, _) => Segment::Cubic(b, a, *to),
            Segment::Arc { centre, counter_clockwise, .. } => {
                Segment::Arc { centre, to: *to, counter_clockwise: !counter_clockwise }
            }
        });
    }
    Path { start: [out[0], left[1]], segments, closed: true }
}

/// Lower left and upper right corner of a path, its curves looked at in sixteenths.
fn bounds(path: &Path) -> [Point; 2] {
    let corners = path.corners(16);
    let fold = |k: usize, f: fn(f64, f64) -> f64, from: f64| corners.iter().map(|p| p[k]).fold(from, f);
    [[0, 1].map(|k| fold(k, f64::min, f64::INFINITY)), [0, 1].map(|k| fold(k, f64::max, f64::NEG_INFINITY))]
}

/// The name of the station and of both sides within the gauge, where they stay on it when it is cut out; beside it where it has
/// no room for them.
fn words(draft: &mut Draft, station: &str, sides: [&str; 2], within: [Point; 2], heights: [f64; 2]) {
    let [low, high] = heights;
    let steps = (0..=8).map(|i| high - TEXT_MM - (high - TEXT_MM - low) * f64::from(i) / 8.0);
    let middle = 0.5 * (low + high - TEXT_MM);
    let below = draft.bounds()[0][1] - 1.0 - 1.7 * TEXT_MM;
    let places = core::iter::once(middle).chain(steps.clone()).chain([below]);
    draft.place(places.map(|y| Text::new([0.0, y], Anchor::Middle, station)));
    for (k, side) in sides.into_iter().enumerate() {
        let (anchor, way) = if k == 0 { (Anchor::Start, 1.0) } else { (Anchor::End, -1.0) };
        let inward = (1..12).map(|i| within[k][0] + way * (0.5 + 1.2 * f64::from(i)));
        let heights: Vec<f64> = core::iter::once(middle).chain(steps.clone()).collect();
        let at = |x: f64| heights.iter().map(move |y| [x, *y]).collect::<Vec<Point>>();
        let beside = draft.bounds()[k][0] - 1.5 * way;
        let outward = if k == 0 { Anchor::End } else { Anchor::Start };
        let inside = inward.flat_map(at).map(|at| Text::new(at, anchor, side));
        draft.place(inside.chain([Text::new([beside, middle], outward, side)]));
    }
}

/// A gauge in its own frame, the glue line at height 0; `None` where the section has no level top for it to be laid out from.
fn cell(neck: &Neck, section: &Section, kind: Gauge, options: &TemplateOptions) -> Option<Draft> {
    let wood = section.part_outline(Part::NeckWood)?;
    let contour = back(&wood)?;
    let (glue, spine) = (contour.start[1], bounds(&contour)[0][1]);
    let ends = top_ends(&wood);
    let outline = match kind {
        Gauge::Positive => sections::path(&section.outline()),
        Gauge::Negative => plate(&contour),
    };
    let [low, high] = bounds(&outline);
    let mut draft = Draft::default();
    piece(&mut draft, outline, options.offset.mm());
    let boarded = section.part_outline(Part::Fretboard).is_some();
    if kind == Gauge::Positive && boarded {
        draft.line(Layer::Edges, ends[0], ends[1]);
    }
    let sides = if neck.normalised().hand == Hand::Left { ["treble", "bass"] } else { ["bass", "treble"] };
    let station = name(neck, section.x_mm());
    // The centreline with a gap for the words.
    let (ticks, within, heights) = match kind {
        Gauge::Positive => {
            ([[high[1] + 3.0, glue], [spine + 1.5, low[1] - 3.0]], ends, [spine + 2.0, glue - 1.0])
        }
        Gauge::Negative => (
            [[glue + 3.0, spine - 2.5], [low[1] + 1.5, low[1] - 3.0]],
            [low, high],
            [low[1] + 2.0, spine - 3.0],
        ),
    };
    for [a, b] in ticks {
        draft.line(Layer::Centreline, [0.0, a], [0.0, b]);
    }
    words(&mut draft, &station, sides, within, heights);
    // Beyond the board there is no glue line to measure from.
    let on_board = (0.0..=neck.layout().board().end_mm()).contains(&section.x_mm());
    let top = if boarded || on_board { "glue line" } else { "face" };
    let mut y = draft.bounds()[0][1] - 1.0;
    for words in [
        format!("{} from {top} to spine", mm(glue - spine)),
        format!("{} wide at the {top}", mm(ends[1][0] - ends[0][0])),
    ] {
        y -= 1.7 * TEXT_MM;
        draft.text(Text::new([0.0, y], Anchor::Middle, words));
    }
    let mut level = Draft::default();
    level.take(draft, [0.0, -glue]);
    Some(level)
}

fn notes(neck: &Neck, kind: Gauge, options: &TemplateOptions) -> Vec<String> {
    let left = if neck.normalised().hand == Hand::Left { "treble" } else { "bass" };
    let mut notes = vec![match kind {
        Gauge::Positive => format!(
            "The neck's sections, board included, seen from the heel toward the nut: the {left} side is on the left. The thin line \
             is the glue line: cut there as well to use the gauge without its board. The rod's channel is left out."
        ),
        Gauge::Negative => format!(
            "Plates to hold square to the centreline against the back, seen from the heel toward the nut: the {left} side is on the \
             left. Their upper edges lie on the glue line, the underside of the board: a straight edge on the bare wood, or the \
             joint where the board is on, has to meet both."
        ),
    }];
    let allowance = options.allowance.mm();
    notes.push(if allowance > 0.0 {
        format!(
            "All have {} of wood to go at the spine, running out to nothing at the carve line: they fit before the last \
             shaping, not the finished neck.",
            mm(allowance)
        )
    } else {
        "All are of the finished neck.".into()
    });
    if !options.gauge_stations.as_deref().unwrap_or_default().is_empty() {
        notes.push("Sections are square to the crown line: a tilted headstock measures more in them than square to its face.".into());
    }
    notes
}

/// Gauges of one kind at the stations of [`TemplateOptions::gauge_stations`], with the wood of
/// [`TemplateOptions::allowance`] still on: each with its station, its centreline and the glue line, seen from the heel toward the
/// nut. The outlines are exact: lines, cubics, and the board's crown as an arc.
///
/// # Errors
/// - as [`TemplateOptions::check`];
/// - stations that were given and are not on the neck's wood, or whose section has no level top, named by their index; all of
///   them (a usual station without one is left out, and a note on the sheet says so);
/// - an allowance with which no neck can be shown to lie outside the finished one.
pub fn gauges(neck: &Neck, kind: Gauge, options: &TemplateOptions) -> Result<Sheet, Error> {
    options.check()?;
    let (mut cells, mut faults) = (Vec::new(), Vec::new());
    let mut notes = notes(neck, kind, options);
    for (i, section) in cuts(neck, options)?.iter().enumerate() {
        match cell(neck, section, kind, options) {
            Some(cell) => cells.push(cell),
            None if options.gauge_stations.is_some() => faults.push(no_top(i, section.x_mm())),
            // Nobody asked for this one.
            None => notes.push(format!(
                "None is drawn at {:.1} mm: the wood has no level top there to lay a gauge out from.",
                section.x_mm()
            )),
        }
    }
    Error::unless_none(faults)?;
    let (title, what) = match kind {
        Gauge::Positive => ("Section gauges of a neck, positive", "Section gauges, positive"),
        Gauge::Negative => ("Section gauges of a neck, negative", "Section gauges, negative"),
    };
    let frame = Frame {
        title,
        what: what.into(),
        notes,
        drawing: Box::new(move |width| rows(&cells, width)),
        tables: Vec::new(),
        placed: false,
    };
    Ok(frame.sheet(neck, options))
}
