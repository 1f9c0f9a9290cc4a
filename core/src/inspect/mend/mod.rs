//! Low patches mended: the nearest fair neck in the wood that is still there.

mod affine;
mod build;
mod clear;
mod fit;
mod forbid;
mod limit;
mod line;
mod low;
mod mending;
mod model;
mod nearest;
mod pool;
mod programme;
mod rows;
mod search;
mod stations;
mod verify;
mod wall;
mod width;

pub use limit::{Asking, Forbidden, Limit};
pub use mending::{MendRow, Mended, Mending, Reached};
#[doc(hidden)]
pub use nearest::{Asked, programme};
#[doc(hidden)]
pub use programme::{Demand, Programme};
