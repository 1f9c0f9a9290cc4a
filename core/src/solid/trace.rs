//! Edges in the parameters of a face's surface.

use alloc::vec::Vec;

use super::curve::Curve;
use super::foot::{FOOT_MM, place_of};
use super::knots::Together;
use super::over::{half_tangent, over as over_sheet, plus, quotient, rise};
use super::plan::PlanCurve;
use super::sheet::{Kind, Sheet};
use super::shell::{Edge, Trace};
use super::smooth::{Jet, Reading, smooth};
use super::spline::{Point3, SplineCurve};
use super::surface::Surface;
use crate::law::{Bernstein, Law, Smoothness};

/// How close a trace that has no closed form comes, in parameters of some tens of millimetres each.
const CLOSE: f64 = 1e-2 * FOOT_MM;

/// The trace of an edge over a plan curve on a spline surface: of a sheet, or of a wall where there is none; none in the list where
/// the edge is an isoline or the surface is no spline. `None` where it can't be made.
pub(super) fn trace(
    surface: &Surface,
    sheet: Option<&Sheet<'_>>,
    over: Option<&PlanCurve>,
    (edge, made): (usize, &Edge),
) -> Option<Vec<Trace>> {
    let (Surface::Spline(surface), Some(over), Curve::Spline(curve)) = (surface, over, &made.curve) else {
        return Some(Vec::new());
    };
    let picked = |k: usize| {
        let poles = curve.poles.iter().map(|p| [p[0], p[k]]).collect();
        Trace { edge, knots: curve.knots.clone(), poles }
    };
    let trace = match sheet.map(|sheet| &sheet.kind) {
        // The surface's parameters are the station and the height, or the place across.
        None => picked(2),
        Some(Kind::Level { .. } | Kind::Line(_)) => picked(1),
        Some(Kind::Arc(_)) => {
            let [_, place] = over_sheet(sheet?, over, curve.knots.reach(), [f64::INFINITY, CLOSE])?;
            of_laws(edge, None, &place)?
        }
        Some(Kind::Back { side, flank }) => {
            if sheet.is_some_and(|sheet| sheet.rail(over).is_some()) {
                return Some(Vec::new());
            }
            let reach = curve.knots.reach();
            if let Some(foot) = over.foot.as_ref().filter(|foot| foot.side == *side) {
                of_laws(edge, None, &foot.place.restricted(reach[0], reach[1])?)?
            } else if over.straight {
                // The curve goes evenly around.
                let [a, b] = [curve.poles.first()?, curve.poles.last()?].map(|p| place_of(flank, *side, *p));
                let place = |(p, t): (&Point3, f64)| [p[0], a + t * (b - a)];
                let poles = curve.poles.iter().zip(curve.knots.means()).map(place).collect();
                Trace { edge, knots: curve.knots.clone(), poles }
            } else {
                let [_, place] = over_sheet(sheet?, over, reach, [f64::INFINITY, CLOSE])?;
                of_laws(edge, None, &place)?
            }
        }
        Some(Kind::Crown { crown, .. }) => {
            // The tangent of a quarter of the angle that the arcs go over, from their weight.
            let cos = surface.weights.as_ref()?.first()?.get(1)?;
            let quarter = libm::sqrt((1.0 - cos) / (1.0 + cos));
            let close = 0.2 * CLOSE * quarter;
            // A conic has its own parameter; what another sheet gave the edge goes by the station.
            let (along, tangent) = if curve.weights.is_some() {
                let (radius, breaks) = (crown.law()?, [0.0, 1.0].map(|t| (t, Smoothness::Curvature)));
                let [along, tangent] = smooth(&breaks, [0.2 * FOOT_MM, close], |_| Conic { curve, radius })?;
                (Some(along), tangent)
            } else {
                let [_, tangent] = over_sheet(sheet?, over, curve.knots.reach(), [f64::INFINITY, close])?;
                (None, tangent)
            };
            of_laws(edge, along, &tangent.times_number(0.5 / quarter).plus_number(0.5))?
        }
        Some(Kind::Flat { .. }) => return Some(Vec::new()),
    };
    Some(alloc::vec![trace])
}

/// A crown's conic by its own parameter: the station, and the tangent of half the angle around the crown.
struct Conic<'a> {
    curve: &'a SplineCurve,
    radius: (f64, f64),
}

impl Reading<2> for Conic<'_> {
    fn values(&self, t: f64) -> [f64; 2] {
        self.jets(t).map(|jet| jet[0])
    }

    fn jets(&self, t: f64) -> [Jet; 2] {
        let weights = self.curve.weights.iter().flatten().copied();
        let weight = weights.clone().collect::<Bernstein>().eval2(t);
        let coordinate = |k: usize| {
            let weighted = self.curve.poles.iter().zip(weights.clone()).map(|(p, w)| w * p[k]);
            quotient(weighted.collect::<Bernstein>().eval2(t), weight)
        };
        let (x, y) = (coordinate(0), coordinate(1));
        let (at_nut, growth) = self.radius;
        let radius = plus([at_nut, 0.0, 0.0], x.map(|v| growth * v));
        [x, half_tangent(y, rise(radius, y))]
    }
}

/// A trace by laws of the curve's parameter; without one along, that is the station itself.
fn of_laws(edge: usize, along: Option<Law>, around: &Law) -> Option<Trace> {
    let reach = [around.start(), around.end()];
    let laws: Vec<&Law> = along.iter().chain([around]).collect();
    let together = Together::new(&laws, reach)?;
    let mut poles = together.poles();
    let u = poles.pop()?;
    let s = poles.pop().unwrap_or_else(|| together.knots.means());
    let poles = s.into_iter().zip(u).map(|(s, u)| [s, u]).collect();
    Some(Trace { edge, knots: together.knots, poles })
}
