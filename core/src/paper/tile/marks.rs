//! Marks where two pages meet.

use alloc::vec::Vec;

use super::super::cut::Window;
use super::super::draft::Draft;
use super::super::layer::Layer;
use super::super::path::{Point, moved};
use super::super::sheet::Shape;
use super::super::text::{Anchor, Text};

/// Half a cross, mm, where the overlap has room for it.
const ARM_MM: f64 = 3.5;
/// Height of the other page's name, mm.
const NAME_MM: f64 = 2.0;
/// Where words are in the way, a seam's line is left out in steps of this: whole dots and gaps.
const STEP_MM: f64 = 4.0;

/// Where two pages meet: a line of the drawing that is upright (`axis` 0) or level (`axis` 1).
pub(super) struct Seam<'a> {
    pub axis: usize,
    /// Where the line lies across.
    pub at: f64,
    /// What both pages show along it.
    pub along: [f64; 2],
    pub overlap: f64,
    /// The names of the pages to its left or below, and to its right or above.
    pub names: [&'a str; 2],
}

impl Seam<'_> {
    fn point(&self, along: f64, across: f64) -> Point {
        let mut p = [along; 2];
        p[self.axis] = self.at + across;
        p
    }

    /// Places along it, as shares of its length.
    fn place(&self, share: f64, across: f64) -> Point {
        self.point(self.along[0] + share * (self.along[1] - self.along[0]), across)
    }

    /// A dotted line, but for where it would cross words.
    fn line(&self, drawing: &Draft, marks: &mut Draft) {
        let count = libm::floor((self.along[1] - self.along[0]) / STEP_MM) as usize;
        let end = |i: usize| self.point(self.along[0] + i as f64 * STEP_MM, 0.0);
        let mut from = None;
        for i in 0..=count {
            let clear = i < count && drawing.is_clear(&[end(i), end(i + 1)]);
            match from {
                None if clear => from = Some(end(i)),
                Some(begin) if !clear => {
                    marks.line(Layer::Seams, begin, end(i));
                    from = None;
                }
                _ => {}
            }
        }
    }

    /// A cross in a ring, to either side of the middle, where no words are in the way if there is such a place.
    fn crosses(&self, drawing: &Draft, marks: &mut Draft) {
        let arm = f64::min(ARM_MM, 0.42 * self.overlap);
        let strokes = |c: Point| [[arm, 0.0], [0.0, arm]].map(|a| [moved(c, a.map(|v| -v)), moved(c, a)]);
        // On upright seams further in, so that no two crosses stand together in a corner.
        let first = if self.axis == 0 { 0.2 } else { 0.12 };
        let tries: Vec<f64> = (0..8).map(|i| first + 0.02 * f64::from(i)).collect();
        let ends: [Vec<f64>; 2] = [tries.clone(), tries.iter().map(|t| 1.0 - t).collect()];
        for shares in ends {
            let places: Vec<Point> = shares.iter().map(|s| self.place(*s, 0.0)).collect();
            let clear = |p: &&Point| strokes(**p).iter().all(|s| drawing.is_clear(s));
            let Some(at) = places.iter().find(clear).or(places.first()) else { continue };
            for [a, b] in strokes(*at) {
                marks.line(Layer::PageMarks, a, b);
            }
            marks.add(Layer::PageMarks, Shape::Circle { centre: *at, radius_mm: 0.5 * arm });
        }
    }

    /// What both pages show of it.
    pub(super) fn common(&self, drawing: &Draft) -> Draft {
        let mut marks = Draft::default();
        self.line(drawing, &mut marks);
        self.crosses(drawing, &mut marks);
        marks
    }

    /// The name of the page beyond it, on that side, where there is room. `beyond` is 1 to the right or above.
    pub(super) fn name(&self, drawing: &Draft, common: &Draft, beyond: usize) -> Option<Text> {
        let across = if beyond == 1 { 0.25 * self.overlap } else { -0.25 * self.overlap };
        let shares = [0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8];
        let texts = shares.map(|share| {
            let [x, y] = self.place(share, across);
            Text::new([x, y - 0.5 * NAME_MM], Anchor::Middle, self.names[beyond]).high(NAME_MM)
        });
        texts.into_iter().find(|t| drawing.is_free(t) && common.is_free(t))
    }
}

/// The seam between two windows, the second to the right of or above the first.
pub(super) fn between<'a>(a: &Window, b: &Window, axis: usize, names: [&'a str; 2]) -> Seam<'a> {
    let other = 1 - axis;
    let along = [f64::max(a[0][other], b[0][other]), f64::min(a[1][other], b[1][other])];
    Seam { axis, at: 0.5 * (a[1][axis] + b[0][axis]), along, overlap: a[1][axis] - b[0][axis], names }
}
