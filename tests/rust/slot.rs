//! Where a fret's slot is, in words of its own: not those that the solid is made by.

use crate::found::Found;
use crate::share;
use neckwright::layout::FretLine;
use neckwright::shape::Neck;

/// A fret's slot: a strip of plan, in the board's own hand, with its floor below the crown.
pub(crate) struct Slot {
    pub line: FretLine,
    /// Half its width along the neck.
    pub half: f64,
    depth: f64,
}

impl Slot {
    pub fn all(neck: &Neck) -> Vec<Self> {
        let frets = &neck.normalised().frets;
        let of = |line: FretLine| Self {
            line,
            half: 0.5 * frets.slot_width.mm() * libm::hypot(1.0, line.slope),
            depth: frets.slot_depth.mm(),
        };
        neck.frets().iter().map(|fret| of(fret.line)).collect()
    }

    /// How far out slots go at a station.
    fn reach(neck: &Neck, x: f64) -> f64 {
        let board = neck.layout().board();
        0.5 * board.width_mm(x) - board.binding_mm()
    }

    /// Where a place of the board comes to when the slots are cut; `None` if it falls away.
    pub fn cut(all: &[Self], neck: &Neck, mut point: Found) -> Option<Found> {
        if point.kind.ends_with("of a slot") {
            return Some(point);
        }
        let [x, y, z] = point.at;
        let Some(slot) = all.iter().find(|slot| (x - slot.line.x_at_mm(y)).abs() < slot.half) else {
            return Some(point);
        };
        // The last bit decides whether an edge is in the slot that comes out at it.
        if y.abs() > Self::reach(neck, x) + 1e-9 {
            return Some(point);
        }
        let floor = -neck.layout().board().sagitta_mm(x, y).ok()? - slot.depth;
        if point.kind == "crown" {
            point.kind = "floor of a slot".into();
            point.at[2] = floor;
            return Some(point);
        }
        (z < floor).then_some(point)
    }

    /// A random point of its walls or its floor.
    pub fn inside(&self, neck: &Neck, next: &mut dyn FnMut() -> u64) -> Option<Found> {
        let floor = next().is_multiple_of(2);
        let way =
            if floor { 2.0 * share(next) - 1.0 } else { 1.0 - 2.0 * libm::round(share(next)) } * self.half;
        let reach = Self::reach(neck, self.line.x_mm);
        let y = reach * (2.0 * share(next) - 1.0);
        let x = self.line.x_at_mm(y) + way;
        let behind = x < neck.layout().nut_line().x_at_mm(neck.hand_sign() * y);
        if behind || y.abs() > Self::reach(neck, x) {
            return None;
        }
        let z = -neck.layout().board().sagitta_mm(x, y).ok()?
            - if floor { 1.0 } else { share(next) } * self.depth;
        Some(Found::off_the_back(if floor { "floor of a slot" } else { "walls of a slot" }, 1, [x, y, z]))
    }
}
