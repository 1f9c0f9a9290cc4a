//! The carved back as a regular grid, into buffers of the caller's.

use alloc::vec;
use alloc::vec::Vec;

use super::mesh::{Real, sized};
use crate::measure::{Error, Fault, Kind};
use crate::shape::{Neck, Side};

/// What cubics are at the places around one side: the four Bernstein polynomials and their slopes, place by place.
struct Basis {
    value: [Vec<f64>; 4],
    slope: [Vec<f64>; 4],
}

impl Basis {
    fn new(places: impl Iterator<Item = f64> + Clone) -> Self {
        let table = |f: &dyn Fn(f64, f64) -> f64| places.clone().map(|u| f(u, 1.0 - u)).collect::<Vec<f64>>();
        Self {
            value: [
                table(&|_, v| v * v * v),
                table(&|u, v| 3.0 * u * v * v),
                table(&|u, v| 3.0 * u * u * v),
                table(&|u, _| u * u * u),
            ],
            slope: [
                table(&|_, v| -3.0 * v * v),
                table(&|u, v| 3.0 * v * (v - 2.0 * u)),
                table(&|u, v| 3.0 * u * (2.0 * v - u)),
                table(&|u, _| 3.0 * u * u),
            ],
        }
    }
}

fn sums(table: &[Vec<f64>; 4], by: [f64; 4], out: &mut [f64]) {
    let [a, b, c, d] = table;
    for ((((out, a), b), c), d) in out.iter_mut().zip(a).zip(b).zip(c).zip(d) {
        *out = (a * by[0] + b * by[1]) + (c * by[2] + d * by[3]);
    }
}

/// One row of places, before it is written.
struct Row {
    y: Vec<f64>,
    z: Vec<f64>,
    y_along: Vec<f64>,
    z_along: Vec<f64>,
    y_around: Vec<f64>,
    z_around: Vec<f64>,
}

impl Neck {
    /// The carved back as a grid of points with normals: a row for each station, in it `columns` places from the bass carve line to
    /// the treble one, even in the parameter of either side's cubic. Three values for each, row by row, into the caller's buffers
    /// of `f64` or `f32`: positions in mm, normals out of the wood, of length 1.
    ///
    /// # Errors
    /// - [`Kind::OutOfRange`]: fewer than 2 columns, which do not reach from one carve line to the other;
    /// - a station that is not on the neck, named by its index;
    /// - buffers of another size than `3 · columns` for each station.
    ///
    /// Nothing is written then.
    pub fn back_grid_into<T: Real>(
        &self,
        x_mm: &[f64],
        columns: usize,
        positions_mm: &mut [T],
        normals: &mut [T],
    ) -> Result<(), Error> {
        if columns < 2 {
            let reason = "a grid reaches from the bass carve line to the treble one";
            let fault =
                Fault::new(Kind::OutOfRange, "columns", reason).value(columns, "columns").range(2.0, None);
            return Err(fault.remedy("give 2 or more; an odd number has a column on the spine").into());
        }
        let size = columns.saturating_mul(3);
        self.all_within(x_mm, self.wood_reach_mm())?;
        sized("positions_mm", positions_mm.len(), x_mm.len().saturating_mul(size))?;
        sized("normals", normals.len(), x_mm.len().saturating_mul(size))?;
        if x_mm.is_empty() {
            return Ok(());
        }
        let hand = self.hand_sign();
        let last = (columns - 1) as f64;
        let bass = columns.div_ceil(2);
        let around = |j: usize| {
            let place = 2.0 * j as f64 / last;
            if j < bass { place.min(1.0) } else { 2.0 - place }
        };
        let sides = [(Side::Bass, 0..bass), (Side::Treble, bass..columns)]
            .map(|(side, own)| (side, own.clone(), Basis::new(own.map(around))));
        let row = || vec![0.0; columns];
        let mut row =
            Row { y: row(), z: row(), y_along: row(), z_along: row(), y_around: row(), z_around: row() };
        let rows = positions_mm.chunks_exact_mut(size).zip(normals.chunks_exact_mut(size));
        for (x, (points, square)) in x_mm.iter().zip(rows) {
            for (side, own, basis) in &sides {
                let flank = self.built().back.flanks.of(*side);
                let sign = side.sign() * hand;
                let out = [0, 1, 2, 3].map(|k| flank.out[k].value2(*x).map(|v| sign * v));
                let depth = [0, 1, 2, 3].map(|k| flank.depth[k].value2(*x).map(|v| -v));
                let of = |all: &[[f64; 3]; 4], k: usize| all.map(|p| p[k]);
                sums(&basis.value, of(&out, 0), &mut row.y[own.clone()]);
                sums(&basis.value, of(&depth, 0), &mut row.z[own.clone()]);
                sums(&basis.value, of(&out, 1), &mut row.y_along[own.clone()]);
                sums(&basis.value, of(&depth, 1), &mut row.z_along[own.clone()]);
                // The direction from bass to treble, so that the normal points one way on both sides.
                let way = if *side == Side::Bass { 1.0 } else { -1.0 };
                sums(&basis.slope, of(&out, 0).map(|v| way * v), &mut row.y_around[own.clone()]);
                sums(&basis.slope, of(&depth, 0).map(|v| way * v), &mut row.z_around[own.clone()]);
                // A handle of no length: at its end the curve goes the way of the next one.
                let ends = [(0, 0, 2), (3, 3, 1)];
                for (k, from, to) in ends {
                    for j in own.clone().filter(|j| basis.value[k][*j - own.start] == 1.0) {
                        if row.y_around[j] == 0.0 && row.z_around[j] == 0.0 {
                            let toward = if k == 0 { way } else { -way };
                            row.y_around[j] = toward * (out[to][0] - out[from][0]);
                            row.z_around[j] = toward * (depth[to][0] - depth[from][0]);
                        }
                    }
                }
            }
            row.write(*x, hand, points, square);
        }
        Ok(())
    }
}

impl Row {
    fn write<T: Real>(&self, x: f64, hand: f64, points: &mut [T], normals: &mut [T]) {
        let places = self.y.iter().zip(&self.z);
        for (point, (y, z)) in points.chunks_exact_mut(3).zip(places) {
            point.copy_from_slice(&[T::nearest(x), T::nearest(*y), T::nearest(*z)]);
        }
        let slopes = self.y_along.iter().zip(&self.z_along).zip(self.y_around.iter().zip(&self.z_around));
        for (normal, ((ys, zs), (yu, zu))) in normals.chunks_exact_mut(3).zip(slopes) {
            let across = zs * yu - ys * zu;
            let length = hand / libm::sqrt(across * across + (yu * yu + zu * zu));
            let all = [across * length, zu * length, -yu * length];
            normal.copy_from_slice(&all.map(T::nearest));
        }
    }
}
