//! The fretboard.

use alloc::vec::Vec;

use super::crown::Crown;
use super::fan::FretLine;
use crate::measure::Error;

/// A side of the board. Right-handed, as everything in this room: the bass side is that of `y < 0`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The bass side.
    Bass,
    /// The treble side.
    Treble,
}

impl Side {
    /// Both sides, bass first.
    pub const BOTH: [Self; 2] = [Self::Bass, Self::Treble];

    /// The sign of `y` on this side.
    #[must_use]
    pub const fn sign(self) -> f64 {
        match self {
            Self::Bass => -1.0,
            Self::Treble => 1.0,
        }
    }

    /// The side's name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bass => "bass",
            Self::Treble => "treble",
        }
    }
}

/// The fretboard: an outline straight from station to station and alike on both sides of the centreline, a crown, a
/// thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// `(x, full width)`, from the nut on, at least two.
    widths: Vec<(f64, f64)>,
    nut_ends_mm: [f64; 2],
    end_mm: f64,
    thickness_mm: f64,
    binding_mm: f64,
    crown: Crown,
}

impl Board {
    /// `widths` in rising order, the nut's first, at least two. The board begins at `nut`, a line through the origin.
    pub(super) fn new(
        widths: Vec<(f64, f64)>,
        nut: FretLine,
        end_mm: f64,
        (thickness_mm, binding_mm): (f64, f64),
        crown: Crown,
    ) -> Self {
        let mut board = Self { widths, nut_ends_mm: [0.0; 2], end_mm, thickness_mm, binding_mm, crown };
        board.nut_ends_mm = Side::BOTH.map(|side| board.edge_point(nut, side, 0.0).map_or(0.0, |(x, _)| x));
        board
    }

    /// The stations at which its width is given, with the widths, mm; straight in between, and the first and the last
    /// straight on to the board's ends.
    #[must_use]
    pub fn widths_mm(&self) -> &[(f64, f64)] {
        &self.widths
    }

    /// The stations where the nut's line meets the edges, bass side first: 0 unless the nut stands aslant.
    #[must_use]
    pub const fn nut_ends_mm(&self) -> [f64; 2] {
        self.nut_ends_mm
    }

    /// Where it begins: 0, or less where the nut stands aslant.
    #[must_use]
    pub fn start_mm(&self) -> f64 {
        self.nut_ends_mm[0].min(self.nut_ends_mm[1]).min(0.0)
    }

    /// Where it ends.
    #[must_use]
    pub const fn end_mm(&self) -> f64 {
        self.end_mm
    }

    /// Its thickness at the crown, mm.
    #[must_use]
    pub const fn thickness_mm(&self) -> f64 {
        self.thickness_mm
    }

    /// Width of the binding along each edge, mm; 0 for none.
    #[must_use]
    pub const fn binding_mm(&self) -> f64 {
        self.binding_mm
    }

    /// Its radius.
    #[must_use]
    pub const fn crown(&self) -> Crown {
        self.crown
    }

    /// The stretch that holds a station; of two that meet there the second.
    fn stretch_at(&self, x_mm: f64) -> usize {
        let after = self.widths.iter().skip(1).take_while(|&&(x, _)| x <= x_mm).count();
        after.min(self.widths.len() - 2)
    }

    /// Width and slope of a stretch, as `width = a + m x`, by two of its points.
    fn stretch(&self, i: usize) -> ((f64, f64), f64) {
        let ((x0, w0), (x1, w1)) = (self.widths[i], self.widths[i + 1]);
        ((x0, w0), (w1 - w0) / (x1 - x0))
    }

    /// Its width at a station, edge to edge, mm. Beyond its ends the outline goes on straight.
    #[must_use]
    pub fn width_mm(&self, x_mm: f64) -> f64 {
        let ((x0, w0), slope) = self.stretch(self.stretch_at(x_mm));
        w0 + slope * (x_mm - x0)
    }

    /// The stations at which something of the outline changes, the board's ends among them, in order.
    pub(super) fn vertices(&self) -> impl Iterator<Item = f64> + '_ {
        let inner = self.widths.iter().map(|&(x, _)| x).filter(|&x| x > self.start_mm() && x < self.end_mm);
        core::iter::once(self.start_mm()).chain(inner).chain(core::iter::once(self.end_mm))
    }

    /// How far the top lies under the crown line at a point of it, mm.
    ///
    /// # Errors
    /// - as [`Crown::sagitta_mm`].
    pub fn sagitta_mm(&self, x_mm: f64, y_mm: f64) -> Result<f64, Error> {
        self.crown.sagitta_mm(x_mm, y_mm)
    }

    /// Its thickness at the edge, mm: what its side shows. Meant for stations of the board, where no radius is less than
    /// the width; not a number where the outline leaves the circle.
    #[must_use]
    pub fn edge_thickness_mm(&self, x_mm: f64) -> f64 {
        self.thickness_mm - self.crown.sagitta(x_mm, 0.5 * self.width_mm(x_mm))
    }

    /// Least thickness of the edge, and where. Exact: along a straight stretch of the outline the sagitta is a convex
    /// function, so that its greatest value is at an end of the stretch.
    #[must_use]
    pub fn least_edge_thickness_mm(&self) -> (f64, f64) {
        let mut least = (f64::INFINITY, 0.0);
        for x in self.vertices() {
            let thickness = self.edge_thickness_mm(x);
            if thickness < least.0 {
                least = (thickness, x);
            }
        }
        least
    }

    /// Where a line across the board that starts at the centreline comes to within `inset` of the edge: `(x, y)`. None
    /// where it never does, because it runs along with the edge.
    pub(crate) fn edge_point(&self, line: FretLine, side: Side, inset: f64) -> Option<(f64, f64)> {
        // By u = |y|: the line's station is x_mm + m u.
        let m = line.slope * side.sign();
        let mut i = self.stretch_at(line.x_mm);
        if m < 0.0 && i > 0 && self.widths[i].0 == line.x_mm {
            i -= 1;
        }
        loop {
            let ((x0, w0), slope) = self.stretch(i);
            let room = 0.5 * (w0 + slope * (line.x_mm - x0)) - inset;
            let closing = 1.0 - 0.5 * slope * m;
            let u = room / closing;
            let x = line.x_mm + m * u;
            let (first, last) = (i == 0, i + 2 == self.widths.len());
            let reached = closing > 0.0 && u.is_finite();
            if m > 0.0 && !last && (!reached || x > self.widths[i + 1].0) {
                i += 1;
            } else if m < 0.0 && !first && (!reached || x < self.widths[i].0) {
                i -= 1;
            } else {
                return (reached && u > 0.0).then_some((x, side.sign() * u));
            }
        }
    }
}
