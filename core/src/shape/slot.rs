//! What fret slots take off the board.

use alloc::vec::Vec;

use super::sides::Side;
use crate::layout::{Fret, FretLine, Layout};
use crate::spec::Frets;

/// A line in plan along a slot, `x = at + slope·y`, as far as the board or its binding's inner edge reaches: the least and the
/// greatest `y`.
fn reach(layout: &Layout, line: FretLine) -> [f64; 2] {
    let board = layout.board();
    let mut ends =
        Side::BOTH.map(|side| board.edge_point(line, side, board.binding_mm()).map_or(0.0, |(_, y)| y));
    // Not behind the nut's line, nor beyond the board's end.
    let nut = layout.nut_line();
    let bounds = [(line.slope - nut.slope, nut.x_mm - line.x_mm), (-line.slope, line.x_mm - board.end_mm())];
    for (slope, least) in bounds {
        // Kept where slope·y is no less.
        if slope > 0.0 {
            ends[0] = ends[0].max(least / slope);
        } else if slope < 0.0 {
            ends[1] = ends[1].min(least / slope);
        } else if least > 0.0 {
            return [0.0; 2];
        }
    }
    if ends[0] < ends[1] { ends } else { [0.0; 2] }
}

/// The volume of all slots, mm³: their area in plan, as their floors follow the board's top.
pub(super) fn slot_volume(layout: &Layout, frets: &Frets) -> f64 {
    let (width, depth) = (frets.slot_width.mm(), frets.slot_depth.mm());
    let board = layout.board();
    let area = |fret: &Fret| {
        let half = 0.5 * width * libm::hypot(1.0, fret.line.slope);
        let along = |off: f64| {
            let [a, b] = reach(layout, FretLine { x_mm: fret.line.x_mm + off, slope: fret.line.slope });
            b - a
        };
        // The length is linear in the place across the slot, but for where the board's edge has a corner or its end cuts the slot:
        // between those what it is in the middle tells the area.
        let mut at: Vec<f64> = Vec::from([-half, half]);
        let corners = board.widths_mm().iter().map(|(x, _)| *x).chain([board.end_mm(), 0.0]);
        for x in corners.chain(board.nut_ends_mm()) {
            let side = 0.5 * board.width_mm(x);
            let inner = side - board.binding_mm();
            let across = [-side, -inner, inner, side].map(|y| x - fret.line.x_mm - fret.line.slope * y);
            at.extend(across.into_iter().filter(|off| libm::fabs(*off) < half));
        }
        at.sort_by(f64::total_cmp);
        let pieces = at.windows(2).map(|w| (w[1] - w[0]) * along(0.5 * (w[0] + w[1])));
        pieces.sum::<f64>()
    };
    depth * layout.frets().iter().map(area).sum::<f64>()
}
