//! Sheets that are straight across and move along the neck.

use alloc::rc::Rc;
use alloc::vec;

use super::knots::Together;
use super::spline::{Knots, SplineSurface};
use super::surface::Surface;
use crate::law::Law;

/// Stations that rounding may have parted, mm.
const ROUNDING_MM: f64 = 1e-8;

/// A reach that rounding may have put beyond the ends of laws.
pub(super) fn within(laws: &[&Law], reach: [f64; 2]) -> [f64; 2] {
    laws.iter().fold(reach, |[mut from, mut to], law| {
        if from < law.start() && from > law.start() - ROUNDING_MM {
            from = law.start();
        }
        if to > law.end() && to < law.end() + ROUNDING_MM {
            to = law.end();
        }
        [from, to]
    })
}

/// In every section the straight line `across·y + down·depth = height`.
#[derive(Clone, Debug)]
pub(super) struct Line {
    /// Which of the bounds it is of.
    pub id: usize,
    pub across: f64,
    pub down: f64,
    pub height: Rc<Law>,
}

impl Line {
    pub fn depth(&self, x: f64, y: f64) -> f64 {
        (self.height.value(x) - self.across * y) / self.down
    }

    /// Whether it is a plane over a reach: its height at both ends, if so.
    pub fn plane(&self, [from, to]: [f64; 2]) -> Option<[f64; 2]> {
        let mut runs = super::knots::runs(&self.height, [from, to]).into_iter();
        let straight = runs.next().is_some_and(|run| run.straight && run.reach[1] >= to);
        straight.then(|| [from, to].map(|x| self.height.value(x)))
    }

    /// Depth over a curve whose place across is a law.
    pub fn depth_over(&self, law: &Law, [from, to]: [f64; 2]) -> Option<Law> {
        let [from, to] = within(&[&self.height, law], [from, to]);
        let (own, y) = (self.height.restricted(from, to)?, law.restricted(from, to)?);
        Some(own.minus(&y.times_number(self.across))?.times_number(1.0 / self.down))
    }

    pub fn surface(&self, reach: [f64; 2], half: f64) -> Option<Surface> {
        let depth = |height: f64, y: f64| (height - self.across * y) / self.down;
        if let Some([a, b]) = self.plane(reach) {
            let slope = (b - a) / ((reach[1] - reach[0]) * self.down);
            // z = −(a − across·y)/down − slope·(x − from)
            let [nx, ny] = [slope, -self.across / self.down];
            let length = libm::sqrt(1.0 + nx * nx + ny * ny);
            let way = libm::hypot(1.0, slope);
            return Some(Surface::Plane {
                point: [reach[0], 0.0, -depth(a, 0.0)],
                normal: [nx / length, ny / length, 1.0 / length],
                along: [1.0 / way, 0.0, -slope / way],
            });
        }
        let together = Together::new(&[&self.height], reach)?;
        let (x, h) = (together.knots.means(), together.poles());
        let row = |i: usize| vec![[x[i], -half, -depth(h[0][i], -half)], [x[i], half, -depth(h[0][i], half)]];
        let poles = (0..x.len()).map(row).collect();
        let knots = [together.knots, Knots::of_one(1, [-half, half])];
        Some(Surface::Spline(SplineSurface { knots, poles, weights: None }))
    }
}
