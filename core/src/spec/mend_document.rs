//! The limits of mending as a document.

use alloc::string::String;

use super::root::{Root, Words, by_serde};
use super::{MendLimits, check, read, write};
#[cfg(doc)]
use crate::measure::Kind;
use crate::measure::{Error, Faults};

impl MendLimits {
    /// The format that this library writes, and the latest that it reads.
    pub const FORMAT: u32 = 1;

    /// Reads the limits from JSON; what is left out keeps its default.
    ///
    /// # Errors
    /// - all faults of the kinds [`Kind::TooLarge`], [`Kind::Syntax`], [`Kind::NewerFormat`], [`Kind::UnknownKey`],
    ///   [`Kind::WrongType`], [`Kind::Unreadable`] and [`Kind::OutOfRange`].
    pub fn from_json(text: &str) -> Result<Self, Error> {
        read::json(text)
    }

    /// The limits as JSON, indented, with absent fields left out.
    #[must_use]
    pub fn to_json(&self) -> String {
        write::json(self)
    }

    /// Checks limits that were made in code.
    ///
    /// # Errors
    /// - all faults of the kind [`Kind::OutOfRange`].
    pub fn check(&self) -> Result<(), Error> {
        check::document(self)
    }
}

impl Root for MendLimits {
    const FORMAT: u32 = Self::FORMAT;
    const WORDS: Words =
        Words { name: "limits", subject: "mending", title: "Limits of mending a neck", example: "margin" };

    fn together(&self, _: &mut Faults) {}
}

by_serde!(MendLimits);
