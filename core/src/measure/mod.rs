//! Lengths, angles, stations, bounds and faults.

mod angle;
mod bound;
mod fault;
mod length;
mod station;

pub use angle::Angle;
pub use bound::Bound;
pub use fault::{Error, Fault, Kind, MAX_FAULTS};
pub use length::Length;
pub use station::Station;
