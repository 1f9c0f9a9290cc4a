//! Temperament, scale, frets, strings, fretboard.

mod board;
mod build;
mod crown;
mod double;
mod fan;
mod fit;
mod fret;
mod given;
#[allow(clippy::module_inception)]
mod layout;
mod marker;
mod positions;
mod strings;
mod table;
mod temperament;

pub use board::{Board, Side};
pub use crown::{Crown, Hump};
pub use fan::{Fan, FretLine};
pub use fret::Fret;
pub use layout::{Layout, LeastMargin};
pub use marker::{FaceMarker, SideMarker};
pub use positions::{MAX_DIVISIONS, MAX_FRETS, SCALE_RANGE_MM, fret_positions_into, fret_positions_mm};
pub use strings::{StringLine, usual_gauges_mm};
pub use temperament::{Rounded, Temperament};
