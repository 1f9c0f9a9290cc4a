//! Curves in plan, between which lie sheets.

use alloc::rc::Rc;

use super::foot::Foot;
use super::knots::Together;
use super::spline::Point3;
use super::spline::{Knots, SplineSurface};
use super::surface::Surface;
use crate::law::Law;
use crate::shape::Side;

/// A curve in plan that goes along the neck.
#[derive(Clone, Debug)]
pub(super) struct PlanCurve {
    /// The stations over which it is used.
    pub reach: [f64; 2],
    /// Where across it lies.
    pub law: Law,
    pub straight: bool,
    /// Which of the control points of the back's sections it follows, and of which side.
    pub rail: Option<(Side, usize)>,
    /// Which foot of the back it goes along.
    pub foot: Option<Rc<Foot>>,
    /// What is known of the bounds of a stage's wood that meet over it.
    pub known: Option<Rc<Known>>,
}

/// The depths that bounds have over a curve, where their own formulas would lose digits or the curve is found by a search.
#[derive(Clone, Debug)]
pub(super) struct Known {
    pub depths: alloc::vec::Vec<(usize, Law)>,
    /// Whether they were found by a search.
    pub fitted: bool,
}

impl PlanCurve {
    /// A straight one between two points.
    pub fn line(a: [f64; 2], b: [f64; 2]) -> Option<Self> {
        let law = Law::polyline(&[(a[0], a[1]), (b[0], b[1])])?;
        Some(Self { reach: [a[0], b[0]], law, straight: true, rail: None, foot: None, known: None })
    }

    /// The upright surface over it between two heights; its natural normal points to the right of the way along it.
    pub fn wall(&self, [low, high]: [f64; 2]) -> Option<Surface> {
        let [from, to] = self.reach;
        if self.straight {
            let [y0, y1] = self.reach.map(|x| self.law.value(x));
            let (dx, dy) = (to - from, y1 - y0);
            let length = libm::hypot(dx, dy);
            let point: Point3 = [from, y0, 0.0];
            return Some(Surface::Plane {
                point,
                normal: [dy / length, -dx / length, 0.0],
                along: [dx / length, dy / length, 0.0],
            });
        }
        let together = Together::new(&[&self.law], self.reach)?;
        let (x, y) = (together.knots.means(), together.poles());
        let row = |i: usize| alloc::vec![[x[i], y[0][i], low], [x[i], y[0][i], high]];
        let poles = (0..x.len()).map(row).collect();
        let knots = [together.knots, Knots::of_one(1, [low, high])];
        Some(Surface::Spline(SplineSurface { knots, poles, weights: None }))
    }
}
