//! How far two surfaces are apart that are held against each other place by place.

use smallvec::SmallVec;

use crate::shape::Point;

/// The difference of two surfaces as rows of control points, each row a cubic around the section. Along the neck every
/// difference is a mean of the rows', so that none is longer than the longest of them. Around it the square of a row's length
/// is a polynomial of degree 6, which its Bernstein coefficients bound; unlike the control points that bound does not suffer
/// from the difference's turning around the section.
pub(super) struct Apart {
    rows: SmallVec<[[Point; 4]; 12]>,
}

/// What is known of a difference.
pub(super) struct Bounded {
    /// No place differs by more, mm.
    pub bound: f64,
    /// What the bound may lose when the piece is halved, along the neck and around it, mm.
    pub open: [f64; 2],
    /// How far the difference's control points lie apart, along the neck and around it, mm.
    pub change: [f64; 2],
    /// Where along and around the greatest difference is to be looked for, 0 to 1.
    pub at: [f64; 2],
}

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// Bernstein coefficients of a cubic's squared length.
fn square([a, b, c, d]: &[Point; 4]) -> [f64; 7] {
    [
        dot(*a, *a),
        dot(*a, *b),
        0.6 * dot(*b, *b) + 0.4 * dot(*a, *c),
        0.1 * dot(*a, *d) + 0.9 * dot(*b, *c),
        0.6 * dot(*c, *c) + 0.4 * dot(*b, *d),
        dot(*c, *d),
        dot(*d, *d),
    ]
}

impl Apart {
    pub fn new(rows: impl Iterator<Item = [Point; 4]>) -> Self {
        Self { rows: rows.collect() }
    }

    pub fn bounded(&self) -> Bounded {
        let n = (self.rows.len().max(2) - 1) as f64;
        let (mut most, mut bent, mut at) = (0.0, 0.0_f64, [0.5; 2]);
        for (i, row) in self.rows.iter().enumerate() {
            let square = square(row);
            for (k, c) in square.iter().enumerate() {
                let t = k as f64 / 6.0;
                bent = bent.max(libm::fabs(c - (square[0] + t * (square[6] - square[0]))));
                if *c > most {
                    (most, at) = (*c, [i as f64 / n, t]);
                }
            }
        }
        let bound = libm::sqrt(most);
        let open = if bound > 0.0 { [self.open_along(bound), 0.5 * bent / bound] } else { [0.0; 2] };
        Bounded { bound, open, at, change: self.change() }
    }

    /// The bound by the control points alone, each of which need only be a bound itself, of either part of the difference.
    pub fn longest(&self) -> Bounded {
        let n = (self.rows.len().max(2) - 1) as f64;
        let (mut bound, mut at) = (0.0, [0.5; 2]);
        for (i, row) in self.rows.iter().enumerate() {
            for (j, d) in row.iter().enumerate() {
                let size = libm::sqrt(dot(*d, *d));
                if size > bound {
                    (bound, at) = (size, [i as f64 / n, j as f64 / 3.0]);
                }
            }
        }
        let change = self.change();
        Bounded { bound, open: change, at, change }
    }

    fn change(&self) -> [f64; 2] {
        let mut change = [0.0_f64; 2];
        let Some(first) = self.rows.first() else { return change };
        for row in &self.rows {
            for (d, from) in row.iter().zip(first) {
                let far = |o: &Point| libm::fabs(d[0] - o[0]).max(libm::fabs(d[1] - o[1]));
                change = [change[0].max(far(from)), change[1].max(far(&row[0]))];
            }
        }
        change
    }

    /// Along the difference a net that is bent reaches beyond its surface. What changes square to it lengthens the difference
    /// by half its square over it, and need not: the nearest place lies elsewhere.
    fn open_along(&self, bound: f64) -> f64 {
        let Some((first, last)) = self.rows.first().zip(self.rows.last()) else { return 0.0 };
        let n = (self.rows.len().max(2) - 1) as f64;
        let (mut bent, mut aside) = (0.0_f64, 0.0_f64);
        for (i, row) in self.rows.iter().enumerate() {
            let t = i as f64 / n;
            for ((d, a), b) in row.iter().zip(first).zip(last) {
                let off = [0, 1].map(|k| d[k] - (a[k] + t * (b[k] - a[k])));
                bent = bent.max(libm::fabs(dot(off, *d)));
                aside = aside.max(libm::fabs(d[0] * a[1] - d[1] * a[0]));
            }
        }
        let aside = aside / bound;
        bent / bound + (0.5 * aside * aside / bound).min(aside)
    }
}
