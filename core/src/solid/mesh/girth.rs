//! How far around its face a vertex lies.

use super::facet::Corner;
use crate::solid::{Face, Solid, Surface};

/// How far around the corners of a face lie.
pub(super) struct Girth {
    /// Which coordinate counts, where it is 0 and by how much it grows.
    coordinate: usize,
    start: f64,
    per: f64,
    /// For a half of a back whether it is the bass one.
    bass: Option<bool>,
}

impl Girth {
    pub fn new<'a>(
        solid: &Solid,
        face: &Face,
        corners: impl Iterator<Item = &'a Corner> + Clone,
        half: bool,
    ) -> Self {
        let way = if solid.left_handed { -1.0 } else { 1.0 };
        let reach = |k: usize| {
            let all = corners.clone().map(|c| c.point[k]);
            [all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max)]
        };
        let ([y0, y1], [z0, z1]) = (reach(1), reach(2));
        let bass = match &face.surface {
            Surface::Spline(surface) if half => surface.poles.first().and_then(|row| {
                let [first, last] = [row.first()?, row.last()?];
                Some(way * (last[1] - first[1]) > 0.0)
            }),
            _ => None,
        };
        let (coordinate, from, to) = if y1 - y0 > 1e-6 {
            if solid.left_handed { (1, y1, y0) } else { (1, y0, y1) }
        } else {
            (2, z0, z1)
        };
        Self { coordinate, start: from, per: if from == to { 0.0 } else { 1.0 / (to - from) }, bass }
    }

    pub fn at(&self, corner: &Corner) -> f64 {
        match self.bass {
            Some(true) => 0.5 * corner.at[1],
            Some(false) => 1.0 - 0.5 * corner.at[1],
            None => (corner.point[self.coordinate] - self.start) * self.per,
        }
    }
}
