//! The place of a surface that is nearest to a point, found by its points only.

use neckwright::solid::{Point3, Surface};

use super::near::{cross, dot, minus};

/// A step to both sides of a place, as a part of the surface's reach, by which slopes are found.
const STEP: f64 = 1e-6;

/// A surface by two parameters.
pub struct Places<'a> {
    surface: &'a Surface,
    pub reach: [[f64; 2]; 2],
}

impl<'a> Places<'a> {
    pub fn new(surface: &'a Surface) -> Self {
        let reach = match surface {
            Surface::Spline(spline) => [spline.knots[0].reach(), spline.knots[1].reach()],
            // The second one of a cylinder is once round.
            Surface::Cylinder { .. } => [[-1e3, 1e3], [-core::f64::consts::PI, core::f64::consts::PI]],
            Surface::Plane { .. } => [[-1e4, 1e4]; 2],
        };
        Self { surface, reach }
    }

    pub fn at(&self, [s, u]: [f64; 2]) -> Point3 {
        match self.surface {
            Surface::Spline(spline) => spline.at(s, u),
            Surface::Plane { point, normal, along } => {
                let second = cross(*normal, *along);
                [0, 1, 2].map(|k| point[k] + s * along[k] + u * second[k])
            }
            Surface::Cylinder { point, axis, across, radius_mm } => {
                let (sin, cos) = libm::sincos(u);
                let second = cross(*axis, *across);
                [0, 1, 2].map(|k| point[k] + s * axis[k] + radius_mm * (cos * across[k] + sin * second[k]))
            }
        }
    }

    /// The place nearest to a point, from a guess (Gauss and Newton with slopes from differences), and how far off it is.
    pub fn nearest(&self, p: Point3, guess: [f64; 2]) -> ([f64; 2], f64) {
        if let Some(at) = self.flat(p) {
            return (at, self.off(p, at));
        }
        let mut at = guess;
        for _ in 0..30 {
            let here = self.at(at);
            let slope = |k: usize| {
                let [from, to] = self.reach[k];
                let step = STEP * (to - from);
                let moved = |x: f64| {
                    let mut at = at;
                    at[k] = (at[k] + x).clamp(from, to);
                    at
                };
                let (low, high) = (moved(-step), moved(step));
                let d = minus(self.at(high), self.at(low));
                d.map(|x| x / (high[k] - low[k]))
            };
            let (along, around, off) = (slope(0), slope(1), minus(p, here));
            let (a, b, c) = (dot(along, along), dot(along, around), dot(around, around));
            let (r, q) = (dot(off, along), dot(off, around));
            let area = a * c - b * b;
            if area <= 0.0 {
                break;
            }
            let step = [(r * c - q * b) / area, (a * q - b * r) / area];
            let next = [0, 1].map(|k| (at[k] + step[k]).clamp(self.reach[k][0], self.reach[k][1]));
            let moved = (0..2)
                .map(|k| (next[k] - at[k]).abs() / (self.reach[k][1] - self.reach[k][0]))
                .fold(0.0, f64::max);
            at = next;
            if moved < 1e-12 {
                break;
            }
        }
        (at, self.off(p, at))
    }

    fn off(&self, p: Point3, at: [f64; 2]) -> f64 {
        let off = minus(p, self.at(at));
        dot(off, off).sqrt()
    }

    /// That of a plane or a cylinder, which needs no guess.
    fn flat(&self, p: Point3) -> Option<[f64; 2]> {
        match self.surface {
            Surface::Plane { point, normal, along } => {
                let off = minus(p, *point);
                Some([dot(off, *along), dot(off, cross(*normal, *along))])
            }
            Surface::Cylinder { point, axis, across, .. } => {
                let off = minus(p, *point);
                let second = cross(*axis, *across);
                Some([dot(off, *axis), libm::atan2(dot(off, second), dot(off, *across))])
            }
            Surface::Spline(_) => None,
        }
    }

    /// The place of a point of it, with nothing known before but perhaps that of a point close by.
    pub fn found(&self, p: Point3, close: Option<[f64; 2]>) -> ([f64; 2], f64) {
        let mut best = ([0.0; 2], f64::INFINITY);
        let mut try_from = |guess: [f64; 2]| {
            if best.1 > 1e-6 {
                let found = self.nearest(p, guess);
                if found.1 < best.1 {
                    best = found;
                }
            }
        };
        close.into_iter().for_each(&mut try_from);
        let place = |k: usize, i: u32, n: u32| {
            let [from, to] = self.reach[k];
            from + (to - from) * (f64::from(i) + 0.5) / f64::from(n)
        };
        // By the station, as most are, then anywhere.
        (0..8).for_each(|i| try_from([p[0].clamp(self.reach[0][0], self.reach[0][1]), place(1, i, 8)]));
        for i in 0..12 {
            (0..6).for_each(|j| try_from([place(0, i, 12), place(1, j, 6)]));
        }
        best
    }
}
