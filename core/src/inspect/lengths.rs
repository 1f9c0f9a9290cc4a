//! Lengths in the bench's unit.

use alloc::format;
use alloc::string::String;

use crate::measure::Length;
use crate::spec::BenchUnit;

/// A length that is measured: hundredths of a millimetre, or thousandths of an inch.
#[cfg(feature = "std")]
pub(crate) fn length_words(mm: f64, unit: BenchUnit) -> String {
    match unit {
        BenchUnit::Millimetres => format!("{mm:.2} mm"),
        BenchUnit::Inches => format!("{:.3} in", Length::from_mm(mm).inches()),
    }
}

/// A length that nobody measures: whole millimetres, or tenths of an inch.
pub(crate) fn about_words(mm: f64, unit: BenchUnit) -> String {
    match unit {
        BenchUnit::Millimetres => format!("{mm:.0} mm"),
        BenchUnit::Inches => format!("{:.1} in", Length::from_mm(mm).inches()),
    }
}
