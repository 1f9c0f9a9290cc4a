//! Two necks compared fret by fret.

use alloc::vec::Vec;

use super::crown::{What, edge_at, shared};
use super::difference::{Difference, Surface};
use super::parts::{Pair, worse};
use crate::shape::{Neck, Side, Sides};

/// Two necks at one fret. Differences are the neck's that was asked less the other's, mm.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct ComparedRow {
    /// Number of the fret; 0 is the nut.
    pub fret: u32,
    /// Its station on the centreline of the neck that was asked, mm from the nut; both are measured there.
    pub x_mm: f64,
    /// The greatest difference in this section.
    pub greatest: Difference,
    /// Thickness.
    pub thickness_mm: f64,
    /// Width.
    pub width_mm: f64,
    /// Girth.
    pub girth_mm: f64,
    /// Depth of the carve line on either side.
    pub carve_line_mm: Sides<f64>,
}

/// The rows of all frets that lie on both boards and above both necks' wood.
pub(super) fn rows(pair: &Pair<'_>) -> Vec<ComparedRow> {
    let (Some(board), Some(wood)) = (shared(pair.0), pair.wood()) else { return Vec::new() };
    let [neck, other] = pair.0;
    let row = |fret: u32, x: f64| {
        let minus = |f: &dyn Fn(&Neck) -> f64| f(neck) - f(other);
        let girth = |n: &Neck| n.girth_mm(x).unwrap_or_default();
        ComparedRow {
            fret,
            x_mm: x,
            greatest: section(pair, x),
            thickness_mm: minus(&|n| n.thickness_mm(x).unwrap_or_default()),
            width_mm: minus(&|n| n.width_mm(x).unwrap_or_default()),
            girth_mm: minus(&girth),
            carve_line_mm: Sides::each(|side| minus(&|n| carve(n, side, x))),
        }
    };
    let card = neck.caliper_card();
    let on_both = card.iter().filter(|c| c.x_mm <= board[1].min(wood[1]) && c.x_mm >= board[0].max(wood[0]));
    on_both.map(|c| row(c.fret, c.x_mm)).collect()
}

/// Depth of a neck's carve line.
fn carve(neck: &Neck, side: Side, x: f64) -> f64 {
    -neck.built().back.control_points(side, x)[0][1]
}

/// The greatest difference in one section of both boards.
fn section(pair: &Pair<'_>, x: f64) -> Difference {
    let mut worst = pair.back_at(x);
    let neck = pair.0[0];
    for side in Side::BOTH {
        let halves = pair.0.map(|n| n.built().back.flanks.of(side).out[0].value(x));
        let value = halves[0] - halves[1];
        let p = [side.sign() * halves[0], -carve(neck, side, x)];
        let next = pair.told(value, libm::fabs(value), x, Surface::SideFace, side, p);
        worst = worse(Some(worst), next);
    }
    let half = neck.built().board_half.value(x);
    let narrow = half.min(half - edge_at(pair.0, x)[0]);
    for (what, surface, y) in
        [(What::Edge, Surface::BoardEdge, half), (What::Face, Surface::BoardFace, narrow)]
    {
        let value = pair.board_at(what, x);
        let p = [-y, -neck.layout().board().crown().sagitta(x, y)];
        worst = worse(Some(worst), pair.told(value, libm::fabs(value), x, surface, Side::Bass, p));
    }
    worst
}
