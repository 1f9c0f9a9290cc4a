//! Gauges of the board's radius.

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
use crate::paper::sections::rows;
use crate::paper::sheet::Sheet;
use crate::paper::station::{mm, name};
use crate::paper::text::{Anchor, TEXT_MM, Text};
use crate::shape::{Neck, sagitta_mm};
use crate::spec::TemplateOptions;

/// How far a gauge goes past the board's edges, and its height above or below the crown, mm; common practice, no source.
const PAST_MM: f64 = 3.0;
const BODY_MM: f64 = 15.0;

/// The frets whose gauges are drawn, with the nut and the last one, where none are asked for; common practice, no source.
const USUAL: [u32; 2] = [5, 12];

/// The stations, mm: one where the radius is the same everywhere.
fn stations(neck: &Neck, options: &TemplateOptions) -> Result<Vec<f64>, Error> {
    let board = neck.layout().board();
    let (mut all, mut faults) = (Vec::new(), Vec::new());
    if let Some(given) = &options.radius_stations {
        for (i, station) in given.iter().enumerate() {
            let path = format!("radius_stations[{i}]");
            match neck.layout().station_at(station, &path) {
                Ok(x) if x >= 0.0 && x <= board.end_mm() => all.push(x),
                Ok(x) => {
                    let fault = Fault::new(Kind::OutsideNeck, path, "there is no board at this station");
                    let fault = fault.value(x, "mm").range(0.0, board.end_mm());
                    faults.push(fault.remedy("give a station between the nut and the board's end"));
                }
                Err(error) => faults.extend_from_slice(error.faults()),
            }
        }
        Error::unless_none(faults)?;
        return Ok(all);
    }
    let frets = neck.layout().frets();
    all.push(0.0);
    let last = frets.last().map_or(0, |f| f.number);
    let picked = frets.iter().filter(|f| f.number > 0 && (USUAL.contains(&f.number) || f.number == last));
    all.extend(picked.map(|f| f.line.x_mm).filter(|x| *x <= board.end_mm()));
    if last == 0 {
        all.push(board.end_mm());
    }
    Ok(all)
}

/// One gauge: with its lower edge hollow to set on the board, or round as the board itself.
fn cell(radius: f64, half: f64, names: &str, hollow: bool, offset: f64) -> Draft {
    let mut draft = Draft::default();
    let ends: [Point; 2] = [-half, half].map(|y| [y, -sagitta_mm(radius, half)]);
    let far = if hollow { BODY_MM } else { ends[0][1] - BODY_MM };
    let segments = vec![
        Segment::Arc { centre: [0.0, -radius], to: ends[1], counter_clockwise: false },
        Segment::Line([half, far]),
        Segment::Line([-half, far]),
    ];
    piece(&mut draft, Path { start: ends[0], segments, closed: true }, offset);
    let [low, high] = draft.bounds();
    for y in [low[1], high[1]] {
        draft.line(Layer::Centreline, [0.0, y - 2.5], [0.0, y + 2.5]);
    }
    let middle = 0.5 * far + if hollow { 1.5 } else { -1.5 };
    draft.text(Text::new([0.0, middle], Anchor::Middle, format!("radius {}", mm(radius))));
    let below = [names.into(), format!("{} high over {}", mm(-ends[0][1]), mm(2.0 * half))];
    let mut y = low[1] - 4.0;
    for words in below {
        y -= 1.7 * TEXT_MM;
        draft.text(Text::new([0.0, y], Anchor::Middle, words));
    }
    // Both kinds side by side: their upper edges level.
    let mut level = Draft::default();
    level.take(draft, [0.0, -high[1]]);
    level
}

/// Gauges of the board's radius, a hollow one to set on the board and a round one for each: one pair where the radius is the same
/// everywhere, otherwise at the stations of [`TemplateOptions::radius_stations`]; `None` where the board is flat, which a straight
/// edge tells. Each edge is an arc, as wide as the board there and 3 mm more on either side where the radius reaches so far.
///
/// # Errors
/// - as [`TemplateOptions::check`];
/// - stations that are not on the board, named by their index; all of them.
pub fn radius_gauges(neck: &Neck, options: &TemplateOptions) -> Result<Option<Sheet>, Error> {
    options.check()?;
    let stations = stations(neck, options)?;
    let board = neck.layout().board();
    let crown = board.crown();
    let Some((at_nut, growth)) = crown.law() else { return Ok(None) };
    let radius = |x: f64| at_nut + growth * x;
    let half = |x: f64| {
        let edge = 0.5 * board.width_mm(x);
        (edge + PAST_MM).min(f64::max(edge, 0.9 * radius(x)))
    };
    let mut all: Vec<(f64, f64, String)> = Vec::new();
    if growth == 0.0 {
        let widest = [0.0, board.end_mm()].map(half).into_iter().fold(0.0, f64::max);
        all.push((at_nut, widest, "the whole board".into()));
    } else {
        all.extend(stations.iter().map(|x| (radius(*x), half(*x), name(neck, *x))));
    }
    let mut cells = Vec::new();
    for (radius, half, name) in &all {
        for (hollow, what) in [(true, "hollow"), (false, "round")] {
            cells.push(cell(*radius, *half, &format!("{name}, {what}"), hollow, options.offset.mm()));
        }
    }
    let mut notes = vec![
        "Hold the hollow edge on the board square to the centreline; the round one is the board's own, for a sanding block or a \
         drawing."
            .into(),
    ];
    if growth != 0.0 {
        notes.push("The radius grows along the board: each gauge is right at its own place only.".into());
    }
    let frame = Frame {
        title: "Radius gauges of a neck",
        what: "Radius gauges of the fretboard".into(),
        notes,
        drawing: Box::new(move |width| rows(&cells, width)),
        tables: Vec::new(),
        placed: false,
    };
    Ok(Some(frame.sheet(neck, options)))
}
