//! Readings: from a text or from code, checked, none lost.
//!
//! Every way in ends in the same checks. Where something is wrong, the sound readings come back with the faults
//! ([`BadReadings`]), so that a builder mends a few lines and goes on.

mod bad;
mod collection;
mod conflict;
mod csv;
mod elements;
mod entry;
mod field;
mod fingerprint;
mod gather;
mod instrument;
mod json;
mod meant;
mod numbered;
mod numbers;
mod placed;
mod quantity;
mod schema;
mod write;

pub use bad::{BadEntry, BadReadings};
pub use collection::{MAX_READINGS, Readings};
pub(crate) use fingerprint::Fingerprint;
pub(crate) use placed::Placed;
pub use quantity::Quantity;
