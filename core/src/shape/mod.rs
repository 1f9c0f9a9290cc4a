//! Sections, shaft, headstock, volute, heel, rod, and the neck that joins them.

mod back;
mod build;
mod card;
mod cubic;
mod curvature;
mod defaults;
mod facts;
mod form;
mod headstock;
mod joint;
mod nearest;
mod neck;
mod outline;
mod profile;
mod prove;
mod rod;
mod section;
mod sides;
mod spine;
mod string_path;
mod volume;
mod warning;
mod wood;

pub use crate::layout::sagitta_mm;
pub(crate) use back::{Back, Flank, Strip};
pub(crate) use build::Built;
pub use card::CaliperRow;
pub(crate) use cubic::{cubic_at, cubic_bend, cubic_foot, cubic_shares, cubic_slope};
pub use facts::{HeadstockFacts, HeelFacts, PostPlace, VoluteFacts};
pub(crate) use headstock::Headstock;
pub use joint::{Joints, Scarf, scarf};
pub(crate) use nearest::{Edge, Foot, Path};
pub use neck::{Laws, LeastValue, Neck, PROOF_TOLERANCE};
pub use outline::{Moments, Outline, Point, Segment};
#[cfg(feature = "std")]
pub(crate) use profile::Treble;
pub(crate) use profile::held;
pub use profile::{ELLIPSE, Fullness, fullness};
pub use rod::Cut;
pub use section::{Bend, Part, Section};
pub use sides::{Side, Sides};
pub(crate) use spine::shaft_line;
pub use string_path::StringPath;
pub use volume::{Bounds, Masses, Volumes};
pub use warning::Warning;
pub use wood::{density_kg_m3, known_species};
