//! The whole document.

use alloc::string::String;
use alloc::vec::Vec;

use super::root::{Root, Words, by_serde};
use super::visit::{choice, group};
use super::{BoundRow, check, read, schema, table, together, write};
use super::{Bridge, Fretboard, Frets, Headstock, Heel, Nut, Rod, Scale, Shaft, Strings, Volute, Woods};

#[cfg(doc)]
use crate::measure::Kind;
use crate::measure::{Error, Faults};

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

impl Specification {
    /// The format that this library writes, and the latest that it reads.
    pub const FORMAT: u32 = 1;

    /// Reads a specification from JSON.
    ///
    /// What the document leaves out keeps its default; `{}` is a whole neck. Lengths, angles, stations and
    /// ratios may be numbers or texts. Reading is bounded in time and memory whatever the text.
    ///
    /// ```
    /// # use neckwright::spec::Specification;
    /// let spec = Specification::from_json(r#"{"nut": {"width": "1 11/16 in"}}"#)?;
    /// assert_eq!(spec.nut.width.mm(), 42.8625);
    ///
    /// let error = Specification::from_json(r#"{"nut": {"widht": 43, "thickness": 50}}"#).unwrap_err();
    /// assert_eq!(error.faults().len(), 2);
    /// assert_eq!(error.faults()[0].path, "nut.thickness");
    /// assert_eq!(error.faults()[1].remedy, "did you mean width?");
    /// # Ok::<(), neckwright::measure::Error>(())
    /// ```
    ///
    /// # Errors
    /// All the faults that are found, not only the first; what has to hold between fields is only judged where
    /// every field by itself is right.
    /// - [`Kind::TooLarge`] for a text of more than 256 KiB, and for a list or text with more entries or
    ///   characters than its field takes.
    /// - [`Kind::Syntax`] for a text that is not JSON.
    /// - [`Kind::NewerFormat`] for a document of a later format; nothing else is reported then.
    /// - [`Kind::UnknownKey`], [`Kind::WrongType`], [`Kind::Unreadable`], [`Kind::OutOfRange`],
    ///   [`Kind::Missing`] and [`Kind::Conflict`] as they say.
    pub fn from_json(text: &str) -> Result<Self, Error> {
        read::json(text)
    }

    /// The document of a text as JSON has it, before any of its fields is read: to change it and give it to
    /// [`Self::from_value`].
    ///
    /// # Errors
    /// - [`Kind::TooLarge`] and [`Kind::Syntax`] as [`Self::from_json`].
    /// - [`Kind::Conflict`] for every key that is given twice, which no change of the document could be seen to mend.
    pub fn value_of_json(text: &str) -> Result<serde_json::Value, Error> {
        read::unread::<Self>(text)
    }

    /// Reads a specification from JSON that has been parsed already.
    ///
    /// A key that was given twice can't be seen any more in a parsed document.
    ///
    /// # Errors
    /// - as [`Self::from_json`], but for [`Kind::Syntax`] and the length of the text.
    pub fn from_value(value: &serde_json::Value) -> Result<Self, Error> {
        read::document(value, &[])
    }

    /// The specification as JSON, indented, with absent fields left out.
    ///
    /// [`Self::from_json`] reads it back bit for bit where [`Self::check`] finds nothing wrong. A number that
    /// is not finite is written as `null`, which is refused when read.
    #[must_use]
    pub fn to_json(&self) -> String {
        write::json(self)
    }

    /// Checks a specification that was made in code, by the same bounds as one that is read.
    ///
    /// # Errors
    /// - all faults of the kinds [`Kind::OutOfRange`], [`Kind::TooLarge`], [`Kind::Missing`],
    ///   [`Kind::Unreadable`] (a text with control characters) and [`Kind::Conflict`].
    pub fn check(&self) -> Result<(), Error> {
        check::document(self)
    }

    /// The JSON Schema (2020-12) of the document.
    ///
    /// A document that [`Self::from_json`] reads is valid by it. The other way round it can't see what has to
    /// hold between fields, the bounds of numbers inside texts, slopes and ratios over 0, and keys given twice.
    #[must_use]
    pub fn schema() -> serde_json::Value {
        schema::schema::<Self>()
    }

    /// The table of bounds: every field, in the order of the document.
    #[must_use]
    pub fn bounds() -> Vec<BoundRow> {
        table::rows::<Self>()
    }
}

impl Root for Specification {
    const FORMAT: u32 = Self::FORMAT;
    const WORDS: Words =
        Words { name: "specification", subject: "neck", title: "Specification of a neck", example: "scale" };

    fn together(&self, faults: &mut Faults) {
        together::check(self, faults);
    }
}

by_serde!(Specification);
