//! A drawing on paper.

use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::dimension::Dimension;
use super::layer::Layer;
use super::path::{Path, Point, moved};
use super::text::Text;

/// A thing that is drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A line, not filled.
    Path(Path),
    /// A circle, not filled.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius, mm.
        radius_mm: f64,
    },
    /// A dimension line with what it says.
    Dimension(Dimension),
    /// Words.
    Text(Text),
}

impl Shape {
    /// The lines it is drawn with, as corners of polylines: curves cut into `parts` pieces.
    #[must_use]
    pub fn lines(&self, parts: u32) -> Vec<Vec<Point>> {
        match self {
            Self::Path(path) => vec![path.corners(parts)],
            Self::Circle { centre, radius_mm } => {
                vec![Path::ellipse(*centre, [*radius_mm, *radius_mm]).corners(parts)]
            }
            Self::Dimension(dimension) => dimension.strokes().iter().map(|p| p.corners(1)).collect(),
            Self::Text(_) => Vec::new(),
        }
    }

    /// The words on it.
    #[must_use]
    pub const fn text(&self) -> Option<&Text> {
        match self {
            Self::Dimension(Dimension { text, .. }) | Self::Text(text) => Some(text),
            Self::Path(_) | Self::Circle { .. } => None,
        }
    }

    fn moved(self, by: Point) -> Self {
        match self {
            Self::Path(path) => Self::Path(path.moved(by)),
            Self::Circle { centre, radius_mm } => Self::Circle { centre: moved(centre, by), radius_mm },
            Self::Dimension(dimension) => Self::Dimension(dimension.moved(by)),
            Self::Text(text) => Self::Text(text.moved(by)),
        }
    }
}

/// A shape on its layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it stands for.
    pub layer: Layer,
    /// What is drawn.
    pub shape: Shape,
    /// The number of the block that it belongs to. A block is what belongs together on paper, such as a view, a gauge, a table
    /// or a paragraph: where pages are smaller than the sheet it stands whole on one of them if it fits.
    pub block: usize,
}

impl Item {
    /// A shape of block 0.
    #[must_use]
    pub const fn new(layer: Layer, shape: Shape) -> Self {
        Self { layer, shape, block: 0 }
    }

    pub(super) fn moved(self, by: Point) -> Self {
        Self { shape: self.shape.moved(by), ..self }
    }
}

/// A drawing at full size. The origin is the lower left corner of the sheet, `y` is upward, all is in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What is drawn, in a few words.
    pub title: String,
    /// Width and height of the paper, mm.
    pub size_mm: Point,
    /// Where the neck's own origin lies on the sheet: the centre of the nut on the centreline, in a side view on
    /// the crown line. `None` where several places of the neck are drawn side by side.
    pub origin_mm: Option<Point>,
    /// What is drawn, layer by layer.
    pub items: Vec<Item>,
}

impl Sheet {
    /// The items of one layer, in order.
    pub fn layer(&self, layer: Layer) -> impl Iterator<Item = &Shape> {
        self.items.iter().filter(move |i| i.layer == layer).map(|i| &i.shape)
    }
}
