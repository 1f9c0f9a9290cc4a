//! What an inspection is asked.

use alloc::string::String;

use super::root::{Root, Words, by_serde};
use super::visit::{choice, group};
use super::{check, read, write};
use crate::measure::{Error, Faults};

choice! {
    /// The unit of the sentences for the bench.
    BenchUnit {
        /// Millimetres.
        Millimetres = "mm",
        /// Inches, in thousandths and, from a 64th on, to the nearest 64th.
        Inches = "in",
    }
}

group! {
    /// What an inspection is asked.
    InspectionOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// How often an inspection of a neck on which nothing is wrong may report something, for each of the two questions
        /// by itself: is anything too low, and is there a flat or a bump.
        significance: f64 = 0.01,
            within 0.000001 to 0.2 "" because "rarer false alarms leave real faults unseen, and with more of them nobody believes an alarm";
        /// The unit of the sentences.
        unit: BenchUnit = BenchUnit::Millimetres;
    }
}

impl InspectionOptions {
    /// The format that this library writes, and the latest that it reads.
    pub const FORMAT: u32 = 1;

    /// Reads options from JSON; `{}` are the defaults.
    ///
    /// # Errors
    /// All the faults that are found, as [`Stock::from_json`](super::Stock::from_json).
    pub fn from_json(text: &str) -> Result<Self, Error> {
        read::json(text)
    }

    /// Reads options from JSON that has been parsed already.
    ///
    /// # Errors
    /// - as [`Self::from_json`].
    pub fn from_value(value: &serde_json::Value) -> Result<Self, Error> {
        read::document(value, &[])
    }

    /// The options as JSON; [`Self::from_json`] reads them back bit for bit.
    #[must_use]
    pub fn to_json(&self) -> String {
        write::json(self)
    }

    /// Checks options that were made in code.
    ///
    /// # Errors
    /// - every number out of its bounds.
    pub fn check(&self) -> Result<(), Error> {
        check::document(self)
    }
}

impl Root for InspectionOptions {
    const FORMAT: u32 = Self::FORMAT;
    const WORDS: Words = Words {
        name: "inspection",
        subject: "inspection",
        title: "Options of an inspection",
        example: "inspection",
    };

    fn together(&self, _: &mut Faults) {}
}

by_serde!(InspectionOptions);
