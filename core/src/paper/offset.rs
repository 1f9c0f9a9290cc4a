//! The way of a cutter's middle around what it cuts out.

use alloc::format;
use alloc::vec;
use alloc::vec::Vec;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::float::simplify::SimplifyShape;

use super::draft::Draft;
use super::extent;
use super::layer::Layer;
use super::path::{Path, Point, Segment, on_arc, on_cubic, turn};
use super::sheet::Shape;
use crate::measure::{Error, Fault, Kind};

/// How far an [`offset`] may lie nearer to the outline or further from it than asked, mm.
pub const OFFSET_MM: f64 = 0.001;

/// How far the outline's chords may lie off it, and those of the arcs around its corners, mm; what the grid of the polygons'
/// union rounds by is a thousandth of that.
const CHORD_MM: f64 = 0.0004;
/// Points nearer than this to the one before are the same, mm.
const SAME_MM: f64 = 1e-7;
/// What rounding may make of the angle of half a circle.
const ROUNDING: f64 = 1e-9;

/// How far an outline may reach with the cutter's way around it, mm: on a larger one the union's grid is too coarse, and no neck's
/// outline comes near.
const LARGEST_MM: f64 = 10_000.0;

/// How many chords keep to their tolerance where a single one would be off by so much; some ten thousand at most within
/// [`LARGEST_MM`].
fn parts(error: f64) -> u32 {
    libm::ceil(libm::sqrt(error / CHORD_MM)).max(1.0) as u32
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
///
/// # Errors
/// - a place of the outline, or `by_mm`, that is no finite number;
/// - an arc of more than half a circle;
/// - an outline that is, with the way around it, larger than 10 m: [`OFFSET_MM`] would not hold.
pub fn offset(outline: &Path, by_mm: f64) -> Result<Vec<Path>, Error> {
    let fault = |path: &str, reason: &str| Fault::new(Kind::OutOfRange, path, reason);
    let most = |reach: f64| fault("by_mm", "is no finite number").value(by_mm, "mm").range(-reach, reach);
    if !by_mm.is_finite() {
        return Err(most(LARGEST_MM).remedy("give the cutter's radius").into());
    }
    let [low, high] = extent::path(outline);
    let size = (high[0] - low[0]).max(high[1] - low[1]);
    if !size.is_finite() {
        let reason = "every place of an outline has to be a finite number of millimetres";
        return Err(fault("outline", reason).remedy("leave the segment out, or give its places").into());
    }
    if size + 2.0 * libm::fabs(by_mm) > LARGEST_MM {
        let reason = "the outline and the cutter's way around it are too large for the way to be exact";
        return Err(fault("outline", reason)
            .value(size + 2.0 * libm::fabs(by_mm), "mm")
            .range(0.0, LARGEST_MM)
            .remedy("draw it in millimetres, in parts, or with a smaller cutter")
            .into());
    }
    let mut from = outline.start;
    for (i, segment) in outline.segments.iter().enumerate() {
        if let Segment::Arc { centre, to, counter_clockwise } = *segment {
            let angle = libm::fabs(turn(from, centre, to, counter_clockwise));
            if angle > core::f64::consts::PI + ROUNDING {
                return Err(fault(&format!("outline.segments[{i}]"), "an arc is less than half a circle")
                    .value(angle.to_degrees(), "deg")
                    .range(0.0, 180.0)
                    .remedy("part it in two")
                    .into());
            }
        }
        from = segment.end();
    }
    Ok(ways(outline, by_mm))
}

/// [`offset`] of an outline that is known to be finite and no larger than [`LARGEST_MM`], as all are of a neck that passed its
/// checks.
pub(super) fn ways(outline: &Path, by_mm: f64) -> Vec<Path> {
    let mut corners = flat(outline);
    if corners.len() < 3 {
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
    let cut = if offset_mm > 0.0 { ways(&outline, offset_mm) } else { Vec::new() };
    draft.path(Layer::Outline, outline);
    for way in cut {
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
        let [out] = &ways(&square(10.0), 2.0)[..] else { panic!() };
        // Steiner's formula: area + perimeter·r + π·r².
        let expected = 100.0 + 80.0 + core::f64::consts::PI * 4.0;
        assert!(libm::fabs(area(&out.corners(1)) - expected) < 5e-3);
        let [inner] = &ways(&square(10.0), -2.0)[..] else { panic!() };
        assert!(libm::fabs(area(&inner.corners(1)) - 36.0) < 1e-4);
        assert!(ways(&square(10.0), -5.1).is_empty());
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
        let [out] = &ways(&Path::polyline(&notch, true), 3.0)[..] else { panic!() };
        // A disc of radius 3 on two corners 2 apart sinks between them to √(9 − 1) above their level.
        let over = |p: &&Point| libm::fabs(p[0] - 10.0) < 0.5 && p[1] > 5.0;
        let low = out.corners(1).iter().filter(over).map(|p| p[1]).fold(f64::INFINITY, f64::min);
        assert!(libm::fabs(low - (10.0 + libm::sqrt(8.0))) < OFFSET_MM, "{low}");
        let waist = [[0.0, 0.0], [10.0, 4.5], [20.0, 0.0], [20.0, 10.0], [10.0, 5.5], [0.0, 10.0]];
        assert_eq!(ways(&Path::polyline(&waist, true), -1.0).len(), 2);
    }

    #[test]
    fn which_way_the_outline_runs_does_not_matter() {
        let mut corners = square(10.0).corners(1);
        corners.reverse();
        let [a] = &ways(&Path::polyline(&corners, true), 1.0)[..] else { panic!() };
        let [b] = &ways(&square(10.0), 1.0)[..] else { panic!() };
        assert!(libm::fabs(area(&a.corners(1)) - area(&b.corners(1))) < 1e-5);
    }

    #[test]
    fn what_is_too_large_is_refused() {
        let said = |outline: &Path, by: f64| offset(outline, by).unwrap_err().faults()[0].path.clone();
        assert_eq!(said(&square(10.0), f64::NAN), "by_mm");
        assert_eq!(said(&square(f64::INFINITY), 1.0), "outline");
        assert_eq!(said(&square(9_999.0), 1.0), "outline");
        assert_eq!(offset(&square(9_999.0), 0.4).unwrap().len(), 1);
        let arc = Segment::Arc { centre: [0.0, 0.0], to: [0.0, -1.0], counter_clockwise: true };
        let most = Path { start: [1.0, 0.0], segments: vec![arc], closed: true };
        assert_eq!(said(&most, 1.0), "outline.segments[0]");
    }

    #[test]
    fn a_large_arc_takes_as_many_chords_as_it_needs() {
        // A disc of 4 m, by three arcs of a third each.
        let r = 2_000.0;
        let (low, high) = (-0.5 * r, r * libm::sqrt(0.75));
        let corners = [[r, 0.0], [low, high], [low, -high]];
        let arc = |to: Point| Segment::Arc { centre: [0.0, 0.0], to, counter_clockwise: true };
        let disc =
            Path { start: corners[0], segments: [1, 2, 0].map(|i| arc(corners[i])).into(), closed: true };
        let [way] = &offset(&disc, 5.0).unwrap()[..] else { panic!() };
        let corners = way.corners(1);
        let middles = corners.windows(2).map(|w| [0, 1].map(|k| 0.5 * (w[0][k] + w[1][k])));
        for p in corners.iter().copied().chain(middles) {
            assert!(libm::fabs(libm::hypot(p[0], p[1]) - r - 5.0) < OFFSET_MM, "{p:?}");
        }
    }
}
