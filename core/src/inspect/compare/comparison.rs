//! Two necks compared.

use alloc::vec::Vec;

use super::difference::{Difference, Surface};
use super::ends::{Ends, FretDifference, RodDifference, ends, frets, rod};
use super::parts::{Pair, worse};
use super::row::{ComparedRow, rows};
use crate::shape::{Neck, Point, Side};

/// One neck held against another, each in its own frame, so that nut and centreline of both coincide; a left-handed neck is
/// seen in the mirror.
///
/// In every section that both have, each point's distance is taken to the same part of the other neck, both ways, and the
/// greatest of all told (the Hausdorff distance of two sets; Rockafellar & Wets, *Variational Analysis*, 1998, 4.C, from
/// memory):
///
/// - the back, from one carve line to the other (above the glue line too where no board lies), and what of a flat side lies
///   deeper than the other's carve line: to the other's back and its flat sides, these carried straight on upward;
/// - side faces to side faces and edges to edges, point to point;
/// - faces to faces, over the width that both have.
///
/// Where no carve line lies above the other neck's top edge, which is so on every usual neck, whole outlines of sections are
/// no further apart than the greatest of that. Where the necks end differently is told by [`ends`](Self::ends).
///
/// All differences are this neck's measure less the other's: positive where this one stands further out, is longer or
/// thicker.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Comparison {
    /// The greatest of all parts.
    pub greatest: Difference,
    /// The back, from one carve line around the spine to the other.
    pub back: Difference,
    /// The side faces of shaft and heel, square to the centreline.
    pub side_faces: Option<Difference>,
    /// The board's face, square to itself.
    pub board_face: Option<Difference>,
    /// The board's top edges, point to point.
    pub board_edges: Option<Difference>,
    /// The headstock's face, square to the crown line.
    pub headstock_face: Option<Difference>,
    /// The headstock's edges, square to the centreline, and their upper corners, point to point.
    pub headstock_edges: Option<Difference>,
    /// Where the parts begin and end.
    pub ends: Ends,
    /// The rod's channel and its access pocket.
    pub rod: RodDifference,
    /// The fret that lies furthest from its place on the other neck; none where no fret is on both.
    pub frets: Option<FretDifference>,
    /// By fret: at every fret of this neck where both have wood and board.
    pub rows: Vec<ComparedRow>,
}

impl Comparison {
    fn parts(&self) -> impl Iterator<Item = Difference> {
        let rest =
            [self.side_faces, self.board_face, self.board_edges, self.headstock_face, self.headstock_edges];
        core::iter::once(self.back).chain(rest.into_iter().flatten())
    }
}

impl Neck {
    /// Holds this neck against another, over their whole surface.
    ///
    /// Every greatest difference is one that is really taken, and beside it stands what is proven: no difference of that
    /// part is greater. Both lie within 1e-6 mm of each other unless the search was given up after 20,000 steps. A neck and
    /// its left-handed twin differ by 0, to the last bit.
    #[must_use]
    pub fn compare(&self, other: &Self) -> Comparison {
        let pair = Pair([self, other]);
        let nowhere: Point = [0.0; 2];
        // Every neck has wood at the nut, so that two always meet there.
        let back =
            pair.back().unwrap_or_else(|| pair.told(0.0, 0.0, 0.0, Surface::Spine, Side::Bass, nowhere));
        let mut comparison = Comparison {
            greatest: back,
            back,
            side_faces: pair.side_faces(),
            board_face: pair.board_face(),
            board_edges: pair.board_edges(),
            headstock_face: pair.headstock_face(),
            headstock_edges: pair.headstock_edges(),
            ends: ends(self, other),
            rod: rod(self, other),
            frets: frets(self, other),
            rows: rows(&pair),
        };
        let greatest = comparison.parts().fold(None, |worst, next| Some(worse(worst, next)));
        comparison.greatest = greatest.unwrap_or(back);
        comparison
    }

    /// Whether this neck and another are nowhere further apart than a tolerance, mm, over the whole surface that both have:
    /// what [`compare`](Self::compare) calls the greatest difference, asked for without its value. Where the answer is yes
    /// that is proven. It is no where they are further apart, where that is so near the tolerance (some 1e-6 mm) that
    /// neither can be shown, and for a tolerance that is negative or no number.
    #[must_use]
    pub fn within(&self, other: &Self, tolerance_mm: f64) -> bool {
        let pair = Pair([self, other]);
        let plain = [pair.side_faces(), pair.headstock_face(), pair.headstock_edges()];
        tolerance_mm >= 0.0
            && plain.iter().flatten().all(|d| d.proven_mm <= tolerance_mm)
            && pair.curved_within(tolerance_mm)
    }
}
