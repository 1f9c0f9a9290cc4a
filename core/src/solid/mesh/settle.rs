//! Triangles halved where the surface lies too far off, until it nowhere does.

use alloc::vec;
use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::chart::Chart;
use super::deviation::Around;
use super::facet::{Facet, HELD, NONE};
use super::turns::{HIGH, LEAST_MM};
use super::web::{Web, is_blocked};

/// The most triangles that a mesh comes to be made of.
const MOST_FACETS: usize = 4_000_000;
/// How many times all triangles are looked at.
const ROUNDS: u32 = 400;
/// What of the tolerance triangles may lie off, about, once a corner is taken out.
const THIN: f64 = 0.8;
/// How many sides in a row are halved in place of each other.
const DEEPEST: u32 = 16;
/// How many times further from a side on an edge than its middle corners are.
const AWAY: f64 = 4.0;
/// What the planes of the triangles around turn away is taken for this many times that of one's own until it is known.
const TURNS: f64 = 1.5;

impl Web<'_> {
    /// Halves a side of a facet, or first what it would come too close to.
    fn halved(&mut self, f: u32, k: usize, chord: f64, depth: u32) -> Option<()> {
        let own = &self.facets[f as usize];
        let (g, l) = self.beyond(f, k)?;
        if own.on[k] < HELD {
            for (f, k) in [(f, k), (g, l)] {
                let apex = (k + 2) % 3;
                if !self.blocked(f, k)? || (self.centred(f, apex, LEAST_MM) && !self.blocked(f, k)?) {
                    continue;
                }
                if self.collapsed(f, apex, LEAST_MM) {
                    return Some(());
                }
                let other = self.longest(f);
                if other != k && depth < DEEPEST {
                    return self.halved(f, other, chord, depth + 1);
                }
            }
        } else if let Some((f, k)) = self.close(f, k).or_else(|| self.close(g, l)).filter(|_| depth < DEEPEST)
        {
            return self.halved(f, k, chord, depth + 1);
        }
        let four = self.halve(f, k)?;
        self.improved(four.into(), chord);
        Some(())
    }

    /// The middle of a stretch beside a facet in its face's parameters, where the edge winds through these.
    fn winding(&self, f: u32, k: usize) -> Option<[f64; 2]> {
        let on = self.facets[f as usize].on[k];
        let stretch = self.stretches.get((on >> 1) as usize)?;
        let edge = &self.edges[stretch.edge as usize];
        let which = (on & 1) as usize;
        if !edge.winds(which) {
            return None;
        }
        edge.parameters(which, 0.5 * (stretch.over[0] + stretch.over[1]))
    }

    /// Whether a stretch's middle lies so close to a facet's other sides, or past them, that halving it would turn one over.
    fn blocked(&self, f: u32, k: usize) -> Option<bool> {
        let own = &self.facets[f as usize];
        let Some(middle) = self.winding(f, k) else { return Some(false) };
        let [a, b, c] = [0, 1, 2].map(|i| self.corners[own.corners[(k + i) % 3] as usize].at);
        Some(is_blocked([a, b, c], middle, self.outward[self.face(f)]))
    }

    /// A stretch beside a facet that the middle of another of its sides would come too close to.
    fn close(&self, f: u32, k: usize) -> Option<(u32, usize)> {
        let own = &self.facets[f as usize];
        let at = own.corners.map(|c| self.corners[c as usize].at);
        let new = [0, 1].map(|j| 0.5 * (at[k][j] + at[(k + 1) % 3][j]));
        [(k + 1) % 3, (k + 2) % 3].into_iter().find_map(|l| {
            let middle = self.winding(f, l)?;
            let (a, b) = (at[l], at[(l + 1) % 3]);
            let face = self.face(f);
            let (away, winds) = (self.area_of(face, [a, b, new]), self.area_of(face, [a, b, middle]));
            (away < AWAY * libm::fabs(winds)).then_some((f, l))
        })
    }

    /// Mends a facet that is flat or looks the other way.
    fn unfolded(&mut self, f: u32, chord: f64) -> Option<()> {
        // What lies within the bulge of an edge comes out of it as that is halved.
        let longest = self.longest(f);
        let edge = (0..3).find(|k| self.facets[f as usize].on[*k] < HELD);
        if let Some(k) = edge.filter(|k| self.length(f, *k) > 0.3 * self.length(f, longest)) {
            return self.halved(f, k, chord, 0);
        }
        if (0..3).any(|i| self.centred(f, i, f64::INFINITY) || self.collapsed(f, i, f64::INFINITY)) {
            return Some(());
        }
        self.halved(f, longest, chord, 0)
    }

    fn length(&self, f: u32, k: usize) -> f64 {
        let t = self.facets[f as usize].corners;
        size(&minus(&self.corners[t[(k + 1) % 3] as usize].point, &self.corners[t[k] as usize].point))
    }

    fn longest(&self, f: u32) -> usize {
        (1..3).fold(0, |best, k| if self.length(f, k) > self.length(f, best) { k } else { best })
    }

    /// At each corner what is known of the triangles there, those of faces that meet in it counted for both: their turn is from
    /// the surface.
    fn around(&self) -> Vec<Around> {
        let mut on_edges = vec![Around::NONE; self.places as usize];
        let mut each: Vec<Around> =
            self.corners.iter().map(|c| Around { sharp: c.sharp, ..Around::NONE }).collect();
        for facet in self.facets.iter().filter(|f| !f.is_gone()) {
            for (v, turn) in facet.corners.iter().zip(facet.turn) {
                let own = &mut each[*v as usize];
                *own = own.with(&Around { turn, lowest: facet.lowest, sharp: false });
            }
        }
        for (corner, own) in self.corners.iter().zip(&each) {
            if corner.place != NONE {
                on_edges[corner.place as usize] = on_edges[corner.place as usize].with(own);
            }
        }
        for (corner, own) in self.corners.iter().zip(&mut each) {
            if corner.place != NONE {
                *own = on_edges[corner.place as usize];
            }
        }
        each
    }

    /// Halves triangles by what is known of themselves until none lies too far off.
    fn refined(&mut self, chord: f64, rounds: &mut u32) -> Option<()> {
        loop {
            *rounds = rounds.checked_sub(1)?;
            let mut wanted: Vec<(u64, u32)> = Vec::new();
            for f in 0..self.facets.len() {
                if self.facets[f].settled {
                    continue;
                }
                let chart = &self.charts[self.face(f as u32)];
                let facet = &mut self.facets[f];
                facet.settled = true;
                if matches!(chart, Chart::Plane { .. }) {
                    continue;
                }
                let sharp = facet.corners.iter().any(|c| self.corners[*c as usize].sharp);
                let turn = TURNS * facet.turn.iter().copied().fold(0.0, f64::max);
                let off =
                    facet.off(chart, &self.corners, &Around { turn, lowest: facet.lowest, sharp }, chord);
                if off > chord {
                    facet.settled = false;
                    wanted.push((!off.to_bits(), f as u32));
                }
            }
            if wanted.is_empty() {
                return Some(());
            }
            self.halve_all(wanted, chord)?;
        }
    }

    /// Takes corners out that are not needed: sides that were halved for one triangle had those beside them halved too.
    fn thin(&mut self, chord: f64) {
        let mut at: Vec<(u32, usize)> = vec![(NONE, 0); self.corners.len()];
        for (f, facet) in self.facets.iter().enumerate() {
            for (i, c) in facet.corners.iter().enumerate() {
                at[*c as usize] = (f as u32, i);
            }
        }
        for c in (0..self.corners.len()).rev() {
            let (f, i) = at[c];
            // Another may have been taken out beside it.
            let there = |own: &Facet| !own.is_gone() && own.corners[i] as usize == c;
            if self.facets.get(f as usize).is_some_and(there) {
                self.thinned(f, i, THIN * chord, HIGH * chord);
            }
        }
    }

    /// Halves those that lie furthest off first, and those that have become others meanwhile not at all.
    fn halve_all(&mut self, mut wanted: Vec<(u64, u32)>, chord: f64) -> Option<()> {
        wanted.sort_unstable();
        for (_, f) in wanted {
            if let Some(k) = self.facets[f as usize].worst() {
                self.halved(f, k, chord, 0)?;
            }
        }
        (self.facets.len() <= MOST_FACETS).then_some(())
    }

    /// Halves triangles until the surfaces lie within the tolerance of them, and none is flat or looks the other way than its
    /// surface; a bound of how far they lie off. `None` where there come to be too many.
    pub fn settled(&mut self, chord: f64) -> Option<f64> {
        self.improved((0..self.facets.len() as u32).rev().collect(), chord);
        let mut rounds = ROUNDS;
        self.refined(chord, &mut rounds)?;
        self.thin(chord);
        loop {
            self.refined(chord, &mut rounds)?;
            let around = self.around();
            let mut bound = 0.0_f64;
            let mut wanted: Vec<(u64, u32)> = Vec::new();
            let mut folded: Vec<u32> = Vec::new();
            for f in 0..self.facets.len() {
                let chart = &self.charts[self.face(f as u32)];
                let facet = &mut self.facets[f];
                if facet.is_gone() {
                    continue;
                }
                if facet.is_low(&self.corners) {
                    folded.push(f as u32);
                }
                if matches!(chart, Chart::Plane { .. }) {
                    continue;
                }
                let each = [0, 1, 2].map(|k| {
                    let at = around[facet.corners[k] as usize];
                    Around { turn: facet.turn[k] + at.turn, ..at }
                });
                let around = each[0].with(&each[1]).with(&each[2]);
                let off = facet.off(chart, &self.corners, &around, chord);
                bound = bound.max(off);
                if off > chord {
                    wanted.push((!off.to_bits(), f as u32));
                }
            }
            if wanted.is_empty() && folded.is_empty() {
                let twins = self.twins();
                if twins.is_empty() {
                    return Some(bound);
                }
                for (f, k) in twins {
                    self.halved(f, k, chord, 0)?;
                }
                continue;
            }
            let count = self.facets.len();
            self.halve_all(wanted, chord)?;
            for f in folded {
                let own = &self.facets[f as usize];
                if self.facets.len() == count && !own.is_gone() && own.is_low(&self.corners) {
                    self.unfolded(f, chord)?;
                }
            }
        }
    }

    /// Sides within faces between two places that another side joins too: seen by their places both would be one.
    fn twins(&self) -> Vec<(u32, usize)> {
        let mut all: Vec<([u32; 2], bool, u32, usize)> = Vec::new();
        for (f, facet) in self.facets.iter().enumerate().filter(|(_, facet)| !facet.is_gone()) {
            for k in 0..3 {
                let ends = [k, (k + 1) % 3].map(|k| self.corners[facet.corners[k] as usize].place);
                if !ends.contains(&NONE) {
                    let within = facet.on[k] >= HELD;
                    all.push(([ends[0].min(ends[1]), ends[0].max(ends[1])], within, f as u32, k));
                }
            }
        }
        all.sort_unstable();
        let mut found = Vec::new();
        for group in all.chunk_by(|a, b| a.0 == b.0).filter(|group| group.len() > 2) {
            // One of each pair of facets; both sides of it are halved.
            let mut within = group.iter().filter(|side| side.1);
            if let Some((_, _, f, k)) = within.next() {
                found.push((*f, *k));
            } else if let Some((_, _, f, k)) = group.last() {
                found.push((*f, *k));
            }
        }
        found
    }
}
