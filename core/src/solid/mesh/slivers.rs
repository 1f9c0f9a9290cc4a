//! Slivers between other triangles: their sides turned.

use alloc::vec;
use alloc::vec::Vec;

use super::chart::Chart;
use super::facet::Facet;
use super::settle::{Part, area, key};

/// How many times sides are turned, one after the other.
const TURNS: u32 = 64;
/// Triangles lower than this are flat, mm.
const FLAT_MM: f64 = 1e-6;

impl Part<'_> {
    /// The sides that may be turned with the triangles beside them, sorted: one of the two is low, and one is fresh.
    fn low_sides(&self, low: f64) -> Vec<([u32; 2], [usize; 2])> {
        let sides = |t: [u32; 3]| [0, 1, 2].map(|k| key(t[k], t[(k + 1) % 3]));
        let mut wanted: Vec<[u32; 2]> = Vec::new();
        let mut ends = vec![false; self.corners.len()];
        // Those of the low ones or those of the fresh ones, whichever are fewer.
        let [lows, freshes] = [true, false].map(|of_low| {
            self.facets.iter().filter(|f| if of_low { f.height <= low } else { f.fresh }).count()
        });
        let is_wanted = |f: &&Facet| if lows <= freshes { f.height <= low } else { f.fresh };
        for facet in self.facets.iter().filter(is_wanted) {
            wanted.extend(sides(facet.corners));
            facet.corners.iter().for_each(|c| ends[*c as usize] = true);
        }
        if wanted.is_empty() {
            return Vec::new();
        }
        wanted.sort_unstable();
        wanted.dedup();
        let mut found: Vec<([u32; 2], usize)> = Vec::with_capacity(2 * wanted.len());
        for (i, facet) in self.facets.iter().enumerate() {
            for side in sides(facet.corners) {
                let both = ends[side[0] as usize] && ends[side[1] as usize];
                if both && wanted.binary_search(&side).is_ok() {
                    found.push((side, i));
                }
            }
        }
        found.sort_unstable();
        let of = |i: usize| &self.facets[i];
        let pairs = found.windows(2).filter(|w| {
            let (a, b) = (of(w[0].1), of(w[1].1));
            w[0].0 == w[1].0 && (a.height <= low || b.height <= low) && (a.fresh || b.fresh)
        });
        pairs.map(|w| (w[0].0, [w[0].1, w[1].1])).collect()
    }

    /// Turns the side between two triangles where one of them is a sliver and both are less so then.
    pub fn turned_sides(&mut self, low: f64) {
        // On planes and cylinders only three corners that lie on a line by rounding make one.
        let low = if matches!(self.chart, Chart::Spline { .. }) { low } else { FLAT_MM };
        for _ in 0..TURNS {
            let mut turned: Vec<usize> = Vec::new();
            let mut gone = vec![false; self.facets.len()];
            for (side, [i, j]) in self.low_sides(low) {
                let least = self.facets[i].height.min(self.facets[j].height);
                if gone[i] || gone[j] || self.on_loop(side[0], side[1]).is_some() {
                    continue;
                }
                let at = |t: [u32; 3]| area(t.map(|v| self.corners[v as usize].at));
                // From the side a to b, with c to the left of it and d to the right.
                let mut t = self.facets[i].corners;
                while key(t[0], t[1]) != side {
                    t.rotate_left(1);
                }
                let [a, b, c] = t;
                let other = self.facets[j].corners;
                let Some(d) = other.into_iter().find(|v| !side.contains(v)) else { continue };
                let both = [[a, d, c], [d, b, c]];
                let whole = at(t) + at(other);
                if both.iter().any(|t| at(*t) / whole < 1e-3) {
                    continue;
                }
                let both = both.map(|t| Facet::new(t, &self.corners, self.outward));
                if both[0].height.min(both[1].height) > 1.2 * least.max(0.0) + 1e-9 {
                    let [one, two] = both;
                    self.facets[i] = one;
                    self.facets[j] = two;
                    (gone[i], gone[j]) = (true, true);
                    turned.extend([i, j]);
                }
            }
            self.facets.iter_mut().for_each(|f| f.fresh = false);
            if turned.is_empty() {
                break;
            }
            turned.into_iter().for_each(|i| self.facets[i].fresh = true);
        }
    }
}
