//! What can be measured, by its word, and what its number may be.

use crate::inspect::{Instrument, Measured};
use crate::measure::Bound;

/// What an instrument was held to, without its place: the words of a document.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// [`Measured::Thickness`].
    Thickness,
    /// [`Measured::Width`].
    Width,
    /// [`Measured::Girth`].
    Girth,
    /// [`Measured::CarveLine`].
    #[serde(rename = "carve line")]
    CarveLine,
    /// [`Measured::Point`].
    Point,
    /// [`Measured::Radius`].
    Radius,
}

impl Quantity {
    /// Every quantity.
    pub const ALL: [Self; 6] =
        [Self::Thickness, Self::Width, Self::Girth, Self::CarveLine, Self::Point, Self::Radius];

    /// The word that stands for it in a document.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Thickness => "thickness",
            Self::Width => "width",
            Self::Girth => "girth",
            Self::CarveLine => "carve line",
            Self::Point => "point",
            Self::Radius => "radius",
        }
    }

    /// What a reading of it may be, mm. Wide enough for blanks; common practice, no source.
    #[must_use]
    pub const fn bound(self) -> Bound {
        let (lowest, highest, why) = match self {
            Self::Thickness => (2.0, 200.0, "no neck is thinner than a veneer, and no blank thicker"),
            Self::Width => (10.0, 400.0, "no neck is so narrow, and no blank for one so wide"),
            Self::Girth => {
                (20.0, 600.0, "no tape goes around a neck in less, and none around a blank in more")
            }
            Self::CarveLine => {
                (0.0, 150.0, "the carve begins between the board's crown and the back of a block")
            }
            Self::Point => (
                -5.0,
                350.0,
                "no wood stands higher above the board's crown, and no headstock reaches deeper",
            ),
            Self::Radius => (
                40.0,
                4000.0,
                "a smaller circle does not reach the board's edges, and a greater one can't be told from a flat board",
            ),
        };
        Bound { lowest, highest, why }
    }

    /// What a standard uncertainty of it may be, mm.
    #[must_use]
    pub const fn uncertainty_bound(self) -> Bound {
        match self {
            Self::Radius => RADIUS_UNCERTAINTY,
            _ => UNCERTAINTY,
        }
    }

    /// The instrument that it is usually measured with: the one whose uncertainty a reading has that names neither.
    #[must_use]
    pub const fn usual_instrument(self) -> Instrument {
        match self {
            Self::Thickness | Self::Width => Instrument::Caliper,
            Self::Girth => Instrument::Tape,
            Self::CarveLine => Instrument::Rule,
            Self::Point => Instrument::ContourGauge,
            Self::Radius => Instrument::RadiusGauge,
        }
    }
}

/// What the standard uncertainty of a length may be, mm.
pub(super) const UNCERTAINTY: Bound = Bound {
    lowest: 1e-6,
    highest: 2.0,
    why: "no instrument is surer, and a reading that is less sure says nothing of a neck",
};

/// What the standard uncertainty of a radius may be, mm.
pub(super) const RADIUS_UNCERTAINTY: Bound = Bound { highest: 1000.0, ..UNCERTAINTY };

/// What a place across may be, mm.
pub(super) const ACROSS: Bound =
    Bound { lowest: -250.0, highest: 250.0, why: "no headstock is wider, nor any blank for one" };

impl Measured {
    /// The word for it, without its place.
    #[must_use]
    pub const fn quantity(&self) -> Quantity {
        match self {
            Self::Thickness => Quantity::Thickness,
            Self::Width => Quantity::Width,
            Self::Girth => Quantity::Girth,
            Self::CarveLine(_) => Quantity::CarveLine,
            Self::Point { .. } => Quantity::Point,
            Self::Radius => Quantity::Radius,
        }
    }
}
