//! Rings around what was found.

use alloc::format;
use alloc::vec::Vec;

use super::super::draft::Draft;
use super::super::layer::Layer;
use super::super::path::{Path, Point};
use super::super::text::{Anchor, Text};
use super::Flat;
use crate::inspect::{Finding, Place};
use crate::shape::Side;

/// What is drawn around a finding is no smaller than this either way, mm.
const LEAST_RING: Point = [7.0, 5.0];
/// Parts of a quarter of a ring.
const PARTS: u32 = 32;
/// Height of the rings' numbers, mm; they stand out among the map's.
const MARK_MM: f64 = 3.2;
/// Numbers of two rings are no nearer to each other than this, mm.
const MARKS_APART_MM: f64 = 6.0;
/// How far a ring's number may stand off it, mm.
const LEADS_MM: [f64; 8] = [6.0, 8.0, 11.0, 15.0, 20.0, 27.0, 36.0, 48.0];

impl Flat<'_> {
    /// Rings around what was found, each with its number at the end of a line of its own.
    pub(super) fn rings(&self, draft: &mut Draft, found: &[&Finding]) {
        let rings: Vec<[Point; 2]> = found.iter().map(|f| self.ring(f)).collect();
        let lines: Vec<Vec<Point>> =
            rings.iter().flat_map(|[c, half]| around_words(draft, *c, *half)).collect();
        for line in &lines {
            draft.polyline(Layer::CutLine, line);
        }
        let mut marks: Vec<Point> = Vec::with_capacity(rings.len());
        for (i, [centre, half]) in rings.iter().enumerate() {
            let words = format!("{}", i + 1);
            let places: Vec<[Point; 2]> = leads(*centre, *half).collect();
            let text = |end: Point| {
                Text::new([end[0], end[1] - 0.5 * MARK_MM], Anchor::Middle, words.as_str()).high(MARK_MM)
            };
            let alone =
                |end: Point| marks.iter().all(|m| libm::hypot(m[0] - end[0], m[1] - end[1]) > MARKS_APART_MM);
            // Where its line begins no other ring passes.
            let own = |from: Point| {
                rings.iter().enumerate().all(|(k, [centre, half])| {
                    let (u, v) = ((from[0] - centre[0]) / half[0], (from[1] - centre[1]) / half[1]);
                    k == i || libm::fabs(libm::hypot(u, v) - 1.0) * half[0].min(half[1]) > 1.5
                })
            };
            let fits = |[from, end]: &&[Point; 2]| {
                alone(*end)
                    && own(*from)
                    && draft.is_free(&text(*end))
                    && draft.is_clear(&short_of(*from, *end))
            };
            let found = places.iter().find(fits);
            // Over another number nothing can be read: rather a line that crosses one.
            let free = |[_, end]: &&[Point; 2]| alone(*end) && draft.is_free(&text(*end));
            let found = found.or_else(|| places.iter().find(free));
            let found = found.or_else(|| places.iter().rev().find(|[_, end]| alone(*end)));
            let Some([from, end]) = found.or(places.first()).copied() else { continue };
            let [from, to] = short_of(from, end);
            draft.line(Layer::Dimensions, from, to);
            draft.text(text(end));
            marks.push(end);
        }
    }

    /// Centre and half axes of the ring around a finding.
    fn ring(&self, f: &Finding) -> [Point; 2] {
        let x = 0.5 * (f.x_mm[0] + f.x_mm[1]);
        let share = |way: f64| {
            let side = if way < 0.0 { Side::Bass } else { Side::Treble };
            self.up(side) * libm::fabs(way)
        };
        let [a, b] = f.around_mm.unwrap_or([0.0, 0.0]).map(share);
        let y = match f.place {
            Place::CarveLine(side) => self.up(side) * self.ways(x).of(side)[1],
            _ => 0.5 * (a + b),
        };
        let half = [0.5 * (f.x_mm[1] - f.x_mm[0]), 0.5 * libm::fabs(b - a)];
        let half = [half[0] + LEAST_RING[0], half[1] + LEAST_RING[1]];
        [[x, y], half]
    }
}

/// A ring's line, broken off where it would cross words.
fn around_words(draft: &Draft, centre: Point, half: Point) -> Vec<Vec<Point>> {
    let corners = Path::ellipse(centre, half).corners(PARTS);
    let clear: Vec<bool> = corners.windows(2).map(|w| draft.is_clear(&[w[0], w[1]])).collect();
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut on = false;
    for (w, clear) in corners.windows(2).zip(clear) {
        match runs.last_mut().filter(|_| on && clear) {
            Some(run) => run.push(w[1]),
            None if clear => runs.push(w.to_vec()),
            None => {}
        }
        on = clear;
    }
    runs
}

/// Lines out of a ring at which its number may stand, the short ones first, all around.
fn leads(centre: Point, half: Point) -> impl Iterator<Item = [Point; 2]> {
    LEADS_MM.into_iter().flat_map(move |out| {
        (0..16).map(move |k| {
            // From the upper right, by turns to either side.
            let turn = f64::from((k + 1) / 2) * if k % 2 == 0 { 1.0 } else { -1.0 };
            let angle = core::f64::consts::TAU * (0.125 + turn / 16.0);
            let (c, s) = (libm::cos(angle), libm::sin(angle));
            let from = [centre[0] + half[0] * c, centre[1] + half[1] * s];
            // Square to the ring.
            let (u, v) = (c / half[0], s / half[1]);
            let size = libm::hypot(u, v);
            [from, [from[0] + out * u / size, from[1] + out * v / size]]
        })
    })
}

/// The line to a number, as far as the number leaves room for.
fn short_of(from: Point, end: Point) -> [Point; 2] {
    let (x, y) = (end[0] - from[0], end[1] - from[1]);
    let size = libm::hypot(x, y);
    let kept = (1.0 - 0.85 * MARK_MM / size).max(0.0);
    [from, [from[0] + kept * x, from[1] + kept * y]]
}
