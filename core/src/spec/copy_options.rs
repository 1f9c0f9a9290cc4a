//! How a neck is copied from readings.

use alloc::string::String;
use alloc::vec::Vec;

use super::root::{Root, Words};
use super::visit::{choice, group};
use super::{BoundRow, check, read, table, write};
use crate::measure::{Error, Faults, Length};

choice! {
    /// Where the copied neck's numbers are given.
    KnotChoice {
        /// At the stations of the readings.
        Readings = "readings",
        /// At the base's own stations.
        Base = "base",
    }
}

choice! {
    /// Whether more is fitted than the base has.
    Judging {
        /// Where the readings call for it: by chance they would once in a thousand times.
        Judged = "judged",
        /// Never.
        Never = "never",
        /// Always.
        Always = "always",
    }
}

group! {
    /// How a neck is copied from readings. Every field has a default.
    CopyOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// Whether the numbers are given at the readings' stations or at those that the base has.
        stations: KnotChoice = KnotChoice::Readings;
        /// Whether the treble side may have numbers of its own.
        uneven: Judging = Judging::Judged;
        /// Whether the sides' lean is fitted; else it is the base's. Shoulder, belly and lean change a side in much the same way,
        /// and only sharp readings tell them apart.
        lean: Judging = Judging::Judged;
        /// The most stations that the thickness is given at.
        most_thicknesses: u32 = 16,
            within 1 to 64 "" because "the specification takes no more";
        /// The most stations that the shape of the back is given at.
        most_profiles: u32 = 8,
            within 1 to 64 "" because "the specification takes no more";
        /// The least distance between two stations that are made from readings.
        least_gap: Length = Length::from_mm(8.0),
            within 0.1 to 200 "mm" because "a curve through stations that are nearer follows the readings' errors";
        /// Whether readings that lie far off the others count for less, so that a few gross ones do not matter.
        robust: bool = false;
        /// Whether the uncertainties told are widened by as much as the readings scatter more than they should.
        scatter_counts: bool = false;
        /// The most steps of the fit.
        most_steps: u32 = 60,
            within 1 to 1000 "" because "a fit that has not settled by then does not";
    }
}

impl CopyOptions {
    /// The format that this library writes, and the latest that it reads.
    pub const FORMAT: u32 = 1;

    /// Reads options from JSON; what the document leaves out keeps its default.
    ///
    /// # Errors
    /// - as [`Specification::from_json`](super::Specification::from_json).
    pub fn from_json(text: &str) -> Result<Self, Error> {
        read::json(text)
    }

    /// The options as JSON, indented.
    #[must_use]
    pub fn to_json(&self) -> String {
        write::json(self)
    }

    /// Checks options that were made in code, by the same bounds as those that are read.
    ///
    /// # Errors
    /// - all numbers that are out of their bounds.
    pub fn check(&self) -> Result<(), Error> {
        check::document(self)
    }

    /// The table of bounds: every field, in the order of the document.
    #[must_use]
    pub fn bounds() -> Vec<BoundRow> {
        table::rows::<Self>()
    }
}

impl Root for CopyOptions {
    const FORMAT: u32 = Self::FORMAT;
    const WORDS: Words = Words {
        name: "copying's options",
        subject: "copy",
        title: "How a neck is copied",
        example: "options",
    };

    fn together(&self, _: &mut Faults) {}
}
