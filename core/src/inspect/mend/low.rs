//! Low places: where the wood that is still there lies inside the finished neck.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::inspect::Measured;
use crate::inspect::readings::Placed;
use crate::law::Bernstein;
use crate::shape::{Neck, Side, Sides};
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

/// The low places among readings, and what is to be said of those that ask nothing.
pub(super) struct Lows {
    pub lows: Vec<Low>,
    pub notes: Vec<String>,
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

/// Which place of a neck a reading is of, how deep or wide the neck is there, and the reading in the same measure; or why
/// it asks nothing.
pub(super) fn there(neck: &Neck, placed: &Placed) -> Result<(Place, f64, f64), &'static str> {
    let built = neck.built();
    let (x, value) = (placed.x_mm, placed.reading.value_mm);
    let wood = x <= built.end;
    Ok(match placed.reading.measured {
        Measured::Thickness => {
            let thickness = neck.thickness(x);
            let spine = if wood { built.back.spine.value(x) } else { built.head.glue };
            (Place::Spine, spine, value + (spine - thickness))
        }
        Measured::Width => (Place::Edges, neck.width(x), value),
        Measured::CarveLine(side) => (Place::Carve(side), neck.carve_line(side, x), value),
        Measured::Point { across_mm } => {
            let back = Back::new(neck, x);
            match back.around(across_mm).filter(|_| wood) {
                Some((side, u)) => (Place::Back(side, u), back.at(side, u)[1], value),
                None => return Err("this point lies beside the finished neck, where all wood goes anyway"),
            }
        }
        Measured::Girth => {
            return Err(
                "a girth does not say where around the neck the wood is low: measure a thickness, a carve line or \
                        points of the section there",
            );
        }
        Measured::Radius => return Err("the radius of the board's face says nothing about the back"),
    })
}

/// Finds the low places.
pub(super) fn lows(neck: &Neck, readings: &[Placed], limits: &MendLimits) -> Lows {
    let mut found = Lows { lows: Vec::new(), notes: Vec::new() };
    for (index, placed) in readings.iter().enumerate() {
        match there(neck, placed) {
            Ok((place, design, value)) if value < design => {
                let uncertainty = placed.reading.uncertainty_mm;
                let by = design - (value - limits.margin * uncertainty);
                found.lows.push(Low { x: placed.x_mm, place, by, uncertainty, index });
            }
            Ok(_) => {}
            Err(why) => {
                if found.notes.len() < crate::measure::MAX_FAULTS {
                    let which = named(placed.number as usize, placed.reading.line);
                    found.notes.push(format!("{which} was left out: {why}"));
                }
            }
        }
    }
    found
}

/// The low place that a mended neck comes down to least of all, and by how much it lies above it there.
pub(super) fn missed(
    mended: &Neck,
    readings: &[Placed],
    lows: &[Low],
    limits: &MendLimits,
) -> Option<(usize, f64)> {
    let above = |low: &Low| {
        let placed = readings.get(low.index)?;
        // Where the neck has become narrower than that it is met.
        let (_, is, value) = there(mended, placed).ok()?;
        Some((low.index, is - (value - limits.margin * placed.reading.uncertainty_mm)))
    };
    lows.iter().filter_map(above).max_by(|a, b| a.1.total_cmp(&b.1))
}
