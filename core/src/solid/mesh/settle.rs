//! Triangles measured, and halved where the surface lies too far off.

use alloc::vec;
use alloc::vec::Vec;

use super::chart::Chart;
use super::deviation::Around;
use super::facet::Facet;
use super::patch::Corner;
use super::polyline::Along;
use crate::solid::Point3;

/// How many times triangles are halved.
const ROUNDS: u32 = 16;

/// A face's triangles.
pub(super) struct Part<'a> {
    pub chart: &'a Chart,
    pub corners: Vec<Corner>,
    pub facets: Vec<Facet>,
    pub outward: bool,
    /// For each corner on its loops the side from there on.
    pub sides: Vec<Option<Side>>,
}

/// A side on a loop.
#[derive(Clone, Copy)]
pub(super) struct Side {
    pub next: u32,
    pub edge: usize,
    /// The stretch of the edge's curve, as gone.
    pub over: [f64; 2],
    /// Whether the faces do not go on smoothly over the edge.
    pub sharp: bool,
    /// Which of the faces beside the edge this is.
    pub which: usize,
}

/// A stretch of an edge, whichever way.
fn stretch(side: &Side) -> (usize, [u64; 2]) {
    let [a, b] = side.over;
    (side.edge, [a.min(b), a.max(b)].map(f64::to_bits))
}

/// A place on an edge between two others.
struct Cut {
    of: (usize, [u64; 2]),
    t: f64,
    point: Point3,
    at: [[f64; 2]; 2],
}

/// Twice the area of a triangle of parameters.
pub(super) fn area([a, b, c]: [[f64; 2]; 3]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

pub(super) fn key(a: u32, b: u32) -> [u32; 2] {
    [a.min(b), a.max(b)]
}

impl Part<'_> {
    /// The side on its loops between two corners.
    pub fn on_loop(&self, a: u32, b: u32) -> Option<&Side> {
        let goes = |a: u32, b: u32| self.sides.get(a as usize)?.as_ref().filter(|side| side.next == b);
        goes(a, b).or_else(|| goes(b, a))
    }

    /// Halves some sides, sorted, each once, and the triangles on both sides of them.
    fn halve(&mut self, sides: &[[u32; 2]], cuts: &[Cut], places: usize) {
        let first = self.corners.len();
        // The corner in the middle of each, if it has one.
        let mut middles: Vec<Option<u32>> = vec![None; sides.len()];
        for (side, middle) in sides.iter().zip(&mut middles) {
            let own = self.corners.len() as u32;
            let [a, b] = side.map(|c| self.corners[c as usize].at);
            let on_loop = self.on_loop(side[0], side[1]).copied();
            let cut = on_loop.and_then(|on| {
                let i = cuts.binary_search_by_key(&stretch(&on), |cut| cut.of).ok()?;
                Some((on, i, &cuts[i]))
            });
            if let Some((on, i, cut)) = cut {
                let at = cut.at[on.which];
                let (place, point, normal) = (Some((places + i) as u32), cut.point, self.chart.normal(at));
                self.corners.push(Corner { place, point, normal, at });
                self.sides.resize(self.corners.len(), None);
                let from = if on.next == side[1] { side[0] } else { side[1] };
                self.sides[own as usize] = Some(Side { over: [cut.t, on.over[1]], ..on });
                self.sides[from as usize] = Some(Side { next: own, over: [on.over[0], cut.t], ..on });
                *middle = Some(own);
                continue;
            }
            let Chart::Spline { patches, .. } = self.chart else { continue };
            let at = [0, 1].map(|k| if a[k] == b[k] { a[k] } else { 0.5 * (a[k] + b[k]) });
            let (point, normal) = patches.across(at[0]).with_normal(at[1]);
            self.corners.push(Corner { place: None, point, normal, at });
            *middle = Some(own);
        }
        let mut ends = vec![false; first];
        sides.iter().flatten().for_each(|c| ends[*c as usize] = true);
        let middle = |a: u32, b: u32| {
            let both = ends[a as usize] && ends[b as usize];
            if both { sides.binary_search(&key(a, b)).ok().and_then(|i| middles[i]) } else { None }
        };
        // The first of what becomes of a triangle takes its place, and the others come last.
        for i in 0..self.facets.len() {
            let mut t = self.facets[i].corners;
            let mut found = [0, 1, 2].map(|k| middle(t[k], t[(k + 1) % 3]));
            if found == [None; 3] {
                continue;
            }
            // Turned so that the first side is halved, and of two the one after it.
            while found[0].is_none() || (found[1].is_none() && found[2].is_some()) {
                t.rotate_left(1);
                found.rotate_left(1);
            }
            let [a, b, c] = t;
            let (one, others): ([u32; 3], &[[u32; 3]]) = match found {
                [Some(d), None, _] => ([a, d, c], &[[d, b, c]]),
                [Some(d), Some(e), None] => ([a, d, c], &[[d, e, c], [d, b, e]]),
                [Some(d), Some(e), Some(f)] => ([a, d, f], &[[d, b, e], [f, e, c], [d, e, f]]),
                [None, ..] => continue,
            };
            self.facets[i] = Facet::new(one, &self.corners, self.outward);
            self.facets.extend(others.iter().map(|t| Facet::new(*t, &self.corners, self.outward)));
        }
    }
}

/// The most triangles that are halved again.
const MOST_FACETS: usize = 20_000_000;
/// Triangles lower than this many times the tolerance are slivers.
const LOW: f64 = 8.0;

/// At each corner of each face what is known of the triangles there, those of faces that meet in it counted for both: their turn is
/// from the surface.
fn around(parts: &[Part<'_>], places: usize) -> Vec<Vec<Around>> {
    let mut on_edges = vec![Around::NONE; places];
    let each = parts.iter().map(|part| {
        let mut own = vec![Around::NONE; part.corners.len()];
        if matches!(part.chart, Chart::Plane { .. }) {
            return own;
        }
        for facet in &part.facets {
            for (v, turn) in facet.corners.iter().zip(facet.turn) {
                let own = &mut own[*v as usize];
                *own = own.with(&Around { turn, lowest: facet.lowest, sharp: false });
            }
        }
        for (v, side) in part.sides.iter().enumerate() {
            if let Some(side) = side.as_ref().filter(|side| side.sharp) {
                (own[v].sharp, own[side.next as usize].sharp) = (true, true);
            }
        }
        for (corner, own) in part.corners.iter().zip(&own) {
            if let Some(place) = corner.place {
                on_edges[place as usize] = on_edges[place as usize].with(own);
            }
        }
        own
    });
    let mut each: Vec<Vec<Around>> = each.collect();
    for (part, own) in parts.iter().zip(&mut each) {
        for (corner, own) in part.corners.iter().zip(own) {
            if let Some(place) = corner.place {
                *own = on_edges[place as usize];
            }
        }
    }
    each
}

/// Halves triangles until the surfaces lie within the tolerance of them, or as often as makes sense; a bound of how far they do.
/// `None` where there come to be too many.
///
/// With it how many places on edges there are then.
pub(super) fn settled(
    parts: &mut [Part<'_>],
    edges: &[Along<'_>],
    mut places: usize,
    chord: f64,
) -> Option<(f64, usize)> {
    let mut bound;
    for part in parts.iter_mut() {
        part.turned_sides(LOW * chord);
        part.without_slivers(LOW * chord);
        part.turned_sides(LOW * chord);
    }
    let mut round = 0;
    loop {
        let inner = around(parts, places);
        bound = 0.0_f64;
        let mut all: Vec<Vec<[u32; 2]>> = Vec::with_capacity(parts.len());
        let mut cuts: Vec<(usize, [u64; 2])> = Vec::new();
        for (part, own) in parts.iter_mut().zip(&inner) {
            let mut sides: Vec<[u32; 2]> = Vec::new();
            if !matches!(part.chart, Chart::Plane { .. }) {
                let mut facets = core::mem::take(&mut part.facets);
                for facet in &mut facets {
                    let t = facet.corners;
                    let each = [0, 1, 2].map(|k| {
                        let at = own[t[k] as usize];
                        Around { turn: facet.turn[k] + at.turn, ..at }
                    });
                    let around = each[0].with(&each[1]).with(&each[2]);
                    let off = facet.off(part.chart, &part.corners, &around, chord);
                    bound = bound.max(off);
                    if off > chord && round < ROUNDS {
                        sides.extend(facet.worst().map(|k| key(t[k], t[(k + 1) % 3])));
                    }
                }
                part.facets = facets;
            }
            cuts.extend(sides.iter().filter_map(|[a, b]| part.on_loop(*a, *b)).map(stretch));
            all.push(sides);
        }
        if all.iter().all(Vec::is_empty) {
            break;
        }
        if parts.iter().map(|part| part.facets.len()).sum::<usize>() > MOST_FACETS {
            return None;
        }
        round += 1;
        cuts.sort_unstable();
        cuts.dedup();
        let cut = |of: &(usize, [u64; 2])| {
            let [a, b] = of.1.map(f64::from_bits);
            let t = 0.5 * (a + b);
            let (point, at) = edges[of.0].at(t)?;
            Some(Cut { of: *of, t, point, at })
        };
        let cuts: Vec<Cut> = cuts.iter().map(cut).collect::<Option<_>>()?;
        for (part, mut sides) in parts.iter_mut().zip(all) {
            let on_loops = part.sides.iter().enumerate().filter_map(|(a, side)| {
                let side = side.as_ref()?;
                cuts.binary_search_by_key(&stretch(side), |cut| cut.of).ok()?;
                Some(key(a as u32, side.next))
            });
            sides.extend(on_loops);
            sides.sort_unstable();
            sides.dedup();
            if !sides.is_empty() {
                part.halve(&sides, &cuts, places);
                part.turned_sides(LOW * chord);
            }
        }
        places += cuts.len();
    }
    Some((bound, places))
}
