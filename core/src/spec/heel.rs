//! The heel: where the neck stops being a neck.

use super::visit::{LengthOr, Slot, Value, group};
use crate::measure::{Length, Station};

/// How wide the heel block is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum BlockWidth {
    /// As wide as the board above it.
    #[default]
    Board,
    /// This wide.
    Width(Length),
}

impl LengthOr for BlockWidth {
    fn word(&self) -> &'static str {
        "board"
    }

    fn length(&self) -> Option<Length> {
        match self {
            Self::Board => None,
            Self::Width(width) => Some(*width),
        }
    }

    fn set(&mut self, length: Option<Length>) {
        *self = length.map_or(Self::Board, Self::Width);
    }
}

impl Value for BlockWidth {
    fn slot(&mut self) -> Slot<'_> {
        Slot::LengthOr(self)
    }
}

group! {
    /// The heel.
    Heel {
        /// Where the sweep down to the heel block begins.
        start: Option<Station> = None;
        /// Radius of the sweep.
        sweep_radius: Option<Length> = None,
            within 2 to 300 "mm" because "no cutter makes a tighter sweep, and a wider one has no end on a neck";
        /// Depth of the heel block below the board's crown.
        block_depth: Option<Length> = None,
            within 10 to 120 "mm" because "a shallower block is no heel and a deeper one comes out of the body";
        /// Width of the heel block, or "board" for as wide as the board.
        block_width: BlockWidth = BlockWidth::Board,
            within 10 to 160 "mm" because "a narrower block does not hold the neck and a wider one finds no stock";
        /// Where the heel block ends.
        end: Option<Station> = None;
        /// From where on the heel is glued or bolted to the body, so that nothing may be taken off.
        glued_from: Option<Station> = None;
    }
}
