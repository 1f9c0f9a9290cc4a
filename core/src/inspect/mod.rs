//! What the instruments say: where there is still wood, where too much has gone, and what can be made of it.

#[cfg(feature = "std")]
mod mend;
mod reading;

#[cfg(all(feature = "std", feature = "generate"))]
#[doc(hidden)]
pub use mend::{Asked, Programme, Row, programme};
#[cfg(feature = "std")]
pub use mend::{Forbidden, Limit, MendRow, Mended, Mending};
pub use reading::{Instrument, Measured, Reading};
