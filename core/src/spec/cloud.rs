//! How a neck is copied from a cloud of scanned points.

use alloc::string::String;
use alloc::vec::Vec;

use super::root::{Root, Words, by_serde};
use super::visit::{choice, group};
use super::{BoundRow, CopyOptions, check, read, table, write};
use crate::measure::{Error, Faults, Length};

choice! {
    /// Which hand the scanned neck is taken for.
    CloudHand {
        /// The base's, unless its mirror image fits clearly better.
        Either = "either",
        /// The base's.
        AsBase = "as base",
    }
}

group! {
    /// How a neck is found in a cloud of scanned points, and what is made of it.
    CloudOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// Which hand the scanned neck is taken for.
        hand: CloudHand = CloudHand::Either;
        /// How many of the points the pose is fitted to.
        sample: u32 = 40000,
            within 2000 to 1000000 "points" because "fewer don't show the ends, and more tell nothing new";
        /// How many times neck and pose are fitted in turn.
        rounds: u32 = 2,
            within 1 to 6 "" because "one fits each of them, and after a few nothing changes any more";
        /// The most of the points that may lie off the neck.
        most_outliers: f64 = 0.3,
            within 0 to 0.6 "" because "where more lie off it the scan is of something else";
        /// The most that the points may scatter around the neck.
        most_noise: Length = Length::from_mm(0.5),
            within 0.001 to 5 "mm" because "a surface that scatters more shows no neck";
        /// Cells along the neck into which the points are gathered.
        stations: u32 = 120,
            within 10 to 1000 "" because "fewer don't show the volute, and more hold no points";
        /// Cells around the back, from one carve line to the other.
        around: u32 = 24,
            within 4 to 200 "" because "fewer don't show the shoulders, and more hold no points";
        /// How the gathered points are copied.
        copying: CopyOptions = CopyOptions { most_thicknesses: 24, most_profiles: 8, ..CopyOptions::default() };
    }
}

impl CloudOptions {
    /// The format that this library writes, and the latest that it reads.
    pub const FORMAT: u32 = 1;

    /// Reads options from JSON; what is left out keeps its default.
    ///
    /// # Errors
    /// - as [`Stock::from_json`](super::Stock::from_json), but for what has to hold between fields.
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
    /// - every field that is out of its bounds.
    pub fn check(&self) -> Result<(), Error> {
        check::document(self)
    }

    /// The table of bounds: every field, in the order of the document.
    #[must_use]
    pub fn bounds() -> Vec<BoundRow> {
        table::rows::<Self>()
    }
}

impl Root for CloudOptions {
    const FORMAT: u32 = Self::FORMAT;
    const WORDS: Words = Words {
        name: "cloud options",
        subject: "copy from a scan",
        title: "Copying from a scan",
        example: "sample",
    };

    fn together(&self, _: &mut Faults) {}
}

by_serde!(CloudOptions);
