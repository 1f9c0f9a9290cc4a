//! What the neck has to know of the bridge.

use super::visit::group;
use crate::measure::Length;

group! {
    /// The bridge.
    Bridge {
        /// Distance between the centres of the outer strings at the bridge.
        string_spread: Length = Length::from_mm(52.0),
            within 0 to 160 "mm" because "0 is a single string, and a wider spread no picking hand spans";
    }
}
