//! The neck wood as a solid.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::outline::{EdgeOf, Feet, back_sheets, foot_curves, level_sheets, spine_curves};
use super::plan::PlanCurve;
use super::relief::{Made, Making, Relief};
use super::sheet::{Kind, Sheet};
use crate::law::Law;
use crate::shape::{Back, Built, Neck, Side};

/// The reaches that a list of stretches leaves of a whole.
fn between([from, to]: [f64; 2], taken: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut left = Vec::new();
    let mut at = from;
    for [a, b] in taken {
        if *a > at {
            left.push([at, *a]);
        }
        at = at.max(*b);
    }
    if at < to {
        left.push([at, to]);
    }
    left
}

/// The outline of the wood on one side: its own half width, or the back's foot where that comes up above the top face.
fn edge(back: &Back, side: Side, feet: &[Feet; 2], reach: [f64; 2]) -> Vec<PlanCurve> {
    let of = EdgeOf { side, own: true };
    let own = || feet.iter().flat_map(|feet| feet.on(side));
    let taken: Vec<[f64; 2]> = own().map(|foot| foot.reach).collect();
    let half = &back.flanks.of(side).out[0];
    let mut curves: Vec<PlanCurve> = own().flat_map(|foot| foot_curves(back, foot, foot.reach)).collect();
    curves.extend(between(reach, &taken).into_iter().flat_map(|x| of.along(half, x)));
    curves.sort_by(|a, b| a.reach[0].total_cmp(&b.reach[0]));
    curves
}

/// Depths of the wood's top: of the headstock's face, and of the plane of the glue line from there on.
pub(super) fn tops(built: &Built) -> Option<[Law; 2]> {
    let head = &built.head;
    Some([built.face.clone(), Law::constant(head.glue, head.root, built.end)?])
}

/// The neck wood, without its tuner holes.
pub(super) fn wood(neck: &Neck, built: &Built, tops: &[Law; 2], feet: &[Feet; 2]) -> Option<Made> {
    let (back, head) = (&built.back, &built.head);
    let reach = neck.wood_reach_mm();
    let [bass, treble] = Side::BOTH.map(|side| edge(back, side, feet, reach));
    // From below: flat slab, carved back, flat block.
    let carved = [built.volute.start(), built.sweep.end];
    let mut lower: Vec<Sheet<'_>> = level_sheets(&back.spine, [reach[0], carved[0]]);
    lower.extend(back_sheets(back, carved));
    if carved[1] < reach[1] {
        lower.extend(level_sheets(&back.spine, [carved[1], reach[1]]));
    }
    let ridge = &back.flanks.treble.out[3];
    let held = |sheets: &[Sheet<'_>]| sheets.iter().map(|s| s.reach).collect::<Vec<[f64; 2]>>();
    let (reaches, sides) = (
        held(&lower),
        lower
            .iter()
            .map(|s| match s.kind {
                Kind::Back { side, .. } => Some(side),
                _ => None,
            })
            .collect::<Vec<_>>(),
    );
    let lower_at = move |x: f64, y: f64| {
        let side = if y < ridge.value(x) { Side::Bass } else { Side::Treble };
        let fits =
            |i: &usize| x >= reaches[*i][0] && x <= reaches[*i][1] && sides[*i].is_none_or(|own| own == side);
        (0..reaches.len()).find(fits)
    };
    // From above: the face, the glue line's plane, and the floors of what is cut for the rod.
    let mut upper: Vec<Sheet<'_>> = level_sheets(&tops[0], [reach[0], head.root]);
    upper.extend(level_sheets(&tops[1], [head.root, built.end]));
    let mut halves: Vec<Option<f64>> = alloc::vec![None; upper.len()];
    let mut curves = Vec::new();
    for cut in &built.cuts {
        let floors = level_sheets(cut.floor_depth(), cut.reach_mm());
        let half = cut.half_width_mm();
        halves.extend(floors.iter().map(|_| Some(half)));
        upper.extend(floors);
        let [from, to] = cut.reach_mm();
        for y in [-half, half] {
            curves.push(PlanCurve::line([from, y], [to, y])?);
        }
    }
    let reaches = held(&upper);
    let upper_at = move |x: f64, y: f64| {
        let fits = |i: &usize| {
            x >= reaches[*i][0] && x <= reaches[*i][1] && halves[*i].is_none_or(|half| libm::fabs(y) < half)
        };
        // What is cut lies at the end of the list.
        (0..reaches.len()).rev().find(fits)
    };
    Making {
        name: "neck wood".into(),
        outline: [bass, treble],
        lower: Relief { sheets: lower, curves: spine_curves(back, carved), sheet_at: Box::new(lower_at) },
        upper: Relief { sheets: upper, curves, sheet_at: Box::new(upper_at) },
        stations: feet.iter().flat_map(|feet| feet.flush.iter().copied()).collect(),
    }
    .made()
}
