//! Where mending can change a neck.

use crate::shape::Neck;

/// What can't come down by less than this share of what the shaft's line does is not mended.
const LEAST_SHARE: f64 = 1e-3;

/// Whether mending can take the back down at a station: not on headstock and heel block.
pub(crate) fn back_comes_down(neck: &Neck, x: f64) -> bool {
    let built = neck.built();
    x <= built.end && built.form.share.value(x) >= LEAST_SHARE
}

/// Whether mending can bring the edges in at a station: only where there is a board.
pub(crate) fn edges_come_in(neck: &Neck, x: f64) -> bool {
    (0.0..=neck.layout().board().end_mm()).contains(&x)
}
