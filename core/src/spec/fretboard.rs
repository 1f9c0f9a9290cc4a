//! The fretboard.

use alloc::vec;
use alloc::vec::Vec;

use super::visit::{LengthOr, Slot, Value, group};
use crate::measure::{Length, Station};

/// The board's radius across its top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Radius {
    /// Round, with this radius.
    Round(Length),
    /// Flat.
    Flat,
}

impl Default for Radius {
    fn default() -> Self {
        Self::Round(Length::from_mm(305.0))
    }
}

impl LengthOr for Radius {
    fn word(&self) -> &'static str {
        "flat"
    }

    fn length(&self) -> Option<Length> {
        match self {
            Self::Round(radius) => Some(*radius),
            Self::Flat => None,
        }
    }

    fn set(&mut self, length: Option<Length>) {
        *self = length.map_or(Self::Flat, Self::Round);
    }
}

impl Value for Radius {
    fn slot(&mut self) -> Slot<'_> {
        Slot::LengthOr(self)
    }
}

group! {
    /// The board's width at a station.
    WidthAt {
        /// Where along the neck.
        at: Station = Station::NUT, required because "a measure means nothing without its place";
        /// Width of the board there, edge to edge.
        width: Length = Length::from_mm(43.0),
            within 15 to 160 "mm" because "a narrower board has no room for a finger and a wider one no hand reaches across",
            required because "a station without a width says nothing";
    }
}

/// The frets that usually carry a marker.
fn usual_markers() -> Vec<u32> {
    vec![3, 5, 7, 9, 12, 15, 17, 19, 21]
}

group! {
    /// The fretboard.
    Fretboard {
        /// Thickness of the board at its crown.
        thickness: Length = Length::from_mm(6.0),
            within 2 to 15 "mm" because "a thinner board does not hold a fret and a thicker one leaves no neck under it";
        /// The board's width at stations beyond the nut, whose own width is nut.width.
        widths: Option<Vec<WidthAt>> = None,
            size 1 to 64 because "an edge is measured at a few stations, and 64 are more than a board has frets";
        /// Where the board ends.
        end: Option<Station> = None;
        /// Radius across the board at the nut, or "flat".
        radius: Radius = Radius::default(),
            within 50 to 3000 "mm" because "over a tighter radius the outer strings slide off, and a flatter one can't be told from flat";
        /// Radius across the board at its end, where it differs from the one at the nut.
        end_radius: Option<Length> = None,
            within 50 to 3000 "mm" because "over a tighter radius the outer strings slide off, and a flatter one can't be told from flat";
        /// Whether the board is straight under each string rather than along its centre.
        straight_under_strings: bool = false;
        /// Width of the binding along each edge; 0 for none.
        binding: Length = Length::from_mm(0.0),
            within 0 to 5 "mm" because "0 is no binding, and a wider one reaches under the outer strings";
        /// Frets with a marker in the board's face before them; those the neck does not have are left out.
        face_markers: Vec<u32> = usual_markers(),
            within 1 to 60 "" because "a marker belongs to a fret and no neck has more than 60",
            size 0 to 60 because "no neck has more than 60 frets to mark";
        /// Frets with a marker in the board's bass side; those the neck does not have are left out.
        side_markers: Vec<u32> = usual_markers(),
            within 1 to 60 "" because "a marker belongs to a fret and no neck has more than 60",
            size 0 to 60 because "no neck has more than 60 frets to mark";
    }
}
