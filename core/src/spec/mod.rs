//! The documents, the specification of a neck and the stock for its carving: groups, defaults, reading, schema.

mod bridge;
mod check;
mod cloud;
mod copy_options;
mod document;
#[cfg(any(test, feature = "generate"))]
mod draw;
mod fretboard;
mod frets;
#[cfg(any(test, feature = "generate"))]
mod generate;
#[cfg(any(test, feature = "generate"))]
mod generate_stock;
mod grits;
mod headstock;
mod heel;
mod inspection;
mod look;
mod mend;
mod nearest;
mod nut;
mod options;
mod order;
mod paper;
mod ratio;
mod read;
mod rod;
mod root;
mod scale;
mod schema;
mod shaft;
mod solid;
mod specification;
mod stock;
mod stock_document;
mod strings;
mod table;
mod template;
mod together;
mod visit;
mod volute;
mod woods;
mod write;

pub use bridge::Bridge;
pub use cloud::{CloudHand, CloudOptions};
pub use copy_options::{CopyOptions, Judging, KnotChoice};
pub use document::MAX_DOCUMENT_BYTES;
pub(crate) use document::syntax;
#[cfg(any(test, feature = "generate"))]
pub use draw::numbers;
pub use fretboard::{Fretboard, Radius, WidthAt};
pub use frets::{FretRule, Frets};
pub use headstock::{EdgePoint, Headstock, HeadstockKind, Post};
pub use heel::{BlockWidth, Heel};
pub use inspection::{BenchUnit, InspectionOptions};
pub(crate) use look::Look;
pub use mend::MendLimits;
pub(crate) use nearest::nearest;
pub use nut::Nut;
pub use paper::{DrawingUnit, DxfOptions, PaperOptions, PaperSize};
pub use ratio::Ratio;
pub use rod::{ChannelAt, Rod};
pub use scale::Scale;
pub(crate) use schema::{number_or_text, texts};
pub use shaft::{Curve, DepthAt, ProfileAt, Shaft, Shape, ThicknessAt, TrebleSide};
pub use solid::{MeshOptions, SolidOptions};
pub use specification::{Hand, Specification};
pub use stock::{
    Allowances, BoardStock, Construction, Cutter, CutterShape, FacetRounds, GritScale, Grits, HeelBlockStock,
    HeelMade, LineAt, Saw, StageName, Stock,
};
pub use strings::{Spacing, Strings};
pub use table::BoundRow;
pub use template::TemplateOptions;
pub(crate) use visit::Allowed;
pub use volute::Volute;
pub use woods::{Wood, Woods};
