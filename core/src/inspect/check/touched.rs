//! Where a reading touched the wood.

use crate::inspect::Measured;
use crate::shape::{Neck, Side};

/// The place in the neck's frame, by what was read there and how far that is off the finished neck; `None` of what lies at no one
/// place.
pub(super) fn touched(
    neck: &Neck,
    x: f64,
    measured: Measured,
    value: f64,
    off: Option<f64>,
) -> Option<[f64; 3]> {
    // Of a side's control points the first lies on the carve line, the last on the spine.
    let beside = |side, k: usize| {
        let built = neck.built();
        let [out, z] = (x <= built.end).then(|| built.back.control_points(side, x))?[k];
        Some([x, neck.hand_sign() * out, z - off?])
    };
    match measured {
        Measured::Point { across_mm } => Some([x, neck.hand_sign() * across_mm, -value]),
        Measured::Thickness => beside(Side::Bass, 3),
        Measured::CarveLine(side) => beside(side, 0),
        Measured::Width | Measured::Girth | Measured::Radius => None,
    }
}
