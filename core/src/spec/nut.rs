//! The nut.

use super::visit::group;
use crate::measure::Length;

group! {
    /// The nut.
    Nut {
        /// Width of the board at the nut.
        width: Length = Length::from_mm(43.0),
            within 15 to 120 "mm" because "a narrower neck has no room for a finger and a wider one no hand spans";
        /// Thickness of the nut along the neck; 0 where a zero fret does without.
        thickness: Length = Length::from_mm(5.0),
            within 0 to 12 "mm" because "0 is no nut at all, and more nut than this only pushes the tuners back";
        /// Distance between the centres of the outer strings at the nut.
        string_spread: Option<Length> = None,
            within 0 to 110 "mm" because "0 is a single string, and the outer strings have to lie on the board";
        /// Height of the strings' undersides above the board's crown at the nut.
        string_height: Length = Length::from_mm(0.6),
            within 0 to 6 "mm" because "a string lies on the board or above it, and a higher one can't be fretted in tune";
    }
}
