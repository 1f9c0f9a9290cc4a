//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.

mod reading;

pub use reading::{Instrument, Measured, Reading};
