//! What a drawing asks of the wood.

use alloc::vec::Vec;

use super::wood::{Board, Wood};
use crate::shape::{Neck, Side};

impl Wood {
    /// The neck that is in it.
    pub(crate) fn neck(&self) -> &Neck {
        &self.neck
    }

    /// Stations where its outlines may have a corner.
    pub(crate) fn stations(&self) -> Vec<f64> {
        self.joints()
    }

    /// First and last station of the neck wood alone.
    pub(crate) fn wood_reach_mm(&self) -> [f64; 2] {
        self.wood_reach()
    }

    /// First and last station of the board alone.
    pub(crate) fn board_reach_mm(&self) -> [f64; 2] {
        self.board_reach()
    }

    /// From the centreline to a side face of the neck wood.
    pub(crate) fn half_width_mm(&self, side: Side, x: f64) -> f64 {
        self.half(side, x)
    }

    /// From the centreline to a side face of the board.
    pub(crate) fn board_half_width_mm(&self, x: f64) -> f64 {
        self.board_half(x)
    }

    /// Where the board begins at its edge on a side: at the nut's line, which may lie aslant, or at the end of its blank.
    pub(crate) fn board_start_mm(&self, side: Side) -> f64 {
        let (Board::Blank(blank) | Board::Made(blank)) = &self.board;
        let slope = self.neck.layout().nut_line().slope;
        if slope == 0.0 || !self.is_board_made() {
            return self.board_reach()[0];
        }
        // The edges run nearly along the neck, so that each look comes some ten times nearer.
        let look = |x: f64, _: u32| slope * side.sign() * self.board_half(x);
        (0..24).fold(0.0, look).max(blank.x[0])
    }

    /// Depth of the neck wood's top face.
    pub(crate) fn wood_top_mm(&self, x: f64) -> f64 {
        if self.faced { self.neck.wood_top(x) } else { self.neck.layout().board().thickness_mm() }
    }

    /// Whether the board is glued on, radiused and cut to length.
    pub(crate) const fn is_board_made(&self) -> bool {
        matches!(self.board, Board::Made(_))
    }

    /// Depth of the board's top edge on its sides.
    pub(crate) fn board_edge_mm(&self, x: f64) -> f64 {
        self.edge_depth(x).unwrap_or(0.0)
    }

    /// Depth of the board's top along its middle; negative where it lies above the crown plane.
    pub(crate) const fn board_top_mm(&self) -> f64 {
        match &self.board {
            Board::Blank(blank) => blank.top,
            Board::Made(_) => 0.0,
        }
    }
}
