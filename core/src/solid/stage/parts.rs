//! The board as a solid of its own, once the back under it has its shape.

use alloc::vec::Vec;

use super::super::board::{self, Under};
use super::super::outline::Feet;
use super::super::shell::Solid;
use super::super::wood::tops;
use super::under::shapes;
use crate::carve::{Board, Width, Wood};
use crate::law::Law;

impl Wood {
    /// Whether neck wood and board are solids of their own: when the board is made and the back has its shape at the nut.
    pub(super) fn is_in_two(&self) -> bool {
        let made = matches!((&self.board, &self.width), (Board::Made(_), Width::True));
        let ends = self.neck.layout().board().nut_ends_mm();
        made && ends.iter().all(|x| self.shaped_at(*x).is_some())
    }
}

/// The board, over the shapes that the back has been brought to.
pub(super) fn board(wood: &Wood) -> Option<Solid> {
    // The finished board's own law, so that both are the same to the last bit.
    let [_, glue] = tops(wood.neck.built())?;
    let shapes = shapes(wood);
    let feet: Option<Vec<Feet>> =
        shapes.iter().map(|(_, k)| Feet::new(&wood.shaped[*k].back, &glue)).collect();
    let feet = feet?;
    let under: Vec<Under<'_>> = shapes
        .iter()
        .zip(&feet)
        .map(|((zone, k), feet)| Under { back: &wood.shaped[*k].back, feet, reach: *zone })
        .collect();
    Some(board::board(&wood.neck, wood.neck.built(), &under, false)?.solid)
}

/// The stations between which a carve line lies at the wood's top.
pub(super) fn flush(wood: &Wood, face: Option<&Law>) -> Option<Vec<f64>> {
    let [from, to] = wood.wood_reach();
    let glue = Law::constant(wood.neck.layout().board().thickness_mm(), from, to)?;
    let mut at = Vec::new();
    for (zone, k) in shapes(wood) {
        for top in core::iter::once(&glue).chain(face) {
            let feet = Feet::new(&wood.shaped[k].back, top)?;
            at.extend(feet.flush.into_iter().filter(|x| *x > zone[0] && *x < zone[1]));
        }
    }
    Some(at)
}
