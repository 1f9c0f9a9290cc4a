//! Nodes that only make slivers, taken out again.

use alloc::vec;
use alloc::vec::Vec;

use super::chart::Chart;
use super::facet::Facet;
use super::settle::{Part, area};

/// How many times nodes are taken out, one after the other.
const TIMES: u32 = 8;
/// What of a ring's area in the parameters each new triangle of it has at least.
const LEAST_SHARE: f64 = 1e-3;

/// No triangle.
const NONE: u32 = u32::MAX;

impl Part<'_> {
    /// Takes out nodes at which a triangle is a sliver, where those around then are less so: close to a boundary that bends by as
    /// much as they are away from it, they make triangles that fold back.
    pub fn without_slivers(&mut self, low: f64) {
        if !matches!(self.chart, Chart::Spline { .. }) {
            return;
        }
        for _ in 0..TIMES {
            if !self.nodes_out(low) {
                break;
            }
        }
        self.without_loose_nodes();
    }

    /// Once; whether there were any.
    fn nodes_out(&mut self, low: f64) -> bool {
        let mut wanted = vec![false; self.corners.len()];
        for facet in self.facets.iter().filter(|f| f.height <= low) {
            for c in facet.corners {
                wanted[c as usize] = self.corners[c as usize].place.is_none();
            }
        }
        let mut rings: Vec<(u32, u32)> = Vec::new();
        for (i, facet) in self.facets.iter().enumerate() {
            let own = facet.corners.iter().filter(|c| wanted[**c as usize]);
            rings.extend(own.map(|c| (*c, i as u32)));
        }
        rings.sort_unstable();
        let mut gone = vec![false; self.facets.len()];
        let mut any = false;
        for ring in rings.chunk_by(|a, b| a.0 == b.0) {
            let node = ring[0].0;
            if ring.iter().any(|(_, i)| gone[*i as usize]) {
                continue;
            }
            let own: Vec<[u32; 3]> = ring.iter().map(|(_, i)| self.facets[*i as usize].corners).collect();
            let Some(made) = self.filled(node, &own) else { continue };
            any = true;
            // Two triangles fewer; those that are gone are dropped at the end.
            for (k, (_, i)) in ring.iter().enumerate() {
                gone[*i as usize] = true;
                let facet = &mut self.facets[*i as usize];
                match made.get(k) {
                    Some(new) => *facet = new.clone(),
                    None => facet.corners = [NONE; 3],
                }
            }
        }
        self.facets.retain(|f| f.corners[0] != NONE);
        any
    }

    /// The ring around a node with one of its corners joined to all others: the best one, if its triangles are less of slivers.
    fn filled(&self, node: u32, ring: &[[u32; 3]]) -> Option<Vec<Facet>> {
        let at = |t: [u32; 3]| area(t.map(|v| self.corners[v as usize].at));
        let whole: f64 = ring.iter().map(|t| at(*t)).sum();
        let height = |t: &[u32; 3]| Facet::new(*t, &self.corners, self.outward).height;
        let before = ring.iter().map(height).fold(f64::INFINITY, f64::min);
        let mut best: Option<(f64, Vec<Facet>)> = None;
        for hub in ring.iter().flatten().filter(|c| **c != node) {
            let new =
                ring.iter().filter(|t| !t.contains(hub)).map(|t| t.map(|c| if c == node { *hub } else { c }));
            let new: Vec<[u32; 3]> = new.collect();
            if new.len() + 2 != ring.len() || new.iter().any(|t| at(*t) / whole < LEAST_SHARE) {
                continue;
            }
            let new: Vec<Facet> =
                new.into_iter().map(|t| Facet::new(t, &self.corners, self.outward)).collect();
            let least = new.iter().map(|f| f.height).fold(f64::INFINITY, f64::min);
            if least > 1.2 * before.max(0.0) + 1e-9 && best.as_ref().is_none_or(|b| least > b.0) {
                best = Some((least, new));
            }
        }
        best.map(|b| b.1)
    }

    /// Drops nodes that no triangle has.
    fn without_loose_nodes(&mut self) {
        let mut of = vec![NONE; self.corners.len()];
        self.facets.iter().flat_map(|f| f.corners).for_each(|c| of[c as usize] = 0);
        let mut count = 0;
        for (corner, of) in self.corners.iter().zip(&mut of) {
            if corner.place.is_some() || *of == 0 {
                *of = count;
                count += 1;
            }
        }
        let mut old = of.iter();
        self.corners.retain(|_| old.next().is_some_and(|c| *c != NONE));
        self.facets.iter_mut().for_each(|f| f.corners = f.corners.map(|c| of[c as usize]));
        // Those on the loops come first and all stay, so their sides hold.
    }
}
