//! Closed outlines of lines, cubic Béziers and circle arcs, and what can be integrated over them.

use alloc::vec;
use alloc::vec::Vec;

use super::cubic::{cubic_at, cubic_slope};
use crate::law::{Bernstein, adaptive, gauss16_nodes};
use crate::layout::sagitta_mm;
use crate::measure::{Bound, Error};

/// A point in the plane of a section: `[y, z]` in mm.
pub type Point = [f64; 2];

/// One segment of an outline; it begins where the one before ends.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[serde(tag = "kind", content = "to_mm", rename_all = "snake_case")]
pub enum Segment {
    /// A straight line to a point.
    Line(Point),
    /// A cubic Bézier by its two handles and its end.
    Cubic(Point, Point, Point),
    /// The crown: the upper arc of a circle about `(0, −radius)` to the point at this `y`.
    Crown {
        /// Radius of the circle, mm.
        #[serde(rename = "radius_mm")]
        radius: f64,
        /// Where the arc ends, mm from the centreline.
        #[serde(rename = "to_y_mm")]
        to_y: f64,
    },
}

impl Segment {
    /// Where the segment ends.
    #[must_use]
    pub fn end(&self) -> Point {
        match *self {
            Self::Line(p) | Self::Cubic(_, _, p) => p,
            Self::Crown { radius, to_y } => [to_y, -sagitta_mm(radius, to_y)],
        }
    }

    /// Length of the segment from its start, mm, to within 1e-12 of it.
    #[must_use]
    pub fn length_mm(&self, start: Point) -> f64 {
        match *self {
            Self::Line(p) => libm::hypot(p[0] - start[0], p[1] - start[1]),
            Self::Cubic(a, b, p) => cubic_length([start, a, b, p]),
            Self::Crown { radius, to_y } => {
                radius * libm::fabs(libm::asin(to_y / radius) - libm::asin(start[0] / radius))
            }
        }
    }
}

/// Arc length of a cubic: `∫|P'|`, by a rule of 16 points on halves that agree with the whole.
fn cubic_length(p: [Point; 4]) -> f64 {
    let y = p.iter().map(|p| p[0]).collect::<Bernstein>().derivative();
    let z = p.iter().map(|p| p[1]).collect::<Bernstein>().derivative();
    let ([y0, y1, y2], [z0, z1, z2]) = (three(&y), three(&z));
    let hull: f64 = p.windows(2).map(|w| libm::hypot(w[1][0] - w[0][0], w[1][1] - w[0][1])).sum();
    adaptive(0.0, 1.0, 1e-13 * hull, &mut |u| {
        let s = 1.0 - u;
        let (a, b, c) = (s * s, 2.0 * s * u, u * u);
        let (dy, dz) = (a * y0 + b * y1 + c * y2, a * z0 + b * z1 + c * z2);
        libm::sqrt(dy * dy + dz * dz)
    })
}

fn three(p: &Bernstein) -> [f64; 3] {
    match *p.coefs() {
        [a, b, c] => [a, b, c],
        _ => [0.0; 3],
    }
}

/// Area and its first and second moments, about the origin of the section's plane.
#[derive(Clone, Copy, Debug, PartialEq, Default, serde::Serialize)]
pub struct Moments {
    /// Area, mm².
    pub area_mm2: f64,
    /// `∫y`, `∫z`, mm³.
    pub first_mm3: Point,
    /// `∫y²`, `∫z²`, `∫yz`, mm⁴.
    pub second_mm4: [f64; 3],
}

impl Moments {
    /// The moments of a rectangle.
    #[must_use]
    pub fn rectangle(y: [f64; 2], z: [f64; 2]) -> Self {
        let third = |[a, b]: [f64; 2]| (b * b * b - a * a * a) / 3.0;
        let half = |[a, b]: [f64; 2]| (b * b - a * a) / 2.0;
        let (w, h) = (y[1] - y[0], z[1] - z[0]);
        Self {
            area_mm2: w * h,
            first_mm3: [half(y) * h, half(z) * w],
            second_mm4: [third(y) * h, third(z) * w, half(y) * half(z)],
        }
    }

    /// This and another area together.
    #[must_use]
    pub fn plus(&self, o: &Self) -> Self {
        self.added(o, 1.0)
    }

    /// This without another area.
    #[must_use]
    pub fn minus(&self, o: &Self) -> Self {
        self.added(o, -1.0)
    }

    fn added(&self, o: &Self, k: f64) -> Self {
        Self {
            area_mm2: self.area_mm2 + k * o.area_mm2,
            first_mm3: [0, 1].map(|i| self.first_mm3[i] + k * o.first_mm3[i]),
            second_mm4: [0, 1, 2].map(|i| self.second_mm4[i] + k * o.second_mm4[i]),
        }
    }

    /// The centroid `[y, z]`, mm; the origin for an empty area.
    #[must_use]
    pub fn centroid_mm(&self) -> Point {
        if self.area_mm2 == 0.0 { [0.0; 2] } else { self.first_mm3.map(|m| m / self.area_mm2) }
    }

    /// Second moments about the axes through the centroid: `[∫(z−z̄)², ∫(y−ȳ)², ∫(y−ȳ)(z−z̄)]`, mm⁴.
    /// The first resists bending of the neck up and down.
    #[must_use]
    pub fn central_mm4(&self) -> [f64; 3] {
        let [y, z] = self.centroid_mm();
        let a = self.area_mm2;
        let [yy, zz, yz] = self.second_mm4;
        [zz - a * z * z, yy - a * y * y, yz - a * y * z]
    }

    /// The same area seen in a mirror: `y` changes its sign.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let ([y, z], [yy, zz, yz]) = (self.first_mm3, self.second_mm4);
        Self { area_mm2: self.area_mm2, first_mm3: [-y, z], second_mm4: [yy, zz, -yz] }
    }
}

/// A closed outline; the last segment is expected to end at the start.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Outline {
    /// Where the first segment begins.
    #[serde(rename = "start_mm")]
    pub start: Point,
    /// The segments in order.
    pub segments: Vec<Segment>,
}

/// Nodes and weights of the six-point Gauss–Legendre rule on `[0, 1]`: exact up to degree 11, which is
/// what `y³·z'` of a cubic has (Abramowitz & Stegun, table 25.4).
const SIX: [(f64, f64); 6] = [
    (0.03376524289842399, 0.08566224618958518),
    (0.16939530676686773, 0.1803807865240693),
    (0.38069040695840156, 0.23395696728634552),
    (0.6193095930415985, 0.23395696728634552),
    (0.8306046932331322, 0.1803807865240693),
    (0.966234757101576, 0.08566224618958518),
];

impl Outline {
    /// An outline that begins at a point.
    #[must_use]
    pub fn from(start: Point) -> Self {
        Self { start, segments: Vec::with_capacity(10) }
    }

    /// Goes on straight, unless it is there already.
    pub fn line(&mut self, to: Point) {
        if self.end() != to {
            self.segments.push(Segment::Line(to));
        }
    }

    /// Where the outline has come to.
    #[must_use]
    pub fn end(&self) -> Point {
        self.segments.last().map_or(self.start, Segment::end)
    }

    /// Goes along another path backwards, from its end to its start.
    pub fn go_back_along(&mut self, path: &Self) {
        self.line(path.end());
        let steps: Vec<(Point, Segment)> = path.walk().map(|(start, s)| (start, *s)).collect();
        for (start, segment) in steps.into_iter().rev() {
            self.segments.push(match segment {
                Segment::Line(_) => Segment::Line(start),
                Segment::Cubic(a, b, _) => Segment::Cubic(b, a, start),
                Segment::Crown { radius, .. } => Segment::Crown { radius, to_y: start[0] },
            });
        }
    }

    /// Turns the outline into its mirror image in `y`, still counter-clockwise: the segments run in the
    /// other order.
    pub fn mirror(&mut self) {
        let flip = |p: Point| [-p[0], p[1]];
        let mut image = Self::from(self.end());
        image.go_back_along(self);
        image.start = flip(image.start);
        for segment in &mut image.segments {
            *segment = match *segment {
                Segment::Line(p) => Segment::Line(flip(p)),
                Segment::Cubic(a, b, p) => Segment::Cubic(flip(a), flip(b), flip(p)),
                Segment::Crown { radius, to_y } => Segment::Crown { radius, to_y: -to_y },
            };
        }
        *self = image;
    }

    /// Each segment with the point where it begins.
    pub fn walk(&self) -> impl Iterator<Item = (Point, &Segment)> {
        let starts = core::iter::once(self.start).chain(self.segments.iter().map(Segment::end));
        starts.zip(&self.segments)
    }

    /// Area, first and second moments by Green's theorem; positive for an outline that runs
    /// counter-clockwise seen with `y` to the right and `z` up. Exact but for rounding on lines and
    /// cubics; on a crown no wider than its radius the 16-point rule leaves less than rounding does.
    #[must_use]
    pub fn moments(&self) -> Moments {
        let mut sum = Moments::default();
        for (start, segment) in self.walk() {
            let part = match *segment {
                Segment::Line(p) => line_moments(start, p),
                Segment::Cubic(a, b, p) => cubic_moments([start, a, b, p]),
                Segment::Crown { radius, to_y } => crown_moments(radius, start[0], to_y),
            };
            sum = sum.plus(&part);
        }
        sum
    }

    /// The corners of a polyline along the outline that stays within `chord_mm` of it, from the start
    /// round to the start. The chord error of each curved segment is bounded by its second differences
    /// (cubics) or its sagitta (the crown).
    ///
    /// # Errors
    /// - a chord error outside 1e-6 to 10 mm.
    pub fn polyline(&self, chord_mm: f64) -> Result<Vec<Point>, Error> {
        const CHORD: Bound = Bound {
            lowest: 1e-6,
            highest: 10.0,
            why: "a finer polyline is longer than it is useful and a coarser one is no section",
        };
        if let Some(fault) = CHORD.fault("chord_mm", chord_mm, "mm") {
            return Err(fault.into());
        }
        let mut points = vec![self.start];
        for (start, segment) in self.walk() {
            match *segment {
                Segment::Line(p) => points.push(p),
                Segment::Cubic(a, b, p) => flatten_cubic([start, a, b, p], chord_mm, &mut points),
                Segment::Crown { radius, to_y } => {
                    let [from, to] = [start[0], to_y].map(|y| libm::asin(y / radius));
                    // The sagitta of an arc of angle a is r(1 − cos a/2) ≤ r·a²/8.
                    let n = parts(radius * (to - from) * (to - from) / 8.0, chord_mm);
                    for i in 1..=n {
                        let y = radius * libm::sin(from + (to - from) * i as f64 / n as f64);
                        points.push(if i == n { segment.end() } else { [y, -sagitta_mm(radius, y)] });
                    }
                }
            }
        }
        Ok(points)
    }
}

/// Equal parts that bring an error that falls with their square down to the tolerance; at least one.
fn parts(error: f64, tolerance: f64) -> usize {
    let n = libm::ceil(libm::sqrt(error / tolerance));
    if n > 1.0 { n as usize } else { 1 }
}

/// A cubic cut into chords: `|P''| ≤ 6·max|Δ²|`, so `n` parts stay within `6·max|Δ²|/(8n²)`.
fn flatten_cubic(p: [Point; 4], chord_mm: f64, out: &mut Vec<Point>) {
    let second =
        |a: Point, b: Point, c: Point| libm::hypot(a[0] - 2.0 * b[0] + c[0], a[1] - 2.0 * b[1] + c[1]);
    let bend = second(p[0], p[1], p[2]).max(second(p[1], p[2], p[3]));
    let n = parts(0.75 * bend, chord_mm);
    for i in 1..n {
        out.push(cubic_at(p, i as f64 / n as f64));
    }
    out.push(p[3]);
}

/// Green's theorem for one smooth run: `f` gives the point and its derivative.
fn green(weight: f64, [y, z]: Point, [dy, dz]: Point) -> Moments {
    let (wz, wy) = (weight * dz, weight * dy);
    Moments {
        area_mm2: y * wz,
        first_mm3: [0.5 * y * y * wz, -0.5 * z * z * wy],
        second_mm4: [y * y * y * wz / 3.0, -z * z * z * wy / 3.0, 0.5 * y * y * z * wz],
    }
}

fn line_moments(a: Point, b: Point) -> Moments {
    let d = [b[0] - a[0], b[1] - a[1]];
    // Degree 3 along a line: two of the nodes of the two-point rule are enough.
    let g = 0.5 - 0.288_675_134_594_812_9;
    let at = |t: f64| [a[0] + t * d[0], a[1] + t * d[1]];
    green(0.5, at(g), d).plus(&green(0.5, at(1.0 - g), d))
}

fn cubic_moments(p: [Point; 4]) -> Moments {
    let mut sum = Moments::default();
    for (u, w) in SIX {
        sum = sum.plus(&green(w, cubic_at(p, u), cubic_slope(&p, u)));
    }
    sum
}

/// The crown's part of Green's theorem, each term integrated by parts until only powers of the sagitta
/// are left under the integral: `∫y dz = [yz] − ∫z dy`, and so on.
fn crown_moments(radius: f64, from: f64, to: f64) -> Moments {
    let z = |y: f64| -sagitta_mm(radius, y);
    // ∫ of z, yz, y²z, z², z³, yz² over y in one pass of the rule.
    let mut sums = [0.0; 6];
    for (y, w) in gauss16_nodes(from, to) {
        let z = z(y);
        let terms = [z, y * z, y * y * z, z * z, z * z * z, y * z * z];
        for (sum, term) in sums.iter_mut().zip(terms) {
            *sum += w * term;
        }
    }
    let ends = |f: &dyn Fn(f64, f64) -> f64| f(to, z(to)) - f(from, z(from));
    let [i_z, i_yz, i_yyz, i_zz, i_zzz, i_yzz] = sums;
    Moments {
        area_mm2: ends(&|y, z| y * z) - i_z,
        first_mm3: [ends(&|y, z| 0.5 * y * y * z) - i_yz, -0.5 * i_zz],
        second_mm4: [
            ends(&|y, z| y * y * y * z / 3.0) - i_yyz,
            -i_zzz / 3.0,
            ends(&|y, z| 0.25 * y * y * z * z) - 0.5 * i_yzz,
        ],
    }
}
