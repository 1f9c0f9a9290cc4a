//! What several tests of the neck need.
#![allow(dead_code, missing_docs)]

pub mod edges;
pub mod enclosed;
pub mod foot;
pub mod near;
pub mod readable;

use neckwright::paper::Sheet;
use neckwright::shape::{Neck, Point, Segment, Side};
use neckwright::spec::{Curve, Specification, numbers};

/// The first `count` random specifications that make a neck, with the neck; every tenth one's lines are splines.
/// Deterministic.
pub fn necks(count: usize) -> Vec<Neck> {
    let mut next = numbers(2026);
    let mut tried = 0;
    let mut found = Vec::with_capacity(count);
    while found.len() < count {
        tried += 1;
        assert!(tried < 20 * count, "only {} of {tried} plausible specifications make a neck", found.len());
        let mut specification = Specification::plausible(&mut next);
        if tried % 10 == 0 {
            specification.shaft.curve = Curve::Spline;
        }
        found.extend(Neck::new(&specification).ok());
    }
    found
}

/// A sheet without the block that has the samples of its lines: the one that says what a centreline looks like.
pub fn without_samples(sheet: &Sheet) -> Sheet {
    let mut sheet = sheet.clone();
    let told = |i: &&neckwright::paper::Item| {
        i.shape.text().is_some_and(|t| {
            ["centreline", "centreline, axis", "centreline, nut", "spine"].contains(&t.words.as_str())
        }) && sheet.items.iter().any(|j| j.block == i.block && (j.shape.length_mm() - 22.0).abs() < 1e-9)
    };
    let samples = sheet.items.iter().find(told).map(|i| i.block).expect("a legend");
    sheet.items.retain(|i| i.block != samples);
    sheet
}

/// Nodes and weights of the 20-point Gauss–Legendre rule on [-1, 1], by Newton's method on the Legendre
/// polynomial: not the library's rule, nor its table.
pub fn gauss20() -> Vec<(f64, f64)> {
    let n = 20;
    (0..n)
        .map(|i| {
            let mut x = libm::cos(core::f64::consts::PI * (f64::from(i) + 0.75) / (f64::from(n) + 0.5));
            let mut slope = 1.0;
            for _ in 0..100 {
                let (mut p0, mut p1) = (1.0, x);
                for k in 2..=n {
                    let k = f64::from(k);
                    (p0, p1) = (p1, ((2.0 * k - 1.0) * x * p1 - (k - 1.0) * p0) / k);
                }
                slope = f64::from(n) * (x * p1 - p0) / (x * x - 1.0);
                let step = p1 / slope;
                x -= step;
                if step.abs() < 1e-16 {
                    break;
                }
            }
            (x, 2.0 / ((1.0 - x * x) * slope * slope))
        })
        .collect()
}

/// Integral of `f` over `[a, b]`, halving until the halves agree.
pub fn integrate(rule: &[(f64, f64)], a: f64, b: f64, tolerance: f64, f: &mut dyn FnMut(f64) -> f64) -> f64 {
    let once = |a: f64, b: f64, f: &mut dyn FnMut(f64) -> f64| -> f64 {
        rule.iter().map(|(x, w)| 0.5 * (b - a) * w * f(0.5 * (a + b) + 0.5 * (b - a) * x)).sum()
    };
    let mut stack = vec![(a, b, 0)];
    let mut sum = 0.0;
    while let Some((a, b, depth)) = stack.pop() {
        let mid = 0.5 * (a + b);
        let (whole, left, right) = (once(a, b, f), once(a, mid, f), once(mid, b, f));
        if depth > 40 || (left + right - whole).abs() <= tolerance {
            sum += left + right;
        } else {
            stack.extend([(a, mid, depth + 1), (mid, b, depth + 1)]);
        }
    }
    sum
}

/// The stations where a section changes its kind or a law its piece.
pub fn joints(neck: &Neck) -> Vec<f64> {
    let [from, to] = neck.reach_mm();
    let laws = neck.laws();
    let mut at: Vec<f64> = laws.spine_depth.breaks().to_vec();
    at.extend(laws.face_depth.breaks());
    for side in Side::BOTH {
        for law in laws.control_out.of(side).iter().chain(*laws.control_depth.of(side)) {
            at.extend(law.breaks());
        }
    }
    at.extend(neck.layout().board().widths_mm().iter().map(|w| w.0));
    // Where a slanted nut leaves the board, features get as small as one likes: close in on it.
    for end in neck.layout().board().nut_ends_mm() {
        at.push(end);
        at.extend((1..40).map(|k| end * (1.0 - libm::exp2(-0.5 * f64::from(k)))));
    }
    at.extend([from, to, 0.0, neck.layout().board().end_mm(), neck.wood_reach_mm()[1]]);
    at.push(neck.headstock().root_x_mm);
    let rod = &neck.normalised().rod;
    if rod.fitted {
        at.extend(
            [Some(rod.start), rod.end].into_iter().flatten().map(|s| neck.layout().station_mm(&s).unwrap()),
        );
        let face = neck.headstock();
        at.push(face.root_x_mm - rod.pocket_length.mm() * libm::cos(face.angle_deg.to_radians()));
    }
    at.retain(|x| *x >= from && *x <= to);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    at
}

/// `[area, ∫y, ∫z, ∫y², ∫z², ∫yz]` of an outline by quadrature of `½∮(y dz − z dy)` and its likes, the
/// crown by its angle: other formulas than the library's.
pub fn moments_by_quadrature(start: Point, segments: &[Segment], rule: &[(f64, f64)]) -> [f64; 6] {
    let mut sum = [0.0; 6];
    let mut from = start;
    for segment in segments {
        let to = segment.end();
        let path: Box<dyn Fn(f64) -> (Point, Point)> = match *segment {
            Segment::Line(_) => Box::new(move |t| {
                let d = [to[0] - from[0], to[1] - from[1]];
                ([from[0] + t * d[0], from[1] + t * d[1]], d)
            }),
            Segment::Cubic(a, b, _) => Box::new(move |t| {
                let s = 1.0 - t;
                let at = |k: usize| {
                    s * s * s * from[k] + 3.0 * s * s * t * a[k] + 3.0 * s * t * t * b[k] + t * t * t * to[k]
                };
                let d = |k: usize| {
                    3.0 * (s * s * (a[k] - from[k]) + 2.0 * s * t * (b[k] - a[k]) + t * t * (to[k] - b[k]))
                };
                ([at(0), at(1)], [d(0), d(1)])
            }),
            Segment::Crown { radius, to_y } => Box::new(move |t| {
                let (a, b) = (libm::asin(from[0] / radius), libm::asin(to_y / radius));
                let angle = a + t * (b - a);
                // R(cos − 1) by the half angle, which loses no digits.
                let half = libm::sin(0.5 * angle);
                (
                    [radius * libm::sin(angle), -2.0 * radius * half * half],
                    [radius * libm::cos(angle) * (b - a), -radius * libm::sin(angle) * (b - a)],
                )
            }),
        };
        for (x, w) in rule {
            let ([y, z], [dy, dz]) = path(0.5 + 0.5 * x);
            let cross = 0.5 * w * (y * dz - z * dy);
            // Green with the field (y, z)·f/(n + 2) for a monomial f of degree n.
            for (s, f) in sum.iter_mut().zip([0.5, y / 3.0, z / 3.0, y * y / 4.0, z * z / 4.0, y * z / 4.0]) {
                *s += f * cross;
            }
        }
        from = to;
    }
    sum
}
