//! Pairs of necks, and distances between their skins by sampling: not the library's way.
#![allow(dead_code, missing_docs)]

use neckwright::measure::Length;
use neckwright::shape::{Neck, Point, Side};
use neckwright::spec::{Radius, Specification};

/// A neck and a copy of it with some of its numbers changed, or another neck altogether.
pub fn pairs(necks: &[Neck], next: &mut dyn FnMut() -> u64) -> Vec<(Neck, Neck)> {
    let mut found = Vec::new();
    for (i, neck) in necks.iter().enumerate() {
        let mut spec = neck.normalised().clone();
        let mut drawn =
            |from: f64, to: f64| from + (to - from) * (next() >> 11) as f64 / (1_u64 << 53) as f64;
        match i % 6 {
            0 => thicker(&mut spec, || drawn(-0.5, 0.5)),
            1 => spec.shaft.carve_line.iter_mut().for_each(|c| c.depth = moved(c.depth, drawn(-0.5, 0.5))),
            2 => {
                let offset = drawn(-0.5, 0.5);
                for profile in &mut spec.shaft.profile {
                    profile.spine_offset = moved(profile.spine_offset, offset);
                    profile.belly = Some(drawn(0.45, 0.6));
                    profile.shoulder = None;
                    if let Some(treble) = &mut profile.treble {
                        (treble.shoulder, treble.belly) = (None, None);
                    }
                }
            }
            3 => {
                spec.nut.width = moved(spec.nut.width, drawn(-0.5, 0.5));
                spec.headstock.length = spec.headstock.length.map(|l| moved(l, drawn(0.0, 2.0)));
            }
            4 => {
                if let Radius::Round(radius) = spec.fretboard.radius {
                    spec.fretboard.radius = Radius::Round(moved(radius, drawn(0.0, 40.0)));
                }
                thicker(&mut spec, || drawn(-0.02, 0.02));
            }
            _ => spec = necks[(i + 1) % necks.len()].normalised().clone(),
        }
        found.extend(Neck::new(&spec).ok().map(|other| (neck.clone(), other)));
    }
    found
}

fn moved(length: Length, by: f64) -> Length {
    Length::from_mm(length.mm() + by)
}

pub fn thicker(spec: &mut Specification, mut by: impl FnMut() -> f64) {
    for given in &mut spec.shaft.thickness {
        given.thickness = moved(given.thickness, by());
    }
}

fn at(p: &[Point; 4], u: f64) -> Point {
    let s = 1.0 - u;
    [0, 1].map(|k| {
        s * s * s * p[0][k] + 3.0 * s * s * u * p[1][k] + 3.0 * s * u * u * p[2][k] + u * u * u * p[3][k]
    })
}

fn apart(a: Point, b: Point) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// Both sides of a neck's back in a section, right-handed.
pub fn sides(neck: &Neck, x: f64) -> [[Point; 4]; 2] {
    let section = neck.section(x).unwrap();
    Side::BOTH.map(|side| section.control_points_mm(side).unwrap().map(|p| [neck.hand_sign() * p[0], p[1]]))
}

/// Distance of a point from back and flat sides: the nearest of many samples, then golden sections around the nearest few.
pub fn distance(p: Point, back: &[[Point; 4]; 2]) -> f64 {
    const PARTS: usize = 48;
    let mut least = f64::INFINITY;
    for curve in back {
        let size = |u: f64| apart(at(curve, u), p);
        let samples: Vec<f64> = (0..=PARTS).map(|i| size(i as f64 / PARTS as f64)).collect();
        for i in 0..=PARTS {
            let near = [i.saturating_sub(1), (i + 1).min(PARTS)];
            if near.iter().any(|j| samples[*j] < samples[i]) || samples[i] > least + 2.0 {
                continue;
            }
            let [mut a, mut b] = near.map(|j| j as f64 / PARTS as f64);
            for _ in 0..50 {
                let (c, d) = (b - 0.618_034 * (b - a), a + 0.618_034 * (b - a));
                if size(c) < size(d) { b = d } else { a = c }
            }
            least = least.min(size(0.5 * (a + b))).min(samples[i]);
        }
        least = least.min(apart(p, [curve[0][0], p[1].max(curve[0][1])]));
    }
    least
}

/// A place on either neck's skin.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    pub of: usize,
    pub side: usize,
    /// Below 0 on the flat side between both carve lines.
    pub around: f64,
    pub x: f64,
}

/// The distance of a place from the other neck.
pub fn taken(necks: [&Neck; 2], place: &Place) -> f64 {
    let (own, other) = (sides(necks[place.of], place.x), sides(necks[1 - place.of], place.x));
    let curve = &own[place.side];
    let p = if place.around < 0.0 {
        let above = other[place.side][0][1];
        if above < curve[0][1] {
            return 0.0;
        }
        [curve[0][0], curve[0][1] - place.around * (above - curve[0][1])]
    } else {
        at(curve, place.around)
    };
    distance(p, &other)
}

/// The greatest distance between two backs that sampling finds.
pub fn witness(necks: [&Neck; 2], stations: &[f64], around: u32) -> (f64, Place) {
    let mut found: Vec<(f64, Place)> = Vec::new();
    let [from, to] = [stations[0], stations[stations.len() - 1]];
    for &x in stations {
        let mut best = (0.0, Place { of: 0, side: 0, around: 0.0, x });
        for (of, side) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            for i in 0..=around + 3 {
                let u =
                    if i > around { -0.33 * f64::from(i - around) } else { f64::from(i) / f64::from(around) };
                let place = Place { of, side, around: u, x };
                let d = taken(necks, &place);
                if d > best.0 {
                    best = (d, place);
                }
            }
        }
        found.push(best);
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut best = found[0];
    for start in found.iter().take(2) {
        let mut near = *start;
        let (mut dx, mut du) = (0.5 * (to - from) / stations.len() as f64, 0.5 / f64::from(around));
        for _ in 0..34 {
            let centre = near.1;
            for (i, j) in (-2..=2).flat_map(|i| (-2..=2).map(move |j| (i, j))) {
                let u = centre.around + 0.5 * du * f64::from(j);
                let u = if centre.around < 0.0 { u.clamp(-1.0, -1e-9) } else { u.clamp(0.0, 1.0) };
                let place =
                    Place { x: (centre.x + 0.5 * dx * f64::from(i)).clamp(from, to), around: u, ..centre };
                let d = taken(necks, &place);
                if d > near.0 {
                    near = (d, place);
                }
            }
            (dx, du) = (0.6 * dx, 0.6 * du);
        }
        if near.0 > best.0 {
            best = near;
        }
    }
    best
}
