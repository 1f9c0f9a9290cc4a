//! A strip of paper with every fret slot.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::frame::Frame;
use crate::layout::Fret;
use crate::measure::Error;
use crate::paper::callout::{self, Callout};
use crate::paper::draft::Draft;
use crate::paper::layer::Layer;
use crate::paper::offset::piece;
use crate::paper::path::{Path, Point};
use crate::paper::sheet::Sheet;
use crate::paper::station::mm;
use crate::paper::table::{Column, table};
use crate::paper::text::{Anchor, TEXT_MM, Text};
use crate::shape::Neck;
use crate::spec::TemplateOptions;

/// Half the width of a strip whose slots are square to it, where the board is as wide; common practice, no source.
const HALF_MM: f64 = 12.0;
/// How far a strip with slanted slots goes past the board's edges; common practice, no source.
const PAST_MM: f64 = 2.0;
/// Height of a number where frets lie close together, mm.
const SMALL_MM: f64 = 1.8;
/// Rows of the table in one column.
const ROWS: usize = 25;

/// Draws a slot: its middle, or with `edges` the two lines that the saw's kerf leaves.
pub(super) fn slot(draft: &mut Draft, [a, b]: [Point; 2], width: f64, edges: bool) {
    if !edges {
        draft.line(Layer::FretSlots, a, b);
        return;
    }
    let length = libm::hypot(b[0] - a[0], b[1] - a[1]);
    let out = [0.5 * width * (b[1] - a[1]) / length, -0.5 * width * (b[0] - a[0]) / length];
    for sign in [-1.0, 1.0] {
        let beside = |p: Point| [p[0] + sign * out[0], p[1] + sign * out[1]];
        draft.line(Layer::FretSlots, beside(a), beside(b));
    }
}

/// The table of all distances, in columns that are no longer than the sheet needs.
fn tables(neck: &Neck, frets: &[Fret]) -> Vec<Draft> {
    let fanned = neck.layout().fan().is_fanned();
    let mut before = 0.0;
    let mut rows = Vec::new();
    for fret in frets {
        let mut row = vec![format!("{}", fret.number), mm(fret.line.x_mm), mm(fret.line.x_mm - before)];
        before = fret.line.x_mm;
        if fanned {
            let ((bass, _), (treble, _)) = fret.slot_ends_mm;
            row.extend([mm(bass), mm(treble)]);
        }
        rows.push(row);
    }
    let mut head: Vec<String> = ["fret", "from nut", "from last"].map(String::from).into();
    let mut columns = vec![Column::Number(12.0), Column::Number(24.0), Column::Number(24.0)];
    if fanned {
        head.extend(["bass end", "treble end"].map(String::from));
        columns.extend([Column::Number(24.0), Column::Number(26.0)]);
    }
    let whole = |rows: &[Vec<String>]| {
        let mut all = vec![head.clone()];
        all.extend(rows.iter().cloned());
        table(&columns, &all)
    };
    if fanned {
        return rows.chunks(ROWS).map(whole).collect();
    }
    // Two short columns side by side.
    let mut all = Vec::new();
    for pair in rows.chunks(2 * ROWS) {
        let half = pair.len().div_ceil(2).max(1);
        let mut draft = Draft::default();
        for (i, rows) in pair.chunks(half).enumerate() {
            draft.take(whole(rows), [66.0 * i as f64, 0.0]);
        }
        all.push(draft);
    }
    all
}

fn notes(neck: &Neck, fanned: bool) -> Vec<String> {
    let mut notes = vec![
        "Cut the strip out, lay its nut end against the front of the nut and its centreline on the board's, and prick both ends \
         of every slot through. Distances are from the front of the nut along the centreline: never step from fret to fret."
            .into(),
    ];
    if fanned {
        notes.push(
            "The slots are slanted: the strip is as wide as the board, whose edges are dashed. Slots end at the edges, or at the \
             binding, and the distances beside the strip are those of the ends that their lines lead to."
                .into(),
        );
    }
    if neck.normalised().frets.zero_fret {
        notes.push(
            "Fret 0 lies on the line that the scale is measured from; the nut stands behind it.".into(),
        );
    }
    notes.push(format!("The slots are {} wide.", mm(neck.normalised().frets.slot_width.mm())));
    notes
}

/// A strip to lay along the board: every fret slot at its place, the nut's line and the board's end, with the frets' numbers and
/// their distances from the nut. Where frets are fanned it is as wide as the board, so that both ends of every slot are on it.
///
/// A left-handed neck's is the mirror image, with its words to be read.
///
/// # Errors
/// - as [`TemplateOptions::check`].
pub fn fret_strip(neck: &Neck, options: &TemplateOptions) -> Result<Sheet, Error> {
    options.check()?;
    let (layout, hand) = (neck.layout(), neck.hand_sign());
    let board = layout.board();
    let fanned = layout.fan().is_fanned();
    let stations = board.widths_mm().iter().map(|w| w.0).chain([board.end_mm(), board.start_mm()]);
    let halves: Vec<f64> =
        stations.filter(|x| *x <= board.end_mm()).map(|x| 0.5 * board.width_mm(x)).collect();
    let half = if fanned {
        halves.iter().copied().fold(0.0, f64::max) + PAST_MM
    } else {
        halves.iter().copied().fold(HALF_MM, f64::min)
    };
    let slope = hand * layout.nut_line().slope;
    let end = board.end_mm();
    let mut draft = Draft::default();
    let nut = [[-slope * half, -half], [slope * half, half]];
    let corners = [nut[0], [end, -half], [end, half], nut[1]];
    piece(&mut draft, Path::polyline(&corners, true), options.offset.mm());
    let frets = neck.frets();
    let width = neck.normalised().frets.slot_width.mm();
    let ends = |fret: &Fret| {
        let ((xb, yb), (xt, yt)) = fret.slot_ends_mm;
        if fanned { [[xb, yb], [xt, yt]] } else { [[fret.line.x_mm, -half], [fret.line.x_mm, half]] }
    };
    for fret in &frets {
        slot(&mut draft, ends(fret), width, options.slot_edges);
    }
    if fanned {
        for side in [-1.0, 1.0] {
            let mut edge: Vec<Point> = board.widths_mm().iter().map(|&(x, w)| [x, 0.5 * side * w]).collect();
            edge.retain(|p| p[0] < end);
            // The edge begins where it meets the nut's line.
            let start = board.nut_ends_mm()[usize::from(side * hand > 0.0)];
            edge.retain(|p| p[0] > start);
            edge.insert(0, [start, 0.5 * side * board.width_mm(start)]);
            edge.push([end, 0.5 * side * board.width_mm(end)]);
            draft.polyline(Layer::Hidden, &edge);
        }
    }
    let beyond = nut.map(|p| p[0]).into_iter().fold(0.0, f64::min);
    draft.line(Layer::Centreline, [beyond - 6.0, 0.0], [end + 6.0, 0.0]);
    numbers(&mut draft, &frets, ends);
    let mut left_out = 0;
    // By turns above and below, so that each has twice the room; of slanted slots both ends.
    let [low, high] = draft.bounds();
    for (above, base) in [(true, high[1] + 3.0), (false, low[1] - 3.0)] {
        let mine = frets.iter().filter(|f| fanned || (f.number % 2 == 0) == above);
        let callout = |fret: &Fret| {
            let [a, b] = ends(fret);
            let foot = if (a[1] > b[1]) == above { a } else { b };
            // Of a slanted slot each end has a distance of its own.
            Callout { foot, words: format!("{}: {}", fret.number, mm(foot[0])) }
        };
        let mut all: Vec<Callout> = mine.map(callout).collect();
        if !above {
            all.push(Callout { foot: [end, -half], words: format!("end of board: {}", mm(end)) });
        }
        left_out += callout::place(&mut draft, all, base, above);
    }
    let mut notes = notes(neck, fanned);
    if left_out > 0 {
        notes.push("Not every distance found room beside the strip: the table has them all.".into());
    }
    let frame = Frame {
        title: "Fret strip of a neck",
        what: "Fret strip".into(),
        notes,
        drawing: Box::new(move |_| draft.clone()),
        tables: tables(neck, &frets),
        placed: true,
    };
    Ok(frame.sheet(neck, options))
}

/// Each fret's number before its slot, near its lower end, where there is room.
pub(super) fn numbers(draft: &mut Draft, frets: &[Fret], ends: impl Fn(&Fret) -> [Point; 2]) {
    for fret in frets.iter().filter(|f| f.number > 0) {
        let words = format!("{}", fret.number);
        let [mut low, mut high] = ends(fret);
        if low[1] > high[1] {
            core::mem::swap(&mut low, &mut high);
        }
        let at = |y: f64| {
            // The letters' own height counts where the slot is slanted.
            let x = fret.line.x_at_mm(y).min(fret.line.x_at_mm(y + TEXT_MM));
            (0..4).map(move |i| [x - 1.0 - 0.7 * f64::from(i), y])
        };
        let heights = [0.8, 1.6, 3.2, 5.5, 8.0, 11.0].into_iter().map(|up| low[1] + up);
        let heights = heights.chain([high[1] - 1.6 - TEXT_MM, high[1] - 3.2 - TEXT_MM]);
        let places: Vec<Point> = heights.flat_map(at).collect();
        let all = [TEXT_MM, SMALL_MM].into_iter().flat_map(|high| {
            let text = |at: &Point| Text::new(*at, Anchor::End, words.as_str()).high(high);
            places.iter().map(text).collect::<Vec<Text>>()
        });
        draft.place(all);
    }
}
