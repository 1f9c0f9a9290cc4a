//! How much a part of a surface bends that is a quotient of polynomials.

use super::bending::Range;
use super::bezier::{Row, Table, about_middle, minus, size};
use super::patches::dot;
use crate::solid::Point3;

/// A part's coefficients, with a point of it for the origin.
pub(super) struct Quotient {
    moved: Row<4>,
    width: usize,
    /// The least weight.
    least: f64,
    over: [f64; 2],
}

/// How many differences are taken along and around: what makes first and second derivatives.
const FIRST: [[usize; 2]; 2] = [[1, 0], [0, 1]];
const SECOND: [[usize; 2]; 3] = [[2, 0], [1, 1], [0, 2]];

impl Quotient {
    pub fn new(table: &Table, over: [f64; 2]) -> Self {
        let (moved, [least, _]) = about_middle(&table.poles);
        Self { moved, width: table.width, least, over }
    }

    /// Greatest measure of differences, and greatest size of those of the weights, as derivatives by places from 0 to 1.
    fn differences(&self, [along, around]: [usize; 2], measure: &impl Fn(&[f64; 4]) -> f64) -> [f64; 2] {
        let height = self.moved.len() / self.width;
        let at = |i: usize, j: usize| self.moved[i * self.width + j];
        let mut most = [0.0_f64; 2];
        for i in 0..height.saturating_sub(along) {
            for j in 0..self.width.saturating_sub(around) {
                let d = match (along, around) {
                    (1, 0) => minus(&at(i + 1, j), &at(i, j)),
                    (0, 1) => minus(&at(i, j + 1), &at(i, j)),
                    (2, 0) => minus(&minus(&at(i + 2, j), &at(i + 1, j)), &minus(&at(i + 1, j), &at(i, j))),
                    (0, 2) => minus(&minus(&at(i, j + 2), &at(i, j + 1)), &minus(&at(i, j + 1), &at(i, j))),
                    _ => minus(&minus(&at(i + 1, j + 1), &at(i + 1, j)), &minus(&at(i, j + 1), &at(i, j))),
                };
                most = [most[0].max(measure(&d)), most[1].max(libm::fabs(d[3]))];
            }
        }
        let degrees = [height - 1, self.width - 1];
        let mut times = 1.0;
        for (degree, order) in degrees.into_iter().zip([along, around]) {
            (0..order).for_each(|k| times *= degree.saturating_sub(k) as f64);
        }
        most.map(|m| m * times)
    }

    /// Bounds of the second derivatives measured so: of `C = N/W` they are `C_ab = (N_ab − C_a·W_b − C_b·W_a − C·W_ab)/W`, and
    /// so is what is linear in them.
    fn bounds(&self, measure: impl Fn(&[f64; 4]) -> f64) -> [f64; 3] {
        let spread = self.moved.iter().map(&measure).fold(0.0, f64::max) / self.least;
        let first = FIRST.map(|order| self.differences(order, &measure));
        let slope = first.map(|[n, w]| (n + spread * w) / self.least);
        SECOND.map(|order| {
            let [n, w] = self.differences(order, &measure);
            let (a, b) = if order[0] == 2 { (0, 0) } else { (usize::from(order[0] == 0), 1) };
            let whole = n + slope[a] * first[b][1] + slope[b] * first[a][1] + spread * w;
            let over = (0..order[0]).map(|_| self.over[0]).chain((0..order[1]).map(|_| self.over[1]));
            whole / self.least / over.product::<f64>()
        })
    }

    pub fn range<const D: usize>(&self, directions: &[Point3; D]) -> Range<D> {
        let size = self.bounds(size);
        let along = |d: &Point3| {
            let own = self.bounds(|p| libm::fabs(dot([p[0], p[1], p[2]], *d)));
            [0, 1, 2].map(|k| own[k].min(size[k])).map(|most| [-most, most])
        };
        Range { along: directions.each_ref().map(along), size }
    }
}
