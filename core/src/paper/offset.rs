//! The way of a cutter's middle around what it cuts out.

use alloc::vec;
use alloc::vec::Vec;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::float::simplify::SimplifyShape;

use super::draft::Draft;
use super::layer::Layer;
use super::path::{Path, Point, Segment, on_arc, on_cubic, turn};
use super::sheet::Shape;

/// How far an [`offset`] may lie nearer to the outline or further from it than asked, mm.
pub const OFFSET_MM: f64 = 0.001;

/// How far the outline's chords may lie off it, and those of the arcs around its corners, mm; what the grid of the polygons'
/// union rounds by is a thousandth of that.
const CHORD_MM: f64 = 0.0004;
/// Points nearer than this to the one before are the same, mm.
const SAME_MM: f64 = 1e-7;

fn parts(error: f64) -> u32 {
    let n = libm::ceil(libm::sqrt(error / CHORD_MM));
    if n.is_nan() { 1 } else { n.clamp(1.0, 4096.0) as u32 }
}

/// The outline as a polygon whose sides lie within [`CHORD_MM`] of it: a cubic's second derivative is six times the greatest
/// second difference of its points at most, and an arc's sagitta is `r·a²/8` at most.
fn flat(path: &Path) -> Vec<Point> {
    let mut corners: Vec<Point> = vec![path.start];
    let mut from = path.start;
    for segment in &path.segments {
        let at = |t: f64| match *segment {
            Segment::Line(to) => to,
            Segment::Cubic(a, b, to) => on_cubic([from, a, b, to], t),
            Segment::Arc { centre, to, counter_clockwise } => on_arc(from, centre, to, counter_clockwise, t),
        };
        let n = match *segment {
            Segment::Line(_) => 1,
            Segment::Cubic(a, b, to) => {
                let second = |p: Point, q: Point, r: Point| {
                    libm::hypot(p[0] - 2.0 * q[0] + r[0], p[1] - 2.0 * q[1] + r[1])
                };
                parts(0.75 * second(from, a, b).max(second(a, b, to)))
            }
            Segment::Arc { centre, to, counter_clockwise } => {
                let angle = turn(from, centre, to, counter_clockwise);
                parts(libm::hypot(from[0] - centre[0], from[1] - centre[1]) * angle * angle / 8.0)
            }
        };
        corners.extend((1..n).map(|i| at(f64::from(i) / f64::from(n))));
        from = segment.end();
        corners.push(from);
    }
    let same = |a: &Point, b: &Point| libm::hypot(a[0] - b[0], a[1] - b[1]) < SAME_MM;
    corners.dedup_by(|b, a| same(a, b));
    while corners.len() > 1 && same(&corners[0], &corners[corners.len() - 1]) {
        corners.pop();
    }
    corners
}

fn area(corners: &[Point]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    0.5 * corners.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>()
}

/// Every side moved outward, an arc around every corner that it leaves open; where it leaves none the line goes back over
/// the corner, so that what is wound around once or more is the set of all points that near.
fn wound(corners: &[Point], by: f64) -> Vec<Point> {
    let n = corners.len();
    let way = |i: usize| {
        let (a, b) = (corners[i % n], corners[(i + 1) % n]);
        let d = [b[0] - a[0], b[1] - a[1]];
        let length = libm::hypot(d[0], d[1]);
        d.map(|v| v / length)
    };
    let mut line = Vec::with_capacity(3 * n);
    for (i, &p) in corners.iter().enumerate() {
        let (d, e) = (way(i + n - 1), way(i));
        // Outward of an outline that runs counter-clockwise is to the right.
        let out = |d: Point| [p[0] + by * d[1], p[1] - by * d[0]];
        let (cross, dot) = (d[0] * e[1] - d[1] * e[0], d[0] * e[0] + d[1] * e[1]);
        line.push(out(d));
        if cross * by > 0.0 || (cross == 0.0 && dot < 0.0) {
            let angle = libm::atan2(cross, dot);
            let parts = parts(libm::fabs(by) * angle * angle / 8.0);
            for k in 1..parts {
                let (sin, cos) = libm::sincos(angle * f64::from(k) / f64::from(parts));
                line.push(out([d[0] * cos - d[1] * sin, d[0] * sin + d[1] * cos]));
            }
        } else if cross != 0.0 {
            line.push(p);
        }
        line.push(out(e));
    }
    line
}

/// The lines that the middle of a round cutter of radius `by_mm` runs along when its edge follows a closed outline: on its
/// outside, or inside of it where `by_mm` is below 0. Every point of them is `by_mm` from the outline within [`OFFSET_MM`], and
/// no part of the outline is nearer; where an inner corner is too narrow for the cutter, it stays that far from both its
/// sides. Inside a narrow outline there may be several lines, or none. They are polygons that run counter-clockwise.
///
/// Sides are moved and corners rounded, and what is wound around counter-clockwise is kept (Chen and McMains, Polygon Offsetting
/// by Computing Winding Numbers, 2005; from memory).
#[must_use]
pub fn offset(outline: &Path, by_mm: f64) -> Vec<Path> {
    let mut corners = flat(outline);
    if corners.len() < 3 || !by_mm.is_finite() || corners.iter().flatten().any(|v| !v.is_finite()) {
        return Vec::new();
    }
    if area(&corners) < 0.0 {
        corners.reverse();
    }
    let shapes = wound(&corners, by_mm).simplify_shape(FillRule::Positive);
    // What a line leaves free within itself no cutter reaches from outside.
    let outer = shapes.into_iter().filter_map(|shape| shape.into_iter().next());
    let mut lines: Vec<Vec<Point>> = outer.filter(|line| libm::fabs(area(line)) > SAME_MM).collect();
    for line in &mut lines {
        if area(line) < 0.0 {
            line.reverse();
        }
    }
    lines.iter().map(|line| Path::polyline(line, true)).collect()
}

/// Draws what is cut out along a closed outline, and with an offset the way of the cutter's middle around it.
pub(super) fn piece(draft: &mut Draft, outline: Path, offset_mm: f64) {
    let ways = if offset_mm > 0.0 { offset(&outline, offset_mm) } else { Vec::new() };
    draft.path(Layer::Outline, outline);
    for way in ways {
        draft.path(Layer::CutLine, way);
    }
}

/// Draws the way of the cutter's middle within a hole that it fits into.
pub(super) fn hole(draft: &mut Draft, centre: Point, radius_mm: f64, offset_mm: f64) {
    if offset_mm > 0.0 && offset_mm < radius_mm {
        draft.add(Layer::CutLine, Shape::Circle { centre, radius_mm: radius_mm - offset_mm });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(side: f64) -> Path {
        Path::polyline(&[[0.0, 0.0], [side, 0.0], [side, side], [0.0, side]], true)
    }

    #[test]
    fn around_a_square_and_into_it() {
        let [out] = &offset(&square(10.0), 2.0)[..] else { panic!() };
        // Steiner's formula: area + perimeter·r + π·r².
        let expected = 100.0 + 80.0 + core::f64::consts::PI * 4.0;
        assert!(libm::fabs(area(&out.corners(1)) - expected) < 5e-3);
        let [inner] = &offset(&square(10.0), -2.0)[..] else { panic!() };
        assert!(libm::fabs(area(&inner.corners(1)) - 36.0) < 1e-4);
        assert!(offset(&square(10.0), -5.1).is_empty());
    }

    #[test]
    fn a_narrow_notch_is_left_out_and_a_waist_parts() {
        let notch = [
            [0.0, 0.0],
            [20.0, 0.0],
            [20.0, 10.0],
            [11.0, 10.0],
            [11.0, 4.0],
            [9.0, 4.0],
            [9.0, 10.0],
            [0.0, 10.0],
        ];
        let [out] = &offset(&Path::polyline(&notch, true), 3.0)[..] else { panic!() };
        // A disc of radius 3 on two corners 2 apart sinks between them to √(9 − 1) above their level.
        let over = |p: &&Point| libm::fabs(p[0] - 10.0) < 0.5 && p[1] > 5.0;
        let low = out.corners(1).iter().filter(over).map(|p| p[1]).fold(f64::INFINITY, f64::min);
        assert!(libm::fabs(low - (10.0 + libm::sqrt(8.0))) < OFFSET_MM, "{low}");
        let waist = [[0.0, 0.0], [10.0, 4.5], [20.0, 0.0], [20.0, 10.0], [10.0, 5.5], [0.0, 10.0]];
        assert_eq!(offset(&Path::polyline(&waist, true), -1.0).len(), 2);
    }

    #[test]
    fn which_way_the_outline_runs_does_not_matter() {
        let mut corners = square(10.0).corners(1);
        corners.reverse();
        let [a] = &offset(&Path::polyline(&corners, true), 1.0)[..] else { panic!() };
        let [b] = &offset(&square(10.0), 1.0)[..] else { panic!() };
        assert!(libm::fabs(area(&a.corners(1)) - area(&b.corners(1))) < 1e-5);
    }
}
