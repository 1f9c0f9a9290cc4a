//! What a back is made of besides its spine.

use super::back::{Back, Makings};
use super::profile::Profile;
use super::sides::Sides;
use crate::law::Law;

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
    /// The back over a spine. A deeper spine stretches every section downward from its carve line and changes
    /// nothing else.
    pub fn back(&self, spine: &Law) -> Option<Back> {
        let carve = |s: &Law| spine.minus(&spine.minus(s)?.times(&self.share)?);
        let carve = Sides { bass: carve(&self.shallow.bass)?, treble: carve(&self.shallow.treble)? };
        Back::new(&Makings { spine, half: &self.half, carve: &carve, profile: &self.profile })
    }
}
