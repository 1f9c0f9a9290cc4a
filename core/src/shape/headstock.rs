//! The headstock: a slab behind the nut.

use alloc::vec::Vec;

use super::sides::{Side, Sides};
use crate::law::{EndSlope, Law, through};
use crate::spec::{EdgePoint, HeadstockKind};

/// The headstock's planes and places, right-handed, lengths in mm.
#[derive(Clone, Debug)]
pub(crate) struct Headstock {
    pub kind: HeadstockKind,
    /// Where the face begins, behind the nut.
    pub root: f64,
    /// Depth of the glue line, where the face begins.
    pub glue: f64,
    pub thickness: f64,
    /// Length along the face.
    pub length: f64,
    pub sin: f64,
    pub cos: f64,
    /// How far a level face lies below the glue line, and the run of its step.
    pub step: f64,
    pub step_run: f64,
}

impl Headstock {
    /// Station of a place given along the face.
    pub fn x(&self, along: f64) -> f64 {
        self.root - along * self.cos
    }

    /// The headstock's end.
    pub fn tip(&self) -> f64 {
        self.x(self.length)
    }

    /// Depth of the face over the headstock's stations.
    pub fn face(&self) -> Option<Law> {
        match self.kind {
            HeadstockKind::Angled => {
                Law::polyline(&[(self.tip(), self.glue + self.length * self.sin), (self.root, self.glue)])
            }
            // A step of nothing, or of so little that its run is lost in rounding.
            HeadstockKind::Level if self.root - self.step_run >= self.root => {
                Law::constant(self.glue + self.step, self.tip(), self.root)
            }
            HeadstockKind::Level => {
                let share = crate::law::fall(self.tip(), self.root - self.step_run, self.root, self.root)?;
                Some(share.times_number(self.step).plus_number(self.glue))
            }
        }
    }

    /// Depth at a thickness under the face, square to it, carried on straight beyond the headstock.
    pub fn back_depth(&self, x: f64, thickness: f64) -> f64 {
        match self.kind {
            HeadstockKind::Angled => {
                self.glue + (self.root - x) * (self.sin / self.cos) + thickness / self.cos
            }
            HeadstockKind::Level => self.glue + self.step + thickness,
        }
    }

    /// Depth of the slab's back, parallel to its face, carried on straight over the stations given.
    pub fn back_line(&self, from: f64, to: f64) -> Option<Law> {
        let depth = |x: f64| self.back_depth(x, self.thickness);
        Law::polyline(&[(from, depth(from)), (to, depth(to))])
    }
}

/// Half width of either side over the headstock, joining the board's own taper with its slope.
///
/// `taper` gives half width and slope where the face begins.
pub(super) fn edges(head: &Headstock, points: &Sides<Vec<EdgePoint>>, taper: [f64; 2]) -> Option<Sides<Law>> {
    let edge = |side: Side| {
        let mut law: Vec<(f64, f64)> =
            points.of(side).iter().map(|p| (head.x(p.along.mm()), p.offset.mm())).collect();
        law.reverse();
        if let Some(first) = law.first().copied().filter(|p| p.0 > head.tip()) {
            // The outermost given width is kept to the end.
            law.insert(0, (head.tip(), first.1));
        }
        law.push((head.root, taper[0]));
        through(&law, EndSlope::Natural, EndSlope::Given(taper[1]))
    };
    Some(Sides { bass: edge(Side::Bass)?, treble: edge(Side::Treble)? })
}
