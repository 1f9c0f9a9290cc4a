//! A neck copied from readings: the numbers they tell, how well, and what to measure next.

mod alone;
mod blame;
mod chance;
mod common;
mod copied;
mod family;
mod fewest;
mod finish;
mod fit;
mod follow;
mod knowledge;
mod matrix;
mod next;
mod plan;
mod robust;
mod rows;
mod section;
mod settle;
mod solve;
mod specify;
mod start;
mod take;

#[cfg(feature = "std")]
pub(crate) use chance::chance;
pub use copied::{Copied, Kept, Number, Residual, copy_neck};
pub use next::Suggestion;
pub use take::Unused;
