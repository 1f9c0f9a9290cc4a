//! Low readings planted on necks.

use neckwright::inspect::{Measured, Reading, Readings};
use neckwright::measure::Station;
use neckwright::shape::{Neck, Side};

/// Numbers between bounds, the same in every run.
pub struct Draw<F: FnMut() -> u64>(pub F);

impl<F: FnMut() -> u64> Draw<F> {
    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * ((self.0)() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn one_of(&mut self, n: u64) -> u64 {
        (self.0)() % n
    }
}

/// The outline of a section's back: depth at a place across (positive toward treble), from its cubics.
pub fn depth_at(neck: &Neck, x: f64, across: f64) -> Option<f64> {
    let laws = neck.laws();
    Side::BOTH.into_iter().find_map(|side| {
        let [out, depth] =
            [laws.control_out, laws.control_depth].map(|l| l.of(side).each_ref().map(|l| l.at(x).unwrap()));
        let at = |p: [f64; 4], u: f64| {
            let r = 1.0 - u;
            r * r * r * p[0] + 3.0 * r * r * u * p[1] + 3.0 * r * u * u * p[2] + u * u * u * p[3]
        };
        let y = side.sign() * across;
        if y > out[0] || y < out[3] {
            return None;
        }
        let (mut a, mut b) = (0.0, 1.0);
        for _ in 0..60 {
            let m = 0.5 * (a + b);
            if at(out, m) > y { a = m } else { b = m }
        }
        Some(at(depth, 0.5 * (a + b)))
    })
}

/// One to three low places on the shaft.
pub fn planted(neck: &Neck, draw: &mut Draw<impl FnMut() -> u64>, most: f64) -> Vec<Reading> {
    let [from, to] = neck.shaft_reach_mm();
    let to = to.min(neck.layout().board().end_mm());
    let sided = draw.one_of(3);
    let all: Vec<Reading> = (0..=draw.one_of(3))
        .map(|_| {
            let x = draw.between(from.max(1.0), to);
            let by = draw.between(0.02, most);
            let half = 0.5 * neck.width_mm(x).unwrap();
            let (measured, design) = match (sided, draw.one_of(4)) {
                (0, _) | (_, 0) => (Measured::Thickness, neck.thickness_mm(x).unwrap()),
                (_, 1) => {
                    let side = Side::BOTH[draw.one_of(2) as usize];
                    (Measured::CarveLine(side), neck.carve_line_mm(x, side).unwrap())
                }
                _ => {
                    let across_mm = draw.between(-0.9, 0.9) * half;
                    (Measured::Point { across_mm }, depth_at(neck, x, across_mm).unwrap())
                }
            };
            Reading { at: Station::Mm(x), measured, value_mm: design - by, uncertainty_mm: 0.03, line: 0 }
        })
        .collect();
    // Nearer together they are taken for readings of one place; that has a test of its own.
    let mut apart: Vec<Reading> = Vec::new();
    for r in all {
        let same = |o: &Reading| {
            let near = matches!((o.at, r.at), (Station::Mm(a), Station::Mm(b)) if (a - b).abs() <= 10.0);
            near && core::mem::discriminant(&o.measured) == core::mem::discriminant(&r.measured)
        };
        if !apart.iter().any(same) {
            apart.push(r);
        }
    }
    apart
}

/// How far the mended neck lies above what a reading leaves; of a point beside it, where its edges came in, how far its edge
/// lies beyond that, which is less than nothing.
pub fn met(neck: &Neck, reading: &Reading) -> f64 {
    let Station::Mm(x) = reading.at else { panic!() };
    let there = match reading.measured {
        Measured::Thickness => neck.thickness_mm(x).unwrap(),
        Measured::CarveLine(side) => neck.carve_line_mm(x, side).unwrap(),
        Measured::Point { across_mm } => {
            let beyond = across_mm.abs() - 0.5 * neck.width_mm(x).unwrap();
            if beyond > -1e-7 {
                return -beyond;
            }
            depth_at(neck, x, across_mm).unwrap()
        }
        Measured::Width => neck.width_mm(x).unwrap(),
        _ => panic!(),
    };
    there - reading.value_mm
}

pub fn checked(readings: &[Reading]) -> Readings {
    Readings::new(readings.to_vec()).unwrap()
}
