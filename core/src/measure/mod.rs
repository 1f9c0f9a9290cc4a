//! Lengths, angles, stations, bounds and faults.

mod fault;

pub use fault::{Error, Fault, Kind, MAX_FAULTS};
