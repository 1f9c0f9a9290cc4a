//! What the abrasive is held with, zone by zone.

use crate::shape::Neck;

/// A part of the neck that is sanded in its own way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Zone {
    /// The face of the headstock.
    HeadstockFace,
    /// The back of the headstock.
    HeadstockBack,
    /// The flat sides: the board's edges, the shaft's down to the carve line, and the headstock's outline.
    Sides,
    /// The rounded back of the shaft.
    ShaftBack,
    /// The volute, and the hollow on either side of it.
    Volute,
    /// Where there is no volute: the turn from the shaft's back into the headstock's.
    Transition,
    /// The hollow where the shaft runs out into the heel.
    HeelSweep,
    /// The flat faces of the heel block.
    HeelBlock,
}

impl Zone {
    /// All of them, from the headstock to the heel.
    pub const ALL: [Self; 8] = [
        Self::HeadstockFace,
        Self::HeadstockBack,
        Self::Sides,
        Self::ShaftBack,
        Self::Volute,
        Self::Transition,
        Self::HeelSweep,
        Self::HeelBlock,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::HeadstockFace => "headstock's face",
            Self::HeadstockBack => "headstock's back",
            Self::Sides => "sides, edges of board and headstock",
            Self::ShaftBack => "back of the shaft",
            Self::Volute => "volute",
            Self::Transition => "transition into the headstock",
            Self::HeelSweep => "heel's sweep",
            Self::HeelBlock => "faces of the heel block",
        }
    }

    /// Whether a neck has it.
    #[must_use]
    pub fn is_on(self, neck: &Neck) -> bool {
        match self {
            Self::Volute => neck.volute().height_mm > 0.0,
            Self::Transition => !Self::Volute.is_on(neck),
            _ => true,
        }
    }

    /// Whether wood for the grits is left on it. What has none was brought to its finished size by plane or cutter; it is
    /// planed or scraped clean and gets the last grit alone, which takes off less than its own scratches are deep.
    #[must_use]
    pub const fn has_allowance(self) -> bool {
        match self {
            Self::HeadstockBack | Self::ShaftBack | Self::Volute | Self::Transition | Self::HeelSweep => true,
            Self::HeadstockFace | Self::Sides | Self::HeelBlock => false,
        }
    }
}

/// What the abrasive is held with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Block {
    /// A flat block of wood.
    Hard,
    /// A flat block with a face of cork or felt.
    Faced,
    /// A block that bends around the neck, or a sleeve with padding under it.
    Flexible,
    /// A round stick or a dowel.
    Round,
    /// The zone is left alone at this grit.
    Rest,
}

impl Block {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Hard, Self::Faced, Self::Flexible, Self::Round, Self::Rest];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Hard => "flat block",
            Self::Faced => "flat block faced with cork or felt",
            Self::Flexible => "flexible block or padded sleeve",
            Self::Round => "round stick or dowel",
            Self::Rest => "not at this grit",
        }
    }
}

/// What one zone is sanded with at one grit, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ZoneBlock {
    /// Where.
    pub zone: Zone,
    /// With what.
    pub block: Block,
    /// How: one sentence or two.
    pub words: &'static str,
}

/// Grains from this size on level a surface, µm: P100 and coarser. Common practice, no source.
const LEVELS_UM: f64 = 140.0;

/// Grains below this size want a soft face under them, µm: P150 and finer. Common practice, no source.
const SOFT_UM: f64 = 101.0;

/// What a zone is sanded with; `last` is the last grit, `lengthwise` one whose strokes go along the neck. Common
/// practice, no source.
pub(super) fn held(zone: Zone, grain_um: f64, lengthwise: bool, last: bool) -> ZoneBlock {
    let flat = if grain_um < SOFT_UM { Block::Faced } else { Block::Hard };
    let (block, words) = match zone {
        Zone::HeadstockFace | Zone::Sides | Zone::HeelBlock if !last => {
            (Block::Rest, "Finished as planed or scraped: no allowance stands here for this grit.")
        }
        Zone::HeadstockFace => (
            flat,
            "Scrape it clean, then a few strokes with the grain, the block never more than a third over an edge, or the \
             edge rounds.",
        ),
        Zone::Sides => (
            flat,
            "Scrape or plane clean, then whole strokes from end to end, only until the blade's marks are gone: the width has \
             no allowance for more.",
        ),
        Zone::HeelBlock => (
            flat,
            "A few strokes along the grain, off the edges, and nowhere that will be glued: glue wants a face from the plane.",
        ),
        Zone::HeadstockBack if flat == Block::Faced => (
            flat,
            "With the grain. Without the soft face, dust that cakes under the sheet scratches deeper than the grit.",
        ),
        Zone::HeadstockBack => (
            flat,
            "With the grain, the block flat and never more than a third over an edge, or the edge rounds.",
        ),
        Zone::ShaftBack if lengthwise => (
            Block::Flexible,
            "Along the neck only. No hard block, which leaves flats that show in the finish.",
        ),
        Zone::ShaftBack if grain_um >= LEVELS_UM => (
            Block::Flexible,
            "Slantwise around the back, turning over from one slant to the other. A long hard block only along the \
             spine, to take down humps; across the back it leaves flats.",
        ),
        Zone::ShaftBack => (
            Block::Flexible,
            "Slantwise at first, then along the neck until no slanting scratch is left. No hard block from here on.",
        ),
        Zone::Volute => (
            Block::Round,
            "A stick that fits the hollow, or a thinner one; lift it before the tip, whose line is soon lost.",
        ),
        Zone::Transition => (
            Block::Round,
            "A stick that fits the hollow between shaft and headstock, or a thinner one, turned as it moves on.",
        ),
        Zone::HeelSweep => (
            Block::Round,
            "A dowel that fits the sweep, or a thinner one, turned as it moves on; slanting grain here comes clean late.",
        ),
    };
    ZoneBlock { zone, block, words }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_told_apart() {
        for (i, zone) in Zone::ALL.iter().enumerate() {
            assert!(Zone::ALL[..i].iter().all(|other| other.name() != zone.name()));
        }
        for (i, block) in Block::ALL.iter().enumerate() {
            assert!(Block::ALL[..i].iter().all(|other| other.name() != block.name()));
        }
    }
}
