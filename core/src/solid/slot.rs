//! Fret slots in plan.

use alloc::vec::Vec;

use super::board::cut_in_one_until;
use super::foot::around;
use super::plan::PlanCurve;
use crate::law::{Bernstein, Law};
use crate::shape::{Neck, Side};

/// A slot that leaves its line by no more over the board's width is square to it, mm.
const SQUARE_MM: f64 = 1e-7;

/// One slot: a strip of plan along a fret's line.
pub(super) struct Slot {
    number: u32,
    x: f64,
    slope: f64,
    /// Half its width as it is crossed by a line along the neck.
    half: f64,
}

/// All slots, and how far in from the board's edges they end.
pub(super) struct Slots {
    all: Vec<Slot>,
    inset: Option<Law>,
}

impl Slots {
    pub fn new(neck: &Neck) -> Self {
        let frets = &neck.normalised().frets;
        let kerf = frets.slot_width.mm();
        let board = neck.layout().board();
        let half = &neck.built().board_half;
        let widest = board.widths_mm().iter().fold(0.0, |most: f64, w| most.max(w.1));
        let slot = |fret: &crate::layout::Fret| {
            let (x, slope) = (fret.line.x_mm, fret.line.slope);
            let slope = if libm::fabs(slope) * widest <= SQUARE_MM { 0.0 } else { slope };
            Slot { number: fret.number, x, slope, half: 0.5 * kerf * libm::hypot(1.0, slope) }
        };
        let binding = board.binding_mm();
        Self {
            all: neck.layout().frets().iter().map(slot).collect(),
            inset: (binding > 0.0).then(|| half.plus_number(-binding)),
        }
    }

    /// How deep slots may be below the crown at most to leave wood under them everywhere, mm: least where they come out at the
    /// board's edges, or end before a binding. With the fret at which that is, and on which side.
    pub fn deepest(&self, neck: &Neck) -> Option<(f64, u32, Side)> {
        let built = neck.built();
        let crown = neck.layout().board().crown();
        let own = cut_in_one_until(built);
        let room = |slot: &Slot, side: Side, off: f64| {
            let flank = built.back.flanks.of(side);
            let edge = |x: f64| match &self.inset {
                Some(inset) => inset.value(x),
                None if x <= own => flank.out[0].value(x),
                None => built.board_half.value(x),
            };
            // The edge hardly moves over the little that the slot leans: six steps settle it to the last digits.
            let at = |x: f64| slot.x + off + slot.slope * side.sign() * edge(x);
            let x = (0..6).fold(slot.x, |x, _| at(x)).clamp(built.back.spine.start(), built.end);
            let y = edge(x);
            let back =
                flank.depth.iter().map(|law| law.value(x)).collect::<Bernstein>().eval(around(flank, x, y));
            back.min(built.head.glue) - crown.sagitta(x, y)
        };
        let each = self.all.iter().flat_map(|slot| {
            let of = move |side| {
                [-slot.half, slot.half].map(move |off| (room(slot, side, off), slot.number, side))
            };
            Side::BOTH.into_iter().flat_map(of)
        });
        each.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Whether a place is in a slot.
    pub fn hold(&self, x: f64, y: f64) -> bool {
        let within = self.inset.as_ref().is_none_or(|inset| libm::fabs(y) < inset.value(x));
        within && self.all.iter().any(|s| libm::fabs(x - s.x - s.slope * y) < s.half)
    }

    /// Stations at which a slot that is square begins or ends.
    pub fn stations(&self) -> Vec<f64> {
        let square = self.all.iter().filter(|s| s.slope == 0.0);
        square.flat_map(|s| [s.x - s.half, s.x + s.half]).collect()
    }

    /// The curves along the slots' sides, as far as a half width reaches, and along their ends within a binding.
    pub fn curves(&self, widest: f64) -> Vec<PlanCurve> {
        let aslant = self.all.iter().filter(|s| s.slope != 0.0).flat_map(|s| {
            [-s.half, s.half].map(|off| {
                let at = |y: f64| [s.x + off + s.slope * y, y];
                let (a, b) = (at(-widest), at(widest));
                if a[0] < b[0] { PlanCurve::line(a, b) } else { PlanCurve::line(b, a) }
            })
        });
        let mut curves: Vec<PlanCurve> = aslant.flatten().collect();
        let Some(inset) = &self.inset else { return curves };
        for s in &self.all {
            let run = s.half + libm::fabs(s.slope) * widest;
            let reach = [(s.x - run).max(inset.start()), (s.x + run).min(inset.end())];
            for x in super::knots::runs(inset, reach) {
                let y = x.reach.map(|x| inset.value(x));
                for sign in [-1.0, 1.0] {
                    curves.extend(PlanCurve::line([x.reach[0], sign * y[0]], [x.reach[1], sign * y[1]]));
                }
            }
        }
        curves
    }
}
