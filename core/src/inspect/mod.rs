//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.

mod compare;
mod reading;

pub use compare::{
    ComparedRow, Comparison, CutDifference, Difference, Ends, FretDifference, RodDifference, Surface,
};
pub use reading::{Instrument, Measured, Reading};
