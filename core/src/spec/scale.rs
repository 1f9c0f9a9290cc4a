//! The vibrating length of the strings.

use super::visit::group;
use crate::measure::Length;

group! {
    /// The scale: one length for all strings, or one for the bass and one for the treble side.
    ///
    /// With none of the three lengths given it is a single scale of [`Scale::USUAL`].
    Scale {
        /// Scale length of all strings, from the nut to the bridge without compensation. Not together with bass and treble; 640 mm where all three are absent.
        length: Option<Length> = None,
            within 200 to 1300 "mm" because "frets of a shorter scale leave no room for a finger, and a longer one is out of an arm's reach";
        /// Scale length along the bass edge of the strings, for fanned frets; goes with treble.
        bass: Option<Length> = None,
            within 200 to 1300 "mm" because "frets of a shorter scale leave no room for a finger, and a longer one is out of an arm's reach";
        /// Scale length along the treble edge of the strings, for fanned frets; goes with bass.
        treble: Option<Length> = None,
            within 200 to 1300 "mm" because "frets of a shorter scale leave no room for a finger, and a longer one is out of an arm's reach";
        /// The fret, whole or not, that stands square to the centreline where bass and treble differ.
        square_fret: f64 = 7.0,
            within 0 to 60 "" because "frets count from the nut and no neck has more than 60";
    }
}

impl Scale {
    /// The scale length where none is given.
    pub const USUAL: Length = Length::from_mm(640.0);
}
