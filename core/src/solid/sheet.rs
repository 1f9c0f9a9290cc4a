//! Sheets: the surfaces that bound a neck from above and from below, as heights over the plan.

use alloc::vec;
use alloc::vec::Vec;

use super::arc::Arc;
use super::curve::{Curve, conic, cubic};
use super::foot::{FOOT_MM, around, part, place_of};
use super::knots::Together;
use super::line::{Line, within};
use super::over::over;
use super::plan::PlanCurve;
use super::slant::slant;
use super::spline::{Knots, Point3, SplineCurve, SplineSurface};
use super::surface::Surface;
use crate::law::Law;
use crate::layout::{Crown, sagitta_mm};
use crate::shape::{Flank, Side};

/// A sheet: for each place in plan one height.
#[derive(Clone, Debug)]
pub(super) struct Sheet<'a> {
    /// The stations over which it is used.
    pub reach: [f64; 2],
    pub kind: Kind<'a>,
}

#[derive(Clone, Debug)]
pub(super) enum Kind<'a> {
    /// A plane that is level across: depth at the first station of its reach, and how much deeper it is for each mm.
    Flat { depth: f64, slope: f64 },
    /// Level across, and bent along the neck: its depth.
    Level { depth: &'a Law },
    /// The board's top, or the floor of a slot that follows it so much below.
    Crown { crown: Crown, below: f64 },
    /// One side of the carved back.
    Back { side: Side, flank: &'a Flank },
    /// A straight cut.
    Line(Line),
    /// A round one.
    Arc(Arc),
}

/// The sine of half the angle to which a crown is carried at most.
const WIDEST: f64 = 0.6;
/// How far from the centreline sheets are carried, in half widths of the solid.
const BEYOND: f64 = 1.05;

impl Sheet<'_> {
    /// Whether the natural normal of its surface points up.
    pub fn up(&self) -> bool {
        !matches!(self.kind, Kind::Back { side: Side::Treble, .. })
    }

    /// Height at a place, mm.
    pub fn height(&self, x: f64, y: f64) -> f64 {
        match &self.kind {
            Kind::Flat { depth, slope } => -(depth + slope * (x - self.reach[0])),
            Kind::Level { depth } => -depth.value(x),
            Kind::Crown { crown, below } => -below - crown.sagitta(x, y),
            Kind::Back { side, flank } => {
                let u = around(flank, x, side.sign() * y);
                -flank.depth.iter().map(|law| law.value(x)).collect::<crate::law::Bernstein>().eval(u)
            }
            Kind::Line(line) => -line.depth(x, y),
            Kind::Arc(arc) => arc.height(x, y),
        }
    }

    /// Which of a stage's bounds it is of.
    fn id(&self) -> Option<usize> {
        match &self.kind {
            Kind::Line(line) => Some(line.id),
            Kind::Arc(arc) => Some(arc.id),
            _ => None,
        }
    }

    /// Its depth over a curve, where the curve tells it.
    pub fn known<'b>(&self, curve: &'b PlanCurve) -> Option<&'b Law> {
        let id = self.id()?;
        curve.known.as_ref()?.depths.iter().find(|(own, _)| *own == id).map(|(_, depth)| depth)
    }

    /// Height over a curve at a station: along its rails a back has the height of its own laws.
    pub fn height_over(&self, curve: &PlanCurve, x: f64) -> f64 {
        if let Some(depth) = self.known(curve) {
            return -depth.value(x);
        }
        let foot = |side: Side| curve.foot.as_ref().filter(|foot| foot.side == side);
        match (&self.kind, self.rail(curve)) {
            (Kind::Back { flank, .. }, Some(k)) => -flank.depth[k].value(x),
            (Kind::Back { side, .. }, None) => match foot(*side) {
                Some(foot) => -foot.depth.value(x),
                None => self.height(x, curve.law.value(x)),
            },
            _ => self.height(x, curve.law.value(x)),
        }
    }

    /// Whether the height over a curve is one of its laws.
    pub fn knows(&self, curve: &PlanCurve) -> bool {
        match &self.kind {
            Kind::Back { side, .. } => {
                self.rail(curve).is_some() || curve.foot.as_ref().is_some_and(|foot| foot.side == *side)
            }
            _ => true,
        }
    }

    /// Which control point of this back's sections the curve follows.
    pub fn rail(&self, curve: &PlanCurve) -> Option<usize> {
        match (&self.kind, curve.rail) {
            (Kind::Back { side, .. }, Some((own, 0))) if own == *side => Some(0),
            (Kind::Back { .. }, Some((_, 3))) => Some(3),
            _ => None,
        }
    }

    /// How well the curve over a part of a plan curve is known in closed form: the least is the best.
    pub fn rank(&self, curve: &PlanCurve) -> u8 {
        match &self.kind {
            Kind::Line(_) | Kind::Arc(_) if self.known(curve).is_some() => {
                if curve.known.as_ref().is_some_and(|known| known.fitted) { 3 } else { 1 }
            }
            Kind::Flat { .. } | Kind::Level { .. } | Kind::Line(_) => 0,
            Kind::Back { .. } if self.rail(curve).is_some() => 1,
            Kind::Crown { crown, .. } if crown.is_flat() => 0,
            Kind::Crown { .. } if curve.straight => 2,
            Kind::Crown { .. } => 3,
            Kind::Back { .. } | Kind::Arc(_) => 4,
        }
    }

    /// The curve over a part of a plan curve between two vertices.
    pub fn over(&self, curve: &PlanCurve, [a, b]: [Point3; 2]) -> Option<Curve> {
        let reach = [a[0], b[0]];
        let spline = |depth: &Law, sign: f64| {
            let reach = within(&[&curve.law, depth], reach);
            let together = Together::new(&[&curve.law, depth], reach)?;
            let x = together.knots.means();
            let poles = together.poles();
            let (y, z) = (&poles[0], &poles[1]);
            let poles: Vec<Point3> = (0..x.len()).map(|i| [x[i], y[i], sign * z[i]]).collect();
            Some(Curve::Spline(SplineCurve { knots: together.knots, poles, weights: None }))
        };
        match &self.kind {
            Kind::Line(line) if curve.straight && line.plane(reach).is_some() => Some(Curve::Line),
            Kind::Arc(arc)
                if curve.straight
                    && arc.level(reach)
                    && self.known(curve).is_some()
                    && curve.known.as_ref().is_some_and(|known| !known.fitted) =>
            {
                Some(Curve::Line)
            }
            Kind::Line(line) => match self.known(curve) {
                Some(depth) => spline(depth, -1.0),
                None => spline(&line.depth_over(&curve.law, reach)?, -1.0),
            },
            Kind::Arc(_) if self.known(curve).is_some() => spline(self.known(curve)?, -1.0),
            Kind::Flat { .. } if curve.straight => Some(Curve::Line),
            Kind::Flat { depth, slope } => {
                let at = |x: f64| depth + slope * (x - self.reach[0]);
                spline(&Law::polyline(&[(reach[0], at(reach[0])), (reach[1], at(reach[1]))])?, -1.0)
            }
            Kind::Level { depth } => spline(depth, -1.0),
            Kind::Back { flank, .. } if self.rail(curve).is_some() => {
                spline(&flank.depth[self.rail(curve)?], -1.0)
            }
            Kind::Crown { crown, below } if crown.is_flat() && !curve.straight => {
                spline(&Law::constant(*below, reach[0], reach[1])?, -1.0)
            }
            Kind::Crown { crown, below } if curve.straight => Some(crown_curve(crown, *below, [a, b])),
            Kind::Back { side, flank } if curve.straight => slant(flank, *side, [a, b]),
            _ => spline(&self.heights_over(curve, reach)?, 1.0),
        }
    }

    /// The curve over a line square to the centreline between two vertices.
    pub fn across(&self, [a, b]: [Point3; 2]) -> Curve {
        let x = a[0];
        match &self.kind {
            Kind::Flat { .. } | Kind::Level { .. } | Kind::Line(_) => Curve::Line,
            Kind::Arc(arc) => arc.across([a, b]),
            Kind::Crown { crown, below } => crown_curve(crown, *below, [a, b]),
            Kind::Back { side, flank } => {
                let points =
                    [0, 1, 2, 3].map(|k| [x, side.sign() * flank.out[k].value(x), -flank.depth[k].value(x)]);
                let [from, to] = [a, b].map(|p| place_of(flank, *side, p));
                let mut poles = part(points, [from.min(to), from.max(to)]);
                if from > to {
                    poles.reverse();
                }
                cubic(poles)
            }
        }
    }

    /// Heights over a curve as a law, within 1e-9 mm.
    fn heights_over(&self, curve: &PlanCurve, reach: [f64; 2]) -> Option<Law> {
        let [heights, _] = over(self, curve, reach, [0.2 * FOOT_MM, f64::INFINITY])?;
        Some(heights)
    }

    /// Its surface, carried so far from the centreline.
    pub fn surface(&self, half: f64) -> Option<Surface> {
        let from = self.reach[0];
        let half = BEYOND * half;
        let plane = |depth: f64, slope: f64| {
            let length = libm::hypot(1.0, slope);
            Surface::Plane {
                point: [from, 0.0, -depth],
                normal: [slope / length, 0.0, 1.0 / length],
                along: [1.0 / length, 0.0, -slope / length],
            }
        };
        Some(match &self.kind {
            Kind::Flat { depth, slope } => plane(*depth, *slope),
            Kind::Line(line) => line.surface(self.reach, half)?,
            Kind::Arc(arc) => arc.surface(self.reach)?,
            Kind::Crown { crown, below } => match crown.law() {
                None => plane(*below, 0.0),
                Some((radius_mm, 0.0)) => Surface::Cylinder {
                    point: [from, 0.0, -radius_mm - below],
                    axis: [1.0, 0.0, 0.0],
                    across: [0.0, 0.0, 1.0],
                    radius_mm,
                },
                Some(_) => Surface::Spline(crown_surface(crown, *below, self.reach, half)?),
            },
            Kind::Level { depth } => {
                let together = Together::new(&[depth], self.reach)?;
                let (x, z) = (together.knots.means(), together.poles());
                let row = |i: usize| vec![[x[i], -half, -z[0][i]], [x[i], half, -z[0][i]]];
                let poles = (0..x.len()).map(row).collect();
                let knots = [together.knots, Knots::of_one(1, [-half, half])];
                Surface::Spline(SplineSurface { knots, poles, weights: None })
            }
            Kind::Back { side, flank } => {
                let laws: Vec<&Law> = flank.out.iter().chain(&flank.depth).collect();
                let together = Together::new(&laws, self.reach)?;
                let x = together.knots.means();
                let poles = together.poles();
                let point = |i: usize, k: usize| [x[i], side.sign() * poles[k][i], -poles[4 + k][i]];
                let row = |i: usize| (0..4).map(|k| point(i, k)).collect();
                let poles = (0..x.len()).map(row).collect();
                let knots = [together.knots, Knots::of_one(3, [0.0, 1.0])];
                Surface::Spline(SplineSurface { knots, poles, weights: None })
            }
        })
    }
}

/// The curve of the crown over a straight line in plan: a conic. With `t` from 0 to 1 along the line and `u = √(R² − y²)` it is
/// `u² = (1−t)²·u₁² + 2t(1−t)(u₁u₂ + k) + t²·u₂²`, `k = R₁R₂ − y₁y₂ − u₁u₂`; its tangents at the ends meet at
/// `t = u₁/(u₁+u₂)`, `u = (2u₁u₂ + k)/(u₁+u₂)`, and the weight there is `(u₁+u₂)/√(2(2u₁u₂ + k))` (derived here; the tests
/// compare it with the circle).
fn crown_curve(crown: &Crown, below: f64, [a, b]: [Point3; 2]) -> Curve {
    let (Some(r1), Some(r2)) = (crown.radius_mm(a[0]), crown.radius_mm(b[0])) else { return Curve::Line };
    let [u1, u2] = [(r1, a[1]), (r2, b[1])].map(|(r, y)| libm::sqrt((r - y) * (r + y)));
    let across = r1 * b[1] - r2 * a[1];
    let k = across * across / (r1 * r2 - a[1] * b[1] + u1 * u2);
    let sum = u1 + u2;
    let t = u1 / sum;
    let at = |k: usize| a[k] + t * (b[k] - a[k]);
    let height = (2.0 * u1 * u2 + k) / sum - (r1 + t * (r2 - r1));
    let middle = [at(0), at(1), height - below];
    conic([a, middle, b], sum / libm::sqrt(2.0 * (2.0 * u1 * u2 + k)))
}

/// The crown as a rational surface: arcs of one angle, their poles straight along the neck as the radius is.
fn crown_surface(crown: &Crown, below: f64, reach: [f64; 2], half: f64) -> Option<SplineSurface> {
    let radii = [crown.radius_mm(reach[0])?, crown.radius_mm(reach[1])?];
    // Wide enough at the end with the lesser radius, and so at the other; a board is nowhere wider than its radius, so that half its
    // angle is 30 degrees at most.
    let sin = (half / radii[0].min(radii[1])).min(WIDEST);
    let cos = libm::sqrt((1.0 - sin) * (1.0 + sin));
    let row = |(x, r): (f64, f64)| {
        let (y, z) = (r * sin, -below - sagitta_mm(r, r * sin));
        vec![[x, -y, z], [x, 0.0, -below + r * (1.0 / cos - 1.0)], [x, y, z]]
    };
    let poles = reach.into_iter().zip(radii).map(row).collect();
    let weights = Some(vec![vec![1.0, cos, 1.0]; 2]);
    Some(SplineSurface { knots: [Knots::of_one(1, reach), Knots::of_one(2, [0.0, 1.0])], poles, weights })
}
