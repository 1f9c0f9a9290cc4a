//! Courses of edges: their curves, and their ways through the parameters of the faces beside them.

use alloc::vec::Vec;

use super::bezier::{Pieces, bend, minus, rational_bend, size, unweighted, weighted};
use super::patches::{Patches, cross, dot};
use crate::solid::{Curve, Edge, Face, Point3, Solid};

/// An edge's curve, ready to be evaluated.
pub(super) enum Course {
    Line([Point3; 2]),
    /// Centre, two directions square to each other, radius and the angle gone round.
    Arc {
        centre: Point3,
        first: Point3,
        second: Point3,
        radius: f64,
        angle: f64,
    },
    Spline(Pieces<4>),
}

impl Course {
    pub fn new(solid: &Solid, edge: &Edge) -> Self {
        let ends = edge.ends.map(|v| solid.vertices[v]);
        match &edge.curve {
            Curve::Line => Self::Line(ends),
            Curve::Arc { centre, axis, radius_mm } => {
                let first = minus(&ends[0], centre).map(|x| x / radius_mm);
                let second = cross(*axis, first);
                let to = minus(&ends[1], centre);
                let angle = libm::atan2(dot(to, second), dot(to, first));
                let angle = if angle <= 0.0 { angle + core::f64::consts::TAU } else { angle };
                Self::Arc { centre: *centre, first, second, radius: *radius_mm, angle }
            }
            Curve::Spline(spline) => Self::Spline(Pieces::new(&spline.knots, &weighted(spline))),
        }
    }

    pub fn is_line(&self) -> bool {
        matches!(self, Self::Line(_))
    }

    pub fn reach(&self) -> [f64; 2] {
        match self {
            Self::Spline(pieces) => [pieces.knots[0], pieces.knots[pieces.knots.len() - 1]],
            _ => [0.0, 1.0],
        }
    }

    pub fn at(&self, t: f64) -> Point3 {
        match self {
            Self::Line([a, b]) => [0, 1, 2].map(|k| a[k] + t * (b[k] - a[k])),
            Self::Arc { centre, first, second, radius, angle } => {
                let (sin, cos) = libm::sincos(t * angle);
                [0, 1, 2].map(|k| centre[k] + radius * (cos * first[k] + sin * second[k]))
            }
            Self::Spline(pieces) => unweighted(pieces.at(t)),
        }
    }

    /// Parts of a stretch with bounds of the second derivative, by the curve's parameter, over each.
    pub fn bends(&self, [from, to]: [f64; 2], finer: usize) -> Vec<([f64; 2], f64)> {
        match self {
            Self::Line(_) => Vec::new(),
            Self::Arc { radius, angle, .. } => [([from, to], radius * angle * angle)].into(),
            Self::Spline(pieces) => {
                let mut found = Vec::new();
                let mut at = from;
                for (length, of, row) in pieces.within([from, to]) {
                    let whole = length / finer as f64;
                    let scale = if of > length { of } else { whole };
                    for i in 0..finer {
                        let own = if finer == 1 || of > length {
                            rational_bend(&row)
                        } else {
                            let ends = [i, i + 1].map(|k| k as f64 / finer as f64);
                            rational_bend(&super::bezier::part(&row, ends))
                        };
                        found.push((
                            [at + whole * i as f64, at + whole * (i + 1) as f64],
                            own / (scale * scale),
                        ));
                    }
                    at += length;
                }
                found
            }
        }
    }

    /// Parameters at which its direction changes at once.
    pub fn creases(&self) -> Vec<f64> {
        let Self::Spline(pieces) = self else { return Vec::new() };
        let turn = |i: &usize| {
            let (a, b) = (&pieces.rows[*i - 1], &pieces.rows[*i]);
            let k = &pieces.knots;
            let (da, db) = (minus(&a[a.len() - 1], &a[a.len() - 2]), minus(&b[1], &b[0]));
            let (na, nb) =
                ((a.len() - 1) as f64 / (k[*i] - k[*i - 1]), (b.len() - 1) as f64 / (k[*i + 1] - k[*i]));
            let off = [0, 1, 2].map(|j| na * da[j] - nb * db[j]);
            size(&off) > 1e-6 * (na * size(&da))
        };
        (1..pieces.rows.len()).filter(turn).map(|i| pieces.knots[i]).collect()
    }

    /// Parameters between which nothing about it is likely to turn.
    pub fn samples(&self) -> Vec<f64> {
        let (knots, each) = match self {
            Self::Spline(pieces) => (pieces.knots.clone(), if pieces.rows.len() > 8 { 2 } else { 8 }),
            _ => ([0.0, 1.0].into(), 16),
        };
        let mut found: Vec<f64> = Vec::with_capacity(each * knots.len());
        for w in knots.windows(2) {
            found.extend((0..each).map(|i| w[0] + (w[1] - w[0]) * i as f64 / each as f64));
        }
        found.push(knots[knots.len() - 1]);
        found
    }
}

/// An edge's way through the parameters of one face's surface.
pub(super) enum Way {
    /// Straight, by the curve's parameter.
    Straight([[f64; 2]; 2]),
    /// Its trace.
    Trace(Pieces<2>),
    /// Along an isoline, at places that are looked for.
    Found([[f64; 2]; 2]),
}

/// How far off a straight way may be for it to be one, mm.
const STRAIGHT_MM: f64 = 1e-9;

impl Way {
    /// The way along a spline face.
    pub fn new(face: &Face, patches: &Patches, edge: usize, course: &Course) -> Self {
        if let Some(trace) = face.traces.iter().find(|t| t.edge == edge) {
            return Self::Trace(Pieces::new(&trace.knots, &trace.poles));
        }
        let reach = course.reach();
        let [mut a, mut b] = reach.map(|t| patches.found(course.at(t)));
        // It follows an isoline, so one of the two stays as it is.
        let surface = patches.reach();
        let share = |k: usize| libm::fabs(a[k] - b[k]) / (surface[k][1] - surface[k][0]);
        let fixed = usize::from(share(1) < share(0));
        let mut held = 0.5 * (a[fixed] + b[fixed]);
        for end in surface[fixed] {
            if libm::fabs(held - end) < 1e-7 * (surface[fixed][1] - surface[fixed][0]) {
                held = end;
            }
        }
        (a[fixed], b[fixed]) = (held, held);
        let straight = [0.2, 0.5, 0.7].into_iter().all(|t| {
            let [s, u] = [0, 1].map(|k| a[k] + t * (b[k] - a[k]));
            let point = course.at(reach[0] + t * (reach[1] - reach[0]));
            size(&minus(&patches.across(s).at(u)[0], &point)) < STRAIGHT_MM
        });
        if straight { Self::Straight([a, b]) } else { Self::Found([a, b]) }
    }

    pub fn at(&self, course: &Course, patches: &Patches, t: f64) -> [f64; 2] {
        let share = |[a, b]: [[f64; 2]; 2]| {
            let [from, to] = course.reach();
            let share = (t - from) / (to - from);
            [0, 1].map(|k| if share == 1.0 { b[k] } else { a[k] + share * (b[k] - a[k]) })
        };
        match self {
            Self::Straight(ends) => share(*ends),
            Self::Trace(pieces) => pieces.at(t),
            Self::Found(ends) => {
                let guess = share(*ends);
                let end = course.reach().contains(&t);
                let held = usize::from(ends[0][1] == ends[1][1]);
                if end { guess } else { patches.foot_along(course.at(t), held, guess) }
            }
        }
    }

    /// Bound of how far the way leaves the straight line between two of its places, in each parameter.
    pub fn off(&self, [from, to]: [f64; 2]) -> [f64; 2] {
        let Self::Trace(pieces) = self else { return [0.0; 2] };
        let mut most = [0.0_f64; 2];
        for (_, of, row) in pieces.within([from, to]) {
            for (k, most) in most.iter_mut().enumerate() {
                let one: Vec<[f64; 1]> = row.iter().map(|p| [p[k]]).collect();
                *most = most.max(bend(&one) / (of * of));
            }
        }
        most.map(|m| 0.125 * (to - from) * (to - from) * m)
    }
}
