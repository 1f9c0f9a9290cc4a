//! How far a spline surface lies from triangles of it.

use super::bezier::{minus, size};
use super::patches::Patches;
use super::patches::{cross, dot};
use super::strips::Strips;
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

/// The greatest of `a·λ₁λ₂ + b·λ₂λ₃ + c·λ₃λ₁` over shares that are none below nought.
fn greatest([a, b, c]: [f64; 3]) -> f64 {
    let on_side = 0.25 * a.max(b).max(c).max(0.0);
    // Where it is greatest inside all three of these are more than nought.
    let shares = [b * (a + c - b), c * (a + b - c), a * (b + c - a)];
    let whole: f64 = shares.iter().sum();
    if shares.iter().any(|s| *s <= 0.0) || whole <= 0.0 || a <= 0.0 {
        return on_side;
    }
    let [x, y, z] = shares.map(|s| s / whole);
    (a * x * y + b * y * z + c * z * x).max(on_side)
}

/// How far a function lies at most from the linear one through its values at the corners, by its second derivative over each side.
pub(super) fn greatest_either(each: [f64; 3]) -> f64 {
    0.5 * greatest(each).max(greatest(each.map(|x| 0.0 - x)))
}

/// Bound of how far a function with these second derivatives lies from the linear one through its values at the corners: at
/// `p = Σ λᵢpᵢ` that is half of `Σ λᵢ·D²f(pᵢ − p)`, taken somewhere between. With one `D²f` for all it is half of the sum over
/// sides of `λᵢλⱼ·D²f(pᵢ − pⱼ)`; and as the mean square of a coordinate's spread is at most a quarter of the square of its
/// stretch, what `D²f` differs by adds no more than an eighth of itself along both stretches.
fn apart(along: &[[f64; 2]; 3], at: &[[f64; 2]; 3]) -> f64 {
    let [ss, su, uu] = along.map(|[low, high]| 0.5 * (low + high));
    let [es, em, eu] = along.map(|[low, high]| 0.5 * (high - low));
    let each = SIDES.map(|(i, j)| {
        let [s, u] = [0, 1].map(|k| at[j][k] - at[i][k]);
        s * s * ss + 2.0 * s * u * su + u * u * uu
    });
    let [h, w] = [0, 1].map(|k| span(at.map(|p| p[k])));
    let rest = 0.125 * (h * h * es + 2.0 * h * w * em + w * w * eu);
    greatest_either(each) + rest
}

/// The sides, by the places of their corners, in order.
pub(super) const SIDES: [(usize, usize); 3] = [(0, 1), (1, 2), (2, 0)];

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

    /// Least and greatest of each parameter.
    pub fn reach(&self) -> [[f64; 2]; 2] {
        [0, 1].map(|k| {
            let [a, b, c] = self.at.map(|p| p[k]);
            [a.min(b).min(c), a.max(b).max(c)]
        })
    }

    fn sides(&self) -> [Point3; 3] {
        let [a, b, c] = &self.points;
        [minus(b, a), minus(c, b), minus(a, c)]
    }

    /// How far the surface lies from it.
    pub fn deviation(&self, patches: &Patches, strips: &Strips) -> Deviation {
        let normal = self.normal();
        let double = size(&normal);
        let n = normal.map(|x| x / double.max(f64::MIN_POSITIVE));
        let range = strips.range(patches, self.reach(), &[n]);
        let (h, w) = (span(self.at.map(|p| p[0])), span(self.at.map(|p| p[1])));
        let [ss, su, uu] = range.size;
        let whole = 0.125 * (h * h * ss + 2.0 * h * w * su + w * w * uu);
        let leaves = SIDES.map(|(i, j)| {
            let [h, w] = [0, 1].map(|k| self.at[j][k] - self.at[i][k]);
            let [ss, su, uu] = range.along[0].map(|[low, high]| 0.5 * (low + high));
            let own = libm::fabs(h * h * ss + 2.0 * h * w * su + w * w * uu);
            let [es, em, eu] = [0, 1, 2].map(|k| {
                let [low, high] = range.along[0][k];
                0.5 * (high - low) + IN_PLANE * range.size[k]
            });
            own + h * h * es + 2.0 * libm::fabs(h * w) * em + w * w * eu
        });
        let worst = (1..3).fold(0, |best, k| if leaves[k] > leaves[best] { k } else { best });
        Deviation {
            out: apart(&range.along[0], &self.at).min(whole),
            along: whole,
            whole,
            worst,
            refined: false,
        }
    }
}

impl Deviation {
    /// Of a triangle of a plane.
    pub const NONE: Self = Self { out: 0.0, along: 0.0, whole: 0.0, worst: 0, refined: true };

    /// Of one that lies off by so much, by the side from this corner on.
    pub fn by_side(off: f64, worst: usize) -> Self {
        Self { out: off, along: 0.0, whole: off, worst, refined: true }
    }

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

    /// Whether it may turn out within so much once it is measured more closely.
    pub fn may_be(&self, chord: f64) -> bool {
        self.out <= chord
    }

    /// Measures in the plane along two directions, which tells more than sizes do.
    pub fn refine(&mut self, patches: &Patches, strips: &Strips, triangle: &Triangle) {
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
        let range = strips.range(patches, triangle.reach(), &[first, cross(n, first)]);
        let [one, other] = range.along.map(|d| apart(&d, &triangle.at));
        self.along = libm::hypot(one, other).min(self.whole);
    }
}
