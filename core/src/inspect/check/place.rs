//! Where on the neck, in the bench's words.

use alloc::format;
use alloc::string::String;

use crate::shape::{Neck, Side};

/// A place in the section, or a measure that has none of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// At the spine: the third of the carved side that is next to it.
    Spine,
    /// On the shoulder: the rest of the carved side.
    Shoulder(Side),
    /// On the flat side.
    Edge(Side),
    /// On the board's face.
    Board,
    /// From edge to edge.
    Width,
    /// All around the back.
    Girth,
    /// At the carve line.
    CarveLine(Side),
}

impl Place {
    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Spine => "the spine",
            Self::Shoulder(Side::Bass) => "the bass shoulder",
            Self::Shoulder(Side::Treble) => "the treble shoulder",
            Self::Edge(Side::Bass) => "the bass edge",
            Self::Edge(Side::Treble) => "the treble edge",
            Self::Board => "the board's face",
            Self::Width => "the width",
            Self::Girth => "the girth",
            Self::CarveLine(Side::Bass) => "the carve line of the bass side",
            Self::CarveLine(Side::Treble) => "the carve line of the treble side",
        }
    }

    /// Its name with the word before it: "at the spine", "on the treble shoulder".
    #[must_use]
    pub fn wherein(self) -> String {
        let before = match self {
            Self::Spine | Self::Edge(_) | Self::CarveLine(_) => "at",
            Self::Shoulder(_) | Self::Board => "on",
            Self::Width | Self::Girth => "in",
        };
        format!("{before} {}", self.name())
    }
}

/// A station as the bench calls it: a fret where one is within a tenth of its number, else the two it lies between.
pub(crate) fn station_words(neck: &Neck, x: f64) -> String {
    let tenth = libm::round(x * 10.0) / 10.0 + 0.0;
    if x < 0.0 && x > -1e-9 {
        return "the nut".into();
    }
    match neck.fret_at(x) {
        Ok(fret) if fret >= 0.0 && fret.is_finite() => {
            let near = libm::round(fret);
            if libm::fabs(fret - near) <= 0.1 {
                return if near == 0.0 { "the nut".into() } else { format!("fret {near}") };
            }
            let below = libm::floor(fret);
            if below == 0.0 {
                format!("between the nut and fret 1, {tenth} mm from the nut")
            } else {
                format!("between frets {below} and {}, {tenth} mm from the nut", below + 1.0)
            }
        }
        _ if x < 0.0 => format!("{} mm behind the nut", -tenth),
        _ => format!("{tenth} mm from the nut"),
    }
}
