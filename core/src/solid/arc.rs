//! Sheets that are arcs of one radius across, about a centre that moves along the neck.

use alloc::rc::Rc;
use alloc::vec;

use super::curve::Curve;
use super::knots::Together;
use super::over::{plus, quotient};
use super::smooth::Jet;
use super::spline::{Knots, Point3, SplineSurface};
use super::surface::Surface;
use crate::law::Law;

/// The widest angle that one rational arc is made over.
const WIDEST: f64 = 170.0 / 180.0 * core::f64::consts::PI;

/// In every section an arc about a centre: its lower side, or in a hollow its upper one.
#[derive(Clone, Debug)]
pub(super) struct Arc {
    /// Which of the bounds it is of.
    pub id: usize,
    /// Place across and depth of the centre.
    pub centre: [Rc<Law>; 2],
    pub radius: f64,
    pub hollow: bool,
    /// The angles from straight up or down, toward greater `y`, between which it is used.
    pub around: [f64; 2],
}

impl Arc {
    pub fn up(&self) -> f64 {
        if self.hollow { 1.0 } else { -1.0 }
    }

    pub fn centre(&self, x: f64) -> [f64; 2] {
        [self.centre[0].value(x), self.centre[1].value(x)]
    }

    pub fn height(&self, x: f64, y: f64) -> f64 {
        let [cy, depth] = self.centre(x);
        let t = (y - cy).clamp(-self.radius, self.radius);
        -depth + self.up() * libm::sqrt((self.radius - t) * (self.radius + t))
    }

    /// Whether its centre goes straight over a reach.
    pub fn level(&self, [from, to]: [f64; 2]) -> bool {
        self.centre.iter().all(|law| {
            super::knots::runs(law, [from, to]).first().is_some_and(|run| run.straight && run.reach[1] >= to)
        })
    }

    /// The parameter of its surface by the tangent of half the angle from straight up or down: half of one and of that tangent less
    /// the middle's, as angles are taken from each other, over the tangent of a quarter of all it reaches over.
    pub fn place_by(&self, half_tangent: Jet) -> Jet {
        let [a, b] = self.around;
        let (middle, quarter) = (libm::tan(0.25 * (a + b)), libm::tan(0.25 * (b - a)));
        let less = plus(half_tangent, [-middle, 0.0, 0.0]);
        let share = quotient(less, plus([1.0, 0.0, 0.0], half_tangent.map(|v| middle * v)));
        plus([0.5, 0.0, 0.0], share.map(|v| 0.5 * v / quarter))
    }

    pub fn across(&self, [a, b]: [Point3; 2]) -> Curve {
        let [cy, depth] = self.centre(a[0]);
        let rises = if b[1] > a[1] { 1.0 } else { -1.0 };
        Curve::Arc {
            centre: [a[0], cy, -depth],
            axis: [-self.up() * rises, 0.0, 0.0],
            radius_mm: self.radius,
        }
    }

    pub fn surface(&self, reach: [f64; 2]) -> Option<Surface> {
        let [a, b] = self.around;
        let half = 0.5 * (b - a);
        if !(half > 0.0 && 2.0 * half < WIDEST) {
            return None;
        }
        let cos = libm::cos(half);
        let at = |angle: f64, far: f64| [far * libm::sin(angle), self.up() * far * libm::cos(angle)];
        let around = [at(a, self.radius), at(0.5 * (a + b), self.radius / cos), at(b, self.radius)];
        let together = Together::new(&[&self.centre[0], &self.centre[1]], reach)?;
        let (x, c) = (together.knots.means(), together.poles());
        let row = |i: usize| around.map(|[y, z]| [x[i], c[0][i] + y, z - c[1][i]]).to_vec();
        let poles: vec::Vec<_> = (0..x.len()).map(row).collect();
        let weights = Some(vec![vec![1.0, cos, 1.0]; x.len()]);
        let knots = [together.knots, Knots::of_one(2, [0.0, 1.0])];
        Some(Surface::Spline(SplineSurface { knots, poles, weights }))
    }
}
