//! The fretboard as a solid.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::outline::{EdgeOf, Feet, back_sheets, foot_curves};
use super::plan::PlanCurve;
use super::relief::{Made, Making, Relief};
use super::sheet::{Kind, Sheet};
use super::slot::Slots;
use crate::shape::{Back, Built, Neck, Side};

/// A back over some stations, with its feet at the glue line.
pub(super) struct Under<'a> {
    pub back: &'a Back,
    pub feet: &'a Feet,
    pub reach: [f64; 2],
}

/// Stretches that are shorter are none, mm.
const SHORT_MM: f64 = 1e-9;

/// As far as this its edges are the wood's, cut in one with it; beyond a heel block of a width of its own they are the board's.
pub(super) fn cut_in_one_until(built: &Built) -> f64 {
    if built.own_block { built.sweep.start.min(built.end) } else { built.end }
}

/// The outline of the board on one side: along the wood's edge where both are cut in one, along its own beyond, and along the
/// nut where that stands aslant.
fn edge(neck: &Neck, built: &Built, side: Side) -> Vec<PlanCurve> {
    let board = neck.layout().board();
    let of = |own: bool| EdgeOf { side, own };
    let ends = board.nut_ends_mm();
    let k = usize::from(side == Side::Treble);
    let (from, to) = (ends[k], board.end_mm());
    let own = cut_in_one_until(built);
    let mut curves = Vec::new();
    if ends[k] > ends[1 - k] {
        let at = |k: usize| {
            let half = built.board_half.value(ends[k]);
            [ends[k], if k == 1 { half } else { -half }]
        };
        curves.extend(PlanCurve::line(at(1 - k), at(k)));
    }
    if from < own {
        curves.extend(of(true).along(&built.back.flanks.of(side).out[0], [from, to.min(own)]));
    }
    if own < to {
        curves.extend(of(false).along(&built.board_half, [own.max(from), to]));
    }
    curves
}

/// The fretboard over the backs under it, with its slots where they are asked for.
pub(super) fn board(neck: &Neck, built: &Built, backs: &[Under<'_>], slotted: bool) -> Option<Made> {
    let board = neck.layout().board();
    let reach = [board.start_mm(), board.end_mm()];
    let [bass, treble] = Side::BOTH.map(|side| edge(neck, built, side));
    // From below: the glue line's plane, and the back where it comes up above it.
    let mut lower = alloc::vec![Sheet { reach, kind: Kind::Flat { depth: built.head.glue, slope: 0.0 } }];
    let mut stations = Vec::new();
    let mut curves = Vec::new();
    let mut over = Vec::new();
    for Under { back, feet, reach: [from, to] } in backs {
        stations.extend(feet.flush.iter().copied().filter(|x| x > from && x < to));
        for foot in &feet.all {
            let reach = [foot.reach[0].max(*from), foot.reach[1].min(*to)];
            if reach[1] - reach[0] <= SHORT_MM {
                continue;
            }
            curves.extend(foot_curves(back, foot, reach));
            let first = lower.len();
            let own = |s: &Sheet<'_>| matches!(s.kind, Kind::Back { side, .. } if side == foot.side);
            lower.extend(back_sheets(back, reach).into_iter().filter(own));
            over.push((foot, reach, first..lower.len()));
        }
    }
    let reaches: Vec<[f64; 2]> = lower.iter().map(|s| s.reach).collect();
    let lower_at = move |x: f64, y: f64| {
        let beyond = over.iter().find(|(foot, reach, _)| {
            let sign = foot.side.sign();
            x > reach[0] && x < reach[1] && sign * y > sign * foot.law.value(x)
        });
        let holds = |i: &usize| x >= reaches[*i][0] && x <= reaches[*i][1];
        beyond.map_or(Some(0), |(.., sheets)| sheets.clone().find(holds))
    };
    let crown = |below: f64| Sheet { reach, kind: Kind::Crown { crown: board.crown(), below } };
    let mut upper =
        Relief { sheets: alloc::vec![crown(0.0)], curves: Vec::new(), sheet_at: Box::new(|_, _| Some(0)) };
    if slotted {
        let slots = Slots::new(neck);
        let widest = board.widths_mm().iter().fold(0.0, |most: f64, (_, width)| most.max(0.5 * width));
        upper.sheets.push(crown(neck.normalised().frets.slot_depth.mm()));
        upper.curves = slots.curves(1.1 * widest);
        stations.extend(slots.stations());
        upper.sheet_at = Box::new(move |x, y| Some(usize::from(slots.hold(x, y))));
    }
    let lower = Relief { sheets: lower, curves, sheet_at: Box::new(lower_at) };
    Making { name: "fretboard".into(), outline: [bass, treble], lower, upper, stations }.made()
}
