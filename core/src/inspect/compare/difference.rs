//! A difference between two necks, and where it is.

use crate::shape::Side;

/// Which part of a neck a place lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Surface {
    /// The back of the shaft around its spine.
    Spine,
    /// The back of the shaft between spine and carve line.
    Shoulder,
    /// The back of the shaft along its carve line.
    CarveLine,
    /// A side face, which is flat down to the carve line.
    SideFace,
    /// Where the board's face meets its side.
    BoardEdge,
    /// The board's face.
    BoardFace,
    /// The headstock's face.
    HeadstockFace,
    /// Where the headstock's face meets its edge.
    HeadstockCorner,
    /// The headstock's edge.
    HeadstockEdge,
    /// The headstock's back, to where the volute begins.
    HeadstockBack,
    /// The heel's sweep and its block.
    Heel,
}

impl Surface {
    /// A short stable name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Spine => "spine",
            Self::Shoulder => "shoulder",
            Self::CarveLine => "carve line",
            Self::SideFace => "side face",
            Self::BoardEdge => "board's edge",
            Self::BoardFace => "board's face",
            Self::HeadstockFace => "headstock's face",
            Self::HeadstockCorner => "headstock's upper corner",
            Self::HeadstockEdge => "headstock's edge",
            Self::HeadstockBack => "headstock's back",
            Self::Heel => "heel",
        }
    }
}

/// A greatest difference between two necks over a part of their surface.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Difference {
    /// The distance, mm, in the plane of the section: really taken at this place, positive where the neck that was asked
    /// stands further out there than the other and negative where the other does.
    pub difference_mm: f64,
    /// Proven: nowhere on this part are the necks further apart, mm. Never below the size of
    /// [`difference_mm`](Self::difference_mm), and within 1e-6 of it unless the search was given up.
    pub proven_mm: f64,
    /// Station of the place, mm from the nut.
    pub x_mm: f64,
    /// The nearest fret of the neck that was asked; none behind the nut or beyond what its temperament tells.
    pub nearest_fret: Option<u32>,
    /// What the place lies on.
    pub surface: Surface,
    /// The side; where both sides differ alike the bass side.
    pub side: Side,
    /// Distance of the place from the centreline, mm, positive toward the treble side on either hand.
    pub across_mm: f64,
    /// Its depth below the crown plane, mm.
    pub depth_mm: f64,
}

impl Difference {
    /// Size of the difference, mm.
    #[must_use]
    pub fn size_mm(&self) -> f64 {
        libm::fabs(self.difference_mm)
    }
}
