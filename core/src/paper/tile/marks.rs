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
/// Between two places that are tried for a cross, mm.
const PLACE_MM: f64 = 0.5;
/// The least distances of a seam's two crosses, mm: the first where there are two places so far apart.
const APART_MM: [f64; 3] = [40.0, 25.0, 12.0];

/// Where two pages meet: a line of the drawing that is upright (`axis` 0) or level (`axis` 1).
pub(super) struct Seam<'a> {
    axis: usize,
    /// Where the line lies across.
    at: f64,
    /// What both pages show along it.
    along: [f64; 2],
    overlap: f64,
    /// The names of the pages to its left or below, and to its right or above.
    names: [&'a str; 2],
    /// Whether it meets other seams at its lower or left end and at the other.
    meets: [bool; 2],
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

    /// A dotted line, but for where it would cross words or a cross.
    pub(super) fn line(&self, taken: &Draft) -> Draft {
        let mut marks = Draft::default();
        let count = libm::floor((self.along[1] - self.along[0]) / STEP_MM) as usize;
        let end = |i: usize| self.point(self.along[0] + i as f64 * STEP_MM, 0.0);
        let mut from = None;
        for i in 0..=count {
            let clear = i < count && taken.is_clear(&[end(i), end(i + 1)]);
            match from {
                None if clear => from = Some(end(i)),
                Some(begin) if !clear => {
                    marks.line(Layer::Seams, begin, end(i));
                    from = None;
                }
                _ => {}
            }
        }
        marks
    }

    fn arm(&self) -> f64 {
        f64::min(ARM_MM, 0.42 * self.overlap)
    }

    /// Where two crosses stand: as near to either end as nothing is in the way; failing that, where no words are. A cross that
    /// would lie on words is left out.
    fn places(&self, taken: &Draft) -> Vec<f64> {
        let arm = self.arm();
        let square = |at: f64| {
            let c = self.point(at, 0.0);
            [c.map(|v| v - arm), c.map(|v| v + arm)]
        };
        // Beyond the other seams' own marks.
        let kept = self.meets.map(|meets| if meets { self.overlap + 2.0 * arm } else { arm + 0.5 });
        let [from, to] = [self.along[0] + kept[0], self.along[1] - kept[1]];
        let count = f64::max(0.0, libm::floor((to - from) / PLACE_MM)) as usize;
        let all: Vec<f64> = (0..=count).map(|i| from + PLACE_MM * i as f64).filter(|at| *at <= to).collect();
        let open: Vec<f64> = all.iter().copied().filter(|at| taken.is_open(&square(*at))).collect();
        let bare: Vec<f64> = all.into_iter().filter(|at| taken.has_no_words(&square(*at))).collect();
        let two = |places: &[f64], apart: f64| match (places.first(), places.last()) {
            (Some(a), Some(b)) if b - a >= apart => Some(Vec::from([*a, *b])),
            _ => None,
        };
        let sought = APART_MM.into_iter().flat_map(|apart| [two(&open, apart), two(&bare, apart)]);
        sought
            .flatten()
            .next()
            .unwrap_or_else(|| open.first().or(bare.first()).copied().into_iter().collect())
    }

    /// Two crosses in rings, which both pages show; `taken` is all that is drawn, and gets them as rooms that lines and words
    /// keep clear of.
    pub(super) fn crosses(&self, taken: &mut Draft) -> Draft {
        let mut marks = Draft::default();
        let arm = self.arm();
        for at in self.places(taken) {
            let c = self.point(at, 0.0);
            for a in [[arm, 0.0], [0.0, arm]] {
                marks.line(Layer::PageMarks, moved(c, a.map(|v| -v)), moved(c, a));
            }
            marks.add(Layer::PageMarks, Shape::Circle { centre: c, radius_mm: 0.5 * arm });
            taken.keep([c.map(|v| v - arm), c.map(|v| v + arm)]);
        }
        marks
    }

    /// The name of the page beyond it, on that side, where there is room. `beyond` is 1 to the right or above.
    pub(super) fn name(&self, taken: &Draft, line: &Draft, beyond: usize) -> Option<Text> {
        let across = if beyond == 1 { 0.25 * self.overlap } else { -0.25 * self.overlap };
        let shares =
            (0..=40).map(|i| 0.5 + 0.0115 * f64::from((i + 1) / 2) * if i % 2 == 0 { 2.0 } else { -2.0 });
        let mut texts = shares.map(|share| {
            let [x, y] = self.place(share, across);
            Text::new([x, y - 0.5 * NAME_MM], Anchor::Middle, self.names[beyond]).high(NAME_MM)
        });
        texts.find(|t| taken.is_free(t) && line.is_free(t))
    }
}

/// The seam between two windows, the second to the right of or above the first.
pub(super) fn between<'a>(
    a: &Window,
    b: &Window,
    axis: usize,
    names: [&'a str; 2],
    meets: [bool; 2],
) -> Seam<'a> {
    let other = 1 - axis;
    let along = [f64::max(a[0][other], b[0][other]), f64::min(a[1][other], b[1][other])];
    Seam { axis, at: 0.5 * (a[1][axis] + b[0][axis]), along, overlap: a[1][axis] - b[0][axis], names, meets }
}
