//! Lengths in the bench's unit.

use alloc::format;
use alloc::string::String;

use crate::measure::{Length, told};
use crate::spec::BenchUnit;

/// A length that is measured: hundredths of a millimetre, or thousandths of an inch.
#[cfg(feature = "std")]
pub(crate) fn length_words(mm: f64, unit: BenchUnit) -> String {
    match unit {
        BenchUnit::Millimetres => format!("{mm:.2} mm"),
        BenchUnit::Inches => format!("{:.3} in", Length::from_mm(mm).inches()),
    }
}

/// An uncertainty: thousandths of a millimetre, or ten-thousandths of an inch.
pub(crate) fn fine_words(mm: f64, unit: BenchUnit) -> String {
    match unit {
        BenchUnit::Millimetres => format!("{} mm", told(mm)),
        BenchUnit::Inches => format!("{} in", libm::round(Length::from_mm(mm).inches() * 1e4) / 1e4),
    }
}

/// A place that is marked off: tenths of a millimetre, or hundredths of an inch.
pub(crate) fn marked_words(mm: f64, unit: BenchUnit) -> String {
    match unit {
        BenchUnit::Millimetres => format!("{} mm", libm::round(mm * 10.0) / 10.0),
        BenchUnit::Inches => format!("{} in", libm::round(Length::from_mm(mm).inches() * 1e2) / 1e2),
    }
}

/// A length that nobody measures: whole millimetres, or tenths of an inch.
pub(crate) fn about_words(mm: f64, unit: BenchUnit) -> String {
    match unit {
        BenchUnit::Millimetres => format!("{mm:.0} mm"),
        BenchUnit::Inches => format!("{:.1} in", Length::from_mm(mm).inches()),
    }
}
