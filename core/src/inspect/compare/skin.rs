//! One section of a neck's skin: the back, and both flat sides carried straight on upward; the nearest place on it.

use crate::law::Bernstein;
use crate::shape::{Neck, Point, Side, Sides, cubic_at};

/// The skin in one section, right-handed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Skin {
    /// The back's control points, from the carve line to the spine.
    pub back: Sides<[Point; 4]>,
}

/// Which part of the skin a place is on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum On {
    /// The back, at this place of the side's cubic.
    Back(f64),
    /// The flat side.
    Flat,
}

/// The nearest place of a skin.
#[derive(Clone, Copy, Debug)]
pub(super) struct Foot {
    pub distance: f64,
    pub at: Point,
    pub side: Side,
    pub on: On,
}

fn apart(a: Point, b: Point) -> f64 {
    libm::sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]))
}

/// A point is no nearer to a curve than to the box around its control points.
fn box_distance(p: Point, curve: &[Point; 4]) -> f64 {
    let beyond = |k: usize| {
        let (low, high) = curve
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), q| (low.min(q[k]), high.max(q[k])));
        (low - p[k]).max(p[k] - high).max(0.0)
    };
    let (y, z) = (beyond(0), beyond(1));
    libm::sqrt(y * y + z * z)
}

/// Places of a cubic where a point may be nearest to it: its ends, and the roots of `(B − p)·B'`, which is of degree 5.
fn nearest_of(p: Point, curve: &[Point; 4]) -> (f64, f64) {
    let [y, z] = [0, 1].map(|k| curve.iter().map(|q| q[k] - p[k]).collect::<Bernstein>());
    let foot = y.times(&y.derivative()).plus(&z.times(&z.derivative()));
    let places = [0.0, 1.0].into_iter().chain(foot.roots());
    let all = places.map(|v| (apart(cubic_at(*curve, v), p), v));
    all.fold((f64::INFINITY, 0.0), |best, next| if next.0 < best.0 { next } else { best })
}

impl Skin {
    /// The skin of a neck at a station of its wood.
    pub fn of(neck: &Neck, x: f64) -> Self {
        Self { back: Sides::each(|side| neck.built().back.control_points(side, x)) }
    }

    /// The place nearest to a point.
    pub fn nearest(&self, p: Point) -> Foot {
        let mut best = Foot { distance: f64::INFINITY, at: p, side: Side::Bass, on: On::Flat };
        let mut take = |foot: Foot| {
            if foot.distance < best.distance {
                best = foot;
            }
            best.distance
        };
        let near = if p[0] < 0.0 { Side::Bass } else { Side::Treble };
        let far = if p[0] < 0.0 { Side::Treble } else { Side::Bass };
        for side in [near, far] {
            let curve = self.back.of(side);
            let so_far = take(Foot { distance: f64::INFINITY, at: p, side, on: On::Flat });
            if box_distance(p, curve) < so_far {
                let (distance, v) = nearest_of(p, curve);
                take(Foot { distance, at: cubic_at(*curve, v), side, on: On::Back(v) });
            }
            // The lower end of the flat side is the carve line, which belongs to the back.
            let foot = [curve[0][0], p[1].max(curve[0][1])];
            if foot[1] > curve[0][1] {
                take(Foot { distance: apart(foot, p), at: foot, side, on: On::Flat });
            }
        }
        best
    }

    /// Whether a point lies outside of the skin, told at its nearest place.
    pub fn outside(&self, p: Point, foot: &Foot) -> bool {
        let away = [p[0] - foot.at[0], p[1] - foot.at[1]];
        let curve = self.back.of(foot.side);
        let outward = match foot.on {
            On::Flat => [foot.side.sign(), 0.0],
            // Right of the way from the carve line to the spine on the treble side is where the wood is.
            On::Back(v) => {
                let (a, b) = ((v - 1e-6).max(0.0), (v + 1e-6).min(1.0));
                let (a, b) = (cubic_at(*curve, a), cubic_at(*curve, b));
                [foot.side.sign() * (a[1] - b[1]), foot.side.sign() * (b[0] - a[0])]
            }
        };
        // At the carve line an edge may stand out: what is beside it or above is told by the flat side too.
        let beside = foot.side.sign() * away[0] > 0.0 && foot.on == On::Back(0.0);
        beside || away[0] * outward[0] + away[1] * outward[1] > 0.0
    }
}
