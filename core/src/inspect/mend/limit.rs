//! What a mended neck has to keep, and what forbids one.

use alloc::string::String;
use alloc::vec::Vec;

use serde::ser::SerializeStruct;

/// What a mended neck has to keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Limit {
    /// How fast it may get thicker toward the nut, and that it has no dip that the design has not.
    RiseTowardNut,
    /// How sharply the spine may bend along the neck.
    SpineRadius,
    /// How sharply a carve line may bend along the neck.
    CarveRadius,
    /// How thick it has to be.
    LeastThickness,
    /// How much wood there has to be around the rod's channel.
    RodWall,
    /// That no section is hollow.
    Convex,
    /// That the carve line lies between the board's top edge and the spine.
    CarveLine,
    /// What the shape of one side leaves the other, where both have one curvature at the spine.
    Shape,
    /// That the heel's block and sweep stay as they are.
    Heel,
    /// How near the outer strings may come to the board's edges.
    StringMargin,
    /// How narrow a board may be.
    LeastWidth,
    /// Headstock and heel block, which mending does not change.
    FixedPart,
}

impl Limit {
    /// All of them.
    pub const ALL: [Self; 12] = [
        Self::RiseTowardNut,
        Self::SpineRadius,
        Self::CarveRadius,
        Self::LeastThickness,
        Self::RodWall,
        Self::Convex,
        Self::CarveLine,
        Self::Shape,
        Self::Heel,
        Self::StringMargin,
        Self::LeastWidth,
        Self::FixedPart,
    ];

    /// A short stable name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::RiseTowardNut => "rise toward the nut",
            Self::SpineRadius => "bend of the spine",
            Self::CarveRadius => "bend of the carve line",
            Self::LeastThickness => "least thickness",
            Self::RodWall => "rod wall",
            Self::Convex => "convex sections",
            Self::CarveLine => "carve line",
            Self::Shape => "shape of the sides",
            Self::Heel => "heel",
            Self::StringMargin => "string margin",
            Self::LeastWidth => "least width",
            Self::FixedPart => "fixed part",
        }
    }

    /// The unit in which it is told how far it is missed.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::RiseTowardNut => "mm per 100 mm",
            Self::SpineRadius | Self::CarveRadius => "1/m",
            _ => "mm",
        }
    }
}

/// A reading of a low place that asks for more than a limit leaves.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Asking {
    /// Which of the readings given, by its place among them, from 0.
    pub index: usize,
    /// Its [number](crate::inspect::Readings::number): its place in the list that the readings given were picked from.
    pub number: usize,
    /// Its line in the document that it came from; 0 where it came from none.
    pub line: u32,
    /// Its station, mm from the nut.
    pub x_mm: f64,
}

/// A limit that forbids mending.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Forbidden {
    /// Which.
    pub limit: Limit,
    /// The station where it binds hardest, mm from the nut.
    pub x_mm: f64,
    /// The least by which it would have to give way, in its [`unit`](Limit::unit).
    pub by: f64,
    /// Whether that would do by itself; where not, all that are named have to give way together.
    pub alone: bool,
    /// The readings of the low places that ask for it: with these higher, or left out, the limit would not have to give way
    /// so far. In the order in which they were given.
    pub asked_by: Vec<Asking>,
    /// The same in words.
    pub sentence: String,
}

impl serde::Serialize for Forbidden {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Forbidden", 7)?;
        out.serialize_field("limit", &self.limit)?;
        out.serialize_field("x_mm", &self.x_mm)?;
        out.serialize_field("by", &self.by)?;
        out.serialize_field("unit", self.limit.unit())?;
        out.serialize_field("alone", &self.alone)?;
        out.serialize_field("asked_by", &self.asked_by)?;
        out.serialize_field("sentence", &self.sentence)?;
        out.end()
    }
}
