//! Sheets over curves, where they have no closed form: their heights, and their places around, with derivatives.

use super::arc::Arc;
use super::foot::{Level, Piece, jet};
use super::plan::PlanCurve;
use super::sheet::{Kind, Sheet};
use super::smooth::{Jet, Reading, breaks_of, smooth};
use crate::law::Law;

pub(super) fn plus(a: Jet, b: Jet) -> Jet {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub(super) fn minus(a: Jet, b: Jet) -> Jet {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn times(a: Jet, b: Jet) -> Jet {
    [a[0] * b[0], a[1] * b[0] + a[0] * b[1], a[2] * b[0] + 2.0 * a[1] * b[1] + a[0] * b[2]]
}

pub(super) fn quotient(a: Jet, b: Jet) -> Jet {
    let value = a[0] / b[0];
    let slope = (a[1] - value * b[1]) / b[0];
    [value, slope, (a[2] - 2.0 * slope * b[1] - value * b[2]) / b[0]]
}

fn root(a: Jet) -> Jet {
    let value = libm::sqrt(a[0]);
    let slope = 0.5 * a[1] / value;
    [value, slope, (0.5 * a[2] - slope * slope) / value]
}

/// How far up a circle lies over its centre, at a distance beside it.
pub(super) fn rise(radius: Jet, beside: Jet) -> Jet {
    root(times(minus(radius, beside), plus(radius, beside)))
}

/// The tangent of half the angle from straight up of a point that lies so far beside a centre and so far above it.
pub(super) fn half_tangent(beside: Jet, above: Jet) -> Jet {
    let far = root(plus(times(beside, beside), times(above, above)));
    quotient(beside, plus(far, above))
}

/// A sheet over a curve, between two neighbouring joints of the laws of both.
enum Over<'a> {
    Crown {
        /// Radius at the nut and its growth, and how far below the crown.
        radius: [f64; 2],
        below: f64,
        y: Piece<'a>,
    },
    Arc {
        arc: &'a Arc,
        centre: [Piece<'a>; 2],
        y: Piece<'a>,
        /// The depth, where the curve tells it.
        depth: Option<Piece<'a>>,
    },
    Back(Level<'a>),
}

impl Reading<2> for Over<'_> {
    fn values(&self, x: f64) -> [f64; 2] {
        self.jets(x).map(|jet| jet[0])
    }

    fn jets(&self, x: f64) -> [Jet; 2] {
        match self {
            Self::Crown { radius: [at_nut, growth], below, y } => {
                let (radius, y) = ([at_nut + growth * x, *growth, 0.0], jet(*y, x));
                let up = rise(radius, y);
                let [value, slope, bend] = quotient(times(y, y), plus(radius, up));
                [[-below - value, -slope, -bend], half_tangent(y, up)]
            }
            Self::Arc { arc, centre, y, depth } => {
                let [across, down] = centre.map(|law| jet(law, x));
                let beside = minus(jet(*y, x), across);
                let up = arc.up();
                let above = match depth {
                    Some(depth) => minus(down, jet(*depth, x)).map(|v| up * v),
                    None => rise([arc.radius, 0.0, 0.0], beside),
                };
                [minus(above.map(|v| up * v), down), arc.place_by(half_tangent(beside, above))]
            }
            Self::Back(level) => {
                let [place, depth] = level.jets(x);
                [depth.map(|v| -v), place]
            }
        }
    }
}

/// Height of a sheet over a curve, and its place around: of a back from the carve line (0) to the spine (1), of an arc the parameter
/// of its surface, of a crown the tangent of half the angle. As laws of the station, none off by more than `within` says.
pub(super) fn over(
    sheet: &Sheet<'_>,
    curve: &PlanCurve,
    reach: [f64; 2],
    within: [f64; 2],
) -> Option<[Law; 2]> {
    let depth = sheet.known(curve);
    let y = &curve.law;
    match &sheet.kind {
        Kind::Crown { crown, below } => {
            let (at_nut, growth) = crown.law()?;
            let breaks = breaks_of([y].into_iter(), reach);
            smooth(&breaks, within, |[from, to]| Over::Crown {
                radius: [at_nut, growth],
                below: *below,
                y: y.piece_at(0.5 * (from + to)),
            })
        }
        Kind::Arc(arc) => {
            let [across, down] = &arc.centre;
            let laws = [&**across, &**down, y].into_iter().chain(depth);
            smooth(&breaks_of(laws, reach), within, |[from, to]| {
                let middle = 0.5 * (from + to);
                Over::Arc {
                    arc,
                    centre: [across.piece_at(middle), down.piece_at(middle)],
                    y: y.piece_at(middle),
                    depth: depth.map(|law| law.piece_at(middle)),
                }
            })
        }
        Kind::Back { side, flank } => {
            let laws = flank.out.iter().chain(&flank.depth).chain([y]);
            smooth(&breaks_of(laws, reach), within, |reach| Over::Back(Level::under(flank, *side, y, reach)))
        }
        Kind::Flat { .. } | Kind::Level { .. } | Kind::Line(_) => None,
    }
}
