//! Sides between two triangles turned, where the other side leaves the surface less or makes higher triangles.

use alloc::vec::Vec;

use super::bezier::minus;
use super::deviation::{SIDES, greatest_either};
use super::facet::{Facet, NONE};
use super::patches::dot;
use super::web::Web;

/// Sides that leave the surface by less than this part of the tolerance are as good as each other.
const LITTLE: f64 = 0.1;
/// Triangles higher than this many times the tolerance are high enough.
pub(super) const HIGH: f64 = 8.0;
/// Those lower than this many times the tolerance are slivers.
const SLIVER: f64 = 1.0;
/// Triangles are higher than this, mm: what is lower is flat but for rounding.
pub(super) const LEAST_MM: f64 = 1e-6;

impl Web<'_> {
    /// How far the surface leaves a triangle, about: by how its normals turn along its sides.
    pub fn error(&self, corners: [u32; 3]) -> f64 {
        let own = corners.map(|c| &self.corners[c as usize]);
        greatest_either(
            SIDES.map(|(i, j)| {
                dot(minus(&own[j].normal, &own[i].normal), minus(&own[j].point, &own[i].point))
            }),
        )
    }

    /// What there would be with a side turned, where that is better.
    fn better(&self, f: u32, k: usize, chord: f64) -> Option<(u32, usize, [Facet; 2])> {
        let own = &self.facets[f as usize];
        if own.on[k] != NONE {
            return None;
        }
        let (g, l) = self.beyond(f, k)?;
        let other = &self.facets[g as usize];
        let [a, b, c] = [0, 1, 2].map(|i| own.corners[(k + i) % 3]);
        let d = other.corners[(l + 2) % 3];
        let old = self.error([a, b, c]).max(self.error([b, a, d]));
        let new = self.error([a, d, c]).max(self.error([d, b, c]));
        let low = own.height.min(other.height);
        let flat = low <= SLIVER * chord;
        let straighter = new < 0.8 * old && old > LITTLE * chord;
        let as_straight = new <= old.max(LITTLE * chord);
        if !(flat || straighter || as_straight) {
            return None;
        }
        let turned = self.turned(f, k)?;
        let [one, two] = &turned.2;
        let height = one.height.min(two.height);
        let folded = |x: f64, y: f64| x.min(0.0) + y.min(0.0);
        let good = (flat && height > LEAST_MM && height > 1.2 * low + LEAST_MM)
            || (straighter && height > LEAST_MM && (height >= low || height > HIGH * chord))
            || (as_straight && height > 1.5 * low && height > LEAST_MM)
            || folded(one.height, two.height) > 0.9 * folded(own.height, other.height);
        good.then_some(turned)
    }

    /// Turns sides of some facets, and of those that come of it, where that is better.
    pub fn improved(&mut self, mut open: Vec<u32>, chord: f64) {
        let mut left = 16 * open.len();
        while let Some(f) = open.pop() {
            if self.facets[f as usize].is_gone() {
                continue;
            }
            for k in 0..3 {
                if left > 0
                    && let Some(turned) = self.better(f, k, chord)
                {
                    left -= 1;
                    let g = turned.0;
                    self.turn(f, k, turned);
                    open.extend([f, g]);
                    break;
                }
            }
        }
    }
}
