//! The caliper card: what the caliper should read at every fret.

use alloc::vec::Vec;

use super::neck::Neck;
use super::sides::{Side, Sides};

/// No neck has more frets than this.
const MOST_FRETS: u32 = 60;

/// One row of the caliper card.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct CaliperRow {
    /// Number of the fret; 0 is the nut.
    pub fret: u32,
    /// Its station on the centreline, mm from the nut.
    pub x_mm: f64,
    /// Width, board edge to board edge, mm.
    pub width_mm: f64,
    /// Thickness from the board's crown to the spine, frets not counted, mm.
    pub thickness_mm: f64,
    /// A tape around the back from one top edge of the board to the other, mm.
    pub girth_mm: f64,
    /// Depth of the carve line below the crown plane on either side, mm.
    pub carve_line_mm: Sides<f64>,
    /// Least wood between the rod's channel and the outside, mm; `None` where nothing is cut.
    pub rod_wall_mm: Option<f64>,
}

impl Neck {
    /// What the caliper should read at the nut and at every fret that lies on the neck; on a fretless neck where the
    /// frets would be.
    #[must_use]
    pub fn caliper_card(&self) -> Vec<CaliperRow> {
        let last = self.layout.board().end_mm().min(self.built.end);
        let row = |fret: u32| {
            let x = self.layout.station_of_fret_mm(f64::from(fret)).ok().filter(|x| *x <= last)?;
            let section = self.section_at(x);
            Some(CaliperRow {
                fret,
                x_mm: x,
                width_mm: self.width(x),
                thickness_mm: self.thickness(x),
                girth_mm: section.girth_mm(),
                carve_line_mm: Sides::each(|side: Side| self.carve_line(side, x)),
                rod_wall_mm: self.wall(x),
            })
        };
        // Without frets the card still wants stations: where the frets of its temperament would be.
        let last_fret = if self.spec.frets.count == 0 { MOST_FRETS } else { self.spec.frets.count };
        (0..=last_fret).filter_map(row).collect()
    }
}
