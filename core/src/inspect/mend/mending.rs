//! What comes of mending.

use alloc::string::String;
use alloc::vec::Vec;

use super::limit::{Forbidden, Limit};
use crate::carve::Caution;
use crate::shape::{Neck, Sides};
use crate::spec::Specification;

/// What comes of mending.
#[derive(Clone, Debug, serde::Serialize)]
#[serde(tag = "outcome", content = "result", rename_all = "snake_case")]
pub enum Mending {
    /// The neck that is nearest.
    Mended(alloc::boxed::Box<Mended>),
    /// There is none, and what forbids it: where single limits would do by giving way alone, these, the one first that
    /// asks least; else those that have to give way together.
    Impossible(Vec<Forbidden>),
}

/// The nearest fair neck that lies within the wood that is still there.
#[derive(Clone, Debug, serde::Serialize)]
#[non_exhaustive]
pub struct Mended {
    /// Its specification, with every default filled in. The very one of the design where nothing is low.
    pub specification: Specification,
    /// The neck.
    #[serde(skip)]
    pub neck: Neck,
    /// What the board's edges and the back lose against the design, mm³ of wood. (What is made least is the volume between
    /// the two backs; the little of it that lies above the glue line behind the nut is no wood.)
    pub removed_mm3: f64,
    /// At the nut, every fret and every station with a low place, in order along the neck; none where nothing is low.
    pub rows: Vec<MendRow>,
    /// The limits that the neck comes up to, each with the station where it costs most.
    pub reached: Vec<Reached>,
    /// Readings that ask nothing although they were given, and why.
    pub notes: Vec<String>,
    /// What to mind before and while the wood comes off; nothing where none does.
    pub cautions: Vec<Caution>,
}

/// A limit that a mended neck comes up to.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Reached {
    /// The limit.
    pub limit: Limit,
    /// The station where it costs most, mm from the nut.
    pub x_mm: f64,
}

/// What comes off at a station and what it will measure.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct MendRow {
    /// The fret whose line crosses the centreline there, 0 for the nut.
    pub fret: Option<u32>,
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// What comes off the design at the spine, mm of depth, which is square to the board there; what the wood still has over
    /// the design comes off besides.
    pub take_off_mm: f64,
    /// The most that comes off the design anywhere around the section, in mm of depth: straight up from the back toward the board, at a
    /// place across that both backs have, as [`take_off_mm`](Self::take_off_mm) is. On a flank, which lies steep, less comes off square to the
    /// surface.
    pub most_mm: f64,
    /// Distance of that place from the centreline, mm: positive toward the treble side, on a left-handed neck too.
    pub most_across_mm: f64,
    /// What comes off the width, mm.
    pub narrower_mm: f64,
    /// Thickness as it will measure, mm.
    pub thickness_mm: f64,
    /// Width as it will measure, mm.
    pub width_mm: f64,
    /// Girth as it will measure, mm.
    pub girth_mm: f64,
    /// Carve lines as they will measure, mm.
    pub carve_line_mm: Sides<f64>,
    /// Standard uncertainty of the thickness that the low readings lend it, mm: for each reading that decides the mended
    /// neck what the thickness changes by if that reading is off by its own standard uncertainty, added as squares. 0
    /// where no reading decides.
    pub uncertainty_mm: f64,
}
