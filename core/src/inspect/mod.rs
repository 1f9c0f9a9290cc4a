//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.

mod check;
mod compare;
mod cloud;
mod copy;
#[cfg(feature = "std")]
mod mend;
mod reading;
mod readings;

pub use check::{Cell, Deviation, Finding, FindingKind, Inspection, Map, Place, Row};
pub use compare::{
    ComparedRow, Comparison, CutDifference, Difference, Ends, FretDifference, RodDifference, Surface,
};
pub use cloud::{CloudPart, CopiedCloud, Departure, PlacedCloud, Pose, copy_cloud, place_cloud};
pub use copy::{Copied, Kept, Number, Residual, Suggestion, Unused, copy_neck};
#[cfg(feature = "std")]
pub use mend::{Forbidden, Limit, MendRow, Mended, Mending};
#[cfg(all(feature = "std", feature = "generate"))]
#[doc(hidden)]
pub use mend::{Programme, Row, programme};
pub use reading::{Instrument, Measured, Reading};
pub use readings::{BadEntry, BadReadings, MAX_READINGS, Quantity, Readings};
