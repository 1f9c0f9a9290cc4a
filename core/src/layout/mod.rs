//! Temperament, scale, frets, strings, fretboard.
//!
//! [`fret_positions_mm`] needs a scale and a division of the octave only, [`Temperament`] knows the other rules, and
//! [`Layout`] lays out all that a specification gives. The frame is right-handed throughout: `x` from the nut toward the
//! bridge, `y` toward the treble side of a right-handed neck, depths below the crown line of the board.
//!
//! ```
//! use neckwright::{layout::Layout, measure::Length, spec::Specification};
//!
//! let mut spec = Specification::default();
//! spec.scale.bass = Some(Length::from_mm(686.0));
//! spec.scale.treble = Some(Length::from_mm(648.0));
//! let layout = Layout::new(&spec)?;
//! let octave = layout.frets()[11];
//! assert_eq!(octave.along_strings_mm, (343.0, 324.0));
//! assert!(octave.line.angle_deg() < 0.0, "fret 7 is square, beyond it the bass ends lie farther on");
//! # Ok::<(), neckwright::measure::Error>(())
//! ```

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
pub use crown::{Crown, Hump, sagitta_mm, try_sagitta_mm};
pub use fan::{Fan, FretLine};
pub use fret::Fret;
pub use layout::{Layout, LeastMargin};
pub use marker::{FaceMarker, SideMarker};
pub use positions::{MAX_DIVISIONS, MAX_FRETS, SCALE_RANGE_MM, fret_positions_into, fret_positions_mm};
pub use strings::{StringLine, usual_gauges_mm};
pub use temperament::{Rounded, Temperament};
