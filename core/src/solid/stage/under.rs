//! What bounds a stage's wood from below.

use alloc::boxed::Box;
use alloc::rc::Rc;
use alloc::vec::Vec;

use super::super::arc::Arc;
use super::super::line::Line;
use super::super::outline::{back_sheets, spine_curves};
use super::super::plan::{Known, PlanCurve};
use super::super::relief::Relief;
use super::super::sheet::{Kind, Sheet};
use super::bound::{Bound, Shape};
use super::chain::{Chain, chains};
use super::walk::{Stretch, Walk};
use crate::carve::Wood;
use crate::law::Law;
use crate::shape::Side;

/// How much farther around than it is seen to be used an arc's surface reaches: where it stands upright a small step across is a
/// great one around.
const MARGIN: f64 = 0.25;
/// No arc's surface is made over more, radians.
const MOST_AROUND: f64 = 2.9;

/// The stretches that have been brought to a shape, each with its number among the shapes.
pub(super) fn shapes(wood: &Wood) -> Vec<([f64; 2], usize)> {
    let reach = wood.wood_reach();
    let mut at: Vec<f64> =
        wood.shaped.iter().flat_map(|s| s.zone).map(|x| x.clamp(reach[0], reach[1])).collect();
    at.sort_by(f64::total_cmp);
    at.dedup();
    let mut all: Vec<([f64; 2], usize)> = Vec::new();
    for x in at.windows(2) {
        let middle = 0.5 * (x[0] + x[1]);
        let Some(k) = wood.shaped.iter().rposition(|s| middle >= s.zone[0] && middle <= s.zone[1]) else {
            continue;
        };
        match all.last_mut() {
            Some((zone, own)) if *own == k && zone[1] == x[0] => zone[1] = x[1],
            _ => all.push(([x[0], x[1]], k)),
        }
    }
    all
}

/// The sheets of a bound, cut at its creases.
fn sheets_of<'a>(
    id: usize,
    bound: &Bound,
    around: impl Fn(&[Rc<Law>; 2], f64, bool) -> [f64; 2],
) -> Vec<Sheet<'a>> {
    let [from, to] = bound.reach;
    let mut at: Vec<f64> = bound.laws().iter().flat_map(|law| law.creases().collect::<Vec<f64>>()).collect();
    at.retain(|x| *x > from && *x < to);
    at.extend([from, to]);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    let kind = match &bound.shape {
        Shape::Line { across, down, height } => {
            Kind::Line(Line { id, across: *across, down: *down, height: height.clone() })
        }
        Shape::Round { centre, radius, .. } => {
            let around = around(centre, *radius, false);
            Kind::Arc(Arc { id, centre: centre.clone(), radius: *radius, hollow: false, around })
        }
        Shape::Hollow { centre, radius } => {
            let around = around(centre, *radius, true);
            Kind::Arc(Arc { id, centre: centre.clone(), radius: *radius, hollow: true, around })
        }
    };
    at.windows(2).map(|x| Sheet { reach: [x[0], x[1]], kind: kind.clone() }).collect()
}

/// The angles between which a bound is the lowest.
fn used(
    walk: &Walk<'_>,
    stretches: &[Stretch],
    id: usize,
    centre: &[Rc<Law>; 2],
    radius: f64,
    hollow: bool,
) -> [f64; 2] {
    let mut reach = [f64::INFINITY, f64::NEG_INFINITY];
    for stretch in stretches {
        for (k, _) in stretch.ids.iter().enumerate().filter(|(_, own)| **own == id) {
            for (x, between) in &stretch.seen {
                let Some(slice) = walk.wood.wood_slice(*x) else { continue };
                let ends = [
                    k.checked_sub(1).map_or(slice.y[0], |i| between[i]),
                    between.get(k).copied().unwrap_or(slice.y[1]),
                ];
                for y in ends {
                    let t = ((y - centre[0].value(*x)) / radius).clamp(-1.0, 1.0);
                    let angle = libm::asin(t);
                    reach = [reach[0].min(angle), reach[1].max(angle)];
                }
            }
        }
    }
    let quarter = core::f64::consts::FRAC_PI_2;
    // A rounded corner reaches to the side face and no farther.
    let most = if hollow { 2.0 * quarter } else { quarter };
    let margin = MARGIN.min(0.5 * (MOST_AROUND - (reach[1] - reach[0]))).max(0.0);
    [(reach[0] - margin).max(-most), (reach[1] + margin).min(most)]
}

/// The curves along a boundary, cut at the creases of the bounds.
fn curves_of(walk: &Walk<'_>, chain: &Chain) -> Option<Vec<PlanCurve>> {
    let met = walk.meeting(chain)?;
    let known = Rc::new(Known { depths: met.depths, fitted: met.fitted });
    let [from, to] = chain.reach;
    let mut at: Vec<f64> = met.law.creases().filter(|x| *x > from + 1e-9 && *x < to - 1e-9).collect();
    for id in chain.ids {
        for law in walk.bound(id)?.laws() {
            at.extend(law.creases().filter(|x| *x > from + 1e-9 && *x < to - 1e-9));
        }
    }
    at.extend([from, to]);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    let curve = |x: &[f64]| {
        let mut runs = super::super::knots::runs(&met.law, [x[0], x[1]]).into_iter();
        let straight = runs.next().is_some_and(|run| run.straight && run.reach[1] >= x[1]);
        PlanCurve {
            reach: [x[0], x[1]],
            law: met.law.clone(),
            straight,
            rail: None,
            foot: None,
            known: Some(known.clone()),
        }
    };
    Some(at.windows(2).map(curve).collect())
}

/// The lower relief, and the stations at which it changes; `edges` are those of the wood where the board is wider.
pub(super) fn under<'a>(
    walk: &Walk<'a>,
    stations: &[f64],
    edges: [Vec<PlanCurve>; 2],
) -> Option<(Relief<'a>, Vec<f64>)> {
    let wood = walk.wood;
    let stretches = walk.all(stations)?;
    let (chains, of) = chains(&stretches);
    let mut curves: Vec<PlanCurve> = edges.into_iter().flatten().collect();
    let mut laws: Vec<Law> = Vec::new();
    for chain in &chains {
        let own = curves_of(walk, chain)?;
        laws.push(own.first()?.law.clone());
        curves.extend(own);
    }
    let glue = wood.neck.layout().board().thickness_mm();
    let mut sheets: Vec<Sheet<'a>> =
        alloc::vec![Sheet { reach: wood.reach_mm(), kind: Kind::Flat { depth: glue, slope: 0.0 } }];
    // Which sheets are of which bound.
    let mut ids: Vec<(usize, [f64; 2])> = alloc::vec![(usize::MAX, wood.reach_mm())];
    for (id, bound) in walk.bounds.iter().enumerate() {
        let Some(bound) = bound.as_ref().filter(|_| stretches.iter().any(|s| s.ids.contains(&id))) else {
            continue;
        };
        let own =
            sheets_of(id, bound, |centre, radius, hollow| used(walk, &stretches, id, centre, radius, hollow));
        ids.extend(own.iter().map(|s| (id, s.reach)));
        sheets.extend(own);
    }
    let mut backs: Vec<([f64; 2], usize, core::ops::Range<usize>)> = Vec::new();
    for (zone, k) in shapes(wood) {
        let back = &*wood.shaped[k].back;
        let first = sheets.len();
        sheets.extend(back_sheets(back, zone));
        curves.extend(spine_curves(back, zone));
        backs.push((zone, k, first..sheets.len()));
    }
    let sides: Vec<(Option<Side>, [f64; 2])> = sheets
        .iter()
        .map(|s| (if let Kind::Back { side, .. } = s.kind { Some(side) } else { None }, s.reach))
        .collect();
    let placed: Vec<([f64; 2], Vec<usize>, Vec<usize>)> =
        stretches.iter().zip(of).map(|(s, own)| (s.x, s.ids.clone(), own)).collect();
    let sheet_at = move |x: f64, y: f64| {
        let within = wood.wood_slice(x).is_some_and(|slice| y > slice.y[0] && y < slice.y[1]);
        if !within {
            return Some(0);
        }
        let holds = |reach: &[f64; 2]| x >= reach[0] && x <= reach[1];
        if let Some((_, k, own)) = backs.iter().find(|(zone, ..)| holds(zone)) {
            let ridge = &wood.shaped[*k].back.flanks.treble.out[3];
            let side = if y < ridge.value(x) { Side::Bass } else { Side::Treble };
            return own.clone().find(|i| sides[*i].0 == Some(side) && holds(&sides[*i].1));
        }
        let first = placed.partition_point(|(reach, ..)| reach[1] < x);
        let (_, order, own) = placed.get(first).filter(|(reach, ..)| holds(reach))?;
        let id = order.get(own.partition_point(|c| laws[*c].value(x) < y))?;
        ids.iter().position(|(own, reach)| own == id && holds(reach))
    };
    let changes = stretches.iter().flat_map(|s| s.x).collect();
    Some((Relief { sheets, curves, sheet_at: Box::new(sheet_at) }, changes))
}
