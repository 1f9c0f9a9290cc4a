//! Readings made from necks.
#![allow(dead_code, missing_docs)]

use neckwright::inspect::{Measured, Reading, Readings};
use neckwright::measure::Station;
use neckwright::shape::{Neck, Point, Side};
use neckwright::spec::numbers;

/// Standard normal numbers by Box and Muller's method (Annals of Mathematical Statistics 29 (1958) 610).
pub struct Normal {
    next: Box<dyn FnMut() -> u64>,
    spare: Option<f64>,
}

impl Normal {
    pub fn new(seed: u64) -> Self {
        Self { next: Box::new(numbers(seed)), spare: None }
    }

    /// From 0 to 1, never 0.
    pub fn uniform(&mut self) -> f64 {
        (((self.next)() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.uniform()
    }

    pub fn below(&mut self, n: usize) -> usize {
        ((self.uniform() * n as f64) as usize).min(n - 1)
    }

    pub fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let size = libm::sqrt(-2.0 * libm::log(self.uniform()));
        let angle = core::f64::consts::TAU * self.uniform();
        self.spare = Some(size * libm::sin(angle));
        size * libm::cos(angle)
    }
}

/// A place on the back of a finished neck.
#[derive(Clone, Copy, Debug)]
pub struct Spot {
    pub x: f64,
    /// Across, positive toward the treble side, and up.
    pub at: Point,
    /// Square to the surface, out of the wood.
    pub normal: Point,
    /// Way around from the spine, mm, positive toward the treble side; by 2,000 chords.
    pub way: f64,
    /// Length of the carved side it lies on or beyond.
    pub carved: f64,
    /// Length of that side up to the board's top edge.
    pub whole: f64,
    /// How far the place moves, square to the surface, where the spine goes down by 1.
    pub share: f64,
}

fn bernstein(u: f64) -> [f64; 4] {
    let s = 1.0 - u;
    [s * s * s, 3.0 * s * s * u, 3.0 * s * u * u, u * u * u]
}

fn cubic(p: &[Point; 4], u: f64) -> Point {
    let b = bernstein(u);
    [0, 1].map(|k| (0..4).map(|i| b[i] * p[i][k]).sum())
}

/// Places around the back at a station: so many on each carved side, evenly by parameter, and on each flat side.
pub fn around(neck: &Neck, x: f64, carved: usize, flat: usize) -> Vec<Spot> {
    let section = neck.section(x).unwrap();
    let mut spots = Vec::new();
    for side in Side::BOTH {
        let sign = side.sign();
        let p = section.control_points_mm(side).unwrap().map(|[y, z]| [neck.hand_sign() * y, z]);
        const STEPS: usize = 2000;
        let points: Vec<Point> = (0..=STEPS).map(|i| cubic(&p, i as f64 / STEPS as f64)).collect();
        // Way from the spine back to each.
        let mut way = vec![0.0; STEPS + 1];
        for i in (0..STEPS).rev() {
            let d = [points[i][0] - points[i + 1][0], points[i][1] - points[i + 1][1]];
            way[i] = way[i + 1] + libm::hypot(d[0], d[1]);
        }
        let depth = p[0][1] - p[3][1];
        let shoulder = if depth > 0.0 { (p[0][1] - p[1][1]) / depth } else { 1.0 };
        let top = neck.layout().board().sagitta_mm(x, p[0][0]).unwrap_or(0.0);
        let whole = way[0] - top - p[0][1];
        for k in 0..carved {
            let i = (STEPS as f64 * (k as f64 + 0.5) / carved as f64) as usize;
            let u = i as f64 / STEPS as f64;
            let (a, b) = (points[i - 1], points[i + 1]);
            let d = [b[0] - a[0], b[1] - a[1]];
            let size = libm::hypot(d[0], d[1]);
            // From the edge toward the spine the wood lies on the left of the bass side, on the right of the treble side.
            let normal = [-sign * d[1] / size, sign * d[0] / size];
            let normal = if side == Side::Bass { [d[1] / size, -d[0] / size] } else { normal };
            let b = bernstein(u);
            let share = -normal[1] * (b[1] * shoulder + b[2] + b[3]);
            spots.push(Spot { x, at: points[i], normal, way: sign * way[i], carved: way[0], whole, share });
        }
        for k in 0..flat {
            let z = p[0][1] + (-top - p[0][1]) * (k as f64 + 0.5) / flat as f64;
            let way = sign * (way[0] + z - p[0][1]);
            spots.push(Spot {
                x,
                at: [p[0][0], z],
                normal: [sign, 0.0],
                way,
                carved: way.abs(),
                whole,
                share: 0.0,
            });
        }
    }
    spots.sort_by(|a, b| a.way.total_cmp(&b.way));
    spots
}

/// The reading of a place that lies so much further out than the finished neck.
pub fn point(spot: &Spot, out: f64, sigma: f64, noise: &mut Normal) -> Reading {
    // As uncertain in every direction.
    let y = spot.at[0] + out * spot.normal[0] + sigma * noise.next();
    let z = spot.at[1] + out * spot.normal[1] + sigma * noise.next();
    reading(spot.x, Measured::Point { across_mm: y }, -z, sigma)
}

pub fn thickness(neck: &Neck, x: f64, out: f64, sigma: f64, noise: &mut Normal) -> Reading {
    let value = neck.thickness_mm(x).unwrap() + out + sigma * noise.next();
    reading(x, Measured::Thickness, value, sigma)
}

pub fn reading(x: f64, measured: Measured, value_mm: f64, uncertainty_mm: f64) -> Reading {
    Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm, line: 0 }
}

/// Stations over the shaft proper, its ends left out.
pub fn stations(neck: &Neck, count: usize) -> Vec<f64> {
    let [from, to] = neck.shaft_reach_mm();
    (0..count).map(|i| from + (to - from) * (i as f64 + 0.5) / count as f64).collect()
}

/// The least and the most of `trials` that happen with a chance, once in two hundred beyond either, by the normal approximation.
pub fn limits(trials: usize, chance: f64) -> std::ops::RangeInclusive<usize> {
    let (mean, spread) = (trials as f64 * chance, libm::sqrt(trials as f64 * chance * (1.0 - chance)));
    (mean - 2.576 * spread).ceil().max(0.0) as usize..=(mean + 2.576 * spread).floor() as usize
}

/// Sound readings.
pub fn checked(readings: &[Reading]) -> Readings {
    Readings::new(readings.to_vec()).unwrap()
}

/// Those of some readings that can be of a neck.
pub fn sound(neck: &Neck, readings: &[Reading]) -> Vec<Reading> {
    let all = Readings::new(readings.to_vec()).unwrap_or_else(|bad| bad.good);
    let good = all.check_on(neck).map_or_else(|bad| bad.good, |()| all.clone());
    good.iter().copied().collect()
}

/// Length of what a column has beside others: Gram's and Schmidt's process.
pub fn beside(column: &[f64], others: &[Vec<f64>]) -> f64 {
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut basis: Vec<Vec<f64>> = Vec::new();
    let mut last = 0.0;
    for one in others.iter().map(Vec::as_slice).chain([column]) {
        let mut rest = one.to_vec();
        for _ in 0..2 {
            for b in &basis {
                let along = product(b, &rest);
                rest.iter_mut().zip(b).for_each(|(x, b)| *x -= along * b);
            }
        }
        last = libm::sqrt(product(&rest, &rest));
        basis.push(rest.iter().map(|x| x / last).collect());
    }
    last
}
