//! How far points lie from triangles.

use neckwright::solid::{Mesh, Point3};

pub fn minus(a: Point3, b: Point3) -> Point3 {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub fn cross(a: Point3, b: Point3) -> Point3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub fn dot(a: Point3, b: Point3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Distance of a point from a triangle: from its plane where the point lies over it, else from its sides.
fn distance(p: Point3, [a, b, c]: [Point3; 3]) -> f64 {
    let normal = cross(minus(b, a), minus(c, a));
    let sides = [[a, b], [b, c], [c, a]];
    if sides.iter().all(|[a, b]| dot(cross(minus(*b, *a), minus(p, *a)), normal) >= 0.0) {
        return dot(minus(p, a), normal).abs() / dot(normal, normal).sqrt();
    }
    let from_side = |[a, b]: &[Point3; 2]| {
        let (along, off) = (minus(*b, *a), minus(p, *a));
        let t = (dot(along, off) / dot(along, along)).clamp(0.0, 1.0);
        let rest = [0, 1, 2].map(|k| off[k] - t * along[k]);
        dot(rest, rest).sqrt()
    };
    sides.iter().map(from_side).fold(f64::INFINITY, f64::min)
}

/// Triangles by the millimetres along the neck that they lie over.
pub struct Near {
    from: f64,
    bins: Vec<Vec<([Point3; 2], [Point3; 3])>>,
}

impl Near {
    pub fn new(mesh: &Mesh) -> Self {
        let x = mesh.positions_mm.iter().map(|p| p[0]);
        let (from, to) = (x.clone().fold(f64::INFINITY, f64::min), x.fold(f64::NEG_INFINITY, f64::max));
        let mut bins = vec![Vec::new(); (to - from) as usize + 1];
        for t in &mesh.triangles {
            let corners = t.map(|v| mesh.positions_mm[v as usize]);
            let least = [0, 1, 2].map(|k| corners.iter().map(|p| p[k]).fold(f64::INFINITY, f64::min));
            let most = [0, 1, 2].map(|k| corners.iter().map(|p| p[k]).fold(f64::NEG_INFINITY, f64::max));
            for bin in &mut bins[(least[0] - from) as usize..=(most[0] - from) as usize] {
                bin.push(([least, most], corners));
            }
        }
        Self { from, bins }
    }

    /// Whether a triangle lies within a distance of a point.
    pub fn within(&self, p: Point3, reach: f64) -> bool {
        let bin = |x: f64| ((x - self.from).max(0.0) as usize).min(self.bins.len() - 1);
        let close =
            |[least, most]: &[Point3; 2]| (0..3).all(|k| p[k] >= least[k] - reach && p[k] <= most[k] + reach);
        (bin(p[0] - reach)..=bin(p[0] + reach))
            .flat_map(|i| &self.bins[i])
            .any(|(bounds, corners)| close(bounds) && distance(p, *corners) <= reach)
    }
}
