//! How the scanned neck stands off the one that it is compared with, where that is still to be found.

use alloc::vec;
use alloc::vec::Vec;

use super::motion::Vector;
use super::skin::{Touch, Zone};
use crate::shape::Neck;

const ALONG: usize = 14;
const AROUND: usize = 9;
const WIDTH: usize = 8;
/// Where the terms of the width and of the crown begin.
const WIDTH_FROM: usize = ALONG * AROUND;
const CROWN_FROM: usize = WIDTH_FROM + WIDTH;
/// How many numbers a field has.
pub(crate) const TERMS: usize = CROWN_FROM + 2;
/// Half a board, mm, for the scale of the crown's terms.
const HALF_MM: f64 = 25.0;

/// What of the outside may be of another shape than the base's: the carved back as it likes (straight between the knots of
/// a grid), the sides by the same amount on both sides of the centreline, the face by its radius. Headstock, heel block
/// and ends are as the base has them, and so is the face's crown line: these are what the pose rests on.
#[derive(Clone, Debug)]
pub(crate) struct Field {
    /// Between which stations the back is carved.
    carved: [f64; 2],
    /// Between which stations the width may be another.
    wide: [f64; 2],
    /// How far the surface stands outside of the base's, mm, term by term.
    pub values: Vec<f64>,
}

/// The terms of a field at a place: index and factor.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Terms {
    list: [(usize, f64); 4],
    count: usize,
}

impl Terms {
    fn add(&mut self, index: usize, factor: f64) {
        if factor != 0.0
            && let Some(slot) = self.list.get_mut(self.count)
        {
            *slot = (index, factor);
            self.count += 1;
        }
    }

    pub fn iter(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.list.iter().take(self.count).copied()
    }
}

/// The knot before a place and the share of the one after it.
fn knots(place: f64, last: usize) -> (usize, f64) {
    let place = place.clamp(0.0, last as f64);
    let i = (place as usize).min(last - 1);
    (i, place - i as f64)
}

impl Field {
    pub fn new(neck: &Neck) -> Self {
        let built = neck.built();
        let headstock = &neck.normalised().headstock;
        let edges = [&headstock.bass_edge, &headstock.treble_edge];
        let first = edges.into_iter().flatten().flat_map(|edge| edge.first()).map(|p| p.along.mm());
        let along = first.fold(f64::INFINITY, f64::min).min(built.head.length);
        let wide = [built.head.x(along), neck.reach_mm()[1]];
        Self { carved: [built.volute.start(), built.sweep.end], wide, values: vec![0.0; TERMS] }
    }

    /// The terms at a place of the surface.
    #[inline]
    pub fn terms(&self, touch: &Touch, p: Vector) -> Terms {
        let mut terms = Terms::default();
        let x = p[0];
        match touch.zone {
            Zone::Back if x > self.carved[0] && x < self.carved[1] => {
                let share = (x - self.carved[0]) / (self.carved[1] - self.carved[0]);
                let (i, s) = knots(share * (ALONG + 1) as f64, ALONG + 1);
                let (j, t) = knots(0.5 * (touch.around + 1.0) * (AROUND - 1) as f64, AROUND - 1);
                // Nothing at either end, where the rigid parts begin.
                for (i, s) in [(i, 1.0 - s), (i + 1, s)] {
                    if (1..=ALONG).contains(&i) {
                        terms.add((i - 1) * AROUND + j, s * (1.0 - t));
                        terms.add((i - 1) * AROUND + j + 1, s * t);
                    }
                }
            }
            Zone::Wall if x > self.wide[0] => {
                let share = (x - self.wide[0]) / (self.wide[1] - self.wide[0]);
                let (i, s) = knots(share * WIDTH as f64, WIDTH);
                if i >= 1 {
                    terms.add(WIDTH_FROM + i - 1, 1.0 - s);
                }
                terms.add(WIDTH_FROM + i, s);
            }
            Zone::Face => {
                let share = (x / self.wide[1]).clamp(0.0, 1.0);
                let bend = (p[1] / HALF_MM) * (p[1] / HALF_MM);
                terms.add(CROWN_FROM, bend * (1.0 - share));
                terms.add(CROWN_FROM + 1, bend * share);
            }
            _ => {}
        }
        terms
    }

    /// How far the surface stands outside of the base's at a place, mm.
    #[inline]
    pub fn at(&self, touch: &Touch, p: Vector) -> f64 {
        self.terms(touch, p).iter().map(|(i, f)| f * self.values.get(i).copied().unwrap_or(0.0)).sum()
    }
}
