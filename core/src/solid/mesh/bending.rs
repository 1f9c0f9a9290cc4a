//! How much a part of a spline surface bends: bounds of its second derivatives, whole and along a direction.

use smallvec::SmallVec;

use super::bezier::{Table, about_middle, lerp, minus, size};
use super::patches::dot;
use crate::solid::Point3;

type Points = SmallVec<[Point3; 4]>;

/// Rows of a polynomial's coefficients over a stretch along: the first and the last, and how far the others leave the line between
/// those two. As a polynomial of a short stretch is nearly straight, these bound it well, and are few.
struct Ends {
    rows: [Points; 2],
    off: f64,
}

/// From nothing to the greatest and least of some values.
const NONE: [f64; 2] = [f64::INFINITY, f64::NEG_INFINITY];

fn within([low, high]: [f64; 2], x: f64) -> [f64; 2] {
    [low.min(x), high.max(x)]
}

/// The coefficients between two places, in place of those from 0 to 1.
#[inline(always)]
fn shorten(d: &mut [Point3], [from, to]: [f64; 2]) {
    let n = d.len() - 1;
    if to < 1.0 {
        for k in 1..=n {
            for j in (k..=n).rev() {
                d[j] = lerp(&d[j - 1], &d[j], to);
            }
        }
    }
    if from > 0.0 {
        let t = from / to.min(1.0);
        for k in 1..=n {
            for j in 0..=n - k {
                d[j] = lerp(&d[j], &d[j + 1], t);
            }
        }
    }
}

/// Hands on the coefficients between two places.
fn shortened(row: &Points, between: [f64; 2], mut each: impl FnMut(&Point3)) {
    // What most rows have is known to the compiler, which then needs no loops.
    match row.as_slice() {
        [a] => each(a),
        [a, b] => between.iter().for_each(|t| each(&lerp(a, b, *t))),
        [a, b, c] => {
            let mut d = [*a, *b, *c];
            shorten(&mut d, between);
            d.iter().for_each(each);
        }
        [a, b, c, d] => {
            let mut d = [*a, *b, *c, *d];
            shorten(&mut d, between);
            d.iter().for_each(each);
        }
        row => {
            let mut d = Points::from_slice(row);
            shorten(&mut d, between);
            d.iter().for_each(each);
        }
    }
}

impl Ends {
    /// Of rows of coefficients, row after row; `None` where there are none.
    fn new(all: &[Point3], width: usize, times: f64) -> Option<Self> {
        let last = all.len().checked_div(width)?.checked_sub(1)?;
        let (head, tail) = (&all[..width], &all[last * width..]);
        let mut off = 0.0_f64;
        for (i, row) in all.chunks(width).enumerate() {
            let share = i as f64 / last.max(1) as f64;
            for (j, p) in row.iter().enumerate() {
                let apart = minus(p, &lerp(&head[j], &tail[j], share));
                off = off.max(dot(apart, apart));
            }
        }
        let scaled = |row: &[Point3]| row.iter().map(|p| p.map(|x| x * times)).collect();
        Some(Self { rows: [scaled(head), scaled(tail)], off: libm::sqrt(off) * times })
    }
}

/// Bounds of the second derivatives over a part: of each along some directions the least and the greatest value, and its greatest
/// size.
pub(super) struct Range<const D: usize> {
    pub along: [[[f64; 2]; 3]; D],
    pub size: [f64; 3],
}

/// Second derivatives over a stretch along within one span around: along twice, along and around, around twice.
pub(super) struct Bending {
    ends: [Option<Ends>; 3],
    /// Where the surface is a quotient, bounds over all of it.
    whole: Option<[f64; 3]>,
}

impl Bending {
    /// Of a table over a stretch of this length along and this width around.
    pub fn new(table: &Table, [length, width]: [f64; 2], weighted: bool) -> Self {
        if weighted {
            let [ss, su, uu] = rational(table);
            let whole = [ss / (length * length), su / (length * width), uu / (width * width)];
            return Self { ends: [None, None, None], whole: Some(whole) };
        }
        let (rows, columns) = (table.height(), table.width);
        let (n, m) = ((rows - 1) as f64, (columns - 1) as f64);
        let at = |i: usize, j: usize| {
            let p = &table.poles[i * columns + j];
            [p[0], p[1], p[2]]
        };
        let mut differences: [SmallVec<[Point3; 64]>; 3] =
            [SmallVec::new(), SmallVec::new(), SmallVec::new()];
        for i in 0..rows {
            for j in 0..columns {
                let own = at(i, j);
                if i + 2 < rows {
                    let (b, c) = (at(i + 1, j), at(i + 2, j));
                    differences[0].push([0, 1, 2].map(|k| c[k] - 2.0 * b[k] + own[k]));
                }
                if i + 1 < rows && j + 1 < columns {
                    let (b, c, d) = (at(i + 1, j), at(i, j + 1), at(i + 1, j + 1));
                    differences[1].push([0, 1, 2].map(|k| d[k] - c[k] - b[k] + own[k]));
                }
                if j + 2 < columns {
                    let (b, c) = (at(i, j + 1), at(i, j + 2));
                    differences[2].push([0, 1, 2].map(|k| c[k] - 2.0 * b[k] + own[k]));
                }
            }
        }
        let widths = [columns, columns - 1, columns.saturating_sub(2)];
        let times =
            [n * (n - 1.0) / (length * length), n * m / (length * width), m * (m - 1.0) / (width * width)];
        Self { ends: [0, 1, 2].map(|k| Ends::new(&differences[k], widths[k], times[k])), whole: None }
    }

    /// Over a part around, as places from 0 to 1.
    pub fn range<const D: usize>(&self, between: [f64; 2], directions: &[Point3; D]) -> Range<D> {
        if let Some(size) = self.whole {
            return Range { along: [size.map(|s| [-s, s]); D], size };
        }
        let mut found = Range { along: [[[0.0; 2]; 3]; D], size: [0.0; 3] };
        for (k, ends) in self.ends.iter().enumerate() {
            let Some(ends) = ends else { continue };
            let (mut most, mut along) = (0.0_f64, [NONE; D]);
            for row in &ends.rows {
                shortened(row, between, |p| {
                    most = most.max(dot(*p, *p));
                    for (along, direction) in along.iter_mut().zip(directions) {
                        *along = within(*along, dot(*p, *direction));
                    }
                });
            }
            found.size[k] = libm::sqrt(most) + ends.off;
            for (d, [low, high]) in along.into_iter().enumerate() {
                found.along[d][k] = [low - ends.off, high + ends.off];
            }
        }
        found
    }
}

impl<const D: usize> Range<D> {
    pub fn with(self, other: &Self) -> Self {
        let mut both = self;
        for k in 0..3 {
            both.size[k] = both.size[k].max(other.size[k]);
            for d in 0..D {
                let ([a, b], [c, e]) = (both.along[d][k], other.along[d][k]);
                both.along[d][k] = [a.min(c), b.max(e)];
            }
        }
        both
    }
}

/// Bounds for a quotient over a whole table.
fn rational(table: &Table) -> [f64; 3] {
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
