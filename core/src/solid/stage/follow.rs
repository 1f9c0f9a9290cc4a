//! Laws for cuts that follow a back: the height of a facet, the centre of a ball.

use alloc::vec::Vec;

use super::super::foot::{Piece, cubic2, jet};
use super::super::over::{plus, times};
use super::super::smooth::{Break, Jet, Reading, breaks_of, smooth};
use crate::law::{Law, Smoothness};
use crate::shape::{Flank, Side};

/// How close the laws come, mm.
const WITHIN_MM: f64 = 1e-10;
/// How many places of a stretch are looked at for where a facet touches another part of the back.
const LOOK: usize = 64;

/// The two neighbouring numbers between which something stops to hold.
pub(super) fn parted(mut a: f64, mut b: f64, holds: impl Fn(f64) -> bool) -> (f64, f64) {
    loop {
        let middle = 0.5 * (a + b);
        // Not so either of what is not a number.
        if !(middle > a && middle < b) {
            return (a, b);
        }
        if holds(middle) { a = middle } else { b = middle }
    }
}

fn pieces<'a>(laws: &'a [Law; 4], x: f64) -> [Piece<'a>; 4] {
    [0, 1, 2, 3].map(|k| laws[k].piece_at(x))
}

/// Where around the section a facet touches it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Touch {
    Carve,
    Spine,
    Between,
}

struct Facet<'a> {
    out: [Piece<'a>; 4],
    depth: [Piece<'a>; 4],
    way: [f64; 2],
    touch: Touch,
}

impl Facet<'_> {
    /// Jets of how far the four control points reach.
    fn reach(&self, x: f64) -> [Jet; 4] {
        [0, 1, 2, 3].map(|k| {
            let (o, d) = (jet(self.out[k], x), jet(self.depth[k], x));
            [0, 1, 2].map(|i| self.way[0] * o[i] + self.way[1] * d[i])
        })
    }
}

/// The place around that reaches farthest in a direction.
fn place(reach: [f64; 4], way_of: fn([f64; 4]) -> f64) -> (Touch, f64) {
    let u = way_of(reach);
    let touch = match u {
        _ if u <= 0.0 => Touch::Carve,
        _ if u >= 1.0 => Touch::Spine,
        _ => Touch::Between,
    };
    (touch, u)
}

/// The place of the greatest value of a cubic, by the cut's own rule.
fn greatest(reach: [f64; 4]) -> f64 {
    crate::carve::support(&reach.map(|r| [r, 0.0]), Side::Treble, [1.0, 0.0]).1
}

impl Reading<1> for Facet<'_> {
    fn values(&self, x: f64) -> [f64; 1] {
        self.jets(x).map(|jet| jet[0])
    }

    fn jets(&self, x: f64) -> [Jet; 1] {
        let r = self.reach(x);
        let column = |i: usize, u: f64| cubic2(r.map(|p| p[i]), u);
        match self.touch {
            Touch::Carve => [r[0]],
            Touch::Spine => [r[3]],
            Touch::Between => {
                let mut u = greatest(r.map(|p| p[0]));
                for _ in 0..3 {
                    let [_, first, second] = column(0, u);
                    if second < 0.0 {
                        u = (u - first / second).clamp(0.0, 1.0);
                    }
                }
                let ([f, _, fuu], [fx, fxu, _], [fxx, ..]) = (column(0, u), column(1, u), column(2, u));
                [[f, fx, fxx - fxu * fxu / fuu]]
            }
        }
    }
}

/// How far a side of a back reaches in a direction `[outward, down]`, as a law.
pub(super) fn following(flank: &Flank, way: [f64; 2], zone: [f64; 2]) -> Option<Law> {
    let mut breaks: Vec<Break> = breaks_of(flank.out.iter().chain(&flank.depth), zone);
    let touch = |x: f64| {
        let reach = [0, 1, 2, 3].map(|k| way[0] * flank.out[k].value(x) + way[1] * flank.depth[k].value(x));
        place(reach, greatest)
    };
    let mut turns: Vec<Break> = Vec::new();
    for x in breaks.windows(2) {
        let [(from, _), (to, _)] = [x[0], x[1]];
        let at = |i: usize| from + (to - from) * (i as f64 + 0.5) / LOOK as f64;
        for i in 1..LOOK {
            let (mut a, mut b) = (at(i - 1), at(i));
            let first = touch(a);
            // From one part of the back to another it jumps, or comes to one of its ends.
            let same = |p: (Touch, f64)| p.0 == first.0 && libm::fabs(p.1 - first.1) < 0.25;
            let last = touch(b);
            if same(last) {
                continue;
            }
            (a, b) = parted(a, b, |x| same(touch(x)));
            let jumps = libm::fabs(touch(a).1 - touch(b).1) > 0.05;
            turns.push((b, if jumps { Smoothness::Crease } else { Smoothness::Slope }));
        }
    }
    breaks.extend(turns);
    breaks.sort_by(|a, b| a.0.total_cmp(&b.0));
    breaks.dedup_by(|b, a| b.0 - a.0 < 1e-9);
    let read = |[from, to]: [f64; 2]| {
        let middle = 0.5 * (from + to);
        Facet {
            out: pieces(&flank.out, middle),
            depth: pieces(&flank.depth, middle),
            way,
            touch: touch(middle).0,
        }
    };
    let [law] = smooth(&breaks, [WITHIN_MM], read)?;
    Some(law)
}

struct Ball<'a> {
    out: [Piece<'a>; 4],
    depth: [Piece<'a>; 4],
    around: f64,
    radius: f64,
}

/// One over the root of a jet.
fn inverse_root(a: Jet) -> Jet {
    let r = 1.0 / libm::sqrt(a[0]);
    let first = -0.5 * r / a[0];
    let second = -1.5 * first / a[0];
    [r, first * a[1], first * a[2] + second * a[1] * a[1]]
}

impl Reading<2> for Ball<'_> {
    fn values(&self, x: f64) -> [f64; 2] {
        self.jets(x).map(|jet| jet[0])
    }

    fn jets(&self, x: f64) -> [Jet; 2] {
        let [out, depth] = [&self.out, &self.depth].map(|laws| laws.map(|piece| jet(piece, x)));
        let column = |points: &[Jet; 4], i: usize| cubic2(points.map(|p| p[i]), self.around);
        let jets = |points: &[Jet; 4]| [0, 1, 2].map(|i| column(points, i));
        let (o, d) = (jets(&out), jets(&depth));
        let value = |c: &[Jet; 3]| [c[0][0], c[1][0], c[2][0]];
        let slope = |c: &[Jet; 3]| [c[0][1], c[1][1], c[2][1]];
        let (along, down) = (slope(&o), slope(&d));
        let inverse = inverse_root(plus(times(along, along), times(down, down)));
        // Square to the way around, away from the wood.
        let normal = [times(down, inverse), times(along, inverse).map(|v| -v)];
        let at = |p: Jet, n: Jet| [0, 1, 2].map(|i| p[i] + self.radius * n[i]);
        [at(value(&o), normal[0]), at(value(&d), normal[1])]
    }
}

/// Distance out and depth of the centre of a ball that touches a back at one place around.
pub(super) fn ball(flank: &Flank, around: f64, radius: f64, zone: [f64; 2]) -> Option<[Law; 2]> {
    let breaks = breaks_of(flank.out.iter().chain(&flank.depth), zone);
    smooth(&breaks, [WITHIN_MM; 2], |[from, to]| {
        let middle = 0.5 * (from + to);
        Ball { out: pieces(&flank.out, middle), depth: pieces(&flank.depth, middle), around, radius }
    })
}
