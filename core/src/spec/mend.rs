//! The limits of mending.

use super::inspection::BenchUnit;
use super::options::options;
use super::visit::group;
use crate::measure::Length;

group! {
    /// What a mended neck has to keep. A small document of its own.
    MendLimits {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// How many standard uncertainties below its reading a low place is taken to be.
        margin: f64 = 0.0,
            within 0 to 5 "" because "0 takes the reading as it stands, and nothing lies further off than five of them";
        /// How much thicker the neck may get toward the nut over 100 mm; where the design does so it may as much.
        rise_toward_nut: Length = Length::from_mm(0.0),
            within 0 to 10 "mm" because "0 is none at all, and a hand feels far less than the most";
        /// The least radius of the spine along the shaft, or as much bend as the design has somewhere; common practice, no
        /// source.
        spine_radius: Length = Length::from_mm(3000.0),
            within 50 to 100000 "mm" because "a sharper bend is a step, and a flatter one can't be told from straight";
        /// The least radius of a carve line along the shaft, or as much bend as the design has somewhere; common practice,
        /// no source.
        carve_radius: Length = Length::from_mm(3000.0),
            within 50 to 100000 "mm" because "a sharper bend is a step, and a flatter one can't be told from straight";
        /// The least thickness, or the design's where it is less.
        least_thickness: Length = Length::from_mm(8.0),
            within 8 to 60 "mm" because "a thinner neck folds under the strings and a thicker one no hand closes around";
        /// The least wood around the rod's channel, or the design's where it is less; as the specification asks where
        /// absent.
        least_wall: Option<Length> = None,
            within 0 to 20 "mm" because "0 asks for no wood at all, and a thicker wall leaves no depth for the rod";
        /// The least from the outer strings to the board's edges, or the design's where it is less.
        string_margin: Length = Length::from_mm(0.0),
            within 0 to 10 "mm" because "0 lets a string lie on the very edge, and more than 10 mm leaves no room for strings";
        /// Whether a neck whose sides are alike has to keep them so.
        keep_even: bool = false;
        /// The unit of the sentences that tell what forbids it.
        unit: BenchUnit = BenchUnit::Millimetres;
    }
}

options!(MendLimits, name: "limits", subject: "mending", title: "Limits of mending a neck", example: "margin");
