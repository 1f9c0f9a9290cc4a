//! Sections, shaft, headstock, volute, heel, rod, and the neck that joins them.

mod back;
mod build;
mod curvature;
mod defaults;
mod headstock;
mod neck;
mod outline;
mod profile;
mod rod;
mod section;
mod sides;
mod spine;
mod volume;
mod wood;

pub use neck::{Laws, LeastValue, Neck, PROOF_TOLERANCE};
pub use outline::{Moments, Outline, Point, Segment, sagitta_mm};
pub use profile::{ELLIPSE, Fullness, fullness};
pub use section::{Bend, Part, Section};
pub use sides::{Side, Sides};
pub use volume::{Bounds, Masses, Volumes};
pub use wood::{density_kg_m3, known_species};
