//! One section fitted by itself, so that the fit of the whole neck begins near enough.

use alloc::vec::Vec;

use super::matrix::dot;
use super::section::{
    BASS_LINE, BELLY, Cut, HALF, LEAN, Local, OFFSET, RATIO, SHOULDER, SPINE, TREBLE_LEAN, TREBLE_LINE,
    Treble, control_points, is_hollow,
};
use super::solve::{Limits, Problem, solve};
use super::take::Item;
use crate::measure::Bound;
use crate::spec::{Allowed, DepthAt, ProfileAt, ThicknessAt, TrebleSide, Volute, WidthAt};

/// More points than these don't make the start better.
const POINTS: usize = 64;
/// Every start goes so many steps, and the best of them go on.
const FEW: u32 = 4;
const BEST: usize = 2;
const STEPS: u32 = 30;
/// It only has to lead the whole neck's fit into the right valley.
const WORTH: f64 = 1e-4;

/// A quantity that is fitted, its bounds, and what counts as a change of one.
type Entry = (usize, f64, f64, f64);

const fn entry(quantity: usize, bound: Bound, scale: f64) -> Entry {
    (quantity, bound.lowest, bound.highest, scale)
}

const THICK: Bound = Allowed::<ThicknessAt>::thickness.within;
const NUMBERS: [Entry; 9] = [
    (
        HALF,
        0.5 * Allowed::<WidthAt>::width.within.lowest,
        0.5 * Allowed::<WidthAt>::width.within.highest,
        5.0,
    ),
    // A volute stands out of the thickest.
    (SPINE, THICK.lowest, THICK.highest + Allowed::<Volute>::height.within.highest, 5.0),
    entry(BASS_LINE, Allowed::<DepthAt>::depth.within, 3.0),
    entry(SHOULDER, Allowed::<ProfileAt>::shoulder.within, 0.15),
    entry(BELLY, Allowed::<ProfileAt>::belly.within, 0.15),
    entry(LEAN, Allowed::<ProfileAt>::lean.within, 0.03),
    entry(OFFSET, Allowed::<ProfileAt>::spine_offset.within, 2.0),
    // The specification has no such number; further apart no two sides are.
    (RATIO, 0.3, 3.0, 0.15),
    entry(TREBLE_LEAN, Allowed::<TrebleSide>::lean.within, 0.03),
];

/// How the sides lean to begin with.
const LEANS: [(f64, f64); 7] =
    [(0.02, 0.02), (0.06, 0.06), (0.12, 0.12), (0.02, 0.1), (0.1, 0.02), (0.03, 0.07), (0.07, 0.03)];

struct Alone<'a> {
    items: Vec<&'a Item>,
    start: Local,
    /// The base's section.
    base: &'a Local,
    treble: Treble,
    count: usize,
    /// Whether the base has a say.
    by_base: bool,
}

/// Half the width and the depth are told by any section.
const TOLD: usize = 2;
/// Readings whose squares over their uncertainties are less than this for each that is left over are exact ones.
const EXACT: f64 = 0.1;

impl Alone<'_> {
    fn local(&self, p: &[f64]) -> Local {
        let mut local = self.start;
        for ((number, ..), p) in NUMBERS.iter().zip(p) {
            local[*number] = *p;
        }
        local[TREBLE_LINE] = local[BASS_LINE];
        local
    }

    /// How far each of the others is off the base's, over what counts as a change; and which it is.
    fn off_base<'b>(&'b self, p: &'b [f64]) -> impl Iterator<Item = (usize, f64)> + 'b {
        let others = NUMBERS.iter().zip(p).enumerate().skip(TOLD).filter(|_| self.by_base);
        others.map(|(k, ((number, _, _, scale), p))| (k, (p - self.base[*number]) / scale))
    }

    /// The same without the base, where the readings agree so well that they must be exact.
    fn without_base(&self, p: &[f64]) -> Option<Self> {
        let left = self.residuals(p)?;
        let read = &left[..self.items.len()];
        let exact = dot(read, read) < EXACT * self.items.len().saturating_sub(self.count) as f64;
        exact.then(|| Self { by_base: false, items: self.items.clone(), ..*self })
    }
}

impl Problem for Alone<'_> {
    fn residuals(&self, p: &[f64]) -> Option<Vec<f64>> {
        let cut = Cut::new(&self.local(p), self.treble, false);
        let mut left: Vec<f64> =
            self.items.iter().map(|i| cut.compare(&i.measured, i.value).0 / i.uncertainty).collect();
        left.extend(self.off_base(p).map(|(_, off)| off));
        left.iter().all(|l| l.is_finite()).then_some(left)
    }

    fn jacobian(&self, p: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
        let cut = Cut::new(&self.local(p), self.treble, true);
        let (mut left, mut rows) = (Vec::new(), Vec::new());
        for i in &self.items {
            let (l, mut turn) = cut.compare(&i.measured, i.value);
            turn[BASS_LINE] += turn[TREBLE_LINE];
            left.push(l / i.uncertainty);
            rows.extend(NUMBERS[..self.count].iter().map(|(number, ..)| -turn[*number] / i.uncertainty));
        }
        for (k, off) in self.off_base(p) {
            left.push(off);
            rows.extend((0..self.count).map(|j| if j == k { 1.0 / NUMBERS[k].3 } else { 0.0 }));
        }
        left.iter().chain(&rows).all(|r| r.is_finite()).then_some((left, rows))
    }
}

/// The section that its readings tell best, out of starts that differ in where the carve begins and how the sides lean: the
/// fit has a valley for each, as a cubic that begins further up a side that leans less looks nearly the same.
///
/// The base's section counts as a reading of all but width and depth. With `upright` the lean stays as the start has it.
pub(super) fn alone(
    items: &[Item],
    start: &Local,
    base: &Local,
    treble: Treble,
    upright: bool,
) -> Option<Local> {
    let every = items.len().div_ceil(POINTS).max(1);
    let count = if treble == Treble::Smooth { NUMBERS.len() } else { NUMBERS.len() - 3 };
    let alone = Alone {
        items: items.iter().step_by(every).collect(),
        start: *start,
        base,
        treble,
        count,
        by_base: true,
    };
    let pick = |f: &dyn Fn(&Entry) -> f64| NUMBERS[..count].iter().map(f).collect::<Vec<f64>>();
    let leans = |n: usize| n == LEAN || n == TREBLE_LEAN;
    let kept = |n: usize| upright && leans(n);
    let lowest = pick(&|n| if kept(n.0) { start[n.0] } else { n.1 });
    let highest = pick(&|n| if kept(n.0) { start[n.0] } else { n.2 });
    let scale = pick(&|n| n.3);
    let limits =
        |most_steps| Limits { lowest: &lowest, highest: &highest, scale: &scale, most_steps, worth: WORTH };
    let search = |alone: &Alone<'_>| {
        let mut begun: Vec<(f64, Vec<f64>)> = Vec::new();
        for deeper in [0.3, 1.2] {
            for (lean, other) in LEANS {
                if (other != lean && treble != Treble::Smooth) || (upright && (lean, other) != LEANS[0]) {
                    continue;
                }
                let p = pick(&|n| match n.0 {
                    BASS_LINE => start[BASS_LINE] + deeper,
                    number if kept(number) => start[number],
                    LEAN => lean,
                    TREBLE_LEAN => other,
                    number => start[number],
                });
                begun.extend(solve(alone, &p, &limits(FEW)).map(|solved| (solved.sum, solved.p)));
            }
        }
        begun.sort_by(|a, b| a.0.total_cmp(&b.0));
        begun.truncate(if treble == Treble::Smooth { 2 * BEST } else { BEST });
        let ended = begun.iter().filter_map(|(_, p)| solve(alone, p, &limits(STEPS)));
        // A hollow section can't be built, so it is taken only where nothing else was found.
        let hollow = |p: &[f64]| is_hollow(&control_points(&alone.local(p), treble));
        let best = ended.min_by(|a, b| hollow(&a.p).cmp(&hollow(&b.p)).then(a.sum.total_cmp(&b.sum)))?;
        Some(best.p)
    };
    let found = search(&alone)?;
    // The base can lead into another valley than exact readings lie in.
    let exact = alone.without_base(&found).and_then(|alone| search(&alone));
    Some(alone.local(&exact.unwrap_or(found)))
}
