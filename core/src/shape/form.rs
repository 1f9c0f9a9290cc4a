//! What a back is made of besides its spine.

use super::back::{Back, Flank, Makings};
use super::profile::{Profile, Treble};
use super::sides::{Side, Sides};
use crate::law::Law;

/// How closely a share is bounded, and what rounding may take from it.
const CLOSE: f64 = 1e-9;
const ROUNDING: f64 = 1e-8;

/// Widths, carve lines and fullness: with a spine they make a back.
#[derive(Clone, Debug)]
pub(crate) struct Form {
    pub half: Sides<Law>,
    /// The carve lines before they sink to the spine where the back goes flat.
    pub shallow: Sides<Law>,
    /// How much of the carved depth is left to carve.
    pub share: Law,
    pub profile: Profile,
}

impl Form {
    /// The back over a spine.
    pub fn back(&self, spine: &Law) -> Option<Back> {
        let carve = |s: &Law| spine.minus(&spine.minus(s)?.times(&self.share)?);
        let carve = Sides { bass: carve(&self.shallow.bass)?, treble: carve(&self.shallow.treble)? };
        Back::new(&Makings { spine, half: &self.half, carve: &carve, profile: &self.profile })
    }

    /// A back of this form with so much more wood at its spine, running out to nothing at the carve line: the widths are
    /// kept, and every control point goes down, the spine's by all of it, the handle's beside the carve line by the share
    /// that its shoulder has of the carved depth. As no point of the surface goes up, the thinner back lies inside;
    /// `None` where that can't be shown.
    pub fn thicker(&self, back: &Back, by: f64) -> Option<Back> {
        let flat = self.share.times_number(-1.0).plus_number(1.0);
        let flank = |side: Side| -> Option<Flank> {
            let shoulder = match (&self.profile.treble, side) {
                (Some(Treble::Creased { numbers }), Side::Treble) => &numbers[0],
                _ => &self.profile.bass[0],
            };
            let handle = flat.plus(&shoulder.times(&self.share)?)?;
            if flat.least(CLOSE).bound < -ROUNDING || handle.least(CLOSE).bound < -ROUNDING {
                return None;
            }
            let Flank { out, depth: [carve, shoulder, belly, spine] } = back.flanks.of(side).clone();
            let depth = [
                carve.plus(&flat.times_number(by))?,
                shoulder.plus(&handle.times_number(by))?,
                belly.plus_number(by),
                spine.plus_number(by),
            ];
            Some(Flank { out, depth })
        };
        let bass = flank(Side::Bass)?;
        let treble = if back.even { bass.clone() } else { flank(Side::Treble)? };
        Some(Back { spine: back.spine.plus_number(by), flanks: Sides { bass, treble }, even: back.even })
    }
}
