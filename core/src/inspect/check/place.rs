//! Where around the neck, in the bench's words.

use alloc::string::String;

use crate::shape::Side;

/// A place in the section, or a measure that has none of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(tag = "part", content = "side", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Place {
    /// At the spine: the third of the carved side that is next to it.
    Spine,
    /// On the shoulder: the rest of the carved side.
    Shoulder(Side),
    /// On the flat side.
    Edge(Side),
    /// On the board's face.
    Board,
    /// On the wood's own face, where no board lies on it: on the headstock, behind the nut or beyond the board's end.
    Face,
    /// From edge to edge.
    Width,
    /// All around the back.
    Girth,
    /// At the carve line.
    CarveLine(Side),
}

impl Place {
    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Spine => "the spine",
            Self::Shoulder(Side::Bass) => "the bass shoulder",
            Self::Shoulder(Side::Treble) => "the treble shoulder",
            Self::Edge(Side::Bass) => "the bass edge",
            Self::Edge(Side::Treble) => "the treble edge",
            Self::Board => "the board's face",
            Self::Face => "the wood's face",
            Self::Width => "the width",
            Self::Girth => "the girth",
            Self::CarveLine(Side::Bass) => "the carve line of the bass side",
            Self::CarveLine(Side::Treble) => "the carve line of the treble side",
        }
    }

    /// Its name with the word before it: "at the spine", "on the treble shoulder".
    #[must_use]
    pub fn wherein(self) -> String {
        let mut out = String::new();
        self.push_wherein(&mut out);
        out
    }

    /// Its place in the order in which a station's are told.
    pub(super) const fn rank(self) -> u8 {
        match self {
            Self::Spine => 0,
            Self::Shoulder(Side::Bass) => 1,
            Self::Shoulder(Side::Treble) => 2,
            Self::Edge(Side::Bass) => 3,
            Self::Edge(Side::Treble) => 4,
            Self::Width => 5,
            Self::Girth => 6,
            Self::CarveLine(Side::Bass) => 7,
            Self::CarveLine(Side::Treble) => 8,
            Self::Board => 9,
            Self::Face => 10,
        }
    }

    /// Whether both are told of in one sentence: all of the back is.
    pub(super) const fn beside(self, other: Self) -> bool {
        self.rank() == other.rank() || (self.rank() < 5 && other.rank() < 5)
    }

    /// Writes [`wherein`](Self::wherein).
    pub(super) fn push_wherein(self, out: &mut String) {
        let before = match self {
            Self::Spine | Self::Edge(_) | Self::CarveLine(_) => "at",
            Self::Shoulder(_) | Self::Board | Self::Face => "on",
            Self::Width | Self::Girth => "in",
        };
        out.push_str(before);
        out.push(' ');
        out.push_str(self.name());
    }
}
