//! The saw's way in plan: straight lines along shaft and heel, and around the headstock from mark to mark.

use alloc::vec;
use alloc::vec::Vec;

use super::blank::Blank;
use super::clearance::Clearance;
use super::fence::Straight;
use super::mark::{FAIR_MM, Keep, points};
use super::pass::Faces;
use super::plan_gap::gap;
use super::sawing::{Stretches, plan_line};
use crate::law::Law;
use crate::shape::{Neck, Side, Sides};

/// What the headstock's outline is moved out further than it has to be, mm, so that what a straight line from mark to
/// mark misses by is not missing.
const SPARE_MM: f64 = 1e-4;

/// The saw's way along one side.
#[derive(Clone, Debug)]
pub(crate) struct Sawn {
    /// Straight lines outside wood and board, each over its stretch of the neck, from where the headstock's outline ends on.
    pub lines: Vec<Straight>,
    /// The corners `[x, half width]` of the headstock's outline as it is sawn, from the sawn end on: the saw goes straight
    /// from one to the next.
    pub outline: Vec<[f64; 2]>,
    /// The corners of all of it.
    way: Vec<[f64; 2]>,
    /// The least distance from the finished outline.
    pub clearance: Option<Clearance>,
}

/// The lines in plan that the taper and the headstock are sawn along.
#[derive(Clone, Debug)]
pub(crate) struct Taper {
    pub sides: Sides<Sawn>,
    /// The line outside the board.
    pub board: Straight,
    /// How far outside the finished outline everything lies, square to it.
    pub out: f64,
}

/// How far a half width reaches at a station once a disc of this radius has rolled along it, over the stations `zone`: the
/// greatest of `half(t) + √(r² − (x − t)²)`.
fn rolled(half: &Law, [from, to]: [f64; 2], x: f64, r: f64) -> f64 {
    const LOOK: u32 = 8;
    const ROUNDS: u32 = 5;
    let (from, to) = (from.max(x - r), to.min(x + r));
    let disc = |t: f64| libm::sqrt(((r - (x - t)) * (r + (x - t))).max(0.0));
    let reach = |t: f64| half.value(t) + disc(t);
    let step = (to - from) / f64::from(LOOK);
    let mut best = [from, reach(from)];
    for t in (1..=LOOK).map(|i| if i == LOOK { to } else { from + step * f64::from(i) }) {
        let here = reach(t);
        if here > best[1] {
            best = [t, here];
        }
    }
    // Newton's steps from the best place to where the disc touches, no further than to its neighbours.
    let (low, high) = ((best[0] - step).max(from), (best[0] + step).min(to));
    let mut t = best[0];
    for _ in 0..ROUNDS {
        let high_enough = disc(t);
        if high_enough <= 1e-6 * r {
            t = 0.5 * (t + x.clamp(from, to));
            continue;
        }
        let [_, slope, bend] = half.value2(t);
        let turn = bend - r * r / (high_enough * high_enough * high_enough);
        let by = (slope + (x - t) / high_enough) / turn;
        if turn >= 0.0 || !by.is_finite() {
            break;
        }
        t = (t - by).clamp(low, high);
        best[1] = best[1].max(reach(t));
    }
    best[1]
}

/// Where the headstock's outline meets the line along the shaft: the line keeps its distance from what lies along it, but
/// the headstock may widen so soon behind its root that the line has to begin a little later.
fn meeting(half: &Law, [tip, root]: [f64; 2], line: &Straight, r: f64) -> f64 {
    const LOOK: u32 = 32;
    let over = |x: f64| rolled(half, [tip, root], x, r) > line.at_mm(x);
    let at = |i: u32| root + r * f64::from(i) / f64::from(LOOK);
    let Some(last) = (0..LOOK).rev().find(|i| over(at(*i))) else { return root };
    let (mut a, mut b) = (at(last), at(last + 1));
    for _ in 0..50 {
        let mid = 0.5 * (a + b);
        if over(mid) { a = mid } else { b = mid }
    }
    b.min(0.5 * (line.x_mm[0] + line.x_mm[1]))
}

/// Corners no further out than the blank's side: where they would be, the blank's side is where the wood ends.
fn within(corners: &[[f64; 2]], most: f64) -> Vec<[f64; 2]> {
    let mut all: Vec<[f64; 2]> = Vec::with_capacity(corners.len() + 2);
    for (i, p) in corners.iter().enumerate() {
        if let Some(last) = i.checked_sub(1).map(|k| corners[k])
            && (last[1] > most) != (p[1] > most)
        {
            let t = (most - last[1]) / (p[1] - last[1]);
            all.push([last[0] + t * (p[0] - last[0]), most]);
        }
        all.push([p[0], p[1].min(most)]);
    }
    // Along the blank's side nothing is sawn, and a mark in between says nothing.
    let side = |p: Option<&[f64; 2]>| p.is_some_and(|p| p[1] >= most);
    let beside = |i: usize| {
        side(all.get(i)) && side(all.get(i + 1)) && side(i.checked_sub(1).and_then(|k| all.get(k)))
    };
    (0..all.len()).filter(|i| !beside(*i)).filter_map(|i| all.get(i).copied()).collect()
}

impl Taper {
    pub(super) fn new(neck: &Neck, faces: &Faces, stretches: &Stretches, blank: &Blank, out: f64) -> Self {
        let built = neck.built();
        let (root, board) = (built.head.root, neck.layout().board());
        let [_, end] = neck.wood_reach_mm();
        let far = end.max(board.end_mm());
        let mut kinks = faces.board.breaks().to_vec();
        for side in Side::BOTH {
            kinks.extend(faces.wood.of(side).breaks());
        }
        let line = |half: &dyn Fn(f64) -> f64, from: f64, to: f64| plan_line(half, [from, to], &kinks, out);
        let lines = |side: Side| -> Vec<Straight> {
            let wood = |x: f64| faces.half(side, x);
            let apart = stretches.ends[3];
            if built.own_block && apart > root && apart < end {
                // Either keeps its distance from what the other goes along, so that the step between them does.
                let (before, past) = ((apart - out).max(root), (apart + out).min(end));
                vec![line(&wood, root, past).over([root, apart]), line(&wood, before, end).over([apart, end])]
            } else {
                // The board may reach further than the wood, and both are sawn in one.
                let widest = |x: f64| if x <= end { wood(x) } else { faces.board_half(x) };
                vec![line(&widest, root, far)]
            }
        };
        let half = |side: Side| faces.wood.of(side);
        Self {
            sides: Sides::each(|side| Sawn::new(neck, half(side), side, lines(side), blank.half, out)),
            board: line(&|x| faces.board_half(x), board.start_mm().max(root), far),
            out,
        }
    }
}

impl Sawn {
    /// Goes around the headstock on one side and joins that to the lines.
    fn new(neck: &Neck, half: &Law, side: Side, mut lines: Vec<Straight>, most: f64, out: f64) -> Self {
        const ROUNDS: u32 = 8;
        let head = &neck.built().head;
        let [tip, end] = neck.wood_reach_mm();
        let (mut joins, mut meets) = (head.root, half.value(head.root) + out);
        if let Some(line) = lines.first_mut() {
            joins = meeting(half, [tip, head.root], line, out);
            *line = line.over([joins, line.x_mm[1]]);
            meets = line.at_mm(joins);
        }
        let along = |x: f64| (head.root - x) / head.cos;
        let mut made = Self { lines, outline: Vec::new(), way: Vec::new(), clearance: None };
        let mut spare = SPARE_MM;
        for _ in 0..ROUNDS {
            // Beyond the tip straight on; from the taper's line no steeper than one to one, where that lies further out.
            let sawn = |s: f64| {
                let x = head.x(s);
                rolled(half, [tip, end], x.max(tip), out + spare).max(meets - (joins - x)).min(most)
            };
            let found = points(&[(&sawn, Keep::Over)], along(joins), along(tip - out), FAIR_MM);
            let mut corners: Vec<[f64; 2]> =
                found.iter().rev().filter_map(|(s, v)| Some([head.x(*s), *v.first()?])).collect();
            if let [first, .., last] = &mut corners[..] {
                first[0] = tip - out;
                *last = [joins, meets];
            }
            made.outline = within(&corners, most);
            made.way.clone_from(&made.outline);
            made.way.extend(made.lines.iter().flat_map(|l| [0, 1].map(|k| [l.x_mm[k], l.value_mm[k]])));
            if let Some(last) = made.lines.last().filter(|l| l.x_mm[1] < end + out) {
                made.way.push([end + out, last.at_mm(end + out)]);
            }
            made.way.dedup();
            made.clearance = gap(&made.way, half, side, out);
            let missing = made.clearance.map_or(0.0, |near| out - near.least.value);
            if missing <= 1e-10 {
                break;
            }
            spare += 2.0 * missing + SPARE_MM;
        }
        made
    }

    /// From the centreline to where the wood is sawn.
    pub fn half(&self, x: f64) -> f64 {
        let at = self.way.partition_point(|p| p[0] < x).min(self.way.len().saturating_sub(1)).max(1);
        let (Some(a), Some(b)) = (self.way.get(at - 1), self.way.get(at)) else { return f64::NAN };
        let run = b[0] - a[0];
        if run <= 0.0 { a[1].max(b[1]) } else { a[1] + (x - a[0]) / run * (b[1] - a[1]) }
    }

    /// The corners `[x, half width]` of all of the saw's way, from the headstock's end on.
    pub fn way(&self) -> &[[f64; 2]] {
        &self.way
    }

    /// Stations where the saw turns.
    pub fn turns(&self) -> impl Iterator<Item = f64> + '_ {
        self.way.iter().map(|p| p[0])
    }
}
