//! How the parameter around goes by one that goes evenly over the surface.

use alloc::vec::Vec;

use super::bezier::size;
use super::grid::Bent;

/// No place is gone over faster than this many times the slowest.
const FASTEST: f64 = 12.0;

/// A parameter `v` in whose steps places around lie about evenly apart: between cells `u` is of degree 2 in it, and smooth
/// across them. How far a surface lies from its triangles is bounded in `v`, where it has little in it of how fast `u` goes.
pub(super) struct Pace {
    pub cells: Vec<f64>,
    /// `v` at the ends of cells.
    pub at: Vec<f64>,
    /// `du/dv` there.
    pub speed: Vec<f64>,
}

impl Pace {
    pub fn new(cells: &[f64], members: &[&Bent]) -> Self {
        let plain = members.iter().any(|m| m.patches.weighted || m.patches.tables[0][0].width == 2);
        let mut slope: Vec<f64> = cells.iter().map(|_| 1.0).collect();
        if !plain {
            slope.iter_mut().for_each(|s| *s = 0.0);
            for member in members {
                let [from, to] = member.used[0];
                for i in 0..=16 {
                    let row = member.patches.across(from + (to - from) * f64::from(i) / 16.0);
                    for (sum, u) in slope.iter_mut().zip(cells) {
                        *sum += size(&row.at(*u)[2]);
                    }
                }
            }
        }
        let most = slope.iter().copied().fold(0.0, f64::max);
        let speed: Vec<f64> = slope.iter().map(|s| most / s.max(most / FASTEST)).collect();
        let mut at = alloc::vec![0.0];
        for (w, p) in cells.windows(2).zip(speed.windows(2)) {
            at.push(at[at.len() - 1] + 2.0 * (w[1] - w[0]) / (p[0] + p[1]));
        }
        Self { cells: cells.into(), at, speed }
    }

    /// By how much the speed changes over a cell, for each step of `v`.
    pub fn gain(&self, i: usize) -> f64 {
        (self.speed[i + 1] - self.speed[i]) / (self.at[i + 1] - self.at[i])
    }

    pub fn v(&self, u: f64) -> f64 {
        let i = self.cells.partition_point(|c| *c <= u).saturating_sub(1).min(self.cells.len() - 2);
        if u == self.cells[i + 1] {
            return self.at[i + 1];
        }
        let (p, gain, off) = (self.speed[i], self.gain(i), u - self.cells[i]);
        self.at[i] + 2.0 * off / (p + libm::sqrt((p * p + 2.0 * gain * off).max(0.0)))
    }

    pub fn u(&self, v: f64) -> f64 {
        let i = self.at.partition_point(|a| *a <= v).saturating_sub(1).min(self.at.len() - 2);
        if v == self.at[i + 1] {
            return self.cells[i + 1];
        }
        let x = v - self.at[i];
        self.cells[i] + x * (self.speed[i] + 0.5 * self.gain(i) * x)
    }
}
