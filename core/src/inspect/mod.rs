//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.

mod cloud;
mod reading;

pub use cloud::{CloudPart, Departure, PlacedCloud, Pose, place_cloud};
pub use reading::{Instrument, Measured, Reading};
