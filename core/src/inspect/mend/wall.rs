//! Rows that are only asked for where a solution breaks them: the wall around the rod, and the shoulder of a side that
//! follows from the other's.

use alloc::vec::Vec;

use super::affine::Affine;
use super::limit::Limit;
use super::model::{Model, weigh};
use super::programme::Demand;
use crate::law::Bernstein;
use crate::shape::Side;

/// By how much more wall is asked for than has to be proven, mm: what a proof may fall short, and what lies between the
/// places that are looked at.
pub(super) const WALL_SPARE: f64 = 2e-5;
/// Places around a section that are looked at first.
const AROUND: usize = 24;

/// A cut of the rod as it counts in one section: half width, floor, how steep the floor lies (the cosine), and how far
/// from it the wood has to reach.
struct Channel {
    half: f64,
    floor: f64,
    square: f64,
    wall: f64,
}

/// The cuts that count in a section.
fn channels(model: &Model<'_>, x: f64, wall: f64) -> Vec<Channel> {
    let near = |cut: &crate::shape::Cut| {
        let [from, to] = cut.reach_mm();
        let inside = x.clamp(from, to);
        let away = libm::fabs(x - inside);
        let floor = cut.floor_depth();
        let steep = if away > 0.0 { 0.0 } else { floor.value2(inside)[1] };
        (away < wall).then(|| Channel {
            half: cut.half_width_mm(),
            floor: floor.value(inside),
            square: 1.0 / libm::sqrt(1.0 + steep * steep),
            wall: libm::sqrt(wall * wall - away * away),
        })
    };
    model.neck.rod_cuts().iter().filter_map(near).collect()
}

impl Channel {
    /// How much deeper a place of the back has to lie than it does, and how fast the wall goes with its depth.
    fn short(&self, out: f64, depth: f64) -> Option<(f64, f64)> {
        let beside = out - self.half;
        if beside >= self.wall {
            return None;
        }
        let beside = beside.max(0.0);
        let below = libm::sqrt(self.wall * self.wall - beside * beside);
        Some((self.floor + below / self.square - depth, (below / self.wall).max(0.05) * self.square))
    }
}

/// One side of one section, as the unknowns have it.
struct Slice {
    x: f64,
    out: Bernstein,
    design: Bernstein,
    drops: [Affine; 4],
}

impl Slice {
    fn new(model: &Model<'_>, side: Side, x: f64) -> Self {
        let [out, design] = model.section(side, x);
        Self { x, out, design, drops: model.drops(side, x) }
    }

    fn row(&self, channel: &Channel, u: f64) -> Option<Demand> {
        let design = self.design.eval(u);
        let (short, measure) = channel.short(self.out.eval(u), design)?;
        let left = Affine::constant(-short).plus(&weigh(&self.drops, u), -1.0);
        Some(Demand::at_least(Some(Limit::RodWall), self.x, left, 0.0).measured(measure))
    }

    /// The row that is broken most around the section, if by more than `spare`.
    fn worst(&self, channel: &Channel, unknowns: &[f64], spare: f64) -> Option<Demand> {
        let drops: Bernstein = self.drops.iter().map(|drop| drop.value(unknowns)).collect();
        let depth = self.design.minus(&drops);
        let short = |u: f64| {
            channel.short(self.out.eval(u), depth.eval(u)).map_or(f64::NEG_INFINITY, |(short, _)| short)
        };
        // A deeper spine than the floor needs nowhere more than the whole wall.
        let mut best = (f64::NEG_INFINITY, 0.0);
        for i in 0..=AROUND {
            let u = i as f64 / AROUND as f64;
            let here = short(u);
            if here > best.0 {
                best = (here, u);
            }
        }
        let step = 1.0 / AROUND as f64;
        let (mut a, mut b) = ((best.1 - step).max(0.0), (best.1 + step).min(1.0));
        for _ in 0..40 {
            let (c, d) = (a + (b - a) / 3.0, b - (b - a) / 3.0);
            if short(c) < short(d) { a = c } else { b = d }
        }
        let mid = 0.5 * (a + b);
        let at = if short(mid) > best.0 { mid } else { best.1 };
        if short(at) > spare { self.row(channel, at) } else { None }
    }
}

/// The rows of the rod's wall that a solution breaks by more than `spare`, one a section and side, at the stations
/// given.
pub(super) fn broken(
    model: &Model<'_>,
    stations: &[f64],
    unknowns: &[f64],
    wall: f64,
    spare: f64,
) -> Vec<Demand> {
    let mut rows = Vec::new();
    for x in stations {
        let channels = channels(model, *x, wall);
        if channels.is_empty() {
            continue;
        }
        for side in model.sides() {
            let slice = Slice::new(model, *side, *x);
            rows.extend(channels.iter().filter_map(|channel| slice.worst(channel, unknowns, spare)));
        }
    }
    rows
}

/// Where the treble side's second control point comes out lower than the design's, though carve line and spine do not.
pub(super) fn outside(model: &Model<'_>, stations: &[f64], unknowns: &[f64]) -> Vec<Demand> {
    let mut rows = Vec::new();
    if model.sides().len() < 2 {
        return rows;
    }
    for x in stations.iter().filter(|x| model.follows(**x)) {
        let handle = model.drops(Side::Treble, *x)[1].clone();
        if handle.value(unknowns) < -super::rows::SPARE {
            rows.push(Demand::at_least(None, *x, handle, 0.0));
        }
    }
    rows
}
