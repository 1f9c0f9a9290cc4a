//! The strings.

use alloc::vec::Vec;

use super::visit::{choice, group};
use crate::measure::Length;

choice! {
    /// How the strings between the outer two are spaced.
    Spacing {
        /// The clear gaps between neighbours are equal, so that thick strings don't crowd.
        EvenGaps = "even_gaps",
        /// The centres are equally far apart.
        EvenCentres = "even_centres",
    }
}

group! {
    /// The strings.
    Strings {
        /// How many strings there are.
        count: u32 = 6,
            within 1 to 12 "" because "a neck carries one to twelve strings";
        /// Diameter of each string, bass to treble.
        gauges: Option<Vec<Length>> = None,
            within 0.1 to 4 "mm" because "a thinner string breaks before it sounds and a thicker one does not bend over the nut",
            size 1 to 12 because "each string has one gauge";
        /// How the strings between the outer two are spaced.
        spacing: Spacing = Spacing::EvenGaps;
    }
}
