//! The specification document: groups, defaults, reading, schema.

mod bridge;
mod fretboard;
mod frets;
mod headstock;
mod heel;
mod nut;
mod ratio;
mod rod;
mod scale;
mod shaft;
mod specification;
mod strings;
// Until the readers stand on it.
#[allow(dead_code)]
mod visit;
mod volute;
mod woods;

pub use bridge::Bridge;
pub use fretboard::{Fretboard, Radius, WidthAt};
pub use frets::{FretRule, Frets};
pub use headstock::{EdgePoint, Headstock, HeadstockKind, Post};
pub use heel::{BlockWidth, Heel};
pub use nut::Nut;
pub use ratio::Ratio;
pub use rod::{ChannelAt, Rod};
pub use scale::Scale;
pub use shaft::{DepthAt, ProfileAt, Shaft, Shape, ThicknessAt, TrebleSide};
pub use specification::{Hand, Specification};
pub use strings::{Spacing, Strings};
pub use volute::Volute;
pub use woods::{Wood, Woods};
