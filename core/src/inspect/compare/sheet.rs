//! A piece of one side of a neck's back, as rows of control points.

use alloc::vec::Vec;

use crate::law::Bernstein;
use crate::shape::{Point, Side, Strip};

/// A surface over a stretch of the neck and the unit interval around the section: for each Bernstein coefficient along the
/// neck the four control points of a cubic across it, `[y, z]`. As every point of the surface is a mean of them, no point is
/// farther from the origin than the farthest of them: of a difference of two sheets that bounds how far they are apart.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sheet {
    pub rows: Vec<[Point; 4]>,
}

fn mix(a: Point, b: Point, t: f64) -> Point {
    [(1.0 - t) * a[0] + t * b[0], (1.0 - t) * a[1] + t * b[1]]
}

fn middle(a: &[Point; 4], b: &[Point; 4]) -> [Point; 4] {
    let mut row = *a;
    for (p, q) in row.iter_mut().zip(b) {
        *p = [0.5 * (p[0] + q[0]), 0.5 * (p[1] + q[1])];
    }
    row
}

/// The cubic over `[from, to]` of its own unit interval, which may reach beyond it.
pub(super) fn part_of([p0, p1, p2, p3]: &[Point; 4], from: f64, to: f64) -> [Point; 4] {
    let blossom = |a: f64, b: f64, c: f64| {
        let (d, e, f) = (mix(*p0, *p1, a), mix(*p1, *p2, a), mix(*p2, *p3, a));
        mix(mix(d, e, b), mix(e, f, b), c)
    };
    [blossom(from, from, from), blossom(from, from, to), blossom(from, to, to), blossom(to, to, to)]
}

impl Sheet {
    /// A strip of one side's back.
    pub fn new(strip: &Strip, side: Side) -> Self {
        let (out, depth) = (strip.out.elevated_like(&strip.depth), strip.depth.elevated_like(&strip.out));
        let pairs = out.coefs().chunks_exact(4).zip(depth.coefs().chunks_exact(4));
        let rows = pairs.map(|(out, depth)| {
            let mut row = [[0.0; 2]; 4];
            for ((p, y), z) in row.iter_mut().zip(out).zip(depth) {
                *p = [side.sign() * y, -z];
            }
            row
        });
        Self { rows: rows.collect() }
    }

    pub fn degree(&self) -> usize {
        self.rows.len().max(1) - 1
    }

    /// The same surface written with at least this degree along the neck.
    pub fn elevated(mut self, degree: usize) -> Self {
        for m in self.degree()..degree {
            let Some(last) = self.rows.last().copied() else { break };
            let before = core::mem::take(&mut self.rows);
            self.rows = before.iter().take(1).copied().collect();
            for (i, pair) in before.windows(2).enumerate() {
                let k = (i + 1) as f64 / (m + 1) as f64;
                let [a, b] = [pair[0], pair[1]];
                self.rows.push([0, 1, 2, 3].map(|j| mix(b[j], a[j], k)));
            }
            self.rows.push(last);
        }
        self
    }

    /// Both halves along the neck.
    pub fn halves_along(&self) -> (Self, Self) {
        let mut right = self.rows.clone();
        let mut left = Vec::with_capacity(right.len());
        left.extend(right.first().copied());
        for k in 1..right.len() {
            for i in 0..right.len() - k {
                right[i] = middle(&right[i], &right[i + 1]);
            }
            left.push(right[0]);
        }
        (Self { rows: left }, Self { rows: right })
    }

    /// The part between two places around the section, counted on the sheet's own unit interval.
    pub fn part(&self, from: f64, to: f64) -> Self {
        Self { rows: self.rows.iter().map(|row| part_of(row, from, to)).collect() }
    }

    /// The cubic across the neck at a place along the sheet, 0 to 1.
    pub fn across(&self, s: f64) -> [Point; 4] {
        match self.rows.as_slice() {
            [] => [[0.0; 2]; 4],
            [only] => *only,
            rows => {
                let at = |j: usize, k: usize| rows.iter().map(|r| r[j][k]).collect::<Bernstein>().eval(s);
                [0, 1, 2, 3].map(|j| [at(j, 0), at(j, 1)])
            }
        }
    }

    /// Every control point with the one of another sheet of the same degree, row by row.
    pub fn beside<'a>(&'a self, other: &'a Self) -> impl Iterator<Item = (&'a [Point; 4], &'a [Point; 4])> {
        self.rows.iter().zip(&other.rows)
    }

    /// How far apart two sheets of the same degree are at the most, point by point.
    pub fn apart(&self, other: &Self) -> f64 {
        let square = self
            .beside(other)
            .flat_map(|(a, b)| a.iter().zip(b))
            .map(|(a, b)| (a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]))
            .fold(0.0, f64::max);
        libm::sqrt(square)
    }
}
