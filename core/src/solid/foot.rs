//! Where the back comes to the underside of the board or the wood's top face.

use alloc::vec::Vec;

use super::smooth::{Jet, Reading, breaks_of, smooth};
use super::spline::Point3;
use crate::law::{Bernstein, Law};
use crate::shape::{Flank, Side};

/// How far the curve of the foot may lie off the back, mm.
pub(super) const FOOT_MM: f64 = 1e-9;
/// Two depths that differ by no more are one, mm.
pub(super) const FLUSH_MM: f64 = 1e-9;
/// How close its trace comes to its place around, which goes from 0 to 1 over some tens of millimetres.
const PLACE: f64 = 1e-2 * FOOT_MM;

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

/// Where the back comes up above some depth: its foot there.
#[derive(Clone, Debug)]
pub(super) struct Foot {
    pub side: Side,
    pub reach: [f64; 2],
    /// Where across it lies.
    pub law: Law,
    /// Its place around, from the carve line (0) to the spine (1).
    pub place: Law,
    /// The depth.
    pub depth: Law,
}

impl Foot {
    /// The same on the other side.
    pub fn mirrored(&self) -> Self {
        let side = if self.side == Side::Bass { Side::Treble } else { Side::Bass };
        Self { side, law: self.law.times_number(-1.0), ..self.clone() }
    }
}

/// A side of the back between two neighbouring joints: the place around where one of its two coordinates, depth and distance out,
/// is that of a law, and the other coordinate there.
pub(super) struct Level<'a> {
    /// Pieces of the laws of the one that is looked for and of what it is to be, of the other's laws; each with its own reach.
    sought: [Piece<'a>; 5],
    read: [Piece<'a>; 4],
    /// Whether the one that is looked for rises around, 1, or falls, −1; and the sign that what it is to be is given with.
    rises: f64,
    sign: f64,
    /// The place found last, from which the next is looked for.
    last: core::cell::Cell<f64>,
}

/// Root of a cubic that rises from one end to the other, by Newton's method kept between bounds.
fn rising_root(c: [f64; 4], guess: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    let mut u = guess;
    for _ in 0..64 {
        let s = 1.0 - u;
        let [a, b, d] = [0, 1, 2].map(|k| s * c[k] + u * c[k + 1]);
        let [e, f] = [s * a + u * b, s * b + u * d];
        let value = s * e + u * f;
        if value < 0.0 {
            low = u
        } else {
            high = u
        }
        let next = u - value / (3.0 * (f - e));
        let next = if next > low && next < high { next } else { 0.5 * (low + high) };
        let step = libm::fabs(next - u);
        u = next;
        if step <= 1e-15 {
            break;
        }
    }
    u
}

impl<'a> Level<'a> {
    /// At the depth of a law, with the distance out.
    fn at(flank: &'a Flank, depth: &'a Law, reach: [f64; 2]) -> Self {
        Self::new([&flank.depth, &flank.out], depth, [1.0, 1.0], reach)
    }

    /// Under a place across, with the depth.
    pub fn under(flank: &'a Flank, side: Side, y: &'a Law, reach: [f64; 2]) -> Self {
        Self::new([&flank.out, &flank.depth], y, [-1.0, side.sign()], reach)
    }

    fn new(
        [sought, read]: [&'a [Law; 4]; 2],
        to_be: &'a Law,
        [rises, sign]: [f64; 2],
        reach: [f64; 2],
    ) -> Self {
        let middle = 0.5 * (reach[0] + reach[1]);
        let [a, b, c, d] = [0, 1, 2, 3].map(|k| sought[k].piece_at(middle));
        Self {
            sought: [a, b, c, d, to_be.piece_at(middle)],
            read: [0, 1, 2, 3].map(|k| read[k].piece_at(middle)),
            rises,
            sign,
            last: core::cell::Cell::new(0.0),
        }
    }

    fn value((piece, [from, to]): (&Bernstein, [f64; 2]), x: f64) -> f64 {
        piece.eval((x - from) / (to - from))
    }

    fn place(&self, points: [f64; 4], to_be: f64) -> f64 {
        let level = points.map(|d| self.rises * (d - to_be));
        if level[0] >= -FLUSH_MM {
            return 0.0;
        }
        let found = rising_root(level, self.last.get());
        self.last.set(found);
        found
    }
}

/// A piece of a law, and the stations that it goes over.
pub(super) type Piece<'a> = (&'a Bernstein, [f64; 2]);

/// A piece of a law by the station.
pub(super) fn jet((piece, [from, to]): Piece<'_>, x: f64) -> Jet {
    let h = to - from;
    let [v, d, s] = piece.eval2((x - from) / h);
    [v, d / h, s / (h * h)]
}

/// Value, slope and second derivative of a cubic.
pub(super) fn cubic2(c: [f64; 4], u: f64) -> Jet {
    let s = 1.0 - u;
    let [a, b, d] = [0, 1, 2].map(|k| s * c[k] + u * c[k + 1]);
    let [e, f] = [s * a + u * b, s * b + u * d];
    [s * e + u * f, 3.0 * (f - e), 6.0 * (a - 2.0 * b + d)]
}

impl Reading<2> for Level<'_> {
    fn values(&self, x: f64) -> [f64; 2] {
        let [d0, d1, d2, d3, to_be] = self.sought.map(|law| Self::value(law, x));
        let u = self.place([d0, d1, d2, d3], self.sign * to_be);
        [u, cubic2(self.read.map(|law| Self::value(law, x)), u)[0]]
    }

    fn jets(&self, x: f64) -> [Jet; 2] {
        let [d0, d1, d2, d3, t] = self.sought.map(|law| jet(law, x));
        let t = t.map(|v| self.sign * v);
        let (d, o) = ([d0, d1, d2, d3], self.read.map(|law| jet(law, x)));
        let u = self.place(d.map(|j| j[0]), t[0]);
        let column = |points: &[Jet; 4], k: usize| cubic2(points.map(|p| p[k]), u);
        let ([_, du, duu], [dx, dxu, _], [dxx, ..]) = (column(&d, 0), column(&d, 1), column(&d, 2));
        let first = -(dx - t[1]) / du;
        let second = -(dxx - t[2] + 2.0 * dxu * first + duu * first * first) / du;
        let ([out, ou, ouu], [ox, oxu, _], [oxx, ..]) = (column(&o, 0), column(&o, 1), column(&o, 2));
        let bend = oxx + 2.0 * oxu * first + ouu * first * first + ou * second;
        [[u, first, second], [out, ox + ou * first, bend]]
    }
}

/// The foot of a side of the back at the depth of a law.
pub(super) fn foot(flank: &Flank, side: Side, depth: &Law, [from, to]: [f64; 2]) -> Option<Foot> {
    let breaks = breaks_of(flank.out.iter().chain(&flank.depth).chain([depth]), [from, to]);
    let within = [PLACE, 0.2 * FOOT_MM];
    let [place, out] = smooth(&breaks, within, |reach| Level::at(flank, depth, reach))?;
    let law = out.times_number(side.sign());
    Some(Foot { side, reach: [from, to], law, place, depth: depth.clone() })
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

/// Place around of a point of a side's section: by its depth where the section is steeper than level, else by the distance out.
pub(super) fn place_of(flank: &Flank, side: Side, [x, y, z]: Point3) -> f64 {
    let u = around(flank, x, side.sign() * y);
    let depths = [0, 1, 2, 3].map(|k| flank.depth[k].value(x));
    let steep = libm::fabs(cubic2(depths, u)[1])
        > libm::fabs(cubic2([0, 1, 2, 3].map(|k| flank.out[k].value(x)), u)[1]);
    let level = depths.map(|d| d + z);
    match steep {
        false => u,
        true if level[0] >= -FLUSH_MM => 0.0,
        true if level[3] <= FLUSH_MM => 1.0,
        true => rising_root(level, u),
    }
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
