//! Which bounds are the lowest, from station to station.

use alloc::vec::Vec;

use super::bound::{BLANK, BLOCK, Bound, FIRST};
use super::ends::{near_end, steps_down, upright_ends};
use super::follow::parted;
use crate::carve::{Contour, Limit, Wood};

/// Bounds no farther apart are one, mm.
const ONE_MM: f64 = 1e-11;
/// What lies between a bound on either side is nothing where it comes no lower than that by more than this, mm: where a bound
/// only just touches another, the curve in which they meet runs square to the neck.
const TOUCH_MM: f64 = 5e-10;
/// A rounded corner runs into the wood's underside so evenly that rounding moves the place by as much, mm.
const TANGENT_MM: f64 = 2e-6;
/// Stretches that are shorter are none, mm.
const SHORT_MM: f64 = 2e-9;
/// What enters the wood by no more takes nothing, mm: a ball beside the carve line only touches the side face.
const ENTERS_MM: f64 = 1e-9;
/// How many places of a stretch are looked at for changes, no fewer, and how far apart, mm; no more than so many.
const LEAST: usize = 8;
const APART_MM: f64 = 0.5;
const LOOK: usize = 40;
/// Where in a stretch bounds are compared that may be one all along.
const COMPARED: [f64; 5] = [0.07, 0.29, 0.5, 0.68, 0.94];

/// One section: which bounds follow each other from left to right, and the places between them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Order {
    pub ids: Vec<usize>,
    pub between: Vec<f64>,
    /// Of each place whether a hollow ends there in a step, or crosses what comes next.
    pub steps: Vec<bool>,
}

impl Order {
    /// What stays the same over a stretch.
    fn kind(self) -> (Vec<usize>, Vec<bool>) {
        (self.ids, self.steps)
    }
}

/// A stretch in which the same bounds follow each other.
#[derive(Clone, Debug)]
pub(super) struct Stretch {
    pub x: [f64; 2],
    pub ids: Vec<usize>,
    pub steps: Vec<bool>,
    /// Stations, and the places between the bounds there.
    pub seen: Vec<(f64, Vec<f64>)>,
}

/// Whether two bounds are one about a place.
fn one(a: &Limit, b: &Limit, y: f64) -> bool {
    let near = |p: f64, q: f64| libm::fabs(p - q) <= ONE_MM;
    match (a, b) {
        (Limit::Line { .. }, Limit::Line { .. }) => {
            [y - 1.0, y + 1.0].iter().all(|y| near(a.depth(*y), b.depth(*y)))
        }
        (Limit::Round { sign, centre, radius }, Limit::Round { sign: s, centre: c, radius: r }) => {
            sign == s && radius == r && near(centre[0], c[0]) && near(centre[1], c[1])
        }
        (Limit::Hollow { centre, radius }, Limit::Hollow { centre: c, radius: r }) => {
            radius == r && near(centre[0], c[0]) && near(centre[1], c[1])
        }
        _ => false,
    }
}

/// The sections of a wood by the laws of its bounds.
pub(super) struct Walk<'a> {
    pub wood: &'a Wood,
    pub bounds: &'a [Option<Bound>],
}

impl Walk<'_> {
    pub fn bound(&self, id: usize) -> Option<&Bound> {
        self.bounds.get(id)?.as_ref()
    }

    /// The section at a station, by the passes of the stretch that it lies in.
    fn order(&self, x: f64, passes: &[usize]) -> Option<Order> {
        let y = self.wood.wood_slice(x)?.y;
        let stepped = self.wood.blank.block_at(x).is_some();
        let first = if stepped { FIRST } else { FIRST - 1 };
        let mut contour = match (self.bound(BLANK)?, self.bound(BLOCK).filter(|_| stepped)) {
            (blank, Some(block)) => {
                let half = self.wood.blank.block_at(x)?.half;
                Contour::stepped(y, blank.limit(x), block.limit(x), half)
            }
            (blank, None) => Contour::new(y, blank.limit(x)),
        };
        let mut limits: Vec<(usize, Limit)> = Vec::with_capacity(passes.len());
        for id in passes {
            let limit = self.bound(*id)?.limit(x);
            contour.lower(limit);
            limits.push((*id, limit));
        }
        let id_of = |index: usize| if index < first { index } else { limits[index - first].0 };
        let limit_of = |id: usize| {
            let known = limits.binary_search_by_key(&id, |(own, _)| *own).ok().map(|k| limits[k].1);
            known.or_else(|| Some(self.bound(id)?.limit(x)))
        };
        let mut spans: Vec<(usize, [f64; 2])> =
            contour.lowest().map(|(index, y)| (id_of(index), y)).collect();
        // Of neighbours that are one here the first counts.
        for k in 1..spans.len() {
            let [a, b] = [spans[k - 1].0, spans[k].0];
            if a != b && one(&limit_of(a)?, &limit_of(b)?, spans[k].1[0]) {
                spans[if a < b { k } else { k - 1 }].0 = a.min(b);
            }
        }
        // A rounded corner begins where it does, whatever rounding makes of a line that it runs into.
        let ends: Vec<f64> = limits.iter().filter_map(|(_, limit)| near_end(limit)).collect();
        for span in &mut spans {
            for y in &mut span.1 {
                if let Some(end) = ends.iter().find(|end| libm::fabs(**end - *y) <= TANGENT_MM) {
                    *y = *end;
                }
            }
        }
        spans.retain(|(_, y)| y[1] > y[0]);
        upright_ends(&mut spans, y, &limits, &limit_of)?;
        self.touching_ends(&mut spans, (x, y), &limits, &limit_of)?;
        let touches = |w: &[(usize, [f64; 2])]| {
            let middle = 0.5 * (w[1].1[0] + w[1].1[1]);
            let apart = || Some(limit_of(w[0].0)?.depth(middle) - limit_of(w[1].0)?.depth(middle));
            w[0].0 == w[2].0 && w[0].0 != w[1].0 && apart().is_some_and(|apart| libm::fabs(apart) <= TOUCH_MM)
        };
        while let Some(k) = spans.windows(3).position(touches) {
            spans[k].1[1] = spans[k + 2].1[1];
            spans.drain(k + 1..k + 3);
        }
        spans.dedup_by(|b, a| {
            let same = b.0 == a.0;
            if same {
                a.1[1] = b.1[1];
            }
            same
        });
        let ids = spans.iter().map(|s| s.0).collect();
        let between = spans.windows(2).map(|w| w[0].1[1]).collect();
        let steps: Option<Vec<bool>> = spans
            .windows(2)
            .map(|w| {
                let [a, b] = [limit_of(w[0].0)?, limit_of(w[1].0)?];
                Some(steps_down(&a, &b, w[0].1[1]) || steps_down(&b, &a, w[0].1[1]))
            })
            .collect();
        Some(Order { ids, between, steps: steps? })
    }

    /// Those of some passes that take something over a stretch and are not the same all over it as the blank or as one before them.
    fn each_once(&self, passes: Vec<usize>, [from, to]: [f64; 2]) -> Option<Vec<usize>> {
        let limits = |id: usize| {
            let bound = self.bound(id)?;
            Some(COMPARED.map(|t| bound.limit(from + t * (to - from))))
        };
        let slices = COMPARED.map(|t| self.wood.wood_slice(from + t * (to - from)));
        let enters = |own: &[Limit; 5]| {
            own.iter().zip(&slices).any(|(limit, slice)| match (limit, slice) {
                (Limit::Hollow { centre, radius }, Some(slice)) => {
                    let reach = [(centre[0] - radius).max(slice.y[0]), (centre[0] + radius).min(slice.y[1])];
                    reach[1] - reach[0] > ENTERS_MM
                }
                _ => true,
            })
        };
        let same = |a: &[Limit; 5], b: &[Limit; 5]| a.iter().zip(b).all(|(a, b)| one(a, b, 0.0));
        let stepped = self.wood.blank.block_at(0.5 * (from + to)).is_some();
        let mut kept: Vec<[Limit; 5]> = if stepped { Vec::new() } else { [limits(BLANK)?].into() };
        let mut ids = Vec::with_capacity(passes.len());
        for id in passes {
            let own = limits(id)?;
            if enters(&own) && !kept.iter().any(|other| same(other, &own)) {
                kept.push(own);
                ids.push(id);
            }
        }
        Some(ids)
    }

    /// The stretches between two stations at which nothing begins or ends.
    fn stretches(&self, [from, to]: [f64; 2], out: &mut Vec<Stretch>) -> Option<()> {
        let middle = 0.5 * (from + to);
        let active = |id: &usize| self.bound(*id).is_some_and(|bound| bound.covers(middle));
        let passes = self.each_once((FIRST..self.bounds.len()).filter(active).collect(), [from, to])?;
        let look = (libm::ceil((to - from) / APART_MM) as usize).clamp(LEAST, LOOK);
        let at = |i: usize| from + (to - from) * (i as f64 + 0.5) / look as f64;
        let kind = |x: f64| self.order(x, &passes).map(Order::kind);
        let begun = |x: [f64; 2], (ids, steps)| Stretch { x, ids, steps, seen: Vec::new() };
        let mut last = at(0);
        let mut places: Vec<f64> = (0..look).map(at).collect();
        // What lies close to the ends, where much may happen at once.
        places.insert(0, from + 1e-4 * (to - from));
        places.push(to - 1e-4 * (to - from));
        let mut own = begun([from, to], kind(places[0])?);
        for (i, x) in places.iter().copied().enumerate() {
            let mut order = self.order(x, &passes)?;
            // Several changes may lie between two places.
            let mut changes = 0;
            while (&order.ids, &order.steps) != (&own.ids, &own.steps) && i > 0 {
                let here = (own.ids.clone(), own.steps.clone());
                let (a, b) = parted(last, x, |x| kind(x).as_ref() == Some(&here));
                let next = self.order(b, &passes)?;
                changes += 1;
                if changes > 32 {
                    return None;
                }
                if a > last {
                    own.seen.push((a, self.order(a, &passes)?.between));
                }
                own.x[1] = b;
                let between = next.between.clone();
                let ended = core::mem::replace(&mut own, begun([b, to], next.kind()));
                if ended.x[1] > ended.x[0] && !ended.seen.is_empty() {
                    out.push(ended);
                } else if let Some(before) = out.last_mut() {
                    // What only rounding made is none.
                    before.x[1] = own.x[0];
                }
                last = b.max(a);
                if b < x {
                    own.seen.push((b, between));
                }
            }
            order = self.order(x, &passes)?;
            own.seen.push((x, order.between));
            last = x;
        }
        out.push(own);
        Some(())
    }

    /// All stretches under the wood, but for those that have been brought to a shape.
    pub fn all(&self, stations: &[f64]) -> Option<Vec<Stretch>> {
        let mut all = Vec::new();
        for x in stations.windows(2) {
            let middle = 0.5 * (x[0] + x[1]);
            if self.wood.shaped_at(middle).is_none() && self.wood.wood_slice(middle).is_some() {
                self.stretches([x[0], x[1]], &mut all)?;
            }
        }
        // Events no farther apart than rounding parts them are one.
        let mut kept: Vec<Stretch> = Vec::with_capacity(all.len());
        for mut stretch in all {
            if let Some(last) = kept.last_mut().filter(|last| last.x[1] == stretch.x[0]) {
                if stretch.x[1] - stretch.x[0] < SHORT_MM {
                    last.x[1] = stretch.x[1];
                    continue;
                }
                if last.x[1] - last.x[0] < SHORT_MM {
                    stretch.x[0] = last.x[0];
                    *last = stretch;
                    continue;
                }
            }
            kept.push(stretch);
        }
        Some(kept)
    }
}
