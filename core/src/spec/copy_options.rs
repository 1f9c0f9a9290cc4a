//! How a neck is copied from readings.

use super::inspection::BenchUnit;
use super::options::options;
use super::visit::{choice, group};
use crate::measure::Length;

choice! {
    /// Where the copied neck's numbers are given.
    KnotChoice {
        /// At the stations of the readings.
        Readings = "readings",
        /// At the base's own stations.
        Base = "base",
        /// At so few of the readings' stations that readings are left over to check the others: straight lines first, and more
        /// stations where several readings call for each.
        Fewest = "fewest",
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
        /// Whether the numbers are given at the readings' stations, at few of them, or at those that the base has.
        stations: KnotChoice = KnotChoice::Readings;
        /// Whether the treble side may have numbers of its own.
        uneven: Judging = Judging::Judged;
        /// Whether the sides' lean is fitted, so far as the readings tell it; never: it is the base's and counts as known. Shoulder,
        /// belly and lean change a side in much the same way, and only sharp readings tell them apart.
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
        /// Whether readings that lie far off the others count for less, so that a few gross ones do not matter. What readings that
        /// stand alone at their station would decide is then given at few stations: where there are four or more.
        robust: bool = false;
        /// Whether the uncertainties told are widened by as much as the readings scatter more than they should.
        scatter_counts: bool = false;
        /// The most steps of the fit.
        most_steps: u32 = 60,
            within 1 to 1000 "" because "a fit that has not settled by then does not";
        /// The unit of the sentences that tell what to measure next.
        unit: BenchUnit = BenchUnit::Millimetres;
    }
}

options!(CopyOptions, name: "copying's options", subject: "copy", title: "How a neck is copied", example: "stations");
