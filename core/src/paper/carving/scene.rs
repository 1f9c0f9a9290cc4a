//! What a page is about: a stage, the wood before it and after it.

use alloc::vec::Vec;

use super::marks::{Marked, marked};
use super::outline::Piece;
use crate::carve::{CarvingPlan, Stage, Wood};
use crate::paper::draft::Draft;
use crate::paper::path::Point;
use crate::shape::Neck;

/// One stage of a plan.
pub(super) struct Scene<'a> {
    pub plan: &'a CarvingPlan,
    pub index: usize,
    pub stage: &'a Stage,
    pub neck: &'a Neck,
    pub before: Piece<'a>,
    pub after: Piece<'a>,
    pub lines: Vec<Marked<'a>>,
}

/// A drawing, and where the neck's own origin lies in it.
pub(in crate::paper) struct Drawing {
    pub draft: Draft,
    pub origin: Option<Point>,
}

impl<'a> Scene<'a> {
    pub fn new(plan: &'a CarvingPlan, index: usize) -> Option<Self> {
        let stage = plan.stages().get(index)?;
        let before = index.checked_sub(1).map_or(plan.start(), |i| &plan.stages()[i].wood);
        let piece = |wood: &'a Wood| Piece { wood, board: plan.stock().board.glued || wood.is_board_made() };
        Some(Self {
            plan,
            index,
            stage,
            neck: stage.wood.neck(),
            before: piece(before),
            after: piece(&stage.wood),
            lines: marked(&stage.lines),
        })
    }

    /// Where the wood ends, before and after.
    pub fn reach(&self) -> [f64; 2] {
        let (a, b) = (self.before.wood.wood_reach_mm(), self.after.wood.wood_reach_mm());
        let mut reach = [a[0].min(b[0]), a[1].max(b[1])];
        for piece in [self.before, self.after].into_iter().filter(|p| p.board) {
            let [from, to] = piece.wood.board_reach_mm();
            reach = [reach[0].min(from), reach[1].max(to)];
        }
        reach
    }
}
