//! Readings of which some are wrong.

use alloc::vec::Vec;
use core::fmt;

use super::Readings;
use crate::measure::Error;

/// Where a bad reading stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[non_exhaustive]
pub struct BadEntry {
    /// The line of the text, counted from 1; 0 where it was made in code.
    pub line: u32,
    /// Its number among the readings, counted from 0. Blank lines, comments and the header are none.
    pub entry: u32,
}

/// What comes back where readings are bad: what is wrong, all that is right, and where every bad one stands.
///
/// ```
/// # use neckwright::inspect::Readings;
/// let bad = Readings::from_csv("at,quantity,value\nfret 1,thickness,21.8\nfret 2,thickness,\nfret 3,thickness,22\n");
/// let bad = bad.unwrap_err();
/// assert_eq!(bad.to_string(), "line 3, value: a reading without its value says nothing; give it");
/// assert_eq!(bad.good.len(), 2);
/// assert_eq!(bad.bad_lines().collect::<Vec<_>>(), [3]);
/// ```
#[derive(Clone, PartialEq)]
#[non_exhaustive]
pub struct BadReadings {
    /// What is wrong: the faults in the order of the text, those between readings after all others. Never empty.
    pub error: Error,
    /// The readings that are sound, in the order of the text.
    pub good: Readings,
    /// Every reading that is not, however many there are, in the order of the text. Empty where the text is wrong as a
    /// whole.
    pub bad: Vec<BadEntry>,
}

impl BadReadings {
    /// The lines of all bad readings, rising.
    pub fn bad_lines(&self) -> impl Iterator<Item = u32> + '_ {
        self.bad.iter().map(|bad| bad.line)
    }
}

// There may be millions of either.
impl fmt::Debug for BadReadings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} bad readings and {} good ones: {}", self.bad.len(), self.good.len(), self.error)
    }
}

impl fmt::Display for BadReadings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.error.fmt(f)
    }
}

impl core::error::Error for BadReadings {}

impl From<BadReadings> for Error {
    fn from(bad: BadReadings) -> Self {
        bad.error
    }
}
