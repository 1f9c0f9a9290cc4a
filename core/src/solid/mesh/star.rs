//! Corners within faces moved away from what they lie too close to.

use alloc::vec::Vec;

use super::facet::{Corner, Facet, HELD, NONE};
use super::web::Web;

/// The most triangles around a corner that is moved.
const MOST: usize = 64;
/// What of the way to the middle a corner is moved.
const SHARES: [f64; 3] = [1.0, 0.5, 0.25];

impl Web<'_> {
    /// The facets around a corner of one of them, each with the place of the corner in it; `None` where it is on an edge or a
    /// crease.
    pub fn star(&self, f: u32, i: usize) -> Option<Vec<(u32, usize)>> {
        let c = self.facets[f as usize].corners[i];
        if self.corners[c as usize].place != NONE {
            return None;
        }
        let mut found = Vec::new();
        let (mut g, mut k) = (f, i);
        loop {
            found.push((g, k));
            if found.len() > MOST || self.facets[g as usize].on[k] == HELD {
                return None;
            }
            let (next, l) = self.beyond(g, k)?;
            // The side beyond begins where this one ends.
            (g, k) = (next, (l + 1) % 3);
            if g == f {
                return Some(found);
            }
        }
    }

    /// Moves a corner toward the middle of those around it, where no triangle there is turned over then and the lowest is higher
    /// than before, or than so much; whether it was.
    pub fn centred(&mut self, f: u32, i: usize, high: f64) -> bool {
        let Some(star) = self.star(f, i) else { return false };
        let c = self.facets[f as usize].corners[i];
        let old = self.corners[c as usize].clone();
        let mut middle = [0.0; 2];
        for (g, k) in &star {
            let next = &self.corners[self.facets[*g as usize].corners[(k + 1) % 3] as usize];
            middle = [0, 1].map(|j| middle[j] + next.at[j] / star.len() as f64);
        }
        for share in SHARES {
            let at = [0, 1].map(|j| old.at[j] + share * (middle[j] - old.at[j]));
            let (point, normal) = self.charts[old.face as usize].point(at);
            let normal = if self.outward[old.face as usize] { normal } else { normal.map(|x| 0.0 - x) };
            self.corners[c as usize] = Corner { point, normal, at, ..old.clone() };
            let made: Vec<Facet> = star
                .iter()
                .map(|(g, _)| {
                    let own = &self.facets[*g as usize];
                    Facet::new(own.corners, &self.corners).beside(own.beside, own.on)
                })
                .collect();
            if self.rises(&made, &star, high) {
                for ((g, _), facet) in star.iter().zip(made) {
                    self.facets[*g as usize] = facet;
                }
                return true;
            }
        }
        self.corners[c as usize] = old;
        false
    }

    /// Whether no triangle is turned over in the parameters, and the lowest is higher than it was, or than so much; or less is turned
    /// over in space than was.
    fn rises(&self, made: &[Facet], star: &[(u32, usize)], high: f64) -> bool {
        let old = || star.iter().map(|(g, _)| self.facets[*g as usize].height);
        let new = || made.iter().map(|facet| facet.height);
        let low = old().fold(f64::INFINITY, f64::min);
        let lowest = new().fold(f64::INFINITY, f64::min);
        let folded = |all: &mut dyn Iterator<Item = f64>| all.map(|h| h.min(0.0)).sum::<f64>();
        made.iter().all(|facet| self.area(facet.corners) > 0.0)
            && (lowest > (1.2 * low).min(high).max(0.0) || folded(&mut new()) > 0.9 * folded(&mut old()))
    }

    /// Takes a corner out where no triangle there is turned over then, and the lowest is higher than before, or than so much; whether
    /// it was.
    pub fn collapsed(&mut self, f: u32, i: usize, high: f64) -> bool {
        let Some(star) = self.star(f, i) else { return false };
        let worth = |made: &[[u32; 3]]| {
            let made: Vec<Facet> = made.iter().map(|t| Facet::new(*t, &self.corners)).collect();
            let lowest = made.iter().map(|facet| facet.height).fold(f64::INFINITY, f64::min);
            self.rises(&made, &star, high).then_some(lowest)
        };
        let found = self.best_without(f, i, &star, worth);
        found.inspect(|j| self.take_out(f, i, &star, *j)).is_some()
    }

    /// Takes a corner out where by normals the surface leaves none of the triangles that there are then by more than so much, nor
    /// is one lower than before, or than so much.
    pub fn thinned(&mut self, f: u32, i: usize, most: f64, high: f64) {
        let Some(star) = self.star(f, i) else { return };
        let low = star.iter().map(|(g, _)| self.facets[*g as usize].height).fold(high, f64::min);
        let worth = |made: &[[u32; 3]]| {
            let error = made.iter().map(|t| self.error(*t)).fold(0.0, f64::max);
            let good = error <= most
                && made.iter().all(|t| self.area(*t) > 0.0 && Facet::new(*t, &self.corners).height >= low);
            good.then_some(0.0 - error)
        };
        if let Some(j) = self.best_without(f, i, &star, worth) {
            self.take_out(f, i, &star, j);
        }
    }

    /// Which side at a corner to take out with it, by its place in the star: that which is worth most.
    fn best_without(
        &self,
        f: u32,
        i: usize,
        star: &[(u32, usize)],
        worth: impl Fn(&[[u32; 3]]) -> Option<f64>,
    ) -> Option<usize> {
        let c = self.facets[f as usize].corners[i];
        let mut best: Option<(f64, usize)> = None;
        let mut made: Vec<[u32; 3]> = Vec::with_capacity(star.len());
        for (j, (g, k)) in star.iter().enumerate() {
            let onto = self.facets[*g as usize].corners[(k + 1) % 3];
            made.clear();
            // This one and the next have the side that goes.
            made.extend((2..star.len()).map(|l| {
                let own = self.facets[star[(j + l) % star.len()].0 as usize].corners;
                own.map(|own| if own == c { onto } else { own })
            }));
            if let Some(worth) = worth(&made).filter(|w| best.is_none_or(|b| *w > b.0)) {
                best = Some((worth, j));
            }
        }
        best.map(|b| b.1)
    }

    /// Takes a corner out with a side of its star.
    fn take_out(&mut self, f: u32, i: usize, star: &[(u32, usize)], j: usize) {
        let c = self.facets[f as usize].corners[i];
        let onto = self.facets[star[j].0 as usize].corners[(star[j].1 + 1) % 3];
        let count = star.len();
        for l in 2..count {
            let own = &mut self.facets[star[(j + l) % count].0 as usize];
            let corners = own.corners.map(|own| if own == c { onto } else { own });
            *own = Facet::new(corners, &self.corners).beside(own.beside, own.on);
        }
        // What lies beyond the two that go, and beside them around the corner, lies beside each other now.
        for ((gone, k), inner) in [(star[j], 2), (star[(j + 1) % count], 0)] {
            let old = self.facets[gone as usize].clone();
            self.facets[gone as usize] = old.clone().gone();
            let (inner, outer) = ((k + inner) % 3, (k + 1) % 3);
            let (next, beyond, on) = (old.beside[inner], old.beside[outer], old.on[outer]);
            let own = &mut self.facets[next as usize];
            if let Some(l) = own.beside.iter().position(|beside| *beside == gone) {
                (own.beside[l], own.on[l]) = (beyond, on);
            }
            self.moved(beyond, gone, next, on, [outer, (outer + 1) % 3].map(|l| old.corners[l]));
        }
    }
}
