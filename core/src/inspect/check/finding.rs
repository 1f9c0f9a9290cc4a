//! What was found.

use super::place::Place;
use super::row::{Deviation, Row};
use crate::inspect::Measured;
use crate::measure::Station;

/// What sort of finding it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FindingKind {
    /// The wood lies below the finished neck.
    Low,
    /// Around a section the wood lies below its fair curve.
    Flat,
    /// Along the neck the wood lies below its fair curve.
    Hollow,
    /// The wood lies above its fair curve.
    Bump,
}

impl FindingKind {
    /// A short stable name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Low => "low patch",
            Self::Flat => "flat",
            Self::Hollow => "hollow",
            Self::Bump => "bump",
        }
    }
}

/// Where a low patch lies lowest.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Lowest {
    /// Its station, mm from the nut.
    pub x_mm: f64,
    /// Its place around the section, as [`Finding::around_mm`]; `None` along the neck.
    pub around_mm: Option<f64>,
    /// How far it lies off: the mean of what was read there.
    pub deviation: Deviation,
}

/// A low patch, a flat, a hollow or a bump.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Finding {
    /// What it is.
    pub kind: FindingKind,
    /// Where in the section: of a low patch where it lies lowest.
    pub place: Place,
    /// First and last station, mm from the nut: of a low patch those of its readings; of a hollow or a bump where it has half
    /// its height. One station twice for what was found around a section.
    pub x_mm: [f64; 2],
    /// From where to where around the section, mm along its outline from the spine, positive toward the treble side; `None`
    /// for what was found along the neck.
    pub around_mm: Option<[f64; 2]>,
    /// How far off, mm: the mean over a low patch; the height of the others over the fair curve at their middle, from
    /// where they fall off as `(1 − d²)²`. Negative where wood is missing.
    ///
    /// What is found was chosen because it stands out, so it is told as standing out further than it does. A low patch
    /// whose mean lies 8 of its standard uncertainties deep is told too deep by, on average, 0.1 to 0.35 of them, one of 6 by
    /// 0.2 to 0.6, and one of 4, if it is found, by 0.7 to 1.5: the more, the more places there are to
    /// choose from. The heights of the others are told too large by 0.15 of 8 and 0.3 of 6.
    ///
    /// Where there are two departures in a row their heights are as sure as they are told, of three they are off by a third more.
    /// A step is no kernel: beside others, or where they leave little of a row, its height may be told as up to three times the
    /// span of all that was read (`tests/inspect_check/several.rs`).
    pub amplitude_mm: f64,
    /// Its standard uncertainty, mm: that of the readings, and of the height of what is no low patch also of where it lies and
    /// how wide it is.
    pub uncertainty_mm: f64,
    /// Of a low patch, where it lies lowest.
    pub lowest: Option<Lowest>,
    /// How often, at most, an inspection of a neck without any would find something that stands out as much: reckoned as
    /// [`Neck::inspect`](crate::shape::Neck::inspect) says.
    pub p_value: f64,
}

impl Finding {
    /// Whether a reading lies in the place of the finding and says something of it.
    pub(super) fn holds(&self, row: &Row) -> bool {
        let within = |[from, to]: [f64; 2], at: f64| at >= from && at <= to;
        // What is read around one station is read at it to within so much.
        let apart = if self.around_mm.is_some() { Station::LEAST_GAP_MM } else { 0.0 };
        within([self.x_mm[0] - apart, self.x_mm[1] + apart], row.x_mm)
            && match (self.around_mm, row.around_mm) {
                (Some(ends), Some(at)) => within(ends, at),
                // A thickness is read at the spine.
                (Some(ends), None) => row.measured == Measured::Thickness && within(ends, 0.0),
                (None, at) => match row.measured {
                    Measured::Thickness => self.place == Place::Spine,
                    Measured::Point { .. } => {
                        self.place == Place::Spine && at.is_some() && row.place == Place::Spine
                    }
                    _ => self.place == row.place,
                },
            }
    }

    /// Whether another finding is of the same place, or of a part of it.
    pub(super) fn meets(&self, other: &Self) -> bool {
        let touch = |a: [f64; 2], b: [f64; 2]| {
            a[0] < b[1] + Station::LEAST_GAP_MM && b[0] < a[1] + Station::LEAST_GAP_MM
        };
        touch(self.x_mm, other.x_mm)
            && match (self.around_mm, other.around_mm) {
                (Some(a), Some(b)) => touch(a, b),
                (None, None) => self.place == other.place,
                // Around the section it takes in the spine, along which the other runs.
                (Some(a), None) => other.place == Place::Spine && touch(a, [0.0; 2]),
                (None, Some(b)) => self.place == Place::Spine && touch(b, [0.0; 2]),
            }
    }
}
