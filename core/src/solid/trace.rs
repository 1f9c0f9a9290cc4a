//! Edges in the parameters of a face's surface.

use alloc::vec::Vec;

use super::curve::Curve;
use super::fitted::fitted;
use super::foot::{FOOT_MM, around, place_of};
use super::knots::Together;
use super::plan::PlanCurve;
use super::sheet::{Kind, Sheet};
use super::shell::{Edge, Trace};
use super::spline::Point3;
use super::surface::Surface;
use crate::law::Law;

/// How close a trace that has no closed form comes, in parameters of some tens of millimetres each.
const CLOSE: f64 = 1e-2 * FOOT_MM;

/// The trace of an edge over a plan curve on a spline surface: of a sheet, or of a wall where there is none. `None` where the
/// edge is an isoline.
pub(super) fn trace(
    surface: &Surface,
    sheet: Option<&Sheet<'_>>,
    over: Option<&PlanCurve>,
    (edge, made): (usize, &Edge),
) -> Option<Trace> {
    let (Surface::Spline(_), Some(over), Curve::Spline(curve)) = (surface, over, &made.curve) else {
        return None;
    };
    let picked = |k: usize| {
        let poles = curve.poles.iter().map(|p| [p[0], p[k]]).collect();
        Trace { edge, knots: curve.knots.clone(), poles }
    };
    match sheet.map(|sheet| &sheet.kind) {
        // The surface's parameters are the station and the height, or the place across.
        None => Some(picked(2)),
        Some(Kind::Level { .. } | Kind::Line(_)) => Some(picked(1)),
        Some(Kind::Arc(arc)) => {
            let reach = curve.knots.reach();
            let place = |x: f64| {
                let p = [x, over.law.value(x), sheet.map_or(0.0, |sheet| sheet.height_over(over, x))];
                arc.place(arc.angle(p))
            };
            let mut breaks = sheet?.breaks(reach);
            breaks.extend(curve.knots.values.iter().copied());
            breaks.sort_by(f64::total_cmp);
            breaks.dedup_by(|b, a| *b - *a < 1e-9);
            of_laws(edge, None, &fitted(place, &breaks, CLOSE)?)
        }
        Some(Kind::Back { side, flank }) => {
            if sheet.is_some_and(|sheet| sheet.rail(over).is_some()) {
                return None;
            }
            let reach = curve.knots.reach();
            if let Some(foot) = over.foot.as_ref().filter(|foot| foot.side == *side) {
                return of_laws(edge, None, &foot.place.restricted(reach[0], reach[1])?);
            }
            if over.straight {
                // The curve goes evenly around.
                let [a, b] = [curve.poles.first()?, curve.poles.last()?].map(|p| place_of(flank, *side, *p));
                let place = |(p, t): (&Point3, f64)| [p[0], a + t * (b - a)];
                let poles = curve.poles.iter().zip(curve.knots.means()).map(place).collect();
                return Some(Trace { edge, knots: curve.knots.clone(), poles });
            }
            let place = |x: f64| around(flank, x, side.sign() * over.law.value(x));
            of_laws(edge, None, &fitted(place, &sheet?.breaks(reach), CLOSE)?)
        }
        Some(Kind::Crown { .. }) => {
            let Surface::Spline(crown) = surface else { return None };
            // The arcs' half angle, from their weight.
            let cos = crown.weights.as_ref()?.first()?.get(1)?;
            let half = libm::sqrt((1.0 - cos) / (1.0 + cos));
            let place = |t: f64| {
                let p = curve.at(t);
                let radius = crown_radius(sheet?, p[0])?;
                Some(0.5 * (1.0 + libm::tan(0.5 * libm::asin(p[1] / radius)) / half))
            };
            let ends = curve.knots.reach();
            let x = fitted(|t| curve.at(t)[0], &ends, 0.2 * FOOT_MM)?;
            of_laws(edge, Some(x), &fitted(|t| place(t).unwrap_or(f64::NAN), &ends, 0.2 * CLOSE)?)
        }
        Some(Kind::Flat { .. }) => None,
    }
}

fn crown_radius(sheet: &Sheet<'_>, x: f64) -> Option<f64> {
    match &sheet.kind {
        Kind::Crown { crown, .. } => crown.radius_mm(x),
        _ => None,
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
