//! Where an upright plane aslant cuts the back.

use alloc::vec::Vec;
use core::cell::Cell;

use super::curve::Curve;
use super::foot::{FOOT_MM, Piece, around, cubic2, jet, place_of};
use super::knots::Together;
use super::smooth::{Break, Jet, Reading, breaks_of, smooth};
use super::spline::{Point3, SplineCurve};
use crate::law::Smoothness;
use crate::shape::{Flank, Side};

/// The cut between two neighbouring joints, read at a share of the way around from one end to the other.
///
/// Along the neck the place around rises as a square root does where the back begins upright; around the back the way across is
/// smooth. With `w` the distance out and `x` the station, straight in `w`, it is the root of `O(u, x(w)) − w`.
struct Cut<'a> {
    out: [Piece<'a>; 4],
    depth: [Piece<'a>; 4],
    /// Places around at both ends.
    around: [f64; 2],
    /// A station, its distance out, and how much farther along it is for each mm out.
    line: [f64; 3],
    last: Cell<f64>,
}

impl Cut<'_> {
    fn place(&self, t: f64) -> f64 {
        self.around[0] + t * (self.around[1] - self.around[0])
    }

    fn station(&self, w: f64) -> f64 {
        self.line[0] + self.line[2] * (w - self.line[1])
    }

    /// Distance out at a place around, with the laws of the distances there.
    fn out(&self, u: f64) -> (f64, [Jet; 4]) {
        let mut w = self.last.get();
        let mut laws = [[0.0; 3]; 4];
        for _ in 0..16 {
            laws = self.out.map(|piece| jet(piece, self.station(w)));
            let (value, slope) = (cubic2(laws.map(|j| j[0]), u)[0], cubic2(laws.map(|j| j[1]), u)[0]);
            let step = (value - w) / (slope * self.line[2] - 1.0);
            w -= step;
            if libm::fabs(step) <= 1e-14 * (1.0 + libm::fabs(w)) {
                break;
            }
        }
        self.last.set(w);
        (w, laws)
    }
}

impl Reading<2> for Cut<'_> {
    fn values(&self, t: f64) -> [f64; 2] {
        self.jets(t).map(|jet| jet[0])
    }

    fn jets(&self, t: f64) -> [Jet; 2] {
        let u = self.place(t);
        let (w, o) = self.out(u);
        let k = self.line[2];
        let d = self.depth.map(|piece| jet(piece, self.station(w)));
        let column = |points: &[Jet; 4], i: usize| cubic2(points.map(|p| p[i]), u);
        let ([_, ou, ouu], [ox, oxu, _], [oxx, ..]) = (column(&o, 0), column(&o, 1), column(&o, 2));
        let ([depth, du, duu], [dx, dxu, _], [dxx, ..]) = (column(&d, 0), column(&d, 1), column(&d, 2));
        let slope = ox * k - 1.0;
        let first = -ou / slope;
        let second = -(ouu + 2.0 * oxu * k * first + oxx * k * k * first * first) / slope;
        let down = duu + 2.0 * dxu * k * first + dxx * k * k * first * first + dx * k * second;
        // By the share of the way instead of the place.
        let h = self.around[1] - self.around[0];
        [[w, h * first, h * h * second], [-depth, -h * (du + dx * k * first), -h * h * down]]
    }
}

/// The cut from one vertex to another, within 1e-9 mm, its parameter the share of the way around.
pub(super) fn slant(flank: &Flank, side: Side, [a, b]: [Point3; 2]) -> Option<Curve> {
    let sign = side.sign();
    let w = [a, b].map(|p| sign * p[1]);
    let line = [a[0], w[0], (b[0] - a[0]) / (w[1] - w[0])];
    let place = |x: f64| around(flank, x, w[0] + (x - a[0]) / line[2]);
    let ends = [a, b].map(|p| place_of(flank, side, p));
    let reach = [a[0].min(b[0]), a[0].max(b[0])];
    let stations = breaks_of(flank.out.iter().chain(&flank.depth), reach);
    let share = |(x, joint): (f64, Smoothness)| ((place(x) - ends[0]) / (ends[1] - ends[0]), joint);
    let inner = stations.into_iter().map(share).filter(|(t, _)| *t > 1e-9 && *t < 1.0 - 1e-9);
    let ends_of = [0.0, 1.0].map(|t| (t, Smoothness::Curvature));
    let mut breaks: Vec<Break> = inner.chain(ends_of).collect();
    breaks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let read = |[from, to]: [f64; 2]| {
        let middle = ends[0] + 0.5 * (from + to) * (ends[1] - ends[0]);
        // Where the middle lies along the neck tells the pieces; it is looked for with none known yet.
        let mut x = 0.5 * (a[0] + b[0]);
        for _ in 0..32 {
            let points: [f64; 4] = [0, 1, 2, 3].map(|k| flank.out[k].value(x));
            x = line[0] + line[2] * (cubic2(points, middle)[0] - line[1]);
        }
        let x = x.clamp(reach[0], reach[1]);
        Cut {
            out: [0, 1, 2, 3].map(|k| flank.out[k].piece_at(x)),
            depth: [0, 1, 2, 3].map(|k| flank.depth[k].piece_at(x)),
            around: ends,
            line,
            last: Cell::new(line[1] + (x - line[0]) / line[2]),
        }
    };
    let laws = smooth(&breaks, [0.2 * FOOT_MM; 2], read)?;
    let together = Together::new(&[&laws[0], &laws[1]], [0.0, 1.0])?;
    let poles = together.poles();
    let pole = |(w, z): (&f64, &f64)| [line[0] + line[2] * (w - line[1]), sign * w, *z];
    let poles = poles[0].iter().zip(&poles[1]).map(pole).collect();
    Some(Curve::Spline(SplineCurve { knots: together.knots, poles, weights: None }))
}
