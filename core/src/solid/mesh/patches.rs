//! A spline surface as Bézier tables: points, normals, and bounds of how much it bends.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::bezier::{
    Row, Table, about_middle, lerp, minus, part, pieces, size, unweighted, value, with_weight,
};
use crate::solid::{Knots, Point3, SplineSurface};

/// Bounds of the second derivatives: along twice, along and around, around twice.
pub(super) type Bends = [f64; 3];

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

/// One row of a surface, of a place along: for each span around its coefficients and their slopes along.
pub(super) struct Across<'a> {
    around: &'a [f64],
    rows: SmallVec<[(Row<4>, Row<4>); 2]>,
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
        let (row, slopes) = &self.rows[i];
        let (here, around) = value(row, t);
        let (along, _) = value(slopes, t);
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

    /// The row of a place along.
    pub fn across(&self, s: f64) -> Across<'_> {
        let (i, t) = span(&self.along, s);
        let per = 1.0 / (self.along[i + 1] - self.along[i]);
        let rows = self.tables[i].iter().map(|table| {
            let both = (0..table.width).map(|j| value(&table.column(j), t));
            let (here, slope): (Vec<_>, Vec<_>) = both.unzip();
            let slopes: Row<4> = slope.into_iter().map(|d| d.map(|x| x * per)).collect();
            let here: Row<4> = here.into_iter().collect();
            (here, slopes)
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

/// A cell around: its place in a span of the surface, from 0 to 1, and how fast the parameter goes there by the pace's own: at
/// both ends, and by how much that changes.
pub(super) struct Cell {
    pub between: [f64; 2],
    pub speed: [f64; 2],
    pub gain: f64,
}

type Points = SmallVec<[Point3; 8]>;

/// Rows of a polynomial's coefficients: the first and the last one, and how far the others leave the line between them. As a
/// polynomial of a short stretch is nearly straight, these bound it well.
struct Ends {
    rows: [Points; 2],
    off: f64,
}

impl Ends {
    fn new(rows: &[Points], times: f64) -> Option<Self> {
        let (head, tail) = (rows.first()?, rows.last()?);
        let last = rows.len().max(2) - 1;
        let mut off = 0.0_f64;
        for (i, row) in rows.iter().enumerate() {
            for (j, p) in row.iter().enumerate() {
                let line = lerp(&head[j], &tail[j], i as f64 / last as f64);
                off = off.max(size(&minus(p, &line)));
            }
        }
        let scaled = |row: &Points| row.iter().map(|p| p.map(|x| x * times)).collect();
        (!head.is_empty()).then(|| Self { rows: [scaled(head), scaled(tail)], off: off * times })
    }

    fn most(&self, between: [f64; 2]) -> f64 {
        let each = self.rows.iter().flat_map(|row| part(row, between));
        each.map(|p| size(&p)).fold(0.0, f64::max) + self.off
    }
}

/// The same polynomial, of one degree more.
fn raised(row: &Points) -> Points {
    let n = row.len();
    let at = |j: usize| {
        let share = j as f64 / n as f64;
        if j == 0 {
            row[0]
        } else if j == n {
            row[n - 1]
        } else {
            lerp(&row[j], &row[j - 1], share)
        }
    };
    (0..=n).map(at).collect()
}

/// Bounds over the cells around of a table, which are parts of its span: along by a parameter from 0 to 1 of the table's
/// stretch, around by the pace's parameter. There `S` has the second derivative `S_uu·u′² + S_u·u″`.
pub(super) fn bends(table: &Table, width: f64, cells: &[Cell], weighted: bool) -> Vec<Bends> {
    if weighted {
        let one = |cell: &Cell| {
            let [ss, su, uu] = rational_bends(&table.around(cell.between));
            let width = width * (cell.between[1] - cell.between[0]);
            [ss, su / width, uu / (width * width)]
        };
        return cells.iter().map(one).collect();
    }
    let (n, m) = ((table.height() - 1) as f64, (table.width - 1) as f64);
    let plain = |p: &[f64; 4]| [p[0], p[1], p[2]];
    let rows: Vec<Points> = table.rows().map(|r| r.iter().map(plain).collect()).collect();
    let between = |a: &Points, b: &Points| -> Points { a.iter().zip(b).map(|(a, b)| minus(b, a)).collect() };
    let along = |rows: &[Points]| -> Vec<Points> { rows.windows(2).map(|w| between(&w[0], &w[1])).collect() };
    let around = |rows: &[Points]| -> Vec<Points> {
        rows.iter().map(|r| r.windows(2).map(|w| minus(&w[1], &w[0])).collect()).collect()
    };
    let (first, slope) = (along(&rows), around(&rows));
    let second = Ends::new(&along(&first), n * (n - 1.0));
    let twist = Ends::new(&around(&first), n * m / width);
    let bent = Ends::new(&around(&slope), m * (m - 1.0) / (width * width));
    let slope = Ends::new(&slope, m / width);
    let one = |cell: &Cell| {
        let most = |ends: &Option<Ends>| ends.as_ref().map_or(0.0, |e| e.most(cell.between));
        let fastest = cell.speed[0].max(cell.speed[1]);
        let (Some(bent), Some(slope)) = (&bent, &slope) else {
            return [most(&second), fastest * most(&twist), libm::fabs(cell.gain) * most(&slope)];
        };
        let square = cell.speed.map(|v| v * v);
        let middle = 0.5 * (square[0] + square[1]);
        let mut most_bent = 0.0_f64;
        for (b, s) in bent.rows.iter().zip(&slope.rows) {
            let both = part(&raised(b), cell.between).into_iter().zip(part(s, cell.between));
            for (b, s) in both {
                let sum = [0, 1, 2].map(|k| middle * b[k] + cell.gain * s[k]);
                most_bent = most_bent.max(size(&sum));
            }
        }
        let rest = 0.5 * libm::fabs(square[0] - square[1]) * bent.most(cell.between);
        let off = middle * bent.off + libm::fabs(cell.gain) * slope.off;
        [most(&second), fastest * most(&twist), most_bent + rest + off]
    };
    cells.iter().map(one).collect()
}

/// Bounds for a quotient over a whole table.
fn rational_bends(table: &Table) -> Bends {
    let (moved, [least, _]) = about_middle(&table.poles);
    let width = table.width;
    let (n, m) = ((table.height() - 1) as f64, (width - 1) as f64);
    let spread = moved.iter().map(size).fold(0.0, f64::max) / least;
    let at = |i: usize, j: usize| moved[i * width + j];
    let differences = |along: usize, around: usize| {
        let mut most = [0.0_f64; 2];
        for i in 0..table.height().saturating_sub(along) {
            for j in 0..width.saturating_sub(around) {
                let d = match (along, around) {
                    (1, 0) => minus(&at(i + 1, j), &at(i, j)),
                    (0, 1) => minus(&at(i, j + 1), &at(i, j)),
                    (2, 0) => minus(&minus(&at(i + 2, j), &at(i + 1, j)), &minus(&at(i + 1, j), &at(i, j))),
                    (0, 2) => minus(&minus(&at(i, j + 2), &at(i, j + 1)), &minus(&at(i, j + 1), &at(i, j))),
                    _ => minus(&minus(&at(i + 1, j + 1), &at(i + 1, j)), &minus(&at(i, j + 1), &at(i, j))),
                };
                most = [most[0].max(size(&d)), most[1].max(libm::fabs(d[3]))];
            }
        }
        most
    };
    let times = |[a, b]: [f64; 2], k: f64| [a * k, b * k];
    let (s1, u1) = (times(differences(1, 0), n), times(differences(0, 1), m));
    let (s2, u2) = (times(differences(2, 0), n * (n - 1.0)), times(differences(0, 2), m * (m - 1.0)));
    let su = times(differences(1, 1), n * m);
    let slope = |d: [f64; 2]| (d[0] + spread * d[1]) / least;
    let (s, u) = (slope(s1), slope(u1));
    [
        (s2[0] + 2.0 * s * s1[1] + spread * s2[1]) / least,
        (su[0] + s * u1[1] + u * s1[1] + spread * su[1]) / least,
        (u2[0] + 2.0 * u * u1[1] + spread * u2[1]) / least,
    ]
}
