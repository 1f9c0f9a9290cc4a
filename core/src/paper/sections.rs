//! Sections of the neck, side by side.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::block::{Words, blocks};
use super::dimension::Dimension;
use super::draft::{Draft, EDGE_MM};
use super::flow::{flow, lefts};
use super::layer::Layer;
use super::legend::NECK;
use super::path::{Path, Point, Segment};
use super::sheet::Sheet;
use super::station::{mm, name};
use super::text::{Anchor, TEXT_MM, Text};
use crate::measure::{Error, Station};
use crate::shape::{Neck, Outline, Part, Section, Segment as Bent, Side, Sides, sagitta_mm};
use crate::spec::Hand;

/// Clear space between neighbouring sections, mm.
pub(super) const APART_MM: f64 = 9.0;
/// A4, A3 and A2 lying, mm.
const PAPERS: [Point; 3] = [[297.0, 210.0], [420.0, 297.0], [594.0, 420.0]];

/// The outline with its own segments: lines, cubics, and the crown as an arc.
pub(super) fn path(outline: &Outline) -> Path {
    let segments = outline
        .walk()
        .map(|(from, segment)| match *segment {
            Bent::Line(to) => Segment::Line(to),
            Bent::Cubic(a, b, to) => Segment::Cubic(a, b, to),
            Bent::Crown { radius, to_y } => {
                Segment::Arc { centre: [0.0, -radius], to: segment.end(), counter_clockwise: to_y < from[0] }
            }
        })
        .collect();
    Path { start: outline.start, segments, closed: true }
}

/// One section with its measures, in its own frame.
fn cell(neck: &Neck, section: &Section) -> Draft {
    let mut draft = Draft::default();
    let x = section.x_mm();
    draft.path(Layer::Outline, path(&section.outline()));
    let [low, high] = draft.bounds();
    let wood = section.part_outline(Part::NeckWood);
    if let (Some(_), Some(wood)) = (section.part_outline(Part::Fretboard), &wood) {
        let [left, right] = top_ends(wood);
        draft.line(Layer::Edges, left, right);
    }
    if let Some(channel) = section.part_outline(Part::Channel) {
        draft.path(Layer::Edges, path(&channel));
    }
    let carve = Sides::each(|side| section.control_points_mm(side).map(|p| p[0]));
    let spine = -neck.laws().spine_depth.value(x);
    for side in Side::BOTH {
        // A short stroke outward where the flat side ends and the carve begins.
        if let Some(p) = carve.of(side).filter(|p| p[1] > spine + 0.2) {
            let out = if p[0] < 0.0 { -1.0 } else { 1.0 };
            draft.line(Layer::Dimensions, [p[0] + out, p[1]], [p[0] + 4.0 * out, p[1]]);
        }
    }
    draft.line(Layer::Centreline, [0.0, low[1] - 3.0], [0.0, high[1] + 3.0]);
    let (width, thickness) = (neck.width_mm(x).unwrap_or_default(), neck.thickness_mm(x).unwrap_or_default());
    let top = section
        .part_outline(Part::Fretboard)
        .map_or_else(|| section.part_outline(Part::NeckWood).map_or(0.0, |w| w.start[1]), |_| 0.0);
    draft.dimension(Dimension::upright([[0.0, top - thickness], [0.0, top]], high[0] + 7.0, mm(thickness)));
    let edges = widest(neck, section, width);
    draft.dimension(Dimension::level(edges, high[1] + 4.0, mm(width)));
    let mut y = low[1] - 5.0 - 3.2;
    draft.text(Text::new([0.0, y], Anchor::Middle, name(neck, x)).high(3.2));
    for words in words(neck, section, &carve) {
        y -= 1.8 * TEXT_MM;
        draft.text(Text::new([0.0, y], Anchor::Middle, words));
    }
    // Sections of a tilted headstock lie deep: each is drawn with its top at the same height.
    let mut level = Draft::default();
    level.take(draft, [0.0, -top]);
    level
}

/// Left and right end of an outline's level top, from whichever point it begins and whichever way it runs.
pub(super) fn top_ends(outline: &Outline) -> [Point; 2] {
    let corners = || outline.walk().map(|(from, _)| from);
    let top = corners().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
    // Where the back runs up into the board, its points at the glue line are found by rounding.
    let on_top = || corners().filter(|p| p[1] > top - 1e-6);
    let least = |p: Point, q: Point| if q[0] < p[0] { q } else { p };
    let most = |p: Point, q: Point| if q[0] > p[0] { q } else { p };
    [on_top().reduce(least), on_top().reduce(most)].map(|p| p.unwrap_or(outline.start))
}

/// The two points between which the width is measured: the board's top edges, or the edges of the wood's face.
fn widest(neck: &Neck, section: &Section, width: f64) -> [Point; 2] {
    let x = section.x_mm();
    let board = neck.layout().board();
    if (0.0..=board.end_mm()).contains(&x) {
        let half = 0.5 * width;
        let z = board.crown().radius_mm(x).map_or(0.0, |r| -sagitta_mm(r, half));
        return [[-half, z], [half, z]];
    }
    section.part_outline(Part::NeckWood).map_or([[0.0; 2]; 2], |wood| top_ends(&wood))
}

fn words(neck: &Neck, section: &Section, carve: &Sides<Option<Point>>) -> Vec<String> {
    let x = section.x_mm();
    let mut words = Vec::new();
    if x < 0.0 || x > neck.layout().board().end_mm() {
        return words;
    }
    words.push(format!("girth {}", mm(section.girth_mm())));
    if let (Some(b), Some(t)) = (carve.bass, carve.treble) {
        let spine = neck.laws().spine_depth.value(x);
        let (b, t) = (-b[1], -t[1]);
        if b < spine - 0.2 || t < spine - 0.2 {
            words.push(if libm::fabs(b - t) < 5e-3 {
                format!("carve line {} down", mm(b))
            } else {
                format!("carve line {} bass, {} treble", mm(b), mm(t))
            });
        }
    }
    if let Ok(Some(wall)) = neck.rod_wall_mm(x) {
        words.push(format!("rod wall {}", mm(wall)));
    }
    words
}

/// Puts the cells in rows no wider than asked, each a block of its own, their crowns level; the upper left corner lies at `(0, 0)`.
pub(super) fn rows(cells: &[Draft], width: f64) -> Draft {
    let mut all = Draft::default();
    let mut top = 0.0;
    let mut rest = cells;
    while !rest.is_empty() {
        let bounds: Vec<[Point; 2]> = rest.iter().map(Draft::bounds).collect();
        let mut right = 0.0;
        let wide = |b: &[Point; 2]| b[1][0] - b[0][0];
        let fitting = bounds.iter().take_while(|b| {
            right += wide(b) + APART_MM;
            right - APART_MM <= width
        });
        let count = fitting.count().max(1);
        let taken: f64 = bounds[..count].iter().map(|b| wide(b) + APART_MM).sum();
        // A full row is spread out; a last one keeps to the left.
        let spread =
            if count < rest.len() { (width + APART_MM - taken).max(0.0) / count as f64 } else { 0.0 };
        let above = bounds[..count].iter().map(|b| b[1][1]).fold(f64::NEG_INFINITY, f64::max);
        let below = bounds[..count].iter().map(|b| b[0][1]).fold(f64::INFINITY, f64::min);
        let mut left = 0.0;
        for (cell, bound) in rest[..count].iter().zip(&bounds) {
            all.stand(cell.clone(), [left - bound[0][0], top - above]);
            left += wide(bound) + APART_MM + spread;
        }
        top -= above - below + 7.0;
        rest = &rest[count..];
    }
    all
}

/// Sections at the stations given, each with its station's name, width, thickness, girth, carve line and rod wall,
/// seen from the heel toward the nut, in rows on the smallest of A4, A3 and A2 (lying) that holds them, or on as
/// much paper as they need.
///
/// The outlines are exact: lines, cubics, and the board's crown as an arc.
///
/// # Errors
/// - a station that is not on the neck, named by its index; all of them.
pub fn sections(neck: &Neck, stations: &[Station]) -> Result<Sheet, Error> {
    let mut faults = Vec::new();
    let mut cells = Vec::new();
    for (i, station) in stations.iter().enumerate() {
        match neck.layout().station_mm(station).and_then(|x| neck.section(x)) {
            Ok(section) => cells.push(cell(neck, &section)),
            Err(error) => faults.extend(error.faults().iter().cloned().map(|mut fault| {
                fault.path = format!("stations[{i}]");
                fault
            })),
        }
    }
    Error::unless_none(faults)?;
    let left = if neck.normalised().hand == Hand::Left { "treble" } else { "bass" };
    let notes = vec![format!(
        "The {left} side is on the left. Short strokes beside a section mark its carve line. Thickness is read from the \
         crown to the spine, frets not counted; girth is a tape around the back from edge to edge of the board; rod \
         wall is the least wood left behind the channel in that section. Sections are square to the crown line: a \
         tilted headstock measures more in them than square to its face."
    )];
    let words = Words { what: "Sections, seen from the heel toward the nut", notes: &notes, meaning: NECK };
    let mut drawn = None;
    for paper in PAPERS {
        let width = paper[0] - 2.0 * EDGE_MM;
        let mut draft = rows(&cells, width);
        let [low, high] = draft.bounds();
        let below = if cells.is_empty() { 0.0 } else { low[1] - 9.0 };
        let words = blocks(neck, &words, |layer| draft.uses(layer));
        let columns: Vec<Point> = lefts(width).iter().map(|x| [low[0].min(0.0) + x, below]).collect();
        draft.entitle(|draft| flow(draft, words, &columns));
        let [low, _] = draft.bounds();
        let fits = high[1] - low[1] + 2.0 * EDGE_MM <= paper[1];
        drawn = Some(draft);
        if fits {
            break;
        }
    }
    Ok(drawn.unwrap_or_default().into_sheet("Sections of a neck", &PAPERS, None))
}
