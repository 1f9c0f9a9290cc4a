//! Least values over pieces of surface, proven by halving them.

use alloc::collections::BinaryHeap;
use alloc::vec::Vec;
use core::cmp::Ordering;

/// A value taken at a point of a region.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// The value.
    pub value: f64,
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// Place around the section, 0 at the carve line, 1 at the spine; NaN where the region is not cut around
    /// the section.
    pub around: f64,
}

/// A lower bound of a function between two stations, of which the values at the ends are known and that its
/// second derivative (over the unit interval) is nowhere more than `2·half_bend`: it lies above the chord less
/// `half_bend·t(1 − t)`. Holds for the least of many such functions as well.
#[must_use]
pub fn least_above_chord(a: f64, b: f64, half_bend: f64) -> f64 {
    let lower = |t: f64| a + (b - a) * t - half_bend * t * (1.0 - t);
    let turning = if half_bend > 0.0 { (0.5 * (1.0 - (b - a) / half_bend)).clamp(0.0, 1.0) } else { 0.0 };
    lower(turning).min(a).min(b)
}

/// A piece of surface on which a quantity is to be bounded from below, and which can be halved.
pub trait Region: Sized {
    /// The least of a few values really taken in the region.
    fn probe(&self) -> Corner;
    /// A proven lower bound. It has to close in on the least value as the region is halved.
    fn lower(&self) -> f64;
    /// The two halves.
    fn halves(self) -> (Self, Self);
}

/// A least value over regions, with its place and what is proven of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// The least value found and where it is taken.
    pub least: Corner,
    /// No value is below this.
    pub bound: f64,
}

/// A bound that is not a number proves nothing.
fn sound(lower: f64) -> f64 {
    if lower.is_nan() { f64::NEG_INFINITY } else { lower }
}

struct Open<R> {
    lower: f64,
    region: R,
}

impl<R> PartialEq for Open<R> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl<R> Eq for Open<R> {}
impl<R> PartialOrd for Open<R> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl<R> Ord for Open<R> {
    // The heap gives its greatest first: the region with the lowest bound is to be that.
    fn cmp(&self, other: &Self) -> Ordering {
        other.lower.total_cmp(&self.lower)
    }
}

/// The least value over all regions. The bound is within `tolerance` of the value unless that would take
/// more than `budget` halvings; it is proven either way. `None` where there is no region.
pub fn least_over<R: Region>(
    regions: impl IntoIterator<Item = R>,
    tolerance: f64,
    budget: usize,
) -> Option<Proof> {
    let regions: Vec<R> = regions.into_iter().collect();
    let mut best = regions.iter().map(Region::probe).min_by(|a, b| a.value.total_cmp(&b.value))?;
    let mut open: BinaryHeap<Open<R>> =
        regions.into_iter().map(|region| Open { lower: sound(region.lower()), region }).collect();
    let mut bound = best.value;
    let mut left = budget;
    while let Some(Open { lower, region }) = open.pop() {
        if lower >= best.value - tolerance || left == 0 {
            bound = bound.min(lower);
            break;
        }
        left -= 1;
        let (a, b) = region.halves();
        for half in [a, b] {
            let probe = half.probe();
            if probe.value < best.value {
                best = probe;
            }
            open.push(Open { lower: sound(half.lower()).max(lower), region: half });
        }
    }
    Some(Proof { least: best, bound: bound.min(best.value) })
}

/// Whether no value in any region is below the limit, proven within `budget` halvings. Cheaper than
/// [`least_over`] where only that is asked.
pub fn nowhere_below<R: Region>(regions: impl IntoIterator<Item = R>, limit: f64, budget: usize) -> bool {
    let mut open: Vec<R> = regions.into_iter().collect();
    let mut left = budget;
    while let Some(region) = open.pop() {
        if region.lower() >= limit {
            continue;
        }
        if left == 0 || region.probe().value < limit {
            return false;
        }
        left -= 1;
        let (a, b) = region.halves();
        open.extend([a, b]);
    }
    true
}
