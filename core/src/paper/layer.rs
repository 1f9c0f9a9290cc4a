//! Layers: what a line means, and how it is drawn so that it can be told from the others without colour.

/// What the items of a sheet stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Layer {
    /// Hatching: wood that a stage of the carving plan takes off.
    Waste,
    /// Crossed hatching: wood that nothing may touch.
    Kept,
    /// Outer outlines.
    Outline,
    /// What a stage of the carving plan leaves of the wood.
    Left,
    /// The finished neck within wood that is still to be worked.
    Finished,
    /// Lines to mark on the wood and to cut to; on a template the way of the middle of what cuts it.
    CutLine,
    /// Visible edges: glue line, nut, carve line, end of the board.
    Edges,
    /// Fret slots, from end to end.
    FretSlots,
    /// The strings' centres.
    Strings,
    /// What lies under something else.
    Hidden,
    /// The centreline, and the axes of holes.
    Centreline,
    /// Tuner holes.
    Holes,
    /// Centres of marker dots.
    Markers,
    /// Dimension lines.
    Dimensions,
    /// The bars to measure before cutting.
    CheckBars,
    /// Words that belong to no dimension.
    Words,
    /// On a page that is a part of a sheet: the lines to cut along and to stick pages on.
    Seams,
    /// On such a page: the crosses that have to meet, the names of the pages, their overview.
    PageMarks,
}

impl Layer {
    /// All layers, in the order in which they are drawn.
    pub const ALL: [Self; 18] = [
        Self::Waste,
        Self::Kept,
        Self::Outline,
        Self::Left,
        Self::Finished,
        Self::CutLine,
        Self::Edges,
        Self::FretSlots,
        Self::Strings,
        Self::Hidden,
        Self::Centreline,
        Self::Holes,
        Self::Markers,
        Self::Dimensions,
        Self::CheckBars,
        Self::Words,
        Self::Seams,
        Self::PageMarks,
    ];

    /// The layer's name, in lower case with hyphens.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Waste => "waste",
            Self::Kept => "kept",
            Self::Outline => "outline",
            Self::Left => "left",
            Self::Finished => "finished",
            Self::CutLine => "cut-line",
            Self::Edges => "edges",
            Self::FretSlots => "fret-slots",
            Self::Strings => "strings",
            Self::Hidden => "hidden",
            Self::Centreline => "centreline",
            Self::Holes => "holes",
            Self::Markers => "markers",
            Self::Dimensions => "dimensions",
            Self::CheckBars => "check-bars",
            Self::Words => "words",
            Self::Seams => "seams",
            Self::PageMarks => "page-marks",
        }
    }

    /// Weight of its lines, mm.
    #[must_use]
    pub const fn weight_mm(self) -> f64 {
        match self {
            Self::Outline => 0.5,
            Self::Left | Self::CutLine | Self::Holes | Self::CheckBars => 0.35,
            Self::Edges | Self::FretSlots | Self::Hidden | Self::Markers | Self::PageMarks | Self::Seams => {
                0.25
            }
            Self::Waste | Self::Kept => 0.1,
            Self::Finished | Self::Strings | Self::Centreline | Self::Dimensions | Self::Words => 0.18,
        }
    }

    /// Lengths of strokes and gaps by turns, mm; empty for a full line.
    #[must_use]
    pub const fn dashes_mm(self) -> &'static [f64] {
        match self {
            Self::Hidden => &[3.0, 1.5],
            Self::Finished => &[1.5, 1.0],
            Self::CutLine => &[7.0, 1.2, 1.0, 1.2, 1.0, 1.2],
            Self::Centreline => &[9.0, 1.5, 1.5, 1.5],
            Self::Seams => &[0.5, 1.5],
            Self::Left => &[18.0, 1.5],
            Self::Strings => &[8.0, 3.0],
            _ => &[],
        }
    }
}
