//! A cutter run along the lower corners of the rough shaft.

use alloc::sync::Arc;
use alloc::vec::Vec;

use super::clearance::distance_to_side;
use super::fence::Straight;
use super::mark::Place;
use super::pass::{Cut, normal, support};
use crate::law::{Bernstein, Law};
use crate::shape::{Back, Point, Side, Sides, cubic_at};
use crate::spec::CutterShape;

/// A ball that nobody chose, mm; common practice, no source.
pub(super) const BALL_MM: f64 = 6.0;

/// The corner that a cutter is run along: the side face, the sawn back, and the shape that has to stay.
pub(super) struct Corner<'a> {
    pub side: Side,
    pub edge: &'a Law,
    pub base: Straight,
    pub target: &'a Arc<Back>,
    pub zone: [f64; 2],
}

/// What a cutter leaves standing in one section.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct CutterRow {
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// The station in words.
    pub place: alloc::string::String,
    /// The largest radius that is safe at this station on either side, mm; of a ball `None` where the back is hollow in no
    /// direction.
    pub largest_mm: Sides<Option<f64>>,
    /// Wood that is left over the finished back, square to it, at the carve line, a quarter, half and three quarters of
    /// the way around, and at the spine, mm.
    pub left_mm: Sides<[f64; 5]>,
}

/// The path of a cutter along one side, mm: `[x, y, z]` in the neck's frame, on its own hand. A guided cutter's is that of
/// its axis, upright on the back, where it meets the plane of the sawn back; a ball's that of its centre.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct CutterPath {
    /// The side that it runs along.
    pub side: Side,
    /// For a ball, the place around the section that it touches: 0 at the carve line, 1 at the spine; `None` for
    /// cutters that are guided by the faces.
    pub around: Option<f64>,
    /// Points of the path from the headstock's end to the heel's, those over the marked stations among them, no further
    /// apart than 2 mm along the neck.
    pub points_mm: Vec<[f64; 3]>,
}

/// A cutter and what it does.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct CutterFacts {
    /// Its shape.
    pub shape: CutterShape,
    /// Its radius (for a chamfer the width that it takes off either face), mm.
    pub radius_mm: f64,
    /// The largest radius that is safe over the whole run, mm. A ball's is the radius of the sharpest hollow of the back,
    /// looked for along and around, and `None` on a back without one, which a ball of any size touches in one place.
    pub largest_mm: Option<f64>,
    /// Where that limit comes from, mm from the nut.
    pub largest_x_mm: f64,
    /// On which side.
    pub largest_side: Side,
    /// Where the cutter's axis is set in and lifted out, mm from the nut: as far from the stops as its rim reaches. Of a
    /// ball the first and the last station that it touches; its centres lie beyond them on a back that rises or falls, and
    /// their rims too stay between the stops.
    pub run_mm: [f64; 2],
    /// What it leaves standing at the marked stations.
    pub rows: Vec<CutterRow>,
    /// Its paths.
    pub paths: Vec<CutterPath>,
}

impl Corner<'_> {
    fn at(&self, x: f64) -> ([Point; 4], [f64; 2]) {
        (self.target.control_points(self.side, x), [self.edge.value(x), self.base.at_mm(x)])
    }

    /// The largest radius that is safe in the section at a station.
    ///
    /// A point of the shape at distances `a` from the side face and `b` from the sawn back is just touched by the
    /// quarter round of radius `a + b + √(2ab)`, the larger root of `(R − a)² + (R − b)² = R²`; by the cove of radius
    /// `√(a² + b²)`; by the chamfer of width `a + b`. The least of these around the section is the limit.
    pub fn largest(&self, shape: CutterShape, x: f64) -> f64 {
        let (points, corner) = self.at(x);
        match shape {
            CutterShape::QuarterRound => {
                // As polynomials of their own the distances keep their digits where they run out to nothing.
                let away: Bernstein = points.iter().map(|p| corner[0] - self.side.sign() * p[0]).collect();
                let below: Bernstein = points.iter().map(|p| corner[1] + p[1]).collect();
                let touched = |u: f64| {
                    let (a, b) = (away.eval(u).max(0.0), below.eval(u).max(0.0));
                    a + b + libm::sqrt(2.0 * a * b)
                };
                least_on_unit(&touched).0
            }
            CutterShape::Cove => distance_to_side(&points, self.side, corner),
            CutterShape::Chamfer => {
                let way = core::f64::consts::FRAC_1_SQRT_2;
                let reach = support(&points, self.side, [way, way]).0;
                corner[0] + corner[1] - reach / way
            }
            CutterShape::Ball => least_on_unit(&self.hollow(x)).0,
        }
    }

    /// The radius of the shape's hollow at a station as a function of the place around it, infinite where it is hollow
    /// in no direction: from the greater eigenvalue of the second fundamental form against the first, and the curvature
    /// in the section. A ball that is no larger touches there without coming into the neighbourhood.
    fn hollow(&self, x: f64) -> impl Fn(f64) -> f64 {
        /// Beyond this a hollow is none to any ball, mm.
        const FLAT_MM: f64 = 1e4;
        let (points, side) = (self.target.control_points(self.side, x), self.side);
        let flank = self.target.flanks.of(side);
        // Place, first and second derivative along the neck, each a cubic around the section; and what each is as the place
        // around changes. It is asked for so often that plain numbers are worth it.
        let along = |laws: &[Law; 4]| {
            let values = laws.each_ref().map(|law| law.value2(x));
            [0, 1, 2].map(|k| values.map(|v| v[k]))
        };
        let turned = |c: [f64; 4]| [0, 1, 2].map(|i| 3.0 * (c[i + 1] - c[i]));
        let surface = [along(&flank.out), along(&flank.depth)];
        let first = surface.map(|s| [turned(s[0]), turned(s[1])]);
        let second = first.map(|f| [0, 1].map(|i| 2.0 * (f[0][i + 1] - f[0][i])));
        move |u| {
            let n = normal(&points, side, u);
            let s = 1.0 - u;
            let (line, square) = ([s, u], [s * s, 2.0 * s * u, u * u]);
            let cube = [s * s * s, 3.0 * s * s * u, 3.0 * s * u * u, u * u * u];
            let rise = surface.map(|c| dot(c[1], cube));
            let around = first.map(|f| dot(f[0], square));
            let climb = dot(n, rise);
            let long = libm::sqrt(1.0 + climb * climb);
            let (e, f, g) = (dot(around, around), dot(around, rise), 1.0 + dot(rise, rise));
            let bend = dot(n, second.map(|c| dot(c, line)));
            let twist = dot(n, first.map(|f| dot(f[1], square)));
            let arch = dot(n, surface.map(|c| dot(c[2], cube)));
            let (l, m, k) = (bend / long, twist / long, arch / long);
            let area = e * g - f * f;
            let mean = 0.5 * (l * g - 2.0 * m * f + k * e) / area;
            let product = (l * k - m * m) / area;
            let greatest = (mean + libm::sqrt((mean * mean - product).max(0.0))).max(bend / e);
            if greatest * FLAT_MM > 1.0 { 1.0 / greatest } else { f64::INFINITY }
        }
    }

    /// The largest radius over the whole run and where its limit comes from: looked for on every smooth stretch, then
    /// refined.
    pub fn largest_over(&self, shape: CutterShape) -> (f64, f64) {
        const MOST: usize = 40;
        const LEAST: usize = 12;
        // A stretch as short as this has no more to look at than a long one's parts, mm.
        const NEAR_MM: f64 = 2.5;
        let mut ends: Vec<f64> = self.target.spine.breaks().to_vec();
        ends.extend(self.edge.breaks());
        if shape == CutterShape::Ball {
            // Its limit is a curvature, which jumps where the laws have joints.
            let flank = self.target.flanks.of(self.side);
            ends.extend(flank.out.iter().chain(&flank.depth).flat_map(|law| law.breaks()));
        }
        ends.retain(|x| *x > self.zone[0] && *x < self.zone[1]);
        ends.extend(self.zone);
        ends.sort_by(f64::total_cmp);
        let mut best = (f64::INFINITY, self.zone[0]);
        for w in ends.windows(2).filter(|w| w[1] > w[0]) {
            let look = ((w[1] - w[0]) / NEAR_MM).clamp(LEAST as f64, MOST as f64) as usize;
            let step = (w[1] - w[0]) / look as f64;
            let at = |i: usize| if i == look { w[1] } else { w[0] + step * i as f64 };
            let seen: Vec<f64> = (0..=look).map(|i| self.largest(shape, at(i))).collect();
            for i in 0..=look {
                let before = seen.get(i.wrapping_sub(1)).copied().unwrap_or(f64::INFINITY);
                let after = seen.get(i + 1).copied().unwrap_or(f64::INFINITY);
                if seen[i] < best.0 {
                    best = (seen[i], at(i));
                }
                if seen[i] <= before && seen[i] <= after && seen[i] < best.0 + 0.1 {
                    let (from, to) = (at(i.saturating_sub(1)), at((i + 1).min(look)));
                    let x = self.narrowest(shape, at(i), from, to);
                    let value = self.largest(shape, x);
                    if value < best.0 {
                        best = (value, x);
                    }
                }
            }
        }
        best
    }

    /// Between two stations the one where the radius that is safe is least; of a ball, whose limit is dear to look for, near
    /// the place around that limits it at a station between them.
    fn narrowest(&self, shape: CutterShape, at: f64, from: f64, to: f64) -> f64 {
        const NEAR: f64 = 1.0 / 32.0;
        if shape != CutterShape::Ball {
            return valley(&|x| self.largest(shape, x), from, to);
        }
        let u = least_on_unit(&self.hollow(at)).1;
        let (a, b) = ((u - NEAR).max(0.0), (u + NEAR).min(1.0));
        let near = |x: f64| {
            let hollow = self.hollow(x);
            hollow(a).min(hollow(b)).min(hollow(valley(&hollow, a, b)))
        };
        valley(&near, from, to)
    }

    /// The most that the shape rises or falls along the neck, as a slope: how fast its control points move, of which every
    /// point of the surface is a mean.
    pub fn steepest(&self) -> f64 {
        let flank = self.target.flanks.of(self.side);
        let [from, to] = self.zone;
        let slope = |law: &Law| {
            let part = law.restricted(from, to);
            let pieces = part.iter().flat_map(|law| law.pieces().iter().zip(law.breaks().windows(2)));
            let of_piece = |(piece, x): (&Bernstein, &[f64])| {
                let rise = piece.derivative().coefs().iter().map(|c| libm::fabs(*c)).fold(0.0, f64::max);
                rise / (x[1] - x[0])
            };
            pieces.map(of_piece).fold(0.0, f64::max)
        };
        let most = |laws: &[Law; 4]| laws.iter().map(slope).fold(0.0, f64::max);
        libm::hypot(most(&flank.out), most(&flank.depth))
    }

    /// The cuts of a cutter along this corner.
    pub fn cuts(&self, shape: CutterShape, radius: f64, paths: u32) -> Vec<Cut> {
        let (side, edge, base) = (self.side, self.edge.clone(), self.base);
        match shape {
            CutterShape::QuarterRound => alloc::vec![Cut::Round { side, radius, edge, base }],
            CutterShape::Cove => alloc::vec![Cut::Cove { side, radius, edge, base }],
            CutterShape::Chamfer => alloc::vec![Cut::Chamfer { side, width: radius, edge, base }],
            CutterShape::Ball => {
                let even = |i: u32| f64::from(i) / f64::from(paths - 1);
                (0..paths)
                    .map(|i| Cut::Ball { side, radius, around: even(i), back: Arc::clone(self.target) })
                    .collect()
            }
        }
    }

    /// What is left over a back's side at a station, square to it, at five places around: to the first of the cuts and
    /// the faces that the line square to the back meets.
    pub fn left(&self, finished: &Back, cuts: &[Cut], x: f64) -> [f64; 5] {
        let points = finished.control_points(self.side, x);
        let corner = [self.edge.value(x), self.base.at_mm(x)];
        [0.0, 0.25, 0.5, 0.75, 1.0].map(|u| {
            let [y, z] = cubic_at(points, u);
            let from = [self.side.sign() * y, -z];
            let way = normal(&points, self.side, u);
            let face = |k: usize| if way[k] > 1e-12 { (corner[k] - from[k]) / way[k] } else { f64::INFINITY };
            let cuts = cuts.iter().map(|f| self.out_to(f, x, from, way));
            cuts.fold(face(0).min(face(1)), f64::min).max(0.0)
        })
    }

    /// How far it is from a point in a direction to where a cut begins.
    fn out_to(&self, cut: &Cut, x: f64, from: [f64; 2], way: [f64; 2]) -> f64 {
        let circle = |centre: [f64; 2], radius: f64| {
            let d = [from[0] - centre[0], from[1] - centre[1]];
            let (b, c) = (d[0] * way[0] + d[1] * way[1], d[0] * d[0] + d[1] * d[1] - radius * radius);
            (b, b * b - c)
        };
        match cut {
            Cut::Round { radius, edge, base, .. } => {
                let centre = [edge.value(x) - radius, base.at_mm(x) - radius];
                let (b, root) = circle(centre, *radius);
                if root < 0.0 {
                    return f64::INFINITY;
                }
                let t = libm::sqrt(root) - b;
                let beyond = (0..2).all(|k| from[k] + t * way[k] >= centre[k]);
                if beyond { t } else { f64::INFINITY }
            }
            Cut::Cove { .. } | Cut::Ball { .. } => {
                let super::limit::Limit::Hollow { centre, radius } = cut.limit(x) else {
                    return f64::INFINITY;
                };
                let centre = [self.side.sign() * centre[0], centre[1]];
                let (b, root) = circle(centre, radius);
                let hollow = if root < 0.0 || b > 0.0 { f64::INFINITY } else { -b - libm::sqrt(root) };
                // Below the centre the cutter's body has taken the wood as wide.
                let near = centre[0] - libm::copysign(radius, way[0]);
                let t = (near - from[0]) / way[0];
                let body = t >= 0.0 && from[1] + t * way[1] >= centre[1];
                if body { hollow.min(t) } else { hollow }
            }
            Cut::Chamfer { width, edge, base, .. } => {
                let turn = way[0] + way[1];
                let gap = edge.value(x) + base.at_mm(x) - width - from[0] - from[1];
                if turn > 0.0 { gap / turn } else { f64::INFINITY }
            }
            // These are no cutter's.
            Cut::Plane { .. } | Cut::Following { .. } => f64::INFINITY,
        }
    }

    /// The paths of the cutter: of a guided one's axis, where it meets the plane of the sawn back; of a ball's centre.
    pub fn paths(&self, bearing: f64, cuts: &[Cut], stations: &[f64], hand: f64) -> Vec<CutterPath> {
        let sign = self.side.sign();
        let path = |around: Option<f64>, at: &dyn Fn(f64) -> [f64; 3]| CutterPath {
            side: self.side,
            around,
            points_mm: stations
                .iter()
                .map(|x| {
                    let [x, out, depth] = at(*x);
                    [x, hand * sign * out, -depth]
                })
                .collect(),
        };
        let balls = cuts.iter().filter_map(|cut| match cut {
            Cut::Ball { around, radius, back, .. } => Some((*around, *radius, back)),
            _ => None,
        });
        let mut all: Vec<CutterPath> =
            balls.map(|(u, r, back)| path(Some(u), &|x| self.ball_centre(back, x, u, r))).collect();
        if all.is_empty() {
            all.push(path(None, &|x| [x, self.edge.value(x) + bearing, self.base.at_mm(x)]));
        }
        all
    }

    /// Centre `[x, out, depth]` of a ball that touches a back at a place around the section, square to it in space: on
    /// a back that rises along the neck the centre lies at another station than the place it touches.
    fn ball_centre(&self, back: &Back, x: f64, around: f64, radius: f64) -> [f64; 3] {
        let points = back.control_points(self.side, x);
        let flank = back.flanks.of(self.side);
        let rise =
            |laws: &[Law; 4]| laws.iter().map(|law| law.value2(x)[1]).collect::<Bernstein>().eval(around);
        let [y, z] = cubic_at(points, around);
        let [out, down] = normal(&points, self.side, around);
        let along = out * rise(&flank.out) + down * rise(&flank.depth);
        let off = radius / libm::sqrt(1.0 + along * along);
        [x - off * along, self.side.sign() * y + off * out, off * down - z]
    }
}

/// The farthest that neighbouring points of a path lie apart along the neck, mm.
const STEP_MM: f64 = 2.0;

/// The stations of a path: the marked ones and enough between them.
pub(super) fn path_stations(places: &[Place]) -> Vec<f64> {
    let mut all = Vec::new();
    for w in places.windows(2) {
        let n = libm::ceil((w[1].x - w[0].x) / STEP_MM).clamp(1.0, 4096.0) as usize;
        all.extend((0..n).map(|i| w[0].x + (w[1].x - w[0].x) * i as f64 / n as f64));
    }
    all.extend(places.last().map(|p| p.x));
    all
}

/// How far a cutter's rim reaches along the neck beyond its axis: a ball's radius; of a guided cutter, whose axis runs half
/// the bearing outside the side face, half the chord that its greatest circle cuts off there.
pub(super) fn reach_along(shape: CutterShape, radius: f64, bearing: f64) -> f64 {
    match shape {
        CutterShape::Ball => radius,
        _ => libm::sqrt(radius * (radius + 2.0 * bearing)),
    }
}

fn dot<const N: usize>(a: [f64; N], b: [f64; N]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The least of a function over the unit interval and where: looked for at many places, then refined.
fn least_on_unit(f: &dyn Fn(f64) -> f64) -> (f64, f64) {
    const LOOK: u32 = 64;
    let at = |i: u32| f64::from(i) / f64::from(LOOK);
    let seen: Vec<f64> = (0..=LOOK).map(|i| f(at(i))).collect();
    let mut best = (f64::INFINITY, 0.0);
    let mut take = |u: f64, value: f64| {
        if value < best.0 {
            best = (value, u);
        }
    };
    for i in 0..=LOOK {
        let here = seen[i as usize];
        take(at(i), here);
        let before = i == 0 || seen[i as usize - 1] >= here;
        let after = i == LOOK || seen[i as usize + 1] >= here;
        // Where it is infinite all around there is nothing to refine.
        if before && after && here.is_finite() {
            let u = valley(f, at(i.saturating_sub(1)), at((i + 1).min(LOOK)));
            take(u, f(u));
        }
    }
    best
}

/// Where a function is least between two places, by golden sections.
fn valley(f: &dyn Fn(f64) -> f64, from: f64, to: f64) -> f64 {
    super::fence::peak(&|x| -f(x), from, to)
}
