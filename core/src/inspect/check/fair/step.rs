//! Steps: neighbouring places that lie off by the same.

use alloc::vec::Vec;
use core::ops::Range;

use super::kernel::HALF_HEIGHT;
use super::scan::Scan;

/// So much has to be left of a step that is even over its stretch: less than of a kernel, as nothing is told of its height.
pub(super) const LEFT_OF_STEP: f64 = 0.05;

/// Neighbouring places that lie off by the same, whatever lies beside them.
pub(super) struct Step {
    pub(super) places: Range<usize>,
    pub(super) t: f64,
}

impl Scan<'_> {
    /// The step that stands out most of those that are asked for, no longer than a share of the row.
    pub(super) fn clearest_step(&self, longest: f64, mut which: impl FnMut(&Step) -> bool) -> Option<Step> {
        // Sums from the first place on: of the weights, with what the fair curve leaves, and along each of its columns.
        let sums = |f: &dyn Fn(usize) -> f64| -> Vec<f64> {
            let mut sum = 0.0;
            let after = (0..self.data.len()).map(|i| {
                sum += f(i);
                sum
            });
            core::iter::once(0.0).chain(after).collect()
        };
        let roots = &self.roots;
        let (square, rest) = (sums(&|i| roots[i] * roots[i]), sums(&|i| roots[i] * self.rest[i]));
        let along: Vec<Vec<f64>> = self.basis.each().map(|c| sums(&|i| roots[i] * c[i])).collect();
        let longest = (longest * self.data.len() as f64) as usize;
        let mut most: Option<Step> = None;
        for from in 0..self.data.len() {
            for to in from + 1..=self.data.len().min(from + longest.max(1)) {
                let of = |sums: &[f64]| sums[to] - sums[from];
                let whole = of(&square);
                let left = whole - along.iter().map(|c| of(c)).map(|a| a * a).sum::<f64>();
                if left > LEFT_OF_STEP * whole {
                    let t = of(&rest) / libm::sqrt(left);
                    let step = Step { places: from..to, t };
                    let more = |most: &Step| libm::fabs(t) > libm::fabs(most.t);
                    if most.as_ref().is_none_or(more) && which(&step) {
                        most = Some(step);
                    }
                }
            }
        }
        most
    }

    /// Whether a kernel tells of a step.
    pub(super) fn tells_of(&self, step: &Step, (centre, width): (f64, f64), t: f64) -> bool {
        let places = self.data.get(step.places.clone()).unwrap_or_default();
        let (Some(a), Some(b)) = (places.first(), places.last()) else { return false };
        let half = HALF_HEIGHT * width;
        t * step.t > 0.0 && centre + half >= a.at && centre - half <= b.at
    }
}
