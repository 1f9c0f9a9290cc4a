//! The outline of a stage's wood in plan, and where board and neck wood are not equally wide.

use alloc::rc::Rc;
use alloc::vec::Vec;

use super::super::knots::{Run, runs};
use super::super::outline::{Feet, foot_curves};
use super::super::plan::{Known, PlanCurve};
use super::bound::{Bound, Shape};
use super::under::shapes;
use crate::carve::{Board, Width, Wood};
use crate::law::Law;
use crate::shape::Side;

/// Half widths no farther apart are one, mm.
const ONE_MM: f64 = 1e-7;

/// A part of one half width: where across, right-handed, positive.
struct Part {
    reach: [f64; 2],
    law: Law,
    straight: bool,
    /// Whether it is the finished wood's own.
    own: bool,
}

impl Part {
    fn line(a: [f64; 2], b: [f64; 2]) -> Option<Self> {
        let law = Law::polyline(&[(a[0], a[1]), (b[0], b[1])])?;
        Some(Self { reach: [a[0], b[0]], law, straight: true, own: false })
    }

    fn level(half: f64, reach: [f64; 2]) -> Option<Self> {
        Self::line([reach[0], half], [reach[1], half])
    }

    fn of(law: &Law, reach: [f64; 2], own: bool) -> Vec<Self> {
        let part = |Run { reach, straight }: Run| Self { reach, law: law.clone(), straight, own };
        runs(law, reach).into_iter().map(part).collect()
    }

    fn curve(&self, side: Side, reach: [f64; 2], known: &Rc<Known>) -> PlanCurve {
        let law = self.law.times_number(side.sign());
        let rail = self.own.then_some((side, 0));
        PlanCurve { reach, law, straight: self.straight, rail, foot: None, known: Some(known.clone()) }
    }
}

/// Straight from corner to corner over a reach, carried on beyond the ends, and no farther out than `most`.
fn polyline(corners: &[[f64; 2]], [from, to]: [f64; 2], most: f64) -> Option<Vec<Part>> {
    let mut parts = Vec::new();
    let runs: Vec<[[f64; 2]; 2]> =
        corners.windows(2).map(|w| [w[0], w[1]]).filter(|[a, b]| b[0] - a[0] > 1e-9).collect();
    for (i, [a, b]) in runs.iter().enumerate() {
        let at = |x: f64| a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]);
        let x =
            [if i == 0 { from } else { a[0].max(from) }, if i + 1 == runs.len() { to } else { b[0].min(to) }];
        if x[1] - x[0] <= 1e-9 {
            continue;
        }
        let y = x.map(|x| {
            if x == a[0] {
                a[1]
            } else if x == b[0] {
                b[1]
            } else {
                at(x)
            }
        });
        let mut cut = alloc::vec![[x[0], y[0]]];
        if (y[0] > most) != (y[1] > most) && y[0] != most && y[1] != most {
            let t = (most - y[0]) / (y[1] - y[0]);
            cut.push([x[0] + t * (x[1] - x[0]), most]);
        }
        cut.push([x[1], y[1]]);
        for w in cut.windows(2) {
            if w[1][0] > w[0][0] {
                parts.push(Part::line([w[0][0], w[0][1].min(most)], [w[1][0], w[1][1].min(most)])?);
            }
        }
    }
    Some(parts)
}

fn wood_parts(wood: &Wood, side: Side, reach: [f64; 2], most: f64) -> Option<Vec<Part>> {
    if reach[0] >= reach[1] {
        return Some(Vec::new());
    }
    Some(match &wood.width {
        Width::Blank => [Part::level(wood.blank.half.min(most), reach)?].into(),
        Width::Sawn(taper) => polyline(taper.sides.of(side).way(), reach, wood.blank.half.min(most))?,
        Width::True => Part::of(wood.faces.wood.of(side), reach, true),
    })
}

fn board_parts(wood: &Wood, side: Side) -> Option<Vec<Part>> {
    let (Board::Blank(blank) | Board::Made(blank)) = &wood.board;
    let reach = wood.board_reach();
    let end = wood.neck.wood_reach_mm()[1];
    if let Width::Blank = wood.width {
        return Some([Part::level(blank.half, reach)?].into());
    }
    let mut parts = Vec::new();
    let mut from = reach[0];
    if !wood.neck.built().own_block && from < end {
        // Where both are cut in one, the board is as wide as the wood is on the treble side.
        let one = wood_parts(wood, Side::Treble, [from, reach[1].min(end)], blank.half)?;
        parts.extend(one.into_iter().map(|part| Part { own: part.own && side == Side::Treble, ..part }));
        from = end;
    }
    if from < reach[1] {
        parts.extend(match &wood.width {
            Width::Sawn(taper) => {
                let line = &taper.board;
                let corners = [0, 1].map(|k| [line.x_mm[k], line.value_mm[k]]);
                polyline(&corners, [from, reach[1]], blank.half)?
            }
            _ => Part::of(&wood.faces.board, [from, reach[1]], false),
        });
    }
    Some(parts)
}

/// One side: the outline, and where the wood and the board end within it.
#[derive(Default)]
pub(super) struct Edges {
    pub outline: Vec<PlanCurve>,
    /// The wood's edges where the board is wider.
    pub wood: Vec<PlanCurve>,
    /// The board's where the wood is wider.
    pub board: Vec<PlanCurve>,
}

/// Takes the place of what an outline is over some stations.
fn replaced(outline: Vec<PlanCurve>, new: Vec<PlanCurve>) -> Vec<PlanCurve> {
    let (Some(first), Some(last)) = (new.first(), new.last()) else { return outline };
    let [from, to] = [first.reach[0], last.reach[1]];
    let mut all: Vec<PlanCurve> = Vec::new();
    for curve in outline {
        let [a, b] = curve.reach;
        for reach in [[a, b.min(from)], [a.max(to), b]] {
            if reach[1] - reach[0] > 1e-9 {
                all.push(PlanCurve { reach, ..curve.clone() });
            }
        }
    }
    all.extend(new);
    all.sort_by(|a, b| a.reach[0].total_cmp(&b.reach[0]));
    all
}

/// The outline along the foot of a back, where that comes up above the wood's top and no board that is of one solid with it lies
/// over it.
fn feet(
    wood: &Wood,
    side: Side,
    face: Option<&Law>,
    board: Option<[f64; 2]>,
    mut outline: Vec<PlanCurve>,
) -> Option<Vec<PlanCurve>> {
    let (reach, root) = (wood.wood_reach(), wood.neck.built().head.root);
    let glue = wood.neck.layout().board().thickness_mm();
    let mut tops = alloc::vec![(Law::constant(glue, reach[0], reach[1])?, reach)];
    if let Some(face) = face.filter(|_| root > reach[0]) {
        tops[0].1[0] = root;
        tops.push((face.clone(), [reach[0], root]));
    }
    let free = match board {
        Some(board) => alloc::vec![[reach[0], board[0]], [board[1], reach[1]]],
        None => alloc::vec![reach],
    };
    for (zone, k) in shapes(wood) {
        let back = &*wood.shaped[k].back;
        for (top, over) in &tops {
            for foot in Feet::new(back, top)?.on(side) {
                for free in &free {
                    let from = foot.reach[0].max(zone[0]).max(over[0]).max(free[0]);
                    let to = foot.reach[1].min(zone[1]).min(over[1]).min(free[1]);
                    if to - from > 1e-9 {
                        outline = replaced(outline, foot_curves(back, foot, [from, to]));
                    }
                }
            }
        }
    }
    Some(outline)
}

/// The edges on one side, of the wood with or without the board.
pub(super) fn edges(
    wood: &Wood,
    with_board: bool,
    bounds: &[Option<Bound>],
    face: Option<&Law>,
    side: Side,
) -> Option<Edges> {
    let own = wood_parts(wood, side, wood.wood_reach(), f64::INFINITY)?;
    let board = if with_board { board_parts(wood, side)? } else { Vec::new() };
    let mut at: Vec<f64> = own.iter().chain(&board).flat_map(|p| p.reach).collect();
    for a in &own {
        for b in &board {
            let reach = [a.reach[0].max(b.reach[0]), a.reach[1].min(b.reach[1])];
            if reach[0] < reach[1] {
                let parts = [a, b].map(|p| p.law.restricted(reach[0], reach[1]));
                let [Some(p), Some(q)] = parts else { continue };
                at.extend(p.minus(&q)?.stations_of(0.0));
            }
        }
    }
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    // Over the wood's own edge a rounded corner's arc ends upright.
    let mut depths = Vec::new();
    for (id, bound) in bounds.iter().enumerate() {
        if let Some(Bound { reach: [from, to], touch: Some([out, depth]), .. }) = bound {
            let middle = 0.5 * (from + to);
            if libm::fabs(side.sign() * out.value(middle) - wood.half(side, middle)) < ONE_MM {
                depths.push((id, (**depth).clone()));
            }
        }
        if let Some(Bound { reach: [from, to], shape: Shape::Round { sign, centre, radius }, .. }) = bound
            && *sign == side.sign()
        {
            let middle = 0.5 * (from + to);
            let out = sign * centre[0].value(middle) + radius;
            if libm::fabs(out - wood.half(side, middle)) < ONE_MM {
                depths.push((id, (*centre[1]).clone()));
            }
        }
    }
    let known = Rc::new(Known { depths, fitted: false });
    let plain = Rc::new(Known { depths: Vec::new(), fitted: false });
    let mut made = Edges::default();
    // Which part each list ended with, so that it goes on.
    let mut last: [Option<(bool, usize)>; 2] = [None; 2];
    for x in at.windows(2) {
        let middle = 0.5 * (x[0] + x[1]);
        let holds = |parts: &[Part]| parts.iter().position(|p| p.reach[0] <= middle && p.reach[1] >= middle);
        let (w, b) = (holds(&own), holds(&board));
        let half = |parts: &[Part], i: usize| parts[i].law.value(middle);
        let (outer, inner) = match (w, b) {
            (Some(w), None) => ((true, w), None),
            (None, Some(b)) => ((false, b), None),
            (Some(w), Some(b)) => {
                let (p, q) = (half(&own, w), half(&board, b));
                if libm::fabs(p - q) <= ONE_MM {
                    ((true, w), None)
                } else if p > q {
                    ((true, w), Some((false, b)))
                } else {
                    ((false, b), Some((true, w)))
                }
            }
            (None, None) => return None,
        };
        let mut put = |list: &mut Vec<PlanCurve>, which: (bool, usize), slot: usize| {
            if last[slot] == Some(which)
                && let Some(curve) = list.last_mut().filter(|curve| curve.reach[1] == x[0])
            {
                curve.reach[1] = x[1];
                return;
            }
            last[slot] = Some(which);
            let part = if which.0 { &own[which.1] } else { &board[which.1] };
            list.push(part.curve(side, [x[0], x[1]], if which.0 { &known } else { &plain }));
        };
        put(&mut made.outline, outer, 0);
        match inner {
            Some(inner) if inner.0 => put(&mut made.wood, inner, 1),
            Some(inner) => put(&mut made.board, inner, 1),
            None => last[1] = None,
        }
    }
    made.outline = feet(wood, side, face, with_board.then(|| wood.board_reach()), made.outline)?;
    Some(made)
}
