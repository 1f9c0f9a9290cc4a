//! How far a spline surface lies from triangles of it.

use super::bending::Range;
use super::bezier::{minus, size};
use super::grid::Net;
use super::patches::{cross, dot};
use crate::solid::Point3;

/// How much what lies in the plane counts in choosing the side to halve.
const IN_PLANE: f64 = 0.1;

/// The corners of a triangle of a face.
pub(super) struct Triangle {
    pub at: [[f64; 2]; 3],
    pub points: [Point3; 3],
}

/// What is known of the triangles that share a corner with one.
#[derive(Clone, Copy)]
pub(super) struct Around {
    /// The most that their planes turn away from its own.
    pub turn: f64,
    /// The least height of any of them.
    pub lowest: f64,
    /// Whether a corner of it lies on an edge over which the faces do not go on smoothly.
    pub sharp: bool,
}

impl Around {
    pub const NONE: Self = Self { turn: 0.0, lowest: f64::INFINITY, sharp: false };

    /// Of both.
    pub fn with(&self, other: &Self) -> Self {
        Self {
            turn: self.turn.max(other.turn),
            lowest: self.lowest.min(other.lowest),
            sharp: self.sharp || other.sharp,
        }
    }

    /// Whether what holds for these holds for others.
    pub fn covers(&self, other: &Self) -> bool {
        other.turn <= self.turn && other.lowest >= self.lowest && (self.sharp || !other.sharp)
    }
}

/// How far a surface lies from a triangle.
#[derive(Clone)]
pub(super) struct Deviation {
    /// Out of the triangle's plane.
    out: f64,
    /// In it.
    along: f64,
    /// At all.
    whole: f64,
    /// The side that the surface leaves most, from this corner on.
    pub worst: usize,
    refined: bool,
}

/// The angle whose chord this is, or a little more.
pub(super) fn angle(chord: f64) -> f64 {
    // 2·asin(½x) = x + x³/24 + 3x⁵/640 + …, all terms of which are positive.
    if chord < 0.5 {
        chord + 0.0443 * chord * chord * chord
    } else {
        2.0 * libm::asin((0.5 * chord).min(1.0))
    }
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
    let sum = |keep: fn(f64) -> bool| each.iter().filter(|x| keep(**x)).sum::<f64>().max(-most).min(most);
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

    /// The length of its longest side.
    pub fn longest(&self) -> f64 {
        let [a, b, c] = self.sides().map(|s| dot(s, s));
        libm::sqrt(a.max(b).max(c))
    }

    fn sides(&self) -> [Point3; 3] {
        let [a, b, c] = &self.points;
        [minus(b, a), minus(c, b), minus(a, c)]
    }

    /// How far the surface lies from it.
    pub fn deviation(&self, net: &Net) -> Deviation {
        let normal = self.normal();
        let double = size(&normal);
        let n = normal.map(|x| x / double.max(f64::MIN_POSITIVE));
        let range = net.range(&self.at, &[n]);
        let (h, w) = (span(self.at.map(|p| p[0])), span(self.at.map(|p| p[1])));
        let [ss, su, uu] = range.size;
        let whole = 0.125 * (h * h * ss + 2.0 * h * w * su + w * w * uu);
        let most = range.along[0].map(|[low, high]| high.max(-low));
        let leaves = [(0, 1), (1, 2), (2, 0)].map(|(i, j)| {
            let [h, w] = [0, 1].map(|k| libm::fabs(self.at[i][k] - self.at[j][k]));
            let each = [0, 1, 2].map(|k| most[k] + IN_PLANE * range.size[k]);
            h * h * each[0] + 2.0 * h * w * each[1] + w * w * each[2]
        });
        let worst = (1..3).fold(0, |best, k| if leaves[k] > leaves[best] { k } else { best });
        Deviation {
            out: least_apart(&range.along[0], &self.at).min(whole),
            along: whole,
            whole,
            worst,
            refined: false,
        }
    }
}

impl Deviation {
    /// Bound of how far the surface lies from this triangle and those that share a corner with it.
    ///
    /// Let `T` be the linear map from parameters onto the triangle, and `S − T` have at most `out` along the plane's normal and
    /// `along` in the plane. Seen from that plane the triangles around, which turn away from it by no more than `turn`, are the
    /// graph of a function no steeper than the tangent of that, and it is 0 at `T(p)`: so under `S(p)` it lies within
    /// `out + along·tan(turn)`, if what lies under `S(p)` is one of them.
    ///
    /// It is, if no corner lies on a sharp edge and `along` is no more than the least height of any of them as seen from the
    /// plane, which shrinks it by no more than the cosine of the turn. For let `φ` be 1 at the three corners and 0 at all others,
    /// linear over each triangle: on the way from `T(p)`, where it is 1, to under `S(p)` it falls by no more than the way's length
    /// over the least height, and only where it is 0 does the way leave the triangles around.
    ///
    /// Or else the size of `S − T` itself bounds it.
    pub fn off(&self, around: &Around) -> f64 {
        let whole = self.whole.min(libm::hypot(self.out, self.along));
        let leaves = self.along > around.lowest * libm::cos(around.turn.min(1.0));
        if around.sharp || around.turn > 1.0 || leaves {
            return whole;
        }
        (self.out + self.along * libm::tan(around.turn)).min(whole)
    }

    /// Measures in the plane along two directions, which tells more than sizes do.
    pub fn refine(&mut self, net: &Net, triangle: &Triangle) {
        if core::mem::replace(&mut self.refined, true) {
            return;
        }
        let normal = triangle.normal();
        let double = size(&normal).max(f64::MIN_POSITIVE);
        let n = normal.map(|x| x / double);
        let sides = triangle.sides();
        let length = sides.map(|s| dot(s, s));
        let longest = (1..3).fold(0, |best, k| if length[k] > length[best] { k } else { best });
        let first = sides[longest].map(|x| x / libm::sqrt(length[longest]).max(f64::MIN_POSITIVE));
        let range = net.range(&triangle.at, &[first, cross(n, first)]);
        let [one, other] = range.along.map(|d| least_apart(&d, &triangle.at));
        self.along = libm::hypot(one, other).min(self.whole);
    }
}

/// Whether the diagonal of a cell from its first corner to the third leaves the surface less far off than the other one.
pub(super) fn straight_on(range: &Range<1>, [a, b, c, d]: [[f64; 2]; 4]) -> bool {
    let off = |one: [[f64; 2]; 3], other: [[f64; 2]; 3]| {
        least_apart(&range.along[0], &one).max(least_apart(&range.along[0], &other))
    };
    off([a, d, c], [a, c, b]) <= off([a, d, b], [d, c, b])
}
