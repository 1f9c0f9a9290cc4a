//! One reading of an instrument.

use serde::ser::SerializeStruct;

use crate::measure::Station;
use crate::shape::Side;

/// What an instrument was held to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measured {
    /// From the board's crown to the spine of the back, frets not counted, on the centreline; on the headstock from its
    /// face, square to the crown line. See [`Neck::thickness_mm`](crate::shape::Neck::thickness_mm).
    Thickness,
    /// From board edge to board edge. See [`Neck::width_mm`](crate::shape::Neck::width_mm).
    Width,
    /// A tape around the back from one top edge of the board to the other. See
    /// [`Neck::girth_mm`](crate::shape::Neck::girth_mm).
    Girth,
    /// Depth of the carve line below the board's crown, on one side. See
    /// [`Neck::carve_line_mm`](crate::shape::Neck::carve_line_mm).
    CarveLine(Side),
    /// A point of the section: how deep the wood's outside lies below the crown plane, at a place across.
    Point {
        /// Distance from the centreline, mm, positive toward the treble side, on a left-handed neck too.
        across_mm: f64,
    },
    /// Radius of the board's face, across.
    Radius,
}

/// The quantity, and the side or the place across where it has one.
impl serde::Serialize for Measured {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let more = usize::from(matches!(self, Self::CarveLine(_) | Self::Point { .. }));
        let mut out = serializer.serialize_struct("Measured", 1 + more)?;
        out.serialize_field("quantity", self.quantity().name())?;
        match self {
            Self::CarveLine(side) => out.serialize_field("side", side)?,
            Self::Point { across_mm } => out.serialize_field("across_mm", across_mm)?,
            Self::Thickness | Self::Width | Self::Girth | Self::Radius => {}
        }
        out.end()
    }
}

/// What was held to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Instrument {
    /// A caliper.
    Caliper,
    /// A rule.
    Rule,
    /// A tape.
    Tape,
    /// A radius gauge.
    RadiusGauge,
    /// A contour gauge, its outline read off a grid.
    ContourGauge,
    /// A scanner.
    Scan,
}

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Where along the neck.
    pub at: Station,
    /// What of it.
    pub measured: Measured,
    /// What the instrument showed, mm; of a point its depth below the crown plane.
    pub value_mm: f64,
    /// Its standard uncertainty, mm: one standard deviation of what the same hands would read again (JCGM 100:2008,
    /// 2.3.1). Above 0.
    pub uncertainty_mm: f64,
    /// The line of the text that it was read from, counted from 1; 0 where it was made in code.
    pub line: u32,
}
