//! The best straight line outside a curve.

use alloc::vec::Vec;

/// A straight line over the stations `x[0]..=x[1]`.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Straight {
    /// Stations where it begins and ends, mm from the nut.
    pub x_mm: [f64; 2],
    /// Its values there, mm.
    pub value_mm: [f64; 2],
}

impl Straight {
    /// Its value at a station, mm; carried on straight beyond its ends.
    #[must_use]
    pub fn at_mm(&self, x_mm: f64) -> f64 {
        let [a, b] = self.x_mm;
        let t = (x_mm - a) / (b - a);
        (1.0 - t) * self.value_mm[0] + t * self.value_mm[1]
    }

    /// Change of the value for each mm along the neck.
    #[must_use]
    pub fn slope(&self) -> f64 {
        (self.value_mm[1] - self.value_mm[0]) / (self.x_mm[1] - self.x_mm[0])
    }

    /// How much further from a point the line is straight up than square to it.
    pub(super) fn steepness(&self) -> f64 {
        let m = self.slope();
        libm::sqrt(1.0 + m * m)
    }

    /// Moved outward.
    pub(super) fn moved(&self, by: f64) -> Self {
        Self { value_mm: self.value_mm.map(|v| v + by), ..*self }
    }

    /// The same line over other stations.
    pub(super) fn over(&self, x_mm: [f64; 2]) -> Self {
        Self { x_mm, value_mm: x_mm.map(|x| self.at_mm(x)) }
    }
}

/// How many places are looked at on each smooth stretch before the search is refined.
const LOOK: usize = 48;
/// No line is refined further once nothing comes out of it by more than this, mm.
const CLOSE: f64 = 1e-12;
const ROUNDS: usize = 200;
/// Places nearer to each other than this, mm, would make an edge of the hull of rounding alone.
const APART: f64 = 2e-5;

/// Of all straight lines that `f` nowhere exceeds between `from` and `to`, the one with the least area between it
/// and `f`: the linear programme "least `a + b·(middle)` with `a + b·x ≥ f(x)` everywhere". Its solution lies on the
/// edge of the upper hull of `f` over the middle; the hull is refined where `f` comes out of the line until it no
/// longer does. `kinks` are the stations where `f` may not be smooth.
pub(super) fn outside(f: &dyn Fn(f64) -> f64, from: f64, to: f64, kinks: &[f64]) -> Straight {
    let mut ends: Vec<f64> = kinks.iter().copied().filter(|x| *x > from + APART && *x < to - APART).collect();
    ends.extend([from, to]);
    ends.sort_by(f64::total_cmp);
    // The same kink of several laws.
    ends.dedup_by(|b, a| *b - *a < APART);
    let mut points: Vec<[f64; 2]> = Vec::with_capacity(ends.len() * LOOK);
    for w in ends.windows(2) {
        let parts = ((w[1] - w[0]) / APART).clamp(1.0, LOOK as f64) as usize;
        points.extend((0..parts).map(|i| w[0] + (w[1] - w[0]) * i as f64 / parts as f64).map(|x| [x, f(x)]));
    }
    points.push([to, f(to)]);
    let middle = 0.5 * (from + to);
    let mut line = edge_over(&points, middle, from, to);
    let mut rest = f64::NEG_INFINITY;
    for _ in 0..ROUNDS {
        let mut new: Vec<[f64; 2]> = Vec::new();
        let out = |p: &[f64; 2]| p[1] - line.at_mm(p[0]);
        for (i, w) in points.windows(3).enumerate() {
            let [before, here, after] = [out(&w[0]), out(&w[1]), out(&w[2])];
            // Only where the curve comes near the line can it come out of it: nearer than it rises between two places.
            let rises = libm::fabs(before - 2.0 * here + after);
            if here >= before && here >= after && here > -1e-3 - rises {
                let x = peak(&|x| f(x) - line.at_mm(x), points[i][0], points[i + 2][0]);
                new.push([x, f(x)]);
            }
        }
        for (a, b) in [(points[0], points[1]), (points[points.len() - 2], points[points.len() - 1])] {
            if out(&a).max(out(&b)) > -1e-3 {
                let x = peak(&|x| f(x) - line.at_mm(x), a[0], b[0]);
                new.push([x, f(x)]);
            }
        }
        let worst = new.iter().map(out).fold(f64::NEG_INFINITY, f64::max);
        let known = points.len();
        for p in new {
            let at = points.partition_point(|q| q[0] < p[0]);
            let apart = |q: Option<&[f64; 2]>| q.is_none_or(|q| libm::fabs(q[0] - p[0]) >= APART);
            if apart(points.get(at)) && apart(at.checked_sub(1).and_then(|i| points.get(i))) {
                points.insert(at, p);
            }
        }
        if worst <= CLOSE || points.len() == known {
            rest = worst;
            break;
        }
        line = edge_over(&points, middle, from, to);
    }
    // What is left between the curve and the line is within rounding, on either side: the line is brought to touch.
    line.moved(points.iter().map(|p| p[1] - line.at_mm(p[0])).fold(rest, f64::max))
}

/// Where `f` is greatest between two stations, by golden sections: between them it has one peak.
pub(super) fn peak(f: &dyn Fn(f64) -> f64, from: f64, to: f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let (mut a, mut b) = (from, to);
    let (mut c, mut d) = (b - GOLDEN * (b - a), a + GOLDEN * (b - a));
    let (mut fc, mut fd) = (f(c), f(d));
    for _ in 0..60 {
        if b - a < 1e-10 {
            break;
        }
        if fc >= fd {
            (b, d, fd) = (d, c, fc);
            c = b - GOLDEN * (b - a);
            fc = f(c);
        } else {
            (a, c, fc) = (c, d, fd);
            d = a + GOLDEN * (b - a);
            fd = f(d);
        }
    }
    if fc >= fd { c } else { d }
}

/// The edge of the upper hull of the points over a station.
fn edge_over(points: &[[f64; 2]], middle: f64, from: f64, to: f64) -> Straight {
    let mut hull: Vec<[f64; 2]> = Vec::new();
    for p in points {
        while let [.., a, b] = hull[..] {
            let turn = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
            if turn < 0.0 {
                break;
            }
            hull.pop();
        }
        hull.push(*p);
    }
    let right = hull.partition_point(|p| p[0] <= middle).clamp(1, hull.len() - 1);
    let (a, b) = (hull[right - 1], hull[right]);
    Straight { x_mm: [a[0], b[0]], value_mm: [a[1], b[1]] }.over([from, to])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hump_between_two_places_is_not_overlooked() {
        // It comes out of the line between the ends by a hair, and lies well below it wherever the search looks first.
        for i in 0..40 {
            let middle = 30.0 + 0.07 * f64::from(i);
            let hump = |x: f64| 5e-4 - 0.02 * (x - middle) * (x - middle);
            let f = |x: f64| hump(x).max(-10.0 * x).max(-10.0 * (60.0 - x));
            let line = outside(&f, 0.0, 60.0, &[]);
            assert!(line.at_mm(middle) >= 5e-4 - 1e-9, "{middle}: {}", line.at_mm(middle));
            assert!(line.at_mm(30.0) < 6e-4, "{middle}: {}", line.at_mm(30.0));
        }
    }
}
