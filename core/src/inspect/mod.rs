//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.
//!
//! [`Readings`] come from CSV, JSON or code. A neck is [inspected](crate::shape::Neck::inspect) by them, brought down to the
//! low patches that are found, [copied](copy_neck) from them or from a scan, and compared with another.

mod along;
mod check;
mod cloud;
mod compare;
mod copy;
mod fixed;
mod lengths;
#[cfg(feature = "std")]
mod mend;
mod mendable;
mod reading;
mod readings;
mod robust;

pub(crate) use along::stretch_words;
pub use check::{Cell, Deviation, Doubt, Finding, FindingKind, Inspection, Lowest, Map, Place, Row, Verdict};
pub use cloud::{CloudPart, CopiedCloud, Departure, PlacedCloud, Pose, copy_cloud, place_cloud};
pub use compare::{
    ComparedRow, Comparison, CutDifference, Difference, Ends, FretDifference, RodDifference, Surface,
};
pub use copy::{Copied, Kept, Number, Residual, Suggestion, Unused, copy_neck};
#[cfg(feature = "std")]
#[doc(hidden)]
pub use mend::{Asked, Demand, Programme, programme};
#[cfg(feature = "std")]
pub use mend::{Asking, Forbidden, Limit, MendRow, Mended, Mending, Reached};
pub use reading::{Instrument, Measured, Reading};
pub use readings::{BadEntry, BadReadings, MAX_READINGS, Quantity, Readings};
