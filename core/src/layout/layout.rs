//! Everything in plan: frets, strings and board of one specification.

use alloc::format;
use alloc::vec::Vec;

use super::board::{Board, Side};
use super::build;
use super::crown::Hump;
use super::fan::{Fan, FretLine};
use super::fret::Fret;
use super::marker::{FaceMarker, SideMarker};
use super::strings::StringLine;
use crate::measure::{Error, Fault, Kind, Length, Station};
use crate::spec::{Radius, Scale, Specification, WidthAt};

/// Frets, strings and fretboard of one specification.
///
/// Right-handed, whatever the specification's `hand`: `y` grows toward the treble side of a right-handed neck. Whoever
/// shows a left-handed neck mirrors the result in `y`.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    pub(super) fan: Fan,
    pub(super) board: Board,
    pub(super) strings: Vec<StringLine>,
    pub(super) frets: Vec<Fret>,
    pub(super) face_markers: Vec<FaceMarker>,
    pub(super) side_markers: Vec<SideMarker>,
}

/// The least distance from an outer string's side to the edge of the board.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct LeastMargin {
    /// The distance, mm, in plan and square to the centreline.
    pub margin_mm: f64,
    /// The station.
    pub at_mm: f64,
    /// The side.
    pub side: Side,
}

impl Layout {
    /// Lays out a specification. What it leaves out follows from the rest:
    ///
    /// - `scale.length`: 640 mm where no length is given;
    /// - `strings.gauges`: the [usual ones](super::usual_gauges_mm);
    /// - `nut.string_spread`: the nut's width less 7 mm, 110 mm at most; one string lies on the centreline, and neither
    ///   spread counts;
    /// - `fretboard.end`: 8 mm past the farthest point of the last fret, and no less than 0.55 of the scale (of the mean
    ///   of both), without frets 0.73 of it;
    /// - `fretboard.widths`: as wide at the end as the strings are spread there, with the margins of the nut;
    /// - `fretboard.end_radius`: the nut's, or with `straight_under_strings` the radius that grows as the strings'
    ///   spread does. A fan of strings that meet in one point then lies along lines in the board. Strings that don't
    ///   (even gaps between unequal gauges, two scales) keep a hump, which [`hump`](Self::hump) tells.
    ///
    /// # Errors
    /// What [`Specification::check`] finds; where it finds nothing, all faults that can be told from one another:
    /// - a table without the last fret or the square one, two radii of which one makes the other needless, a spread for
    ///   one string, a marker named twice;
    /// - slots that run into one another, that cut through the board's edge or that lie beyond the board's end;
    /// - a board that ends before its last fret or beyond the bridge, that has no width or no edge, or is wider than its
    ///   radius;
    /// - strings that touch or lie beside the board.
    pub fn new(spec: &Specification) -> Result<Self, Error> {
        spec.check()?;
        Self::of_checked(spec)
    }

    /// [`new`](Self::new) for a specification that [`Specification::check`] has found nothing wrong with.
    pub(crate) fn of_checked(spec: &Specification) -> Result<Self, Error> {
        build::layout(spec)
    }

    /// The fan of fret lines and its temperament.
    #[must_use]
    pub const fn fan(&self) -> &Fan {
        &self.fan
    }

    /// The fretboard.
    #[must_use]
    pub const fn board(&self) -> &Board {
        &self.board
    }

    /// The strings, bass to treble.
    #[must_use]
    pub fn strings(&self) -> &[StringLine] {
        &self.strings
    }

    /// The frets in order from the nut on. Where there is a zero fret it comes first, with number 0, on the line from
    /// which the scale is measured; the nut then stands behind it.
    #[must_use]
    pub fn frets(&self) -> &[Fret] {
        &self.frets
    }

    /// The markers in the board's face, in the specification's order.
    #[must_use]
    pub fn face_markers(&self) -> &[FaceMarker] {
        &self.face_markers
    }

    /// The markers in the board's side, in the specification's order.
    #[must_use]
    pub fn side_markers(&self) -> &[SideMarker] {
        &self.side_markers
    }

    /// From the nut to the bridge along the centreline, mm.
    #[must_use]
    pub const fn scale_mm(&self) -> f64 {
        self.fan.centre_mm()
    }

    /// The nut's line, from which the scale is measured; it goes through the origin.
    #[must_use]
    pub fn nut_line(&self) -> FretLine {
        FretLine { x_mm: 0.0, slope: self.fan.slope(0.0) }
    }

    /// The line on which the strings end at the bridge.
    #[must_use]
    pub fn bridge_line(&self) -> FretLine {
        self.fan.bridge_line()
    }

    /// A station as mm along the centreline from the nut. A fret's is where its line crosses the centreline.
    ///
    /// # Errors
    /// - a fret number that the temperament has no place for, or a number that is none.
    pub fn station_mm(&self, station: &Station) -> Result<f64, Error> {
        self.station_at(station, "station")
    }

    /// [`station_mm`](Self::station_mm) of a field: faults are at its path.
    pub(crate) fn station_at(&self, station: &Station, path: &str) -> Result<f64, Error> {
        station_on(&self.fan, station, path)
    }

    /// Where the line of a real fret number crosses the centreline, mm from the nut.
    ///
    /// # Errors
    /// - `fret` outside 0..=60 or past the end of a table, or not a number.
    pub fn station_of_fret_mm(&self, fret: f64) -> Result<f64, Error> {
        Ok(self.fan.line(fret)?.x_mm)
    }

    /// The real fret number at a station.
    ///
    /// # Errors
    /// - as [`Fan::fret_at`].
    pub fn fret_at(&self, x_mm: f64) -> Result<f64, Error> {
        self.fan.fret_at(x_mm)
    }

    /// The wire of all frets together, each cut to its length, mm.
    #[must_use]
    pub fn total_wire_mm(&self) -> f64 {
        // Not from -0, which is what an empty sum of floats starts from.
        self.frets.iter().fold(0.0, |sum, fret| sum + fret.wire_length_mm)
    }

    fn string(&self, string: usize) -> Result<&StringLine, Error> {
        self.strings.get(string).ok_or_else(|| {
            let fault = Fault::new(Kind::OutOfRange, "string", "strings count from 0, the bass string");
            fault.value(string, "").range(0.0, self.strings.len() as f64 - 1.0).into()
        })
    }

    /// A string and the next one toward the treble side.
    fn neighbours(&self, string: usize) -> Result<[&StringLine; 2], Error> {
        match self.strings.get(string..).unwrap_or_default() {
            [bass, treble, ..] => Ok([bass, treble]),
            _ => {
                let reason =
                    "there is no string beside it on the treble side; strings count from 0, the bass string";
                let fault = Fault::new(Kind::OutOfRange, "string", reason);
                Err(fault.value(string, "").range(0.0, self.strings.len() as f64 - 2.0).into())
            }
        }
    }

    /// Distance of a string's centre from the centreline at a station, mm; strings count from 0, the bass string.
    ///
    /// # Errors
    /// - no such string, or a station that is not a number.
    pub fn string_y_mm(&self, string: usize, x_mm: f64) -> Result<f64, Error> {
        station_on(&self.fan, &Station::Mm(x_mm), "x_mm")?;
        Ok(self.string(string)?.y_mm(x_mm))
    }

    /// Distance between the centres of a string and of the next one toward the treble side at a station, mm.
    ///
    /// # Errors
    /// - no such two strings.
    pub fn spacing_mm(&self, string: usize, x_mm: f64) -> Result<f64, Error> {
        station_on(&self.fan, &Station::Mm(x_mm), "x_mm")?;
        let [bass, treble] = self.neighbours(string)?;
        Ok(treble.y_mm(x_mm) - bass.y_mm(x_mm))
    }

    /// The clear gap between a string and the next one toward the treble side at a station, mm.
    ///
    /// # Errors
    /// - no such two strings.
    pub fn gap_mm(&self, string: usize, x_mm: f64) -> Result<f64, Error> {
        let [bass, treble] = self.neighbours(string)?;
        let sides = 0.5 * (bass.gauge_mm + treble.gauge_mm);
        Ok(self.spacing_mm(string, x_mm)? - sides)
    }

    /// From the outer strings' outer sides to the board's edges at a station, bass and treble, mm.
    #[must_use]
    pub fn margins_mm(&self, x_mm: f64) -> (f64, f64) {
        let half = 0.5 * self.board.width_mm(x_mm);
        let (bass, treble) = (&self.strings[0], &self.strings[self.strings.len() - 1]);
        (half + bass.y_mm(x_mm) - 0.5 * bass.gauge_mm, half - treble.y_mm(x_mm) - 0.5 * treble.gauge_mm)
    }

    /// [`margins_mm`](Self::margins_mm) at a station that comes from anywhere.
    ///
    /// # Errors
    /// - [`Kind::OutsideNeck`]: a station that is not on the board.
    pub fn try_margins_mm(&self, x_mm: f64) -> Result<(f64, f64), Error> {
        let [from, to] = [self.board.start_mm(), self.board.end_mm()];
        if (from..=to).contains(&x_mm) {
            return Ok(self.margins_mm(x_mm));
        }
        let fault = Fault::new(Kind::OutsideNeck, "x_mm", "this station is not on the board");
        Err(fault
            .value(x_mm, "mm")
            .range(from, to)
            .remedy("give one between the nut and the board's end")
            .into())
    }

    /// The least margin anywhere between the nut and the board's end. Exact: margins are straight from one station of
    /// the outline to the next.
    #[must_use]
    pub fn least_margin(&self) -> LeastMargin {
        let mut least = LeastMargin { margin_mm: f64::INFINITY, at_mm: 0.0, side: Side::Bass };
        let ends = [(Side::Bass, &self.strings[0]), (Side::Treble, &self.strings[self.strings.len() - 1])];
        for (side, string) in ends {
            let from = string.nut_mm.0;
            let stations = core::iter::once(from).chain(self.board.vertices().filter(|&x| x > from));
            for at_mm in stations {
                let margins = self.margins_mm(at_mm);
                let margin_mm = if side == Side::Bass { margins.0 } else { margins.1 };
                if margin_mm < least.margin_mm {
                    least = LeastMargin { margin_mm, at_mm, side };
                }
            }
        }
        least
    }

    /// For each string the cents by which each of [`frets`](Self::frets) stops it sharp (above 0) or flat of the
    /// temperament's pitch on that string's own length. Straight fret lines serve all strings of a fan alike, also of two
    /// scales: what is left comes from strings that are not spread alike at nut and bridge (even gaps between unequal
    /// gauges). By length alone; what pressing a string does to its pitch is not in it.
    #[must_use]
    pub fn string_departures_cents(&self) -> Vec<Vec<f64>> {
        let of = |string: &StringLine| {
            self.frets.iter().map(|fret| string.departure_cents(&self.fan, fret.taken)).collect()
        };
        self.strings.iter().map(of).collect()
    }

    /// How the board stands off a straight edge laid along a string's line from one station to another: greatest height
    /// above the line between the board's two points, and where. Exact up to rounding, over the whole stretch.
    ///
    /// # Errors
    /// - no such string;
    /// - stations off the board, or not in order.
    pub fn hump(&self, string: usize, from_mm: f64, to_mm: f64) -> Result<Hump, Error> {
        let string = self.string(string)?;
        let (start, end) = (self.board.start_mm().min(0.0), self.board.end_mm());
        let mut faults = Vec::new();
        for (x, name) in [(from_mm, "from_mm"), (to_mm, "to_mm")] {
            if !(start..=end).contains(&x) {
                let fault = Fault::new(Kind::OutsideNeck, name, "not on the board").value(x, "mm");
                faults.push(fault.range(start, end));
            }
        }
        if faults.is_empty() && from_mm >= to_mm {
            let reason = format!("not beyond from_mm, {from_mm}");
            faults.push(
                Fault::new(Kind::Geometry, "to_mm", reason)
                    .value(to_mm, "mm")
                    .remedy("give the nearer first"),
            );
        }
        Error::unless_none(faults)?;
        Ok(self.board.crown().hump((from_mm, string.y_mm(from_mm)), (to_mm, string.y_mm(to_mm))))
    }

    /// The hump under each string from the nut to the board's end.
    #[must_use]
    pub fn humps(&self) -> Vec<Hump> {
        let (crown, end) = (self.board.crown(), self.board.end_mm());
        self.strings.iter().map(|string| crown.hump(string.nut_mm, (end, string.y_mm(end)))).collect()
    }

    /// Writes into a specification what it left out of the layout's groups, so that nothing is to be derived any more:
    /// [`new`](Self::new) then makes the same layout of it, to the last bit. `fretboard.end_radius` stays out beside
    /// `straight_under_strings`, which sets it, and beside a flat radius.
    pub fn fill(&self, spec: &mut Specification) {
        let scale = &mut spec.scale;
        if scale.length.is_none() && scale.bass.is_none() && scale.treble.is_none() {
            scale.length = Some(Scale::USUAL);
        }
        if spec.strings.gauges.is_none() {
            spec.strings.gauges = Some(self.strings.iter().map(|s| Length::from_mm(s.gauge_mm)).collect());
        }
        if spec.nut.string_spread.is_none() {
            spec.nut.string_spread = Some(Length::from_mm(2.0 * self.fan.halves().0));
        }
        let board = &mut spec.fretboard;
        if board.end.is_none() {
            board.end = Some(Station::Mm(self.board.end_mm()));
        }
        if board.widths.is_none() {
            let width =
                |&(at, width): &(f64, f64)| WidthAt { at: Station::Mm(at), width: Length::from_mm(width) };
            board.widths = Some(self.board.widths_mm().iter().skip(1).map(width).collect());
        }
        if let (Radius::Round(radius), None, false) =
            (board.radius, board.end_radius, board.straight_under_strings)
        {
            board.end_radius = Some(radius);
        }
    }
}

/// A station as mm along the centreline; faults are at `path`.
pub(super) fn station_on(fan: &Fan, station: &Station, path: &str) -> Result<f64, Error> {
    match *station {
        Station::Mm(x) if x.is_finite() => Ok(x),
        Station::Mm(x) => Err(Fault::new(Kind::OutsideNeck, path, "not a number").value(x, "mm").into()),
        Station::Fret(fret) => fan.line(fret).map(|line| line.x_mm).map_err(|_| {
            let last = f64::from(fan.temperament().last_fret());
            let fault = Fault::new(Kind::OutsideNeck, path, "no such fret in the temperament");
            fault.value(format!("fret {fret}"), "").range(0.0, last).remedy("give it in mm").into()
        }),
    }
}
