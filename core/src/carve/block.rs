//! What the abrasive is held with, zone by zone.

/// A part of the neck that is sanded in its own way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Zone {
    /// The face and the back of the headstock.
    HeadstockFaces,
    /// The flat sides: the board's edges, and the shaft's down to the carve line.
    Sides,
    /// The rounded back of the shaft.
    ShaftBack,
    /// The volute, and the hollow on either side of it.
    Volute,
    /// The hollow where the shaft runs out into the heel.
    HeelSweep,
    /// The flat faces of the heel block.
    HeelBlock,
}

impl Zone {
    /// All of them, from the headstock to the heel.
    pub const ALL: [Self; 6] =
        [Self::HeadstockFaces, Self::Sides, Self::ShaftBack, Self::Volute, Self::HeelSweep, Self::HeelBlock];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::HeadstockFaces => "headstock's face and back",
            Self::Sides => "sides and board's edges",
            Self::ShaftBack => "back of the shaft",
            Self::Volute => "volute",
            Self::HeelSweep => "heel's sweep",
            Self::HeelBlock => "faces of the heel block",
        }
    }
}

/// What the abrasive is held with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

/// What a zone is sanded with. Common practice, no source.
pub(super) fn held(zone: Zone, grain_um: f64, lengthwise: bool) -> ZoneBlock {
    let flat = if grain_um < SOFT_UM { Block::Faced } else { Block::Hard };
    let (block, words) = match zone {
        Zone::HeadstockFaces if flat == Block::Faced => (
            flat,
            "With the grain. Without the soft face, dust that cakes under the sheet scratches deeper than the grit.",
        ),
        Zone::HeadstockFaces => (
            flat,
            "With the grain, the block flat and never more than a third over an edge, or the edge rounds.",
        ),
        Zone::Sides if !lengthwise => {
            (Block::Rest, "The sides are planed to their finished width, and no allowance stands on them.")
        }
        Zone::Sides => (
            flat,
            "Whole strokes from end to end, only until the plane's marks are gone: the width has no allowance for more.",
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
        Zone::HeelSweep => (
            Block::Round,
            "A dowel that fits the sweep, or a thinner one, turned as it moves on; slanting grain here comes clean late.",
        ),
        Zone::HeelBlock => (
            flat,
            "Along the grain, off the edges, and nowhere that will be glued: glue wants a face from the plane.",
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
