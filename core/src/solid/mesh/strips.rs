//! A spline surface's second derivatives, looked up over any part of its parameters.

use alloc::collections::BTreeMap;
use core::cell::RefCell;

use super::bending::{Bending, Range};
use super::patches::Patches;
use crate::solid::Point3;

/// How many times a span is halved at most: differences of shorter parts would be rounding.
const MOST_HALVINGS: u32 = 10;
/// How far past the ends of its knots a place may come out by rounding, as a share of what lies between these.
const PAST: f64 = 1e-9;
/// A span this short by its parameter is what rounding left between two knots that are one: nothing in it bends.
pub(super) const SAME: f64 = 1e-7;

/// A span, how many times it is halved, and which of the parts that makes: along, and around.
type Key = [(u32, u32, u32); 2];

/// Parts that have been looked at: halves of spans, and halves of those.
#[derive(Default)]
pub(super) struct Strips {
    parts: RefCell<BTreeMap<Key, Bending>>,
}

/// The parts of one direction's spans that a stretch goes through, each with the part of it that it takes up.
fn each(
    knots: &[f64],
    [from, to]: [f64; 2],
    halved: bool,
    mut found: impl FnMut((u32, u32, u32), f64, [f64; 2]),
) {
    let last = knots.len() - 2;
    let first = knots.partition_point(|k| *k <= from).saturating_sub(1).min(last);
    let mut any = false;
    for i in first..=last {
        let (a, b) = (knots[i], knots[i + 1]);
        let [x, y] = [from.max(a), to.min(b)];
        if any && x >= y {
            break;
        }
        if x > y || (x == y && from < to) {
            continue;
        }
        any = true;
        if b - a <= SAME && last > 0 {
            continue;
        }
        let [x, y] = [x, y].map(|x| ((x - a) / (b - a)).clamp(0.0, 1.0));
        let mut halvings = 0;
        // Halved until a part is no longer than the stretch: it lies in three of them at most.
        while halved && halvings < MOST_HALVINGS && libm::ldexp(y - x, halvings as i32) < 1.0 {
            halvings += 1;
        }
        let count = f64::from(1_u32 << halvings);
        let part = |t: f64| (t * count) as u32;
        let (p, q) = (part(x).min((1 << halvings) - 1), part(y).min((1 << halvings) - 1));
        for k in p..=q {
            let own = [x, y].map(|t| (t * count - f64::from(k)).clamp(0.0, 1.0));
            if own[0] < own[1] || p == q {
                found((i as u32, halvings, k), b - a, own);
            }
        }
    }
}

/// A part of a span halved some times, by places from 0 to 1.
fn stretch((_, halvings, k): (u32, u32, u32)) -> [f64; 2] {
    [k, k + 1].map(|k| libm::ldexp(f64::from(k), -(halvings as i32)))
}

impl Strips {
    /// Bounds of the second derivatives over what lies between some places each way, along some directions.
    pub fn range<const D: usize>(
        &self,
        patches: &Patches,
        reach: [[f64; 2]; 2],
        directions: &[Point3; D],
    ) -> Range<D> {
        // What rounding put past the end of the knots lies on it; what lies further past has no bound.
        let whole = patches.reach();
        let mut inside = true;
        let reach = [0, 1].map(|k| {
            let [from, to] = whole[k];
            let past = PAST * (to - from);
            inside &= reach[k][0] >= from - past && reach[k][1] <= to + past;
            reach[k].map(|x| x.clamp(from, to))
        });
        if !inside {
            return Range::UNKNOWN;
        }
        let mut parts = self.parts.borrow_mut();
        let mut found: Option<Range<D>> = None;
        each(&patches.along, reach[0], true, |along, length, own| {
            each(&patches.around, reach[1], patches.weighted, |around, width, across| {
                let bending = parts.entry([along, around]).or_insert_with(|| {
                    let part = [stretch(along), stretch(around)];
                    let table = patches.table([along.0 as usize, around.0 as usize], part);
                    let over = [length * (part[0][1] - part[0][0]), width * (part[1][1] - part[1][0])];
                    Bending::new(&table, over, patches.weighted)
                });
                let range = bending.range([own, across], directions);
                found = Some(match found.take() {
                    Some(found) => found.with(&range),
                    None => range,
                });
            });
        });
        found.unwrap_or(Range::NOTHING)
    }
}
