//! What the solids of a neck have.

use super::options::options;
use super::visit::group;
use crate::measure::Length;

group! {
    /// What the solids of a neck have.
    SolidOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// Whether the fret slots are sawn into the board.
        slots: bool = true;
        /// How far surfaces may lie off the neck for them to be of degree 3 along; without it they are the neck's own, of whatever
        /// degree that takes.
        cubic_within: Option<Length> = None,
            within 1e-6 to 0.1 "mm" because "less takes more pieces than it is worth, and more is seen";
    }
}

options!(
    SolidOptions,
    name: "solids' options",
    subject: "solids of a neck",
    title: "What the solids of a neck have",
    example: "slots"
);
