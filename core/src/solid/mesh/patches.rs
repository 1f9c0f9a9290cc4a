//! A spline surface as Bézier tables: points, normals, and bounds of how much it bends.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::bezier::{Row, Table, lerp, minus, pieces, size, unweighted, with_weight};
use crate::solid::{Knots, Point3, SplineSurface};

/// A handle shorter than this part of its row tells nothing: what bends there is far smaller than any tolerance.
const HANDLE: f64 = 1e-3;
/// How far beside it, as a part of all that lies around, there is more to be told.
const BESIDE: f64 = 0.01;

/// A spline surface's tables.
pub(super) struct Patches {
    pub along: Vec<f64>,
    pub around: Vec<f64>,
    /// For each span along those around.
    pub tables: Vec<Vec<Table>>,
    pub weighted: bool,
    /// Whether the first parameter is the station.
    pub by_station: bool,
    /// Knots along and around at which it has a crease.
    pub creases: [Vec<f64>; 2],
}

/// The coefficients around of one span, in one row.
type Short = SmallVec<[[f64; 4]; 4]>;

/// One row of a surface, of a place along: for each span around its coefficients, and their derivatives along.
pub(super) struct Across<'a> {
    around: &'a [f64],
    rows: SmallVec<[[Short; 2]; 1]>,
}

/// Bernstein's polynomials of a degree at a place, and their derivatives.
fn shares(degree: usize, t: f64) -> [SmallVec<[f64; 20]>; 2] {
    let mut of: SmallVec<[f64; 20]> = SmallVec::from_slice(&[1.0]);
    let mut lower: SmallVec<[f64; 20]> = SmallVec::new();
    for n in 1..=degree {
        if n == degree {
            lower = of.clone();
        }
        of.push(t * of[n - 1]);
        for i in (1..n).rev() {
            of[i] = (1.0 - t) * of[i] + t * of[i - 1];
        }
        of[0] *= 1.0 - t;
    }
    let at = |i: Option<usize>| i.and_then(|i| lower.get(i)).copied().unwrap_or(0.0);
    let once = (0..=degree).map(|i| degree as f64 * (at(i.checked_sub(1)) - at(Some(i)))).collect();
    [of, once]
}

/// Value and derivative by a place from 0 to 1 of a short row (de Casteljau).
fn short(row: &Short, t: f64) -> [[f64; 4]; 2] {
    // What most rows have is known to the compiler, which then needs no loops.
    match row.as_slice() {
        [a, b] => [lerp(a, b, t), minus(b, a)],
        [a, b, c, d] => casteljau(&mut [*a, *b, *c, *d], t),
        row => casteljau(&mut Short::from_slice(row), t),
    }
}

#[inline(always)]
fn casteljau(d: &mut [[f64; 4]], t: f64) -> [[f64; 4]; 2] {
    let n = d.len() - 1;
    let mut slope = [0.0; 4];
    for k in 1..=n {
        if k == n {
            slope = minus(&d[1], &d[0]).map(|x| x * n as f64);
        }
        for j in 0..=n - k {
            d[j] = lerp(&d[j], &d[j + 1], t);
        }
    }
    [d[0], slope]
}

pub(super) fn cross(a: Point3, b: Point3) -> Point3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(super) fn dot(a: Point3, b: Point3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn span(knots: &[f64], t: f64) -> (usize, f64) {
    let i = knots.partition_point(|k| *k <= t).saturating_sub(1).min(knots.len() - 2);
    (i, (t - knots[i]) / (knots[i + 1] - knots[i]))
}

impl Across<'_> {
    /// Point, and derivatives along and around.
    pub fn at(&self, u: f64) -> [Point3; 3] {
        let (i, t) = span(self.around, u);
        let [row, slopes] = &self.rows[i];
        let [here, around] = short(row, t);
        let along = short(slopes, t)[0];
        let point = unweighted(here);
        let quotient = |d: [f64; 4]| [0, 1, 2].map(|k| (d[k] - point[k] * d[3]) / here[3]);
        let per = 1.0 / (self.around[i + 1] - self.around[i]);
        [point, quotient(along), quotient(around).map(|x| x * per)]
    }

    /// Point, and the normal of the surface, of length 1.
    pub fn with_normal(&self, u: f64) -> (Point3, Point3) {
        let [point, along, around] = self.at(u);
        let [from, to] = [self.around[0], self.around[self.around.len() - 1]];
        let ends = [self.rows.first().and_then(|r| r[0].first()), self.rows.last().and_then(|r| r[0].last())];
        let [first, last] = ends.map(|p| p.map_or([0.0; 3], |p| unweighted(*p)));
        let least = HANDLE * size(&minus(&last, &first)) / (to - from);
        let mut normal = cross(along, around);
        let mut length = size(&normal);
        if length <= least * size(&along) {
            // Where a handle has next to no length the direction around is that of a place beside it.
            let inside =
                if u < 0.5 * (from + to) { u + BESIDE * (to - from) } else { u - BESIDE * (to - from) };
            let [_, along, around] = self.at(inside);
            normal = cross(along, around);
            length = size(&normal).max(f64::MIN_POSITIVE);
        }
        (point, normal.map(|x| x / length))
    }
}

/// Knots at which a spline is not smooth.
fn creases(knots: &Knots) -> Vec<f64> {
    let inner = 1..knots.values.len() - 1;
    inner.filter(|i| knots.multiplicities[*i] >= knots.degree).map(|i| knots.values[i]).collect()
}

impl Patches {
    pub fn new(surface: &SplineSurface) -> Self {
        let [along, around] = &surface.knots;
        let columns = surface.poles.first().map_or(0, Vec::len);
        let pole = |i: usize, j: usize| {
            with_weight(&surface.poles[i][j], surface.weights.as_ref().map_or(1.0, |w| w[i][j]))
        };
        let each: Vec<Vec<Row<4>>> = (0..columns)
            .map(|j| {
                let column: Vec<[f64; 4]> = (0..surface.poles.len()).map(|i| pole(i, j)).collect();
                pieces(along, &column)
            })
            .collect();
        let weighted = surface.weights.is_some();
        let table = |s: usize| {
            let rows: Vec<Vec<Row<4>>> = (0..=along.degree)
                .map(|i| {
                    let row: Vec<[f64; 4]> = each.iter().map(|column| column[s][i]).collect();
                    pieces(around, &row)
                })
                .collect();
            (0..rows[0].len())
                .map(|u| {
                    let mut poles: Vec<[f64; 4]> =
                        rows.iter().flat_map(|row| row[u].iter().copied()).collect();
                    if !weighted {
                        poles.iter_mut().for_each(|p| p[3] = 1.0);
                    }
                    Table { width: around.degree + 1, poles }
                })
                .collect()
        };
        let tables = (0..along.values.len() - 1).map(table).collect();
        let means = along.means();
        let by_station = means
            .iter()
            .zip(&surface.poles)
            .all(|(s, row)| row.iter().all(|p| libm::fabs(p[0] - s) <= 1e-9 * (1.0 + libm::fabs(*s))));
        Self {
            along: along.values.clone(),
            around: around.values.clone(),
            tables,
            weighted,
            by_station,
            creases: [creases(along), creases(around)],
        }
    }

    pub fn reach(&self) -> [[f64; 2]; 2] {
        [&self.along, &self.around].map(|k| [k[0], k[k.len() - 1]])
    }

    /// The row of a place along.
    pub fn across(&self, s: f64) -> Across<'_> {
        let (i, t) = span(&self.along, s);
        let per = 1.0 / (self.along[i + 1] - self.along[i]);
        let Some(height) = self.tables[i].first().map(Table::height) else {
            return Across { around: &self.around, rows: SmallVec::new() };
        };
        let [of, once] = shares(height - 1, t);
        let row = |table: &Table, shares: &[f64], per: f64, weight: f64| -> Short {
            let mut sum: Short = smallvec::smallvec![[0.0; 4]; table.width];
            for (row, share) in table.rows().zip(shares) {
                for (sum, p) in sum.iter_mut().zip(row) {
                    for k in 0..4 {
                        sum[k] += share * p[k];
                    }
                }
            }
            sum.iter_mut().flatten().for_each(|x| *x *= per);
            if !self.weighted {
                sum.iter_mut().for_each(|p| p[3] = weight);
            }
            sum
        };
        let rows = self.tables[i].iter();
        let rows = rows.map(|table| [row(table, &of, 1.0, 1.0), row(table, &once, per, 0.0)]);
        Across { around: &self.around, rows: rows.collect() }
    }

    /// The parameters nearest to a point of it, from a guess of them (Gauss and Newton; the point lies on it, so it converges
    /// squarely).
    pub fn foot(&self, point: Point3, guess: [f64; 2]) -> [f64; 2] {
        let [[s0, s1], [u0, u1]] = self.reach();
        let [mut s, mut u] = guess;
        for _ in 0..50 {
            let [here, along, around] = self.across(s).at(u);
            let off = minus(&point, &here);
            let (a, b, c) = (dot(along, along), dot(along, around), dot(around, around));
            let (p, q) = (dot(off, along), dot(off, around));
            let area = a * c - b * b;
            if area <= 0.0 {
                break;
            }
            let step = [(p * c - q * b) / area, (a * q - b * p) / area];
            let next = [(s + step[0]).clamp(s0, s1), (u + step[1]).clamp(u0, u1)];
            let moved = libm::fabs(next[0] - s) / (s1 - s0) + libm::fabs(next[1] - u) / (u1 - u0);
            [s, u] = next;
            if moved < 1e-15 {
                break;
            }
        }
        [s, u]
    }

    /// The parameters nearest to a point of an isoline, one of them held, from a guess of the other. Where a handle has next to no
    /// length a whole step would lead far past it, so no step leads away from the point.
    pub fn foot_along(&self, point: Point3, held: usize, guess: [f64; 2]) -> [f64; 2] {
        let free = 1 - held;
        let [from, to] = self.reach()[free];
        let read = |at: [f64; 2]| {
            let found = self.across(at[0]).at(at[1]);
            let off = minus(&point, &found[0]);
            (dot(off, off), off, found[1 + free])
        };
        let mut at = guess;
        let (mut far, mut off, mut slope) = read(at);
        for _ in 0..60 {
            let mut step = dot(off, slope) / dot(slope, slope).max(f64::MIN_POSITIVE);
            let mut better = None;
            while better.is_none() && libm::fabs(step) > 1e-15 * (to - from) {
                let mut next = at;
                next[free] = (at[free] + step).clamp(from, to);
                better = Some((next, read(next))).filter(|(_, found)| found.0 < far);
                step *= 0.5;
            }
            let Some((next, found)) = better else { break };
            at = next;
            (far, off, slope) = found;
        }
        at
    }

    /// The parameters of a point of it, with nothing known before.
    pub fn found(&self, point: Point3) -> [f64; 2] {
        let [[s0, s1], [u0, u1]] = self.reach();
        let places =
            |from: f64, to: f64, n: usize| (0..=n).map(move |i| from + (to - from) * i as f64 / n as f64);
        let stations: Vec<f64> =
            if self.by_station { [point[0].clamp(s0, s1)].into() } else { places(s0, s1, 32).collect() };
        let mut best = (f64::INFINITY, [s0, u0]);
        for s in stations {
            let row = self.across(s);
            for u in places(u0, u1, 16) {
                let off = size(&minus(&point, &row.at(u)[0]));
                if off < best.0 {
                    best = (off, [s, u]);
                }
            }
        }
        self.foot(point, best.1)
    }

    /// The table of a part, by places from 0 to 1, of a span along and one around.
    pub fn table(&self, [along, around]: [usize; 2], part: [[f64; 2]; 2]) -> Table {
        self.tables[along][around].within(part)
    }
}
