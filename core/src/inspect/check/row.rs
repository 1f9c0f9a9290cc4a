//! One reading against the neck.

use super::place::Place;
use super::verdict::Verdict;
use crate::inspect::Measured;

/// A reading less what it should be.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Deviation {
    /// Positive where wood is still standing, negative where too much is gone, mm. Of a point: its distance from the
    /// outline of the section, square to it, positive outside.
    pub mm: f64,
    /// Its standard uncertainty, mm: the reading's own. Of a point that is taken to be as large in every direction.
    pub uncertainty_mm: f64,
}

impl Deviation {
    /// The deviation in standard uncertainties.
    #[must_use]
    pub fn score(&self) -> f64 {
        self.mm / self.uncertainty_mm
    }

    /// What it says of the wood.
    pub(super) fn verdict(&self) -> Verdict {
        Verdict::of(self.mm, self.uncertainty_mm)
    }
}

/// So far below the finished neck no tool takes wood by mistake, mm, several strokes of a rasp being one; and so many standard
/// uncertainties make it sure that a reading lies further off. Our own choice.
const MISREAD_MM: f64 = 5.0;
const MISREAD_TIMES: f64 = 6.0;

/// One reading against the neck.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Row {
    /// Which reading it is, in the order given, from 0.
    pub reading: usize,
    /// The line of the text it stood in; 0 where it was made in code.
    pub line: u32,
    /// Its station, mm from the nut.
    pub x_mm: f64,
    /// What was measured.
    pub measured: Measured,
    /// Where in the section.
    pub place: Place,
    /// Where around it, of a point on back or sides: mm along the finished section's outline from the spine, positive toward
    /// the treble side. `None` for all else.
    pub around_mm: Option<f64>,
    /// Where the wood's outside was touched, in the neck's frame, of its own hand, mm: of a thickness the spine, of a carve
    /// line the board's edge line on its side, as deep as was read. `None` of what lies at no one place, or where the neck
    /// has nothing of the sort.
    pub touched_mm: Option<[f64; 3]>,
    /// Against the finished neck; `None` where that has nothing of the sort.
    pub finished: Option<Deviation>,
    /// What [`finished`](Self::finished) says of the wood.
    pub verdict: Option<Verdict>,
    /// Against the stage that was asked for; `None` without one, off its wood, and for the radius of a board that is not
    /// made yet.
    pub stage: Option<Deviation>,
    /// What [`stage`](Self::stage) says of the wood.
    pub stage_verdict: Option<Verdict>,
}

impl Row {
    /// Whether the reading lies so far below the finished neck that it is likelier misread than true.
    pub(super) fn is_misread(&self) -> bool {
        let most = match self.measured {
            // A gauge that does not fit by a hair is off by much more.
            Measured::Radius => return false,
            // It is read once for both sides and the back.
            Measured::Girth => 2.0 * MISREAD_MM,
            _ => MISREAD_MM,
        };
        self.finished.is_some_and(|d| d.mm < -most && d.score() < -MISREAD_TIMES)
    }
}
