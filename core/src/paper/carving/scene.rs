//! What a page is about: a stage, the wood before it and after it.

use alloc::vec::Vec;

use super::marks::{Gone, Marked, marked};
use super::outline::Piece;
use crate::carve::{CarvingPlan, Details, Stage, Wood};
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
    /// Marks whose wood is gone before the stage begins.
    pub gone: Vec<Gone<'a>>,
}

/// A drawing, and where the neck's own origin lies in it.
pub(super) struct Drawing {
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
            gone: gone(stage, before),
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

/// The marks of facets that lie where an earlier cut has taken the wood. Every facet has a line for its upper edge and,
/// but for the back itself, one for its lower edge.
fn gone<'a>(stage: &'a Stage, before: &Wood) -> Vec<Gone<'a>> {
    const NEAR_MM: f64 = 0.05;
    let Details::Facets(facts) = &stage.details else { return Vec::new() };
    let mut gone = Vec::new();
    let mut lines = stage.lines.iter();
    let hand = before.neck().hand_sign();
    for facet in &facts.facets {
        let edges = if facet.angle_deg == 90.0 { 1 } else { 2 };
        for (edge, line) in (0..edges).zip(lines.by_ref()) {
            for marks in &facet.marks {
                let at = if edge == 0 { marks.upper_mm } else { marks.lower_mm };
                // The first round is marked on the wood as it is; later ones on the facets before them.
                let Some([out, depth]) = at.filter(|_| facet.round == 1) else { continue };
                let point = [marks.x_mm, hand * facet.side.sign() * out, -depth];
                if !before.contains_mm(point, NEAR_MM) {
                    gone.push((line.name.as_str(), marks.x_mm));
                }
            }
        }
    }
    gone
}
