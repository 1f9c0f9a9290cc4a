//! Slivers between other triangles: their sides turned.

use alloc::vec;
use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::chart::Chart;
use super::patches::dot;
use super::settle::{Part, key};

/// How many times sides are turned, one after the other.
const TURNS: u32 = 64;
/// Triangles lower than this are flat, mm.
const FLAT_MM: f64 = 1e-6;
/// Twice the area of a triangle of parameters.
fn area([a, b, c]: [[f64; 2]; 3]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

impl Part<'_> {
    /// Height over the longest side, negative where a triangle looks the other way than the surface at its corners.
    fn height(&self, t: &[u32; 3]) -> f64 {
        let triangle = self.triangle(t);
        let normal = triangle.normal();
        let p = triangle.points;
        let longest = [(0, 1), (1, 2), (2, 0)].map(|(i, j)| size(&minus(&p[i], &p[j])));
        let height = size(&normal) / longest[0].max(longest[1]).max(longest[2]).max(f64::MIN_POSITIVE);
        let way = if self.outward { 1.0 } else { -1.0 };
        let toward: f64 = t.iter().map(|v| way * dot(self.made.corners[*v as usize].normal, normal)).sum();
        if toward < 0.0 { -height } else { height }
    }

    /// Turns the side between two triangles where one of them is a sliver and both are less so then.
    pub fn turned_sides(&mut self, low: f64) {
        // On planes and cylinders only three corners that lie on a line by rounding make one.
        let low = if matches!(self.chart, Chart::Spline { .. }) { low } else { FLAT_MM };
        for _ in 0..TURNS {
            let heights: Vec<f64> = self.made.triangles.iter().map(|t| self.height(t)).collect();
            if !heights.iter().any(|h| *h <= low) {
                break;
            }
            let mut sides: Vec<([u32; 2], usize)> = Vec::with_capacity(3 * heights.len());
            for (i, t) in self.made.triangles.iter().enumerate() {
                sides.extend((0..3).map(|k| (key(t[k], t[(k + 1) % 3]), i)));
            }
            sides.sort_unstable();
            let mut gone = vec![false; heights.len()];
            let mut any = false;
            for w in sides.windows(2) {
                let ((side, i), (other, j)) = (w[0], w[1]);
                let least = heights[i].min(heights[j]);
                if side != other
                    || gone[i]
                    || gone[j]
                    || least > low
                    || self.on_loop(side[0], side[1]).is_some()
                {
                    continue;
                }
                let at = |t: [u32; 3]| area(t.map(|v| self.made.corners[v as usize].at));
                // From the side a to b, with c to the left of it and d to the right.
                let mut t = self.made.triangles[i];
                while key(t[0], t[1]) != side {
                    t.rotate_left(1);
                }
                let [a, b, c] = t;
                let Some(d) = self.made.triangles[j].iter().copied().find(|v| !side.contains(v)) else {
                    continue;
                };
                let both = [[a, d, c], [d, b, c]];
                let whole = at(t) + at(self.made.triangles[j]);
                if both.iter().any(|t| at(*t) / whole < 1e-3) {
                    continue;
                }
                if both.iter().map(|t| self.height(t)).fold(f64::INFINITY, f64::min)
                    > 1.2 * least.max(0.0) + 1e-9
                {
                    self.made.triangles[i] = both[0];
                    self.made.triangles[j] = both[1];
                    (gone[i], gone[j], any) = (true, true, true);
                    for i in [i, j] {
                        if let Some(fine) = self.fine.get_mut(i) {
                            *fine = false;
                        }
                    }
                }
            }
            if !any {
                break;
            }
        }
    }
}
