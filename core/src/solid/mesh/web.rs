//! The triangles of a solid, each with those beside it.

use alloc::vec::Vec;

use super::chart::Chart;
use super::facet::{Corner, Facet, HELD, NONE};
use super::polyline::Along;

/// A stretch of an edge between two places, by the curve's parameter.
#[derive(Clone, Copy)]
pub(super) struct Stretch {
    pub edge: u32,
    pub over: [f64; 2],
}

/// The triangles of all faces.
pub(super) struct Web<'a> {
    pub charts: &'a [Chart],
    /// For each face whether its surface's normal points out of the solid.
    pub outward: Vec<bool>,
    pub edges: &'a [Along<'a>],
    pub corners: Vec<Corner>,
    pub facets: Vec<Facet>,
    pub stretches: Vec<Stretch>,
    /// How many places on edges there are.
    pub places: u32,
}

/// Twice the area of a triangle of parameters, as seen from outside.
fn area([a, b, c]: [[f64; 2]; 3], outward: bool) -> f64 {
    let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    if outward { area } else { -area }
}

/// What of a triangle is left beside the middle of its side on an edge at least.
const NEAR: f64 = 0.05;

/// Whether the middle of an edge from the first corner to the second lies so close to the other sides, or past them, that a triangle
/// would be turned over by it.
pub(super) fn is_blocked([a, b, c]: [[f64; 2]; 3], middle: [f64; 2], outward: bool) -> bool {
    let least = NEAR * libm::fabs(area([a, b, c], outward));
    area([a, middle, c], outward) < least || area([middle, b, c], outward) < least
}

impl Web<'_> {
    pub fn face(&self, facet: u32) -> usize {
        self.corners[self.facets[facet as usize].corners[0] as usize].face as usize
    }

    /// Twice the area of a triangle in its face's parameters, as seen from outside.
    pub fn area(&self, corners: [u32; 3]) -> f64 {
        let own = corners.map(|c| &self.corners[c as usize]);
        self.area_of(own[0].face as usize, own.map(|c| c.at))
    }

    pub fn area_of(&self, face: usize, at: [[f64; 2]; 3]) -> f64 {
        area(at, self.outward[face])
    }

    /// Which side of a facet lies beside another over such a side.
    pub fn side_to(&self, facet: u32, other: u32, on: u32, ends: [u32; 2]) -> Option<usize> {
        let own = &self.facets[facet as usize];
        (0..3).find(|k| {
            let meets = if on >= HELD {
                [own.corners[(k + 1) % 3], own.corners[*k]] == ends
            } else {
                own.on[*k] == on ^ 1
            };
            own.beside[*k] == other && meets
        })
    }

    /// The facet beyond a side, and which of its sides that is.
    pub fn beyond(&self, facet: u32, k: usize) -> Option<(u32, usize)> {
        let own = &self.facets[facet as usize];
        let other = own.beside[k];
        let ends = [own.corners[k], own.corners[(k + 1) % 3]];
        Some((other, self.side_to(other, facet, own.on[k], ends)?))
    }

    /// Puts a facet's triangle, its neighbours and its sides in place of what it was.
    fn put(&mut self, facet: u32, corners: [u32; 3], beside: [u32; 3], on: [u32; 3]) {
        let made = Facet::new(corners, &self.corners).beside(beside, on);
        match self.facets.get_mut(facet as usize) {
            Some(own) => *own = made,
            None => self.facets.push(made),
        }
    }

    /// A corner in the middle of a side, in the face of each facet beside it; `None` where its edge leads nowhere.
    fn middle(&mut self, facet: u32, k: usize, other: u32) -> Option<[u32; 2]> {
        let own = &self.facets[facet as usize];
        let on = own.on[k];
        let first = self.corners.len() as u32;
        let corner = |face: usize, at: [f64; 2], place: u32, sharp: bool| {
            let (point, normal) = self.charts[face].point(at);
            let normal = if self.outward[face] { normal } else { normal.map(|x| 0.0 - x) };
            Corner { face: face as u32, place, sharp, point, normal, at }
        };
        if on >= HELD {
            let [a, b] = [k, (k + 1) % 3].map(|k| self.corners[own.corners[k] as usize].at);
            let at = [0, 1].map(|k| if a[k] == b[k] { a[k] } else { 0.5 * (a[k] + b[k]) });
            let made = corner(self.face(facet), at, NONE, false);
            self.corners.push(made);
            return Some([first, first]);
        }
        let stretch = self.stretches[(on >> 1) as usize];
        let edge = &self.edges[stretch.edge as usize];
        let t = 0.5 * (stretch.over[0] + stretch.over[1]);
        let (point, at) = edge.at(t)?;
        let which = (on & 1) as usize;
        for (facet, which) in [(facet, which), (other, 1 - which)] {
            let made = corner(self.face(facet), at[which], self.places, edge.sharp);
            self.corners.push(Corner { point, ..made });
        }
        self.places += 1;
        self.stretches[(on >> 1) as usize].over[1] = t;
        self.stretches.push(Stretch { over: [t, stretch.over[1]], ..stretch });
        Some([first, first + 1])
    }

    /// Halves a side, with the facets on both sides of it; the four that there are then. `None` where its edge leads nowhere.
    pub fn halve(&mut self, f: u32, k: usize) -> Option<[u32; 4]> {
        let (g, l) = self.beyond(f, k)?;
        let on = self.facets[f as usize].on[k];
        let [m, n] = self.middle(f, k, g)?;
        let (f2, g2) = (self.facets.len() as u32, self.facets.len() as u32 + 1);
        // What is left of a stretch keeps its number, and the new one goes on from there.
        let halves = if on >= HELD {
            [on, on]
        } else {
            let new = 2 * (self.stretches.len() as u32 - 1) + (on & 1);
            if on & 1 == 0 { [on, new] } else { [new, on] }
        };
        let turn = |all: [u32; 3], k: usize| [all[k], all[(k + 1) % 3], all[(k + 2) % 3]];
        for (own, new, k, m, beyond, on) in [
            (f, f2, k, m, [g2, g], halves),
            (g, g2, l, n, [f2, f], if on >= HELD { halves } else { [halves[1] ^ 1, halves[0] ^ 1] }),
        ] {
            let old = &self.facets[own as usize];
            let ([a, b, c], [_, bc, ca], [_, on_bc, on_ca]) =
                (turn(old.corners, k), turn(old.beside, k), turn(old.on, k));
            self.put(own, [a, m, c], [beyond[0], new, ca], [on[0], NONE, on_ca]);
            self.put(new, [m, b, c], [beyond[1], bc, own], [on[1], on_bc, NONE]);
            self.moved(bc, own, new, on_bc, [b, c]);
        }
        Some([f, f2, g, g2])
    }

    /// Tells the facet beyond a side that it has another neighbour now.
    pub fn moved(&mut self, facet: u32, from: u32, to: u32, on: u32, ends: [u32; 2]) {
        if let Some(k) = self.side_to(facet, from, on, ends) {
            self.facets[facet as usize].beside[k] = to;
        }
    }

    /// The two triangles that there would be were the side between two facets the other one, if these lie in the parameters as they
    /// should.
    pub fn turned(&self, f: u32, k: usize) -> Option<(u32, usize, [Facet; 2])> {
        let own = &self.facets[f as usize];
        if own.on[k] != NONE {
            return None;
        }
        let (g, l) = self.beyond(f, k)?;
        let [a, b, c] = [0, 1, 2].map(|i| own.corners[(k + i) % 3]);
        let d = self.facets[g as usize].corners[(l + 2) % 3];
        let both = [[a, d, c], [d, b, c]];
        let whole = self.area(own.corners) + self.area(self.facets[g as usize].corners);
        if both.iter().any(|t| self.area(*t) <= LEAST_SHARE * whole) {
            return None;
        }
        Some((g, l, both.map(|t| Facet::new(t, &self.corners))))
    }

    /// Turns the side between two facets.
    pub fn turn(&mut self, f: u32, k: usize, (g, l, [mut one, mut two]): (u32, usize, [Facet; 2])) {
        let (old, other) = (self.facets[f as usize].clone(), self.facets[g as usize].clone());
        let [_, bc, ca] = [0, 1, 2].map(|i| (old.beside[(k + i) % 3], old.on[(k + i) % 3]));
        let [_, ad, db] = [0, 1, 2].map(|i| (other.beside[(l + i) % 3], other.on[(l + i) % 3]));
        let [a, d, c] = one.corners;
        let b = two.corners[1];
        (one.beside, one.on) = ([ad.0, g, ca.0], [ad.1, NONE, ca.1]);
        (two.beside, two.on) = ([db.0, bc.0, f], [db.1, bc.1, NONE]);
        self.facets[f as usize] = one;
        self.facets[g as usize] = two;
        self.moved(ad.0, g, f, ad.1, [a, d]);
        self.moved(bc.0, f, g, bc.1, [b, c]);
    }
}

/// What of the area of two triangles in the parameters each has at least once the side between them is turned.
const LEAST_SHARE: f64 = 1e-3;
