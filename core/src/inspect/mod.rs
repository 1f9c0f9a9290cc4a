//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.

mod cloud;
mod copy;
mod reading;

pub use cloud::{CloudPart, CopiedCloud, Departure, PlacedCloud, Pose, copy_cloud, place_cloud};
pub use copy::{Copied, Kept, Number, Residual, Suggestion, Unused, copy_neck};
pub use reading::{Instrument, Measured, Reading};
