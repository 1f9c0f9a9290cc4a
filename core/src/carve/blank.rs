//! The blanks: what there is before anything is cut.

use super::fence::Straight;
use super::limit::{Contour, Limit};

/// The blank of the neck wood, its top face in the glue line's plane.
#[derive(Clone, Debug)]
pub(crate) struct Blank {
    pub x: [f64; 2],
    pub half: f64,
    /// Depth of its underside.
    pub bottom: f64,
    /// Depth of the underside of a headstock that is scarfed on, where that is deeper.
    pub scarf: Option<Straight>,
    /// The heel's block, where it is glued under the blank.
    pub block: Option<BlockBlank>,
}

/// The block that is glued under the blank for the heel, in the blank's middle.
#[derive(Clone, Debug)]
pub(crate) struct BlockBlank {
    pub x: [f64; 2],
    pub half: f64,
    /// Depth of its underside.
    pub bottom: f64,
}

impl Blank {
    /// Depth of its underside, the block's beside.
    pub fn bottom_at(&self, x: f64) -> f64 {
        self.scarf.as_ref().map_or(self.bottom, |line| line.at_mm(x).max(self.bottom))
    }

    pub fn block_at(&self, x: f64) -> Option<&BlockBlank> {
        self.block.as_ref().filter(|b| x >= b.x[0] && x <= b.x[1])
    }

    /// Its underside in the section over a stretch across.
    pub fn contour(&self, x: f64, y: [f64; 2]) -> Contour {
        let level = Limit::level(self.bottom_at(x));
        match self.block_at(x) {
            Some(block) => Contour::stepped(y, level, Limit::level(block.bottom), block.half),
            None => Contour::new(y, level),
        }
    }

    /// Depth of its underside at a place.
    pub fn depth(&self, x: f64, y: f64) -> f64 {
        self.block_at(x).filter(|b| libm::fabs(y) <= b.half).map_or_else(|| self.bottom_at(x), |b| b.bottom)
    }
}

/// The fretboard's blank.
#[derive(Clone, Debug)]
pub(crate) struct BoardBlank {
    pub x: [f64; 2],
    pub half: f64,
    /// Depth of its top face, negative above the crown plane.
    pub top: f64,
}
