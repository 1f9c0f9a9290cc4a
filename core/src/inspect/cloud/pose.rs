//! How a scan lies to its neck.

use super::motion::{Motion, Vector};
use crate::spec::Hand;

/// How a scan lies to its neck: `p_neck = rotation · p_scan + translation`.
///
/// The neck's frame is that of [`Neck`](crate::shape::Neck): stations along `x`, `y` toward the treble side of a
/// right-handed neck and the bass side of a left-handed one, `z` out of the board.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Pose {
    /// The rotation's rows; a proper rotation whatever the neck's hand.
    pub rotation: [[f64; 3]; 3],
    /// Where the scan's origin lies in the neck's frame, mm.
    pub translation_mm: [f64; 3],
    /// Whether the scanned neck is right-handed or left-handed.
    pub hand: Hand,
    /// Standard uncertainty of a shift along the neck's `x`, `y` and `z`, mm, from the noise of the points; large where nothing
    /// in the scan holds it, and half a millimetre where only what the base says of headstock and heel does.
    pub shift_uncertainty_mm: [f64; 3],
    /// Standard uncertainty of a turn about the neck's `x`, `y` and `z` through the middle of the scan, degrees.
    pub turn_uncertainty_deg: [f64; 3],
}

impl Pose {
    pub(super) fn new(inner: &Motion, hand: Hand, uncertainty: [[f64; 3]; 2]) -> Self {
        let motion = if hand == Hand::Left { inner.mirrored() } else { *inner };
        Self {
            rotation: motion.rows,
            translation_mm: motion.shift,
            hand,
            shift_uncertainty_mm: uncertainty[0],
            turn_uncertainty_deg: uncertainty[1].map(f64::to_degrees),
        }
    }

    /// A point of the scan in the neck's frame, mm.
    #[must_use]
    pub fn to_neck_mm(&self, p: Vector) -> Vector {
        Motion { rows: self.rotation, shift: self.translation_mm }.of(p)
    }

    /// A point of the neck in the scan's frame, mm.
    #[must_use]
    pub fn to_scan_mm(&self, p: Vector) -> Vector {
        let d = [0, 1, 2].map(|k| p[k] - self.translation_mm[k]);
        [0, 1, 2].map(|j| (0..3).map(|i| self.rotation[i][j] * d[i]).sum())
    }
}
