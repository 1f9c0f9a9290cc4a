//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.

mod check;
mod reading;
mod readings;

pub use check::{Cell, Deviation, Finding, FindingKind, Inspection, Map, Place, Row};
pub use reading::{Instrument, Measured, Reading};
pub use readings::{BadEntry, BadReadings, MAX_READINGS, Quantity, Readings};
