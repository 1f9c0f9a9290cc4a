//! How far a spline surface lies from triangles of it.

use super::bending::Range;
use super::bezier::{minus, size};
use super::grid::Net;
use super::patches::cross;
use crate::solid::Point3;

/// A triangle of a face.
pub(super) struct Triangle {
    pub at: [[f64; 2]; 3],
    pub points: [Point3; 3],
}

/// What is around a triangle.
pub(super) struct Around {
    /// Bound of the angle between its plane and those of the triangles that share a corner with it.
    pub turn: f64,
    /// For each of its sides, from its first corner on, how far the curve of an edge over which the faces do not go on
    /// smoothly lies from it.
    pub edges: [Option<f64>; 3],
}

/// Least and greatest of the three.
fn span(all: [f64; 3]) -> f64 {
    all[0].max(all[1]).max(all[2]) - all[0].min(all[1]).min(all[2])
}

/// For corners `pᵢ` and shares `λᵢ` bounds of `Σ λᵢ(sᵢ − s)(uᵢ − u)`, which is the sum over sides of `λᵢλⱼ·Δs·Δu`.
fn mixed(at: &[[f64; 2]; 3]) -> [f64; 2] {
    let sides = [(0, 1), (1, 2), (2, 0)];
    let each = sides.map(|(i, j)| 0.25 * (at[i][0] - at[j][0]) * (at[i][1] - at[j][1]));
    let most = 0.25 * span(at.map(|p| p[0])) * span(at.map(|p| p[1]));
    let sum = |keep: fn(f64) -> bool| each.iter().filter(|x| keep(**x)).sum::<f64>().clamp(-most, most);
    [sum(|x| x < 0.0), sum(|x| x > 0.0)]
}

/// The second derivatives along lines of this slope, in place of those along the first parameter.
fn sheared([ss, su, uu]: &[[f64; 2]; 3], slope: f64) -> [[f64; 2]; 3] {
    let times = |[a, b]: [f64; 2], x: f64| if x < 0.0 { [b * x, a * x] } else { [a * x, b * x] };
    let sum = |[a, b]: [f64; 2], [c, d]: [f64; 2]| [a + c, b + d];
    let twice = times(*su, 2.0 * slope);
    [sum(sum(*ss, twice), times(*uu, slope * slope)), sum(*su, times(*uu, slope)), *uu]
}

/// The least of the bounds along lines of some slopes, those of the sides.
fn least_apart(along: &[[f64; 2]; 3], at: &[[f64; 2]; 3]) -> f64 {
    let mut least = f64::INFINITY;
    let sides = [(0, 1), (1, 2), (2, 0)].map(|(i, j)| [0, 1].map(|k| at[j][k] - at[i][k]));
    let h = span(at.map(|p| p[0]));
    let slopes = sides.iter().filter(|[s, _]| libm::fabs(*s) > 0.3 * h).map(|[s, u]| u / s);
    for slope in slopes.chain([0.0]) {
        let moved = at.map(|[s, u]| [s, u - slope * s]);
        let w = span(moved.map(|p| p[1]));
        let own = if slope == 0.0 { *along } else { sheared(along, slope) };
        least = least.min(apart(&own, [h, w], mixed(&moved)));
    }
    least
}

/// Bound of how far a function with these second derivatives lies from the linear one through its values at the corners: at
/// `p = Σ λᵢpᵢ` that is half of `Σ λᵢ·D²f(pᵢ − p)`, taken somewhere between; the mean square of a coordinate's spread is at
/// most a quarter of the square of its stretch.
pub(super) fn apart(along: &[[f64; 2]; 3], [h, w]: [f64; 2], mixed: [f64; 2]) -> f64 {
    let [ss, su, uu] = along;
    let (hh, ww, hw) = (0.25 * h * h, 0.25 * w * w, 0.25 * h * w);
    let (middle, spread) = (0.5 * (su[0] + su[1]), 0.5 * (su[1] - su[0]));
    let turned = mixed.map(|m| 2.0 * middle * m);
    let rest = 2.0 * spread * hw;
    let over = hh * ss[1].max(0.0) + ww * uu[1].max(0.0) + turned[0].max(turned[1]).max(0.0) + rest;
    let under = hh * (-ss[0]).max(0.0) + ww * (-uu[0]).max(0.0) - turned[0].min(turned[1]).min(0.0) + rest;
    0.5 * over.max(under)
}

impl Triangle {
    /// Out of its plane, not of length 1.
    pub fn normal(&self) -> Point3 {
        let [a, b, c] = &self.points;
        cross(minus(b, a), minus(c, a))
    }

    /// Bound of how far the surface lies from this triangle and those around it, mm.
    ///
    /// Let `T` be the linear map from parameters onto the triangle, and `S − T` have at most `out` along the plane's normal and
    /// `along` in the plane. The mesh around, seen from that plane, is the graph of a function no steeper than the tangent of
    /// the turn, and it is 0 at `T(p)`: so under `S(p)` it lies within `out + along·tan(turn)`.
    ///
    /// That is if `S(p)` does not lie past a sharp edge of the face. On the edge `S` lies within `edge` from its chord. With `q`
    /// half of the greatest second derivative over the triangle, and a share `μ` of the way from the chord to the third corner,
    /// which lies `height` from it, `S` gets past the chord only where `edge − μ(height − q) > 0`; by then it has come out of
    /// the plane by no more than `μ·qₙ`, so it lies within `edge + edge·qₙ/(height − q)` of the chord.
    ///
    /// Or else the whole of `S − T` bounds it.
    pub fn off(&self, net: &Net, around: &Around) -> f64 {
        let normal = self.normal();
        let double = size(&normal);
        let n = normal.map(|x| x / double.max(f64::MIN_POSITIVE));
        let [a, b, c] = &self.points;
        let sides = [minus(b, a), minus(c, b), minus(a, c)];
        let lengths = sides.map(|s| size(&s));
        let longest = (0..3).max_by(|i, j| lengths[*i].total_cmp(&lengths[*j])).unwrap_or(0);
        let first = sides[longest].map(|x| x / lengths[longest].max(f64::MIN_POSITIVE));
        let range = net.range(&self.at, &[n, first, cross(n, first)]);
        let (h, w) = (span(self.at.map(|p| p[0])), span(self.at.map(|p| p[1])));
        let [ss, su, uu] = range.size;
        let half = 0.5 * (h * h * ss + 2.0 * h * w * su + w * w * uu);
        let whole = 0.25 * half;
        let [out, one, other] = range.along.map(|d| least_apart(&d, &self.at));
        let along = libm::hypot(one, other).min(whole);
        let lowest = double / lengths[longest].max(f64::MIN_POSITIVE);
        if around.turn > 1.0 || along > lowest {
            return whole;
        }
        let mut found = out + along * libm::tan(around.turn);
        let most = |[low, high]: [f64; 2]| high.max(-low);
        let out_half = {
            let [ss, su, uu] = range.along[0].map(most);
            0.5 * (h * h * ss + 2.0 * h * w * su + w * w * uu)
        };
        for (edge, length) in around.edges.iter().zip(lengths) {
            let Some(edge) = edge else { continue };
            let room = double / length - half;
            if room <= 0.0 {
                return whole;
            }
            found = found.max(edge + edge * out_half / room);
        }
        found.min(whole)
    }
}

/// Whether the diagonal of a cell from its first corner to the third leaves the surface less far off than the other one.
pub(super) fn straight_on(range: &Range<1>, [a, b, c, d]: [[f64; 2]; 4]) -> bool {
    let off = |one: [[f64; 2]; 3], other: [[f64; 2]; 3]| {
        least_apart(&range.along[0], &one).max(least_apart(&range.along[0], &other))
    };
    off([a, d, c], [a, c, b]) <= off([a, d, b], [d, c, b])
}
