//! Readings against the finished neck and a stage: deviations, low patches, flats and bumps, the map, the bench's sentences.

mod band;
mod basis;
mod doubt;
mod fair;
mod family;
mod finding;
mod found;
mod gather;
mod inspection;
mod low;
mod map;
mod normal;
mod place;
mod prior;
mod queue;
mod row;
mod sentence;
mod sequence;
mod station;
mod touched;
mod verdict;

#[cfg(feature = "std")]
pub(crate) use basis::Basis;
pub use doubt::Doubt;
pub use finding::{Finding, FindingKind, Lowest};
#[cfg(feature = "std")]
pub(crate) use gather::Around;
pub use inspection::Inspection;
pub use map::{Cell, Map};
pub use place::Place;
pub use row::{Deviation, Row};
pub use verdict::Verdict;
