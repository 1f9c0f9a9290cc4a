//! Marker dots in the board's face and side.

use alloc::vec::Vec;

use super::board::{Board, Side};
use super::fan::Fan;
use crate::measure::Error;

/// Marker in the board's face, midway along the centreline between its fret and the one before it.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct FaceMarker {
    /// The fret it stands before.
    pub fret: u32,
    /// Whether it is two dots: at every octave.
    pub double: bool,
    /// Its station.
    pub x_mm: f64,
    /// Distance of its dots from the centreline, mm: 0 for one, a quarter of the board's width there, to either side,
    /// for two. Common practice, no source.
    pub y_mm: f64,
}

/// Marker in the board's bass side, midway along the edge between its fret and the one before it, and in the middle of
/// the edge's thickness.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct SideMarker {
    /// The fret it stands before.
    pub fret: u32,
    /// Whether it is two dots: at every octave.
    pub double: bool,
    /// Its middle's station.
    pub x_mm: f64,
    /// Where the board's edge is there; below 0, being the bass side.
    pub y_mm: f64,
    /// Depth of its middle under the crown line, mm.
    pub depth_mm: f64,
    /// How far each of two dots stands from the middle along the centreline, mm: a sixth of the way between the frets; 0
    /// for one dot. Common practice, no source.
    pub apart_mm: f64,
}

impl SideMarker {
    /// The same marker of the mirror image.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self { y_mm: -self.y_mm, ..*self }
    }
}

/// Markers of those frets of the list that the board has.
pub(super) fn face(list: &[u32], last: u32, fan: &Fan, board: &Board) -> Result<Vec<FaceMarker>, Error> {
    let on_board = list.iter().copied().filter(|n| (1..=last).contains(n));
    on_board
        .map(|fret| {
            let before = fan.line(f64::from(fret - 1))?.x_mm;
            let x_mm = 0.5 * (before + fan.line(f64::from(fret))?.x_mm);
            let double = fan.temperament().is_octave(fret);
            let y_mm = if double { 0.25 * board.width_mm(x_mm) } else { 0.0 };
            Ok(FaceMarker { fret, double, x_mm, y_mm })
        })
        .collect()
}

/// As [`face`], for the side. A fret whose line does not reach the edge has none.
pub(super) fn side(list: &[u32], last: u32, fan: &Fan, board: &Board) -> Result<Vec<SideMarker>, Error> {
    let mut markers = Vec::new();
    for fret in list.iter().copied().filter(|n| (1..=last).contains(n)) {
        let at_edge = |n: u32| {
            Ok::<_, Error>(board.edge_point(fan.line(f64::from(n))?, Side::Bass, 0.0).map(|(x, _)| x))
        };
        let (Some(before), Some(after)) = (at_edge(fret - 1)?, at_edge(fret)?) else { continue };
        let x_mm = 0.5 * (before + after);
        let double = fan.temperament().is_octave(fret);
        let half = 0.5 * board.width_mm(x_mm);
        markers.push(SideMarker {
            fret,
            double,
            x_mm,
            y_mm: -half,
            depth_mm: board.thickness_mm() - 0.5 * board.edge_thickness_mm(x_mm),
            apart_mm: if double { (after - before) / 6.0 } else { 0.0 },
        });
    }
    Ok(markers)
}
