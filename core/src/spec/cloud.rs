//! How a neck is copied from a cloud of scanned points.

use super::CopyOptions;
use super::options::options;
use super::visit::{choice, group};
use crate::measure::Length;

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
        /// The most times that neck and pose are fitted in turn.
        rounds: u32 = 4,
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

options!(
    CloudOptions,
    name: "scan's options",
    subject: "copy from a scan",
    title: "How a neck is copied from a scan",
    example: "sample"
);
