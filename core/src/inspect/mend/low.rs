//! Low places: where the wood that is still there lies inside the finished neck.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::pool::{Pool, Pooled};
use crate::inspect::check::Around;
use crate::inspect::mendable::edges_come_in;
use crate::inspect::readings::Placed;
use crate::inspect::{self, Measured};
use crate::law::Bernstein;
use crate::shape::{Foot, Neck, Side, Sides};
use crate::spec::MendLimits;

/// What is low there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Place {
    /// The spine.
    Spine,
    /// The back of a side, `u` from its carve line (0) to the spine (1).
    Back(Side, f64),
    /// The carve line of a side.
    Carve(Side),
    /// The board's edges.
    Edges,
    /// The flat side below the board's edge, on one side.
    Flat(Side),
    /// A flat side of headstock or block, which is kept.
    Kept(Side),
}

impl Place {
    /// Whether the board's edges come in for it, or it forbids mending as no edge does.
    pub fn is_beside(self) -> bool {
        matches!(self, Self::Edges | Self::Flat(_) | Self::Kept(_))
    }

    /// What a millimetre of the reading counts in the measure that mending goes by: both edges come in alike, so that of a
    /// flat side it is the width that is as much as both would have.
    fn measure(self) -> f64 {
        if matches!(self, Self::Flat(_)) { 2.0 } else { 1.0 }
    }
}

/// A place where the neck has to come down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Low {
    pub x: f64,
    pub place: Place,
    /// How far the wood that is still there, less the margin, ends inside the design, mm of depth or width.
    pub by: f64,
    pub uncertainty: f64,
    /// Which of the readings, those of one place taken together.
    pub index: usize,
}

/// A reading as it is named in sentences.
pub(super) fn named(number: usize, line: u32) -> String {
    match line {
        0 => format!("readings[{number}]"),
        line => format!("the reading of line {line}"),
    }
}

/// The back of a section: from the carve line to the spine, either side's distance outward and its depth.
pub(super) struct Back {
    spine_across: f64,
    sides: Sides<[Bernstein; 2]>,
}

/// A place across that lies no further beyond the edge is at it, mm.
const AT_EDGE: f64 = 1e-9;

impl Back {
    pub fn new(neck: &Neck, x: f64) -> Self {
        let built = neck.built();
        let side = |side: Side| {
            let flank = built.back.flanks.of(side);
            [&flank.out, &flank.depth].map(|laws| laws.iter().map(|law| law.value(x)).collect())
        };
        Self { spine_across: built.form.profile.spine_offset.value(x), sides: Sides::each(side) }
    }

    /// Side and place around of a place across; `None` beyond the edge.
    fn around(&self, across: f64) -> Option<(Side, f64)> {
        let side = if across >= self.spine_across { Side::Treble } else { Side::Bass };
        let outward = side.sign() * across;
        let out: Bernstein = self.sides.of(side)[0].coefs().iter().map(|c| c - outward).collect();
        let inside = *out.coefs().first()?;
        if libm::fabs(inside) <= AT_EDGE {
            return Some((side, 0.0));
        }
        (inside > 0.0).then(|| (side, out.roots().first().copied().unwrap_or(1.0)))
    }

    /// How far from the centreline a side is flat.
    fn half(&self, side: Side) -> f64 {
        self.sides.of(side)[0].eval(0.0)
    }

    /// Place across and depth there.
    pub fn at(&self, side: Side, u: f64) -> [f64; 2] {
        let [out, depth] = self.sides.of(side);
        [side.sign() * out.eval(u), depth.eval(u)]
    }

    /// How deep it lies at a place across; `None` beyond the edge.
    pub fn depth_at(&self, across: f64) -> Option<f64> {
        self.around(across).map(|(side, u)| self.at(side, u)[1])
    }
}

/// What lies so near to a flat side is of it, mm.
const FLUSH: f64 = 1e-6;

/// Which place of a neck a point is of, by where on the design's outline it is nearest to, as where it is
/// [inspected](crate::inspect::Row::place); or why it asks nothing. `across` is where that foot lies, mm.
pub(super) fn place_of_point(
    neck: &Neck,
    here: &Around,
    foot: &Foot,
    across: f64,
) -> Result<Place, &'static str> {
    let x = here.frame.x;
    let side = if here.way(foot) < 0.0 { Side::Bass } else { Side::Treble };
    match here.place(foot) {
        inspect::Place::Spine | inspect::Place::Shoulder(_) => Ok(Place::Back(side, 0.0)),
        inspect::Place::Edge(side) => {
            let half = side.sign() * across;
            let is_at = |other: f64| libm::fabs(half - other) <= FLUSH;
            let board = 0.5 * neck.layout().board().width_mm(x);
            if edges_come_in(neck, x) && is_at(board) {
                Ok(Place::Flat(side))
            } else if is_at(Back::new(neck, x).half(side)) {
                Ok(Place::Kept(side))
            } else {
                Err("this point of a ledge or of the board's end says nothing about back and sides")
            }
        }
        _ => Err("this point of the face says nothing about back and sides"),
    }
}

/// Which place of a neck another reading is of, or why it asks nothing.
pub(super) fn place_of_measure(measured: Measured) -> Result<Place, &'static str> {
    match measured {
        Measured::Thickness => Ok(Place::Spine),
        Measured::Width => Ok(Place::Edges),
        Measured::CarveLine(side) => Ok(Place::Carve(side)),
        Measured::Girth => Err(
            "a girth does not say where around the neck the wood is low: measure a thickness, a carve line or \
             points of the section there",
        ),
        Measured::Radius => Err("the radius of the board's face says nothing about the back"),
        Measured::Point { .. } => Err("where a point lies is told by the outline"),
    }
}

/// The place of a reading on a neck, how far it lies inside there, in the measure of its place, and what its uncertainty
/// comes to in that. `None` of a point where the neck is narrower.
pub(super) fn inside(neck: &Neck, placed: &Placed, place: Place) -> Option<(Place, f64, f64)> {
    let (x, value) = (placed.x_mm, placed.reading.value_mm);
    let uncertainty = place.measure() * placed.reading.uncertainty_mm;
    let across = if let Measured::Point { across_mm } = placed.reading.measured { across_mm } else { 0.0 };
    let (place, by) = match place {
        Place::Spine => (place, neck.thickness(x) - value),
        Place::Edges => (place, neck.width(x) - value),
        Place::Carve(side) => (place, neck.carve_line(side, x) - value),
        Place::Flat(side) => (place, neck.width(x) - place.measure() * side.sign() * across),
        Place::Kept(side) => (place, Back::new(neck, x).half(side) - side.sign() * across),
        Place::Back(..) => {
            let back = Back::new(neck, x);
            let (side, u) = back.around(across)?;
            (Place::Back(side, u), back.at(side, u)[1] - value)
        }
    };
    Some((place, by, uncertainty))
}

/// Finds the low places.
pub(super) fn lows(neck: &Neck, pool: &Pool, limits: &MendLimits) -> Vec<Low> {
    let low = |(index, pooled): (usize, &Pooled)| {
        let (place, by, uncertainty) = inside(neck, &pooled.placed, pooled.place)?;
        let x = pooled.placed.x_mm;
        (by > 0.0).then_some(Low { x, place, by: by + limits.margin * uncertainty, uncertainty, index })
    };
    pool.readings.iter().enumerate().filter_map(low).collect()
}

/// The low place that a mended neck comes down to least of all, and by how much it lies above it there.
pub(super) fn missed(mended: &Neck, pool: &Pool, lows: &[Low], limits: &MendLimits) -> Option<(usize, f64)> {
    let above = |low: &Low| {
        // Where the neck has become narrower than that it is met.
        let (_, by, uncertainty) = inside(mended, &pool.readings.get(low.index)?.placed, low.place)?;
        Some((low.index, by + limits.margin * uncertainty))
    };
    lows.iter().filter_map(above).max_by(|a, b| a.1.total_cmp(&b.1))
}
