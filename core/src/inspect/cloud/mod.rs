//! A neck found in a cloud of scanned points: its pose, the readings that the points amount to, and its copy.

mod coarse;
mod copy;
mod denser;
mod even;
mod field;
mod fit;
mod gather;
mod motion;
mod place;
mod pose;
mod refuse;
mod rest;
mod shown;
mod skin;

pub use copy::{CopiedCloud, copy_cloud};
pub use gather::{CloudPart, Departure};
pub use place::{PlacedCloud, place_cloud};
pub use pose::Pose;
