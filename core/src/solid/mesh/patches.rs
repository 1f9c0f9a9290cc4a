//! A spline surface as Bézier tables: points, normals, and bounds of how much it bends.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::bezier::{Row, Table, lerp, minus, pieces, size, unweighted, with_weight};
use crate::solid::{Knots, Point3, SplineSurface};

/// A spline surface's tables.
pub(super) struct Patches {
    pub along: Vec<f64>,
    pub around: Vec<f64>,
    /// For each span along those around.
    pub tables: Vec<Vec<Table>>,
    pub weighted: bool,
    /// Whether the first parameter is the station.
    pub by_station: bool,
    /// Knots along at which it has a crease.
    pub creases: Vec<f64>,
}

/// The coefficients around of one span, in one row.
type Short = SmallVec<[[f64; 4]; 4]>;

/// One row of a surface, of a place along: for each span around its coefficients, with their derivatives along up to an order.
pub(super) struct Across<'a, const ORDER: usize> {
    around: &'a [f64],
    rows: SmallVec<[[Short; 3]; 1]>,
}

/// A point with its derivatives: along, around, along twice, along and around, around twice.
pub(super) type Jet = [Point3; 6];

/// Bernstein's polynomials of a degree at a place, and their first and second derivatives.
fn shares(degree: usize, t: f64) -> [SmallVec<[f64; 20]>; 3] {
    let mut of: SmallVec<[f64; 20]> = SmallVec::from_slice(&[1.0]);
    let mut lower: [SmallVec<[f64; 20]>; 2] = [SmallVec::new(), SmallVec::new()];
    for n in 1..=degree {
        if n + 2 > degree {
            lower[degree - n] = of.clone();
        }
        of.push(t * of[n - 1]);
        for i in (1..n).rev() {
            of[i] = (1.0 - t) * of[i] + t * of[i - 1];
        }
        of[0] *= 1.0 - t;
    }
    let n = degree as f64;
    let [first, second] = lower;
    let at = |all: &SmallVec<[f64; 20]>, i: usize, back: usize| {
        i.checked_sub(back).and_then(|i| all.get(i)).copied().unwrap_or(0.0)
    };
    let once = (0..=degree).map(|i| n * (at(&first, i, 1) - at(&first, i, 0))).collect();
    let twice = (0..=degree)
        .map(|i| n * (n - 1.0) * (at(&second, i, 2) - 2.0 * at(&second, i, 1) + at(&second, i, 0)))
        .collect();
    [of, once, twice]
}

/// Value, and first and second derivative by a place from 0 to 1, of a short row (de Casteljau).
fn short(row: &Short, t: f64) -> [[f64; 4]; 3] {
    // What most rows have is known to the compiler, which then needs no loops.
    match row.as_slice() {
        [a, b] => [lerp(a, b, t), minus(b, a), [0.0; 4]],
        [a, b, c, d] => casteljau(&mut [*a, *b, *c, *d], t),
        row => casteljau(&mut Short::from_slice(row), t),
    }
}

#[inline(always)]
fn casteljau(d: &mut [[f64; 4]], t: f64) -> [[f64; 4]; 3] {
    let n = d.len() - 1;
    let mut found = [[0.0; 4]; 3];
    for k in 1..=n {
        if k + 1 == n {
            for (c, twice) in found[2].iter_mut().enumerate() {
                *twice = (n * (n - 1)) as f64 * (d[2][c] - 2.0 * d[1][c] + d[0][c]);
            }
        }
        if k == n {
            found[1] = minus(&d[1], &d[0]).map(|x| x * n as f64);
        }
        for j in 0..=n - k {
            d[j] = lerp(&d[j], &d[j + 1], t);
        }
    }
    found[0] = d[0];
    found
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

impl<const ORDER: usize> Across<'_, ORDER> {
    /// Point, and derivatives along and around.
    pub fn at(&self, u: f64) -> [Point3; 3] {
        let (i, t) = span(self.around, u);
        let [row, slopes, _] = &self.rows[i];
        let [here, around, _] = short(row, t);
        let along = short(slopes, t)[0];
        let point = unweighted(here);
        let quotient = |d: [f64; 4]| [0, 1, 2].map(|k| (d[k] - point[k] * d[3]) / here[3]);
        let per = 1.0 / (self.around[i + 1] - self.around[i]);
        [point, quotient(along), quotient(around).map(|x| x * per)]
    }

    /// Point, and the normal of the surface, of length 1.
    pub fn with_normal(&self, u: f64) -> (Point3, Point3) {
        let [point, along, around] = self.at(u);
        let normal = cross(along, around);
        let length = size(&normal);
        if length > 1e-12 * size(&along) {
            return (point, normal.map(|x| x / length));
        }
        // Where a handle has no length the direction around is that of a place beside it.
        let [from, to] = [self.around[0], self.around[self.around.len() - 1]];
        let inside = if u < 0.5 * (from + to) { u + 1e-6 * (to - from) } else { u - 1e-6 * (to - from) };
        let [_, along, around] = self.at(inside);
        let normal = cross(along, around);
        let length = size(&normal).max(f64::MIN_POSITIVE);
        (point, normal.map(|x| x / length))
    }
}

impl Across<'_, 2> {
    /// With the second derivatives.
    pub fn jet(&self, u: f64) -> Jet {
        let (i, t) = span(self.around, u);
        let per = 1.0 / (self.around[i + 1] - self.around[i]);
        let [row, slopes, bends] = &self.rows[i];
        let [here, u1, u2] = short(row, t);
        let [s1, su, _] = short(slopes, t);
        let s2 = short(bends, t)[0];
        let point = unweighted(here);
        let w = here[3];
        let once = |d: [f64; 4]| [0, 1, 2].map(|k| (d[k] - point[k] * d[3]) / w);
        let (along, around) = (once(s1), once(u1));
        // Of C = N/W: C_ab = (N_ab − C_a·W_b − C_b·W_a − C·W_ab)/W.
        let twice = |d: [f64; 4], (a, wb): (Point3, f64), (b, wa): (Point3, f64)| {
            [0, 1, 2].map(|k| (d[k] - a[k] * wb - b[k] * wa - point[k] * d[3]) / w)
        };
        [
            point,
            along,
            around.map(|x| x * per),
            twice(s2, (along, s1[3]), (along, s1[3])),
            twice(su, (along, u1[3]), (around, s1[3])).map(|x| x * per),
            twice(u2, (around, u1[3]), (around, u1[3])).map(|x| x * per * per),
        ]
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
            creases: creases(along),
        }
    }

    pub fn reach(&self) -> [[f64; 2]; 2] {
        [&self.along, &self.around].map(|k| [k[0], k[k.len() - 1]])
    }

    /// The row of a place along, for points and normals.
    pub fn across(&self, s: f64) -> Across<'_, 1> {
        self.across_to(s)
    }

    /// The row of a place along, for second derivatives too.
    pub fn across_twice(&self, s: f64) -> Across<'_, 2> {
        self.across_to(s)
    }

    /// With derivatives along up to an order.
    fn across_to<const ORDER: usize>(&self, s: f64) -> Across<'_, ORDER> {
        let (i, t) = span(&self.along, s);
        let per = 1.0 / (self.along[i + 1] - self.along[i]);
        let Some(height) = self.tables[i].first().map(Table::height) else {
            return Across { around: &self.around, rows: SmallVec::new() };
        };
        let [of, once, twice] = shares(height - 1, t);
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
        let rows = self.tables[i].iter().map(|table| {
            let bends = if ORDER < 2 { Short::new() } else { row(table, &twice, per * per, 0.0) };
            [row(table, &of, 1.0, 1.0), row(table, &once, per, 0.0), bends]
        });
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

    /// The table of a stretch along that lies in one span, and of the span around.
    pub fn table(&self, [from, to]: [f64; 2], span_around: usize) -> Table {
        let (i, t) = span(&self.along, 0.5 * (from + to));
        let (a, b) = (self.along[i], self.along[i + 1]);
        debug_assert!((0.0..=1.0).contains(&t));
        let places = [from, to].map(|s| ((s - a) / (b - a)).clamp(0.0, 1.0));
        self.tables[i][span_around].along(places)
    }
}
