//! From a specification to a layout: the parts in order, each with what can be wrong with it.

use alloc::format;
use alloc::vec::Vec;

use super::board::{Board, Side};
use super::crown::Crown;
use super::fan::{Fan, FretLine};
use super::fret::{Fret, Wire};
use super::given::{Given, Lengths, both};
use super::layout::{Layout, station_on};
use super::strings::{StringLine, lay_out};
use super::temperament::Temperament;
use super::{fit, marker};
use crate::measure::{Error, Fault, Kind, Station, told};
use crate::spec::{Radius, Specification};

/// How far the board goes on past the last fret where its end is not given. Common practice, no source.
const PAST_LAST_FRET_MM: f64 = 8.0;
/// The least part of the scale that the board then has. Common practice, no source.
const LEAST_BOARD: f64 = 0.55;
/// The same for a board without frets: that of 22 frets, near enough. Common practice, no source.
const FRETLESS_BOARD: f64 = 0.73;

pub(super) fn layout(spec: &Specification) -> Result<Layout, Error> {
    let Given { lengths, temperament, gauges, spreads } = Given::read(spec)?;
    let fan = fan(spec, lengths, temperament, spreads)?;
    let (strings, stations) = both(lay_out(&gauges, spec.strings.spacing, &fan), Stations::read(spec, &fan))?;
    let board = board(spec, &fan, &strings, stations, lengths.mean())?;
    fit::board(&board, spec)?;
    let frets = frets(spec, &fan, &board)?;
    let last = spec.frets.count;
    let layout = Layout {
        face_markers: marker::face(&spec.fretboard.face_markers, last, &fan, &board)?,
        side_markers: marker::side(&spec.fretboard.side_markers, last, &fan, &board)?,
        fan,
        board,
        strings,
        frets,
    };
    both(fit::frets(&layout, spec), fit::strings(&layout))?;
    Ok(layout)
}

fn fan(
    spec: &Specification,
    lengths: Lengths,
    temperament: Temperament,
    (nut, bridge): (f64, f64),
) -> Result<Fan, Error> {
    let (nut_half, bridge_half) = (0.5 * nut, 0.5 * bridge);
    match lengths {
        Lengths::Single(length) => Ok(Fan::single(temperament, length, nut_half, bridge_half)),
        Lengths::Double(bass, treble) => {
            let (square, last) = (spec.scale.square_fret, f64::from(temperament.last_fret()));
            Fan::double(temperament, (bass, treble), square, nut_half, bridge_half).map_err(|_| {
                let fault =
                    Fault::new(Kind::Conflict, "scale.square_fret", "the table ends before this fret");
                fault.value(square, "").range(0.0, last).remedy("take an earlier fret").into()
            })
        }
    }
}

/// The stations that a specification gives of the board, with the widths there, in mm.
struct Stations {
    widths: Option<Vec<(f64, f64)>>,
    end: Option<f64>,
}

impl Stations {
    fn read(spec: &Specification, fan: &Fan) -> Result<Self, Error> {
        let board = &spec.fretboard;
        let end = board.end.as_ref().map(|end| station_on(fan, end, "fretboard.end")).transpose();
        let widths = board.widths.as_ref().map(|_| widths(spec, fan)).transpose();
        let (widths, end) = both(widths, end)?;
        Ok(Self { widths, end })
    }
}

/// The nut's width and the widths given, in order.
fn widths(spec: &Specification, fan: &Fan) -> Result<Vec<(f64, f64)>, Error> {
    let given = spec.fretboard.widths.as_deref().unwrap_or(&[]);
    let mut widths = Vec::with_capacity(given.len() + 1);
    let mut before = 0.0;
    widths.push((0.0, spec.nut.width.mm()));
    let mut faults = Vec::new();
    for (i, width) in given.iter().enumerate() {
        let path = format!("fretboard.widths[{i}].at");
        match station_on(fan, &width.at, &path) {
            Err(error) => faults.extend_from_slice(error.faults()),
            Ok(x) if x < before + Station::LEAST_GAP_MM => {
                let reason = if before == 0.0 {
                    "not beyond the nut, whose width is nut.width".into()
                } else {
                    format!("not beyond the station before it, at {} mm", told(before))
                };
                let fault = Fault::new(Kind::Geometry, path, reason).value(told(x), "mm");
                let fault = fault.range(before + Station::LEAST_GAP_MM, None);
                faults.push(fault.remedy("give the stations in order from the nut, each once"));
            }
            Ok(x) => {
                widths.push((x, width.width.mm()));
                before = x;
            }
        }
    }
    Error::unless_none(faults)?;
    Ok(widths)
}

/// The line of the last fret, or of the nut where there is none.
fn last_line(spec: &Specification, fan: &Fan) -> Result<FretLine, Error> {
    fan.line(f64::from(spec.frets.count))
}

fn board(
    spec: &Specification,
    fan: &Fan,
    strings: &[StringLine],
    stations: Stations,
    mean_scale: f64,
) -> Result<Board, Error> {
    let nut_width = spec.nut.width.mm();
    let spread = |x: f64| strings[strings.len() - 1].y_mm(x) - strings[0].y_mm(x);
    let margins = nut_width - 2.0 * fan.halves().0;
    let nut = FretLine { x_mm: 0.0, slope: fan.slope(0.0) };
    let sizes = (spec.fretboard.thickness.mm(), spec.fretboard.binding.mm());
    let end = match stations.end {
        Some(end) => end,
        None => {
            // Widths that are derived come from the end; until it is there, they widen as the strings spread.
            let outline = stations.widths.clone().unwrap_or_else(|| {
                let far = fan.centre_mm();
                alloc::vec![(0.0, nut_width), (far, nut_width + spread(far) - spread(0.0))]
            });
            let outline = Board::new(outline, nut, 0.0, sizes, Crown::FLAT);
            let line = last_line(spec, fan)?;
            let last = [Side::Bass, Side::Treble].map(|side| outline.edge_point(line, side, 0.0));
            let last = last.iter().flatten().fold(line.x_mm, |far, &(x, _)| far.max(x));
            let least = if spec.frets.count == 0 { FRETLESS_BOARD } else { LEAST_BOARD };
            (last + PAST_LAST_FRET_MM).max(least * mean_scale)
        }
    };
    fit::end(spec, fan, end)?;
    let widths = match stations.widths {
        Some(widths) => widths,
        None => alloc::vec![(0.0, nut_width), (end, spread(end) + margins)],
    };
    let (nut_half, bridge_half) = fan.halves();
    let crown = match (spec.fretboard.radius, spec.fretboard.end_radius) {
        (Radius::Flat, _) => Crown::FLAT,
        (Radius::Round(radius), _) if spec.fretboard.straight_under_strings && nut_half > 0.0 => {
            // As the spread grows along the centreline, in proportion.
            Crown::round(radius.mm(), radius.mm() * (bridge_half - nut_half) / (nut_half * fan.centre_mm()))
        }
        (Radius::Round(radius), Some(at_end)) => Crown::round(radius.mm(), (at_end.mm() - radius.mm()) / end),
        (Radius::Round(radius), None) => Crown::round(radius.mm(), 0.0),
    };
    Ok(Board::new(widths, nut, end, sizes, crown))
}

/// The frets, the zero fret first.
fn frets(spec: &Specification, fan: &Fan, board: &Board) -> Result<Vec<Fret>, Error> {
    let wire = Wire { slot_depth: spec.frets.slot_depth.mm(), overhang: spec.frets.overhang.mm() };
    let mut frets = Vec::with_capacity(spec.frets.count as usize + 1);
    // The nut's line has to reach the edges too, whether a fret lies on it or not.
    for number in 0..=spec.frets.count {
        let Some(fret) = Fret::new(number, fan, board, &wire)? else {
            let reason = format!(
                "so unlike scale.treble that the line of fret {number} never reaches the board's edge"
            );
            let fault = Fault::new(Kind::Geometry, "scale.bass", reason).value(fan.bass_mm(), "mm");
            return Err(fault.remedy("bring the two scales nearer to one another").into());
        };
        if number > 0 || spec.frets.zero_fret {
            frets.push(fret);
        }
    }
    Ok(frets)
}
