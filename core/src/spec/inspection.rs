//! What an inspection is asked.

use super::options::options;
use super::visit::{choice, group};

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

options!(
    InspectionOptions,
    name: "inspection's options",
    subject: "inspection",
    title: "How a neck is inspected",
    example: "significance"
);
