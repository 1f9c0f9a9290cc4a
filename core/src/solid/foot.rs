//! Where the back comes to the underside of the board or the wood's top face.

use alloc::vec::Vec;

use crate::law::{Bernstein, Law, Piece, Smoothness};
use crate::shape::Flank;

/// How far the curve of the foot may lie off the back, mm.
pub(super) const FOOT_MM: f64 = 1e-9;
/// Two depths that differ by no more are one, mm.
pub(super) const FLUSH_MM: f64 = 1e-9;
/// The most parts a stretch between two joints is cut into.
const MOST_PARTS: usize = 512;

/// The stretches in which a law lies below nought by more than rounding, within its own reach, and those in which it is nought
/// but for rounding.
pub(super) fn below(law: &Law) -> [Vec<[f64; 2]>; 2] {
    // What is flush is made so to the last bit, lest rounding has it cross.
    let breaks = law.breaks();
    let mut at: Vec<f64> = Vec::new();
    for (piece, x) in law.pieces().iter().zip(breaks.windows(2)) {
        let n = piece.degree();
        let flush = |c: f64| libm::fabs(c) <= FLUSH_MM;
        let coefs: Bernstein = piece
            .coefs()
            .iter()
            .enumerate()
            .map(|(i, c)| if (i == 0 || i == n) && flush(*c) { 0.0 } else { *c })
            .collect();
        at.push(x[0]);
        if !piece.coefs().iter().all(|c| flush(*c)) {
            at.extend(coefs.roots().iter().map(|t| x[0] + t * (x[1] - x[0])));
        }
    }
    at.push(law.end());
    at.dedup_by(|b, a| *b - *a < 1e-9);
    let mut found = [Vec::<[f64; 2]>::new(), Vec::new()];
    for x in at.windows(2) {
        // The middle alone may be a root that rounding had missed.
        let inside = [0.25, 0.5, 0.75].map(|t| law.value(x[0] + t * (x[1] - x[0])));
        let own = if inside.iter().any(|v| *v < -FLUSH_MM) {
            &mut found[0]
        } else if inside.iter().all(|v| *v <= FLUSH_MM) {
            &mut found[1]
        } else {
            continue;
        };
        match own.last_mut() {
            Some(last) if last[1] == x[0] => last[1] = x[1],
            _ => own.push([x[0], x[1]]),
        }
    }
    found
}

/// Place around, from the carve line (0) to the spine (1), where a side of the back has a depth.
pub(super) fn foot_place(flank: &Flank, depth: &Law, x: f64) -> f64 {
    let depth = depth.value(x);
    let level: Bernstein = flank.depth.iter().map(|law| law.value(x) - depth).collect();
    if level.coefs()[0] >= -FLUSH_MM { 0.0 } else { level.roots().first().copied().unwrap_or(0.0) }
}

/// Place around and distance out where a side of the back has a depth, with the distance's slope and second derivative along
/// the neck.
fn foot(flank: &Flank, depth: &Law, x: f64) -> [f64; 3] {
    let [d, o] = [&flank.depth, &flank.out].map(|laws| [0, 1, 2, 3].map(|k| laws[k].value2(x)));
    let column = |points: &[[f64; 3]; 4], k: usize| -> Bernstein { points.iter().map(|p| p[k]).collect() };
    let [_, t1, t2] = depth.value2(x);
    let u = foot_place(flank, depth, x);
    let slope = |points: &[[f64; 3]; 4], k: usize| column(points, k).derivative().eval(u);
    let value = |points: &[[f64; 3]; 4], k: usize| column(points, k).eval(u);
    let bend = |points: &[[f64; 3]; 4]| column(points, 0).derivative().derivative().eval(u);
    let du = slope(&d, 0);
    let first = -(value(&d, 1) - t1) / du;
    let second = -(value(&d, 2) - t2 + 2.0 * slope(&d, 1) * first + bend(&d) * first * first) / du;
    [
        value(&o, 0),
        value(&o, 1) + slope(&o, 0) * first,
        value(&o, 2) + 2.0 * slope(&o, 1) * first + bend(&o) * first * first + slope(&o, 0) * second,
    ]
}

/// Distance out of the foot as a law: quintics by value, slope and second derivative at their ends, as many as it takes.
pub(super) fn foot_law(flank: &Flank, depth: &Law, [from, to]: [f64; 2]) -> Option<Law> {
    let laws = flank.out.iter().chain(&flank.depth).chain([depth]);
    let mut breaks: Vec<f64> = laws.flat_map(|law| law.breaks().iter().copied()).collect();
    breaks.retain(|x| *x > from && *x < to);
    breaks.extend([from, to]);
    breaks.sort_by(f64::total_cmp);
    breaks.dedup_by(|b, a| *b - *a < 1e-9);
    let joint = Smoothness::Curvature;
    let mut pieces: Vec<Piece> = Vec::new();
    for x in breaks.windows(2) {
        let mut parts = 1;
        loop {
            let h = (x[1] - x[0]) / parts as f64;
            let at = |i: usize| if i == parts { x[1] } else { x[0] + h * i as f64 };
            // A break belongs to the pieces on either side: a hair within it is on this one.
            let inside = |x0: f64| x0.clamp(x[0].next_up(), x[1].next_down());
            let ends: Vec<[f64; 3]> = (0..=parts)
                .map(|i| {
                    let [v, d, s] = foot(flank, depth, inside(at(i)));
                    [v, h * d, h * h * s]
                })
                .collect();
            let made: Vec<Bernstein> = ends.windows(2).map(|w| Bernstein::hermite(w[0], w[1])).collect();
            let off = |(i, piece): (usize, &Bernstein)| {
                let off = [0.2, 0.5, 0.8]
                    .map(|t| libm::fabs(piece.eval(t) - foot(flank, depth, inside(at(i) + t * h))[0]));
                off.into_iter().fold(0.0, f64::max)
            };
            let most = made.iter().enumerate().map(off).fold(0.0, f64::max);
            if most <= 0.2 * FOOT_MM || parts >= MOST_PARTS {
                for (i, piece) in made.iter().enumerate() {
                    pieces.push(Piece { to: at(i + 1), coefs: piece.coefs()[1..].to_vec(), joint });
                }
                break;
            }
            parts *= 2;
        }
    }
    let start = foot(flank, depth, from.next_up())[0];
    Law::from_pieces(from, start, &pieces)
}

/// Place around, from the carve line (0) to the spine (1), where a side's section lies so far out.
pub(super) fn around(flank: &Flank, x: f64, out: f64) -> f64 {
    let coefs: Bernstein = flank.out.iter().map(|law| law.value(x) - out).collect();
    let ends = [coefs.coefs()[0], coefs.coefs()[3]];
    if ends[0] <= 0.0 {
        return 0.0;
    }
    if ends[1] >= 0.0 {
        return 1.0;
    }
    coefs.roots().first().copied().unwrap_or(1.0)
}

/// The four control points of a side's section between two places around.
pub(super) fn part(points: [[f64; 3]; 4], [from, to]: [f64; 2]) -> [[f64; 3]; 4] {
    let coordinate = |k: usize| -> Vec<f64> {
        let whole: Bernstein = points.iter().map(|p| p[k]).collect();
        whole.restricted(from, to).coefs().to_vec()
    };
    let [x, y, z] = [0, 1, 2].map(coordinate);
    let point = |i: usize| [x[i], y[i], z[i]];
    [0, 1, 2, 3].map(point)
}
