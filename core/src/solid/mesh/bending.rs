//! How much a part of a spline surface bends: bounds of its second derivatives, whole and along a direction.

use smallvec::SmallVec;

use super::bezier::{Table, lerp, minus, shorten};
use super::patches::dot;
use super::quotient::Quotient;
use crate::solid::Point3;

type Points = SmallVec<[Point3; 4]>;

/// Rows of a polynomial's coefficients over a stretch along: the first and the last, and how far the others leave the line between
/// those two. As a polynomial of a short stretch is nearly straight, these bound it well, and are few.
pub(super) struct Ends {
    rows: [Points; 2],
    off: f64,
}

/// From nothing to the greatest and least of some values.
const NONE: [f64; 2] = [f64::INFINITY, f64::NEG_INFINITY];

fn within([low, high]: [f64; 2], x: f64) -> [f64; 2] {
    [low.min(x), high.max(x)]
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

/// Second derivatives over a part within one span each way: along twice, along and around, around twice.
pub(super) enum Bending {
    Plain([Option<Ends>; 3]),
    /// Of a surface that is a quotient.
    Quotient(Quotient),
}

impl Bending {
    /// Of a table over a stretch of this length along and this width around.
    pub fn new(table: &Table, [length, width]: [f64; 2], weighted: bool) -> Self {
        if weighted {
            return Self::Quotient(Quotient::new(table, [length, width]));
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
        Self::Plain([0, 1, 2].map(|k| Ends::new(&differences[k], widths[k], times[k])))
    }

    /// Over a part along and around, as places from 0 to 1; of a quotient over all of it.
    pub fn range<const D: usize>(
        &self,
        [between, around]: [[f64; 2]; 2],
        directions: &[Point3; D],
    ) -> Range<D> {
        let all = match self {
            Self::Quotient(quotient) => return quotient.range(directions),
            Self::Plain(all) => all,
        };
        let mut found = Range { along: [[[0.0; 2]; 3]; D], size: [0.0; 3] };
        for (k, ends) in all.iter().enumerate() {
            let Some(ends) = ends else { continue };
            let (mut most, mut along) = (0.0_f64, [NONE; D]);
            for share in between {
                let [head, tail] = &ends.rows;
                let row: Points = head.iter().zip(tail).map(|(a, b)| lerp(a, b, share)).collect();
                shortened(&row, around, |p| {
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
    /// Where nothing bends.
    pub const NOTHING: Self = Self { along: [[[0.0; 2]; 3]; D], size: [0.0; 3] };
    /// Where nothing bounds them.
    pub const UNKNOWN: Self =
        Self { along: [[[f64::NEG_INFINITY, f64::INFINITY]; 3]; D], size: [f64::INFINITY; 3] };

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
