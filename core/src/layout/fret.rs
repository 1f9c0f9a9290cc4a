//! One fret: its slot and its wire.

use super::board::{Board, Side};
use super::fan::{Fan, FretLine};
use crate::measure::Error;

/// One fret: its slot and its wire. Pairs are bass side first. Places and lengths are good to 1e-11 mm.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Fret {
    /// Its number; 0 is the zero fret.
    pub number: u32,
    /// Its pitch above the open string, cents.
    pub cents: f64,
    /// The part of each outer string between the nut and this fret.
    #[serde(skip)]
    pub(super) taken: f64,
    /// Its line.
    pub line: FretLine,
    /// Its distance from the nut along each outer string, in plan, mm.
    pub along_strings_mm: (f64, f64),
    /// Both slot ends, `(x, y)` in plan, mm: at the board's edge, or at the binding's inner side.
    pub slot_ends_mm: ((f64, f64), (f64, f64)),
    /// Length of the slot in plan, mm.
    pub slot_length_mm: f64,
    /// Length to cut the wire to, mm: along the board's surface from slot end to slot end and the overhang at both.
    pub wire_length_mm: f64,
    /// Depth of the slot's bottom under the crown line, mm, on the centreline.
    pub bottom_depth_mm: f64,
    /// The same at the slot's ends: the bottom follows the radius.
    pub bottom_depth_at_ends_mm: (f64, f64),
    /// Wood left under the slot at its ends, mm.
    pub wood_under_ends_mm: (f64, f64),
    /// Depth left of the slot at its ends, mm, where it is sawn straight across to its depth in the middle; below 0 the
    /// saw does not reach the surface there.
    pub straight_depth_at_ends_mm: (f64, f64),
}

/// What all frets have in common.
pub(super) struct Wire {
    pub(super) slot_depth: f64,
    pub(super) overhang: f64,
}

impl Fret {
    /// The same fret of the mirror image: every `y` and the line's slope change their sign. Pairs stay bass side
    /// first.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let ((xb, yb), (xt, yt)) = self.slot_ends_mm;
        Self { line: self.line.mirrored(), slot_ends_mm: ((xb, -yb), (xt, -yt)), ..*self }
    }

    /// The fret of a number on a board; none where its line does not reach both edges.
    pub(super) fn new(number: u32, fan: &Fan, board: &Board, wire: &Wire) -> Result<Option<Self>, Error> {
        let fret = f64::from(number);
        let line = fan.line(fret)?;
        let temperament = fan.temperament();
        let (Some(bass), Some(treble)) = (
            board.edge_point(line, Side::Bass, board.binding_mm()),
            board.edge_point(line, Side::Treble, board.binding_mm()),
        ) else {
            return Ok(None);
        };
        let crown = board.crown();
        let sagitta = (crown.sagitta(bass.0, bass.1), crown.sagitta(treble.0, treble.1));
        let at_ends = |f: &dyn Fn(f64) -> f64| (f(sagitta.0), f(sagitta.1));
        Ok(Some(Self {
            number,
            cents: temperament.cents(fret)?,
            taken: temperament.taken(fret)?,
            line,
            along_strings_mm: (
                temperament.position_mm(fan.bass_mm(), fret)?,
                temperament.position_mm(fan.treble_mm(), fret)?,
            ),
            slot_ends_mm: (bass, treble),
            slot_length_mm: libm::hypot(treble.0 - bass.0, treble.1 - bass.1),
            wire_length_mm: crown.arc(line.x_mm, line.slope, bass.1, treble.1) + 2.0 * wire.overhang,
            bottom_depth_mm: wire.slot_depth,
            bottom_depth_at_ends_mm: at_ends(&|s| s + wire.slot_depth),
            wood_under_ends_mm: at_ends(&|s| board.thickness_mm() - s - wire.slot_depth),
            straight_depth_at_ends_mm: at_ends(&|s| wire.slot_depth - s),
        }))
    }
}
