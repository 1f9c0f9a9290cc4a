//! The volume within a solid's faces, from its surfaces and edges alone: by Gauss's theorem it is the integral of `z` over the
//! plan of each face, and that, by Green's, one of `∫z dy` along the face's edges. Surfaces of the neck have the station as their
//! first parameter.

use neckwright::solid::{Curve, Face, Knots, Point3, Solid, SplineSurface, Surface};

type Nodes = [(f64, f64)];

/// The point of a spline at a parameter, by de Boor's rule; its poles are of any dimension.
fn blossom<const N: usize>(knots: &Knots, t: f64, poles: &dyn Fn(usize) -> [f64; N]) -> [f64; N] {
    let (flat, n) = (knots.flat(), knots.degree);
    let span = flat.partition_point(|k| *k <= t).saturating_sub(1).clamp(n, flat.len() - n - 2);
    let mut d: Vec<[f64; N]> = (0..=n).map(|j| poles(span - n + j)).collect();
    for r in 1..=n {
        for j in (r..=n).rev() {
            let i = span - n + j;
            let share = (t - flat[i]) / (flat[i + n + 1 - r] - flat[i]);
            d[j] = core::array::from_fn(|k| (1.0 - share) * d[j - 1][k] + share * d[j][k]);
        }
    }
    d[n]
}

/// The line of a spline surface at a station: a Bézier whose poles are `[y·w, z·w, w]`.
pub struct Line(Vec<Point3>);

impl Line {
    pub fn new(surface: &SplineSurface, x: f64) -> Self {
        let pole = |k: usize| {
            blossom(&surface.knots[0], x, &|i| {
                let w = surface.weights.as_ref().map_or(1.0, |w| w[i][k]);
                let p = surface.poles[i][k];
                [p[1] * w, p[2] * w, w]
            })
        };
        Self((0..=surface.knots[1].degree).map(pole).collect())
    }

    fn eval(poles: &[Point3], u: f64) -> Point3 {
        let mut d: [Point3; 4] = core::array::from_fn(|i| poles[i.min(poles.len() - 1)]);
        for n in (1..poles.len()).rev() {
            for i in 0..n {
                d[i] = core::array::from_fn(|k| (1.0 - u) * d[i][k] + u * d[i + 1][k]);
            }
        }
        d[0]
    }

    /// Place across, height, and by how much both change, by the way around from 0 to 1.
    pub fn at(&self, u: f64) -> [f64; 4] {
        let n = self.0.len() - 1;
        let first: Vec<Point3> =
            self.0.windows(2).map(|p| core::array::from_fn(|k| n as f64 * (p[1][k] - p[0][k]))).collect();
        let ([y, z, w], [dy, dz, dw]) = (Self::eval(&self.0, u), Self::eval(&first, u));
        let (y, z) = (y / w, z / w);
        [y, z, (dy - y * dw) / w, (dz - z * dw) / w]
    }

    /// The way around to a point of it.
    pub fn place(&self, p: Point3) -> f64 {
        let off = |u: f64| {
            let [y, z, ..] = self.at(u);
            libm::hypot(y - p[1], z - p[2])
        };
        let mut u = (0..=32).map(|i| f64::from(i) / 32.0).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap();
        // Where the line begins with no speed its end is hard to close in on.
        if let Some(end) = [0.0, 1.0].into_iter().find(|u| off(*u) < 1e-11) {
            return end;
        }
        for _ in 0..40 {
            let [y, z, dy, dz] = self.at(u);
            let step = ((p[1] - y) * dy + (p[2] - z) * dz) / (dy * dy + dz * dz);
            // Where a handle has no length there is no step, nor need for one.
            if step.abs() <= 1e-15 || step.is_nan() {
                break;
            }
            u = (u + step).clamp(0.0, 1.0);
        }
        u
    }
}

/// `∫z dy` on a surface at one station, from a start that is the same for all points there to one of them.
fn across(surface: &Surface, p: Point3, nodes: &Nodes) -> f64 {
    match surface {
        Surface::Plane { point, normal, .. } => {
            let z =
                |y: f64| point[2] - ((p[0] - point[0]) * normal[0] + (y - point[1]) * normal[1]) / normal[2];
            p[1] * z(0.5 * p[1])
        }
        // z = c + √(r² − y²)
        Surface::Cylinder { point, radius_mm: r, .. } => {
            let y = p[1];
            point[2] * y + 0.5 * (y * ((r - y) * (r + y)).sqrt() + r * r * libm::asin(y / r))
        }
        Surface::Spline(surface) => {
            let line = Line::new(surface, p[0]);
            let half = 0.5 * line.place(p);
            let share = |(t, w): &(f64, f64)| {
                let [_, z, dy, _] = line.at(half * (1.0 + t));
                half * w * z * dy
            };
            nodes.iter().map(share).sum()
        }
    }
}

/// Whether a surface stands upright: it is over nothing of the plan.
fn upright(surface: &Surface) -> bool {
    match surface {
        Surface::Plane { normal, .. } => normal[2].abs() < 1e-12,
        Surface::Cylinder { .. } => false,
        Surface::Spline(surface) => surface.poles.iter().all(|row| row.iter().all(|p| p[1] == row[0][1])),
    }
}

/// Points along an edge with weights that have `dx` in them, whole polynomials of the edge and of the surface at a time; none where
/// it lies across the neck.
fn along(solid: &Solid, edge: usize, surface: &Surface, nodes: &Nodes) -> Vec<(Point3, f64)> {
    let edge = &solid.edges[edge];
    let ends = edge.ends.map(|v| solid.vertices[v]);
    if ends[0][0] == ends[1][0] {
        return Vec::new();
    }
    let at = |s: f64| match &edge.curve {
        Curve::Line => {
            let t = (s - ends[0][0]) / (ends[1][0] - ends[0][0]);
            core::array::from_fn(|k| (1.0 - t) * ends[0][k] + t * ends[1][k])
        }
        Curve::Spline(curve) => {
            let [x, y, z, w] = blossom(&curve.knots, s, &|i| {
                let w = curve.weights.as_ref().map_or(1.0, |w| w[i]);
                let p = curve.poles[i];
                [p[0] * w, p[1] * w, p[2] * w, w]
            });
            [x / w, y / w, z / w]
        }
        Curve::Arc { .. } => panic!("an arc lies across the neck"),
    };
    let mut spans: Vec<f64> = match &edge.curve {
        Curve::Spline(curve) => curve.knots.values.clone(),
        _ => vec![ends[0][0], ends[1][0]],
    };
    let [from, to] = [spans[0], spans[spans.len() - 1]];
    // Conics and cuts aslant go at a pace of their own; those cuts have the surface's knots already.
    let paced = [0.3, 0.8].iter().any(|t| {
        let s = from + t * (to - from);
        (at(s)[0] - s).abs() > 1e-9
    });
    if let (false, Surface::Spline(surface)) = (paced, surface) {
        let inside = |x: &f64| (*x - from) * (*x - to) < 0.0;
        spans.extend(surface.knots[0].values.iter().copied().filter(inside));
        spans.sort_by(|a, b| ((a - from) / (to - from)).total_cmp(&((b - from) / (to - from))));
    }
    let mut all = Vec::new();
    for span in spans.windows(2) {
        let half = 0.5 * (span[1] - span[0]);
        for (t, w) in nodes {
            let s = span[0] + half * (1.0 + t);
            let d = |h: f64| (at(s + h)[0] - at(s - h)[0]) / (2.0 * h);
            let h = 2e-3 * half;
            let pace = if paced { (4.0 * d(0.5 * h) - d(h)) / 3.0 } else { 1.0 };
            if half != 0.0 {
                all.push((at(s), half * w * pace));
            }
        }
    }
    all
}

fn under(solid: &Solid, face: &Face, nodes: &Nodes) -> f64 {
    if upright(&face.surface) {
        return 0.0;
    }
    let steps = face.loops.iter().flatten();
    let of = |step: &neckwright::solid::Step| {
        let whole: f64 = along(solid, step.edge, &face.surface, nodes)
            .into_iter()
            .map(|(p, w)| w * across(&face.surface, p, nodes))
            .sum();
        if step.forward { whole } else { -whole }
    };
    // ∮P dx = −∫∫ ∂P/∂y dx dy, as seen from above.
    -steps.map(of).sum::<f64>()
}

/// The volume within a solid whose faces are graphs over the plan or upright, mm³. Loops go counter-clockwise as seen from
/// outside, so that what bounds it from below counts against what bounds it from above.
pub fn volume_mm3(solid: &Solid) -> f64 {
    let nodes = super::gauss20();
    solid.faces.iter().map(|face| under(solid, face, &nodes)).sum()
}
