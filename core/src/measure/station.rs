//! Stations: positions along the neck's centreline.

use super::Bound;

/// A position along the centreline.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Station {
    /// Millimetres from the nut's fretboard side, positive toward the bridge.
    Mm(f64),
    /// A fret: 0 is the nut, 7.5 lies halfway (in number) between the seventh and the eighth.
    Fret(f64),
}

impl Station {
    /// The nut.
    pub const NUT: Self = Self::Mm(0.0);

    /// What a station in millimetres may be.
    pub const MM: Bound = Bound {
        lowest: -600.0,
        highest: 1500.0,
        why: "no headstock reaches further behind the nut and no neck further toward the bridge",
    };

    /// What a station given as a fret may be.
    pub const FRET: Bound = Bound {
        lowest: 0.0,
        highest: 60.0,
        why: "frets count from the nut and no neck has more than 60; behind the nut give millimetres",
    };
}

impl Default for Station {
    fn default() -> Self {
        Self::NUT
    }
}
