//! The documents, the specification of a neck and the stock for its carving: groups, defaults, reading, schema.

mod bridge;
mod check;
mod document;
mod fretboard;
mod frets;
#[cfg(any(test, feature = "generate"))]
mod generate;
mod headstock;
mod heel;
mod look;
mod nearest;
mod nut;
mod ratio;
mod read;
mod rod;
mod root;
mod scale;
mod schema;
mod shaft;
mod specification;
mod stock;
mod strings;
mod table;
mod together;
mod visit;
mod volute;
mod woods;
mod write;

pub use bridge::Bridge;
pub use document::MAX_DOCUMENT_BYTES;
pub use fretboard::{Fretboard, Radius, WidthAt};
pub use frets::{FretRule, Frets};
#[cfg(any(test, feature = "generate"))]
pub use generate::numbers;
pub use headstock::{EdgePoint, Headstock, HeadstockKind, Post};
pub use heel::{BlockWidth, Heel};
pub use nut::Nut;
pub use ratio::Ratio;
pub use rod::{ChannelAt, Rod};
pub use scale::Scale;
pub use shaft::{DepthAt, ProfileAt, Shaft, Shape, ThicknessAt, TrebleSide};
pub use specification::{Hand, Specification};
pub use stock::{
    Allowances, BoardStock, Construction, Cutter, CutterShape, FacetRounds, GritScale, Grits, LineAt, Saw,
    StageName, Stock,
};
pub use strings::{Spacing, Strings};
pub use table::BoundRow;
pub use volute::Volute;
pub use woods::{Wood, Woods};
