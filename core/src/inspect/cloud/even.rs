//! A sample of a scan in which no part of the surface has more points than another, however densely it was scanned.

use alloc::vec::Vec;

use super::motion::Vector;

/// Boxes along the diagonal of the scan: of some 12 mm on a whole neck.
const BOXES: f64 = 60.0;

/// So many of the points at most, as evenly over space as they allow: of every box of a grid as many as of any other, as far
/// as it has them. Stray points weigh more in it than in the scan.
pub(crate) fn evened(points: &[Vector], count: usize) -> Vec<Vector> {
    let mut low = [0.0; 3];
    let mut square = 0.0;
    for (k, low) in low.iter_mut().enumerate() {
        // Without the furthest, which may be anywhere.
        let mut values: Vec<f64> = points.iter().map(|p| p[k]).collect();
        values.sort_by(f64::total_cmp);
        let at = |share: f64| values.get((values.len() as f64 * share) as usize).copied().unwrap_or(0.0);
        let width = at(0.995) - at(0.005);
        *low = at(0.005);
        square += width * width;
    }
    let edge = libm::sqrt(square) / BOXES;
    if edge <= 0.0 || edge.is_nan() {
        return points.to_vec();
    }
    let place = |p: &Vector| [0, 1, 2].map(|k| libm::floor((p[k] - low[k]) / edge).clamp(-1e6, 1e6) as i32);
    let mut order: Vec<([i32; 3], usize)> = points.iter().enumerate().map(|(i, p)| (place(p), i)).collect();
    order.sort_unstable();
    let mut boxes: Vec<_> = order.chunk_by(|a, b| a.0 == b.0).collect();
    if boxes.len() > count {
        // Not even one of each.
        boxes = boxes.iter().step_by(boxes.len().div_ceil(count.max(1))).copied().collect();
    }
    let taken = |most: usize| boxes.iter().map(|b| b.len().min(most)).sum::<usize>();
    let (mut most, mut beyond) = (1, points.len() + 1);
    while beyond - most > 1 {
        let middle = most + (beyond - most) / 2;
        if taken(middle) <= count { most = middle } else { beyond = middle }
    }
    let some = boxes.iter().flat_map(|b| b.iter().step_by(b.len().div_ceil(most)));
    let mut kept: Vec<usize> = some.map(|(_, i)| *i).collect();
    // In the scan's own order, of which every so many are taken further on.
    kept.sort_unstable();
    kept.into_iter().filter_map(|i| points.get(i)).copied().collect()
}
