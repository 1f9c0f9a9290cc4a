//! Where the frets are, and the slots and wire that make them.

use alloc::vec::Vec;

use super::Ratio;
use super::visit::{choice, group};
use crate::measure::Length;

choice! {
    /// How the frets divide the string.
    FretRule {
        /// Equal steps: `divisions` of them to the octave.
        Equal = "equal",
        /// The rule of eighteen: each fret takes an eighteenth of what is left of the string.
        Eighteen = "eighteen",
        /// The frets of `cents` or of `ratios`.
        Table = "table",
    }
}

group! {
    /// The frets.
    Frets {
        /// How many frets there are, a zero fret not counted.
        count: u32 = 22,
            within 0 to 60 "" because "a neck is fretless or has frets, and beyond the 60th their wires would touch on any scale";
        /// Equal steps to the octave.
        divisions: u32 = 12,
            within 1 to 99 "" because "an octave has a step at least, and steps finer than 12 cents lie closer together than fingers can use";
        /// How the frets divide the string.
        rule: FretRule = FretRule::Equal;
        /// For the rule "table": the pitch of each fret above the open string; a table of whole octaves repeats.
        cents: Option<Vec<f64>> = None,
            within 0 to 9600 "cents" because "a fret lies between the nut and eight octaves above the open string",
            size 1 to 99 because "a table holds an entry for each fret or for each step of the octave";
        /// For the rule "table": the frequency of each fret over the open string's; a table of whole octaves repeats.
        ratios: Option<Vec<Ratio>> = None,
            within 1.0001 to 256 "" because "a ratio of 1 is the open string itself, and 256 lies eight octaves above it",
            size 1 to 99 because "a table holds an entry for each fret or for each step of the octave";
        /// Whether a fret at the nut carries the strings.
        zero_fret: bool = false;
        /// Width of the fret slot.
        slot_width: Length = Length::from_mm(0.58),
            within 0.2 to 1.5 "mm" because "no saw cuts a narrower slot and no tang fills a wider one";
        /// Depth of the fret slot below the board's surface.
        slot_depth: Length = Length::from_mm(2.0),
            within 0.5 to 5 "mm" because "a shallower slot does not hold a tang and a deeper one cuts the board apart";
        /// Width of the wire's crown.
        crown_width: Length = Length::from_mm(2.4),
            within 0.8 to 5 "mm" because "narrower wire has no shoulder to sit on and wider wire blurs where the string stops";
        /// Height of the wire's crown above the board.
        crown_height: Length = Length::from_mm(1.1),
            within 0.3 to 3 "mm" because "under lower wire the finger meets the board first, and higher wire pulls notes sharp";
        /// How much longer than the slot the wire is cut, at each end.
        overhang: Length = Length::from_mm(3.0),
            within 0 to 20 "mm" because "the wire is at least as long as its slot, and what stands out further is only cut off again";
    }
}
