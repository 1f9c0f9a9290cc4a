//! How far what is drawn reaches.

use super::draft::Room;
use super::path::{Path, Point, Segment};
use super::sheet::{Shape, Sheet};
use crate::measure::{Error, Fault, Kind};

/// A rectangle that holds nothing.
pub(super) const NOTHING: Room = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];

/// The least rectangle around two; where a place is no number it isn't either, so that one look at the whole tells.
pub(super) fn both(a: Room, b: Room) -> Room {
    let least = |a: f64, b: f64| if a.is_nan() || a < b { a } else { b };
    let greatest = |a: f64, b: f64| if a.is_nan() || a > b { a } else { b };
    [[0, 1].map(|k| least(a[0][k], b[0][k])), [0, 1].map(|k| greatest(a[1][k], b[1][k]))]
}

/// Every place of a sheet has to be a number.
pub(super) fn finite(sheet: &Sheet) -> Result<(), Error> {
    let is = |room: Room| room == NOTHING || room.iter().flatten().all(|v| v.is_finite());
    let own = sheet.size_mm.iter().chain(sheet.origin_mm.iter().flatten()).all(|v| v.is_finite());
    if let Some(i) = sheet.items.iter().position(|item| !is(extent(&item.shape))) {
        let reason = "every place of a sheet has to be a finite number of millimetres";
        let fault = Fault::new(Kind::OutOfRange, alloc::format!("sheet.items[{i}]"), reason);
        return Err(fault.remedy("leave the item out, or give its place").into());
    }
    if !own {
        let reason = "the size of a sheet and its origin have to be finite numbers of millimetres";
        return Err(Fault::new(Kind::OutOfRange, "sheet.size_mm", reason)
            .remedy("give width and height")
            .into());
    }
    Ok(())
}

fn around(p: Point) -> Room {
    [p, p]
}

/// A rectangle around a path, no more than a curve's handles too large.
pub(super) fn path(path: &Path) -> Room {
    let mut from = path.start;
    let mut room = around(from);
    for segment in &path.segments {
        match *segment {
            Segment::Line(_) => {}
            Segment::Cubic(a, b, _) => room = both(both(room, around(a)), around(b)),
            Segment::Arc { centre, .. } => {
                // Less than half a circle: it keeps within its ends and what it rises above their chord.
                let (to, r) = (segment.end(), libm::hypot(from[0] - centre[0], from[1] - centre[1]));
                let half = 0.5 * libm::hypot(to[0] - from[0], to[1] - from[1]);
                let rise = r - libm::sqrt(f64::max(0.0, r * r - half * half));
                let middle = [0, 1].map(|k| 0.5 * (from[k] + to[k]));
                // In a frame along the chord the arc's box is 2·half by rise.
                let ways = [0, 1].map(|k| libm::fabs(to[1 - k] - from[1 - k]) / f64::max(2.0 * half, 1e-300));
                let reach = [0, 1].map(|k| 0.5 * libm::fabs(to[k] - from[k]) + rise * ways[k]);
                room =
                    both(room, [[0, 1].map(|k| middle[k] - reach[k]), [0, 1].map(|k| middle[k] + reach[k])]);
            }
        }
        from = segment.end();
        room = both(room, around(from));
    }
    room
}

/// A rectangle around a shape, words and lines, no more than a curve's handles too large.
pub(super) fn extent(shape: &Shape) -> Room {
    let lines = match shape {
        Shape::Path(line) => path(line),
        Shape::Circle { centre, radius_mm } => {
            let r = libm::fabs(*radius_mm);
            [centre.map(|c| c - r), centre.map(|c| c + r)]
        }
        Shape::Dimension(dimension) => dimension.strokes().iter().map(path).fold(NOTHING, both),
        Shape::Text(_) => NOTHING,
    };
    shape.text().map_or(lines, |text| both(lines, text.room()))
}
