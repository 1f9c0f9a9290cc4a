//! Lengths, angles, stations, bounds and faults.

mod angle;
mod bound;
mod exact;
mod fault;
mod faults;
mod length;
mod sixtyfourths;
mod station;

pub use angle::Angle;
pub use bound::Bound;
pub use fault::{Error, Fault, Kind, MAX_FAULTS};
pub use length::Length;
pub use sixtyfourths::Sixtyfourths;
pub use station::Station;

pub(crate) use exact::read_ratio;
pub(crate) use fault::{exactly, quoted, shortened, told};
pub(crate) use faults::Faults;
