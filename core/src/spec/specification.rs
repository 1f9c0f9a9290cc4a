//! The whole document.

use alloc::string::String;

use super::visit::{choice, group};
use super::{Bridge, Fretboard, Frets, Headstock, Heel, Nut, Rod, Scale, Shaft, Strings, Volute, Woods};

choice! {
    /// Whether the instrument is right-handed or left-handed.
    Hand {
        /// A right-handed instrument: the left hand on the neck.
        Right = "right",
        /// A left-handed instrument: the mirror image.
        Left = "left",
    }
}

group! {
    /// The specification of a neck. Every field has a default.
    Specification {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// What the neck is called.
        name: String = String::new(),
            size 0 to 120 because "a name has to fit on a drawing";
        /// Whether the instrument is right-handed or left-handed.
        hand: Hand = Hand::Right;
        /// The scale.
        scale: Scale = Scale::default();
        /// The frets.
        frets: Frets = Frets::default();
        /// The strings.
        strings: Strings = Strings::default();
        /// The nut.
        nut: Nut = Nut::default();
        /// The bridge.
        bridge: Bridge = Bridge::default();
        /// The fretboard.
        fretboard: Fretboard = Fretboard::default();
        /// The shaft.
        shaft: Shaft = Shaft::default();
        /// The truss rod's channel.
        rod: Rod = Rod::default();
        /// The headstock.
        headstock: Headstock = Headstock::default();
        /// The volute.
        volute: Volute = Volute::default();
        /// The heel.
        heel: Heel = Heel::default();
        /// The woods.
        woods: Woods = Woods::default();
    }
}
