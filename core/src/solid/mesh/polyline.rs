//! Edges as polylines: the same points for both faces beside them.

use alloc::vec;
use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::chart::Chart;
use super::course::{Course, Way};
use crate::solid::Point3;

/// What of the tolerance the strip between a trace and its chord in the parameters may take.
const STRIP: f64 = 0.02;
/// A stop this close to a crease counts as on it: between the two a strip would be left that no triangle fits.
const ON_CREASE_MM: f64 = 1e-6;
/// The most times a stretch is cut again.
const MOST_CUTS: u32 = 24;
/// A place that is known to such a part of the stretch that it was looked for in is known.
const CLOSE: f64 = 1e-9;
/// The most points an edge may take: far more than one of a neck does.
const MOST_POINTS: usize = 50_000;

/// A face beside an edge: its chart, and the edge's way through its parameters where that is a spline's.
pub(super) struct Beside<'a> {
    pub chart: &'a Chart,
    pub way: Option<Way>,
}

/// An edge's points.
pub(super) struct Polyline {
    /// Where on its curve, from its start to its end.
    pub t: Vec<f64>,
    /// Bound of how far the curve lies from its chords, mm.
    pub off: f64,
    /// Bound of what the strips between traces and their chords add, mm.
    pub strip: f64,
}

/// Where a function comes to a value between two places on either side of it (the Illinois form of false position); `None` where it
/// does not come to it.
fn solved(
    f: &dyn Fn(f64) -> f64,
    [mut a, mut b]: [f64; 2],
    [mut fa, mut fb]: [f64; 2],
    value: f64,
) -> Option<f64> {
    let close = CLOSE * libm::fabs(b - a);
    fa -= value;
    fb -= value;
    let mut side = 0;
    for _ in 0..80 {
        if fa == 0.0 {
            return Some(a);
        }
        if fb == 0.0 || libm::fabs(b - a) <= 1e-15 * (libm::fabs(a) + libm::fabs(b)) {
            return Some(b);
        }
        let c = (fa * b - fb * a) / (fa - fb);
        let fc = f(c) - value;
        if libm::fabs(fc) <= 1e-13 * (1.0 + libm::fabs(value)) {
            return Some(c);
        }
        if (fc > 0.0) == (fb > 0.0) {
            (b, fb) = (c, fc);
            if side == -1 {
                fa *= 0.5;
            }
            side = -1;
        } else {
            (a, fa) = (c, fc);
            if side == 1 {
                fb *= 0.5;
            }
            side = 1;
        }
    }
    // Where rounding is coarser than what is asked for it still is between the two.
    (libm::fabs(b - a) <= close).then_some(0.5 * (a + b))
}

/// Bound of how far a curve leaves its chord, by bounds of its second derivative over parts of it. At `x` the second derivative at `ξ`
/// counts by no more than `g(ξ) = (ξ − a)(b − ξ)/(b − a)`: so with a part that bends far more than the others the sum over parts of
/// the bound times `∫g` is less than an eighth of the greatest times the square of the length.
fn leaves_chord(parts: &[([f64; 2], f64)], [from, to]: [f64; 2]) -> f64 {
    let length = to - from;
    let most = parts.iter().map(|part| part.1).fold(0.0, f64::max);
    let whole = |x: f64| x * x * (0.5 - x / (3.0 * length));
    let sum: f64 = parts.iter().map(|([a, b], bend)| bend * (whole(b - from) - whole(a - from))).sum();
    sum.min(0.125 * length * length * most)
}

/// One edge between its faces, that which goes along it first.
pub(super) struct Along<'a> {
    pub course: &'a Course,
    pub faces: [usize; 2],
    pub beside: [Beside<'a>; 2],
    pub ends: [Point3; 2],
    /// Whether the faces do not go on smoothly over it.
    pub sharp: bool,
}

impl Along<'_> {
    pub fn parameters(&self, side: usize, t: f64) -> Option<[f64; 2]> {
        let Beside { chart, way } = &self.beside[side];
        let (Chart::Spline { patches, .. }, Some(way)) = (chart, way) else {
            return chart.of_point(self.at_curve(t));
        };
        let mut at = way.at(self.course, patches, t);
        for (x, creases) in at.iter_mut().zip(&patches.creases) {
            let i = creases.partition_point(|c| *c < *x - ON_CREASE_MM);
            if let Some(crease) = creases.get(i).filter(|c| **c <= *x + ON_CREASE_MM) {
                *x = *crease;
            }
        }
        Some(at)
    }

    /// Its point, at its ends the vertices themselves.
    fn at_curve(&self, t: f64) -> Point3 {
        let [from, to] = self.course.reach();
        if t == from {
            self.ends[0]
        } else if t == to {
            self.ends[1]
        } else {
            self.course.at(t)
        }
    }

    /// Whether it goes through the parameters of a face otherwise than straight.
    pub fn winds(&self, side: usize) -> bool {
        match &self.beside[side].way {
            Some(way) => matches!(way, Way::Trace(_)),
            None => !self.course.is_line(),
        }
    }

    /// A place of it, with its parameters in both faces.
    pub fn at(&self, t: f64) -> Option<(Point3, [[f64; 2]; 2])> {
        Some((self.at_curve(t), [self.parameters(0, t)?, self.parameters(1, t)?]))
    }

    /// Stops where it crosses the creases of one face's surface.
    fn crossings(&self, side: usize, stops: &mut Vec<f64>) -> Option<()> {
        let Chart::Spline { patches, .. } = self.beside[side].chart else { return Some(()) };
        if patches.creases.iter().all(Vec::is_empty) {
            return Some(());
        }
        let samples = self.course.samples();
        let values: Vec<[f64; 2]> =
            samples.iter().map(|t| self.parameters(side, *t)).collect::<Option<_>>()?;
        for (t, f) in samples.windows(2).zip(values.windows(2)) {
            for (k, creases) in patches.creases.iter().enumerate() {
                let [from, to] = [f[0][k].min(f[1][k]), f[0][k].max(f[1][k])];
                // Along a crease there is no crossing it.
                if to - from <= 1e-9 {
                    continue;
                }
                let first = creases.partition_point(|v| *v <= from);
                for v in creases.iter().skip(first).take_while(|v| **v <= to) {
                    let value = |t: f64| self.parameters(side, t).map_or(f64::NAN, |at| at[k]);
                    stops.push(solved(&value, [t[0], t[1]], [f[0][k], f[1][k]], *v)?);
                }
            }
        }
        Some(())
    }

    /// Bounds for a stretch: how far the curve leaves its chord, and what the strips in the parameters add.
    fn bounds(&self, [from, to]: [f64; 2], finer: usize) -> Option<[f64; 2]> {
        let off = leaves_chord(&self.course.bends([from, to], finer), [from, to]);
        let mut strip = 0.0_f64;
        for (side, beside) in self.beside.iter().enumerate() {
            let (Chart::Spline { patches, strips, .. }, Some(way)) = (beside.chart, &beside.way) else {
                continue;
            };
            let off = way.off([from, to]);
            if off == [0.0; 2] {
                continue;
            }
            let (a, b) = (self.parameters(side, from)?, self.parameters(side, to)?);
            let whole = patches.reach();
            let reach = [0, 1].map(|k| {
                let [low, high] = [a[k].min(b[k]) - off[k], a[k].max(b[k]) + off[k]];
                [low.max(whole[k][0]), high.min(whole[k][1])]
            });
            let [ss, su, uu] = strips.range(patches, reach, &[]).size;
            let [h, w] = off;
            strip = strip.max(0.125 * (h * h * ss + 2.0 * h * w * su + w * w * uu));
        }
        Some([off, strip])
    }

    /// Cuts a stretch until its chords are within the tolerance; the places where each part ends. `None` where that takes too many.
    fn cut(&self, [from, to]: [f64; 2], chord: f64, depth: u32, found: &mut Polyline) -> Option<()> {
        let fits = |[off, strip]: [f64; 2]| off <= chord && strip <= STRIP * chord;
        let mut own = self.bounds([from, to], 1)?;
        if !fits(own) {
            own = self.bounds([from, to], 4)?;
        }
        if found.t.len() > MOST_POINTS || own.iter().any(|x| !x.is_finite()) {
            return None;
        }
        if depth >= MOST_CUTS || fits(own) {
            found.off = found.off.max(own[0]);
            found.strip = found.strip.max(own[1]);
            found.t.push(to);
            return Some(());
        }
        // As many parts as the bend asks for, the shorter the more it bends; now and then halves, as bounds may be of little of it.
        let parts = self.course.bends([from, to], 4);
        let per = |b: f64| libm::sqrt(b / (8.0 * chord));
        let whole: f64 = parts.iter().map(|([a, b], m)| (b - a) * per(*m)).sum();
        let count = (libm::ceil(1.001 * whole) as usize).max(2);
        if count > MOST_POINTS {
            return None;
        }
        let (mut ends, mut so_far, mut next) = (vec![from], 0.0, 1);
        if own[0] > chord && depth % 4 < 3 {
            for ([a, b], m) in &parts {
                let more = (b - a) * per(*m);
                while next < count && whole * next as f64 / count as f64 <= so_far + more {
                    let share = (whole * next as f64 / count as f64 - so_far) / more;
                    ends.push(a + (b - a) * share);
                    next += 1;
                }
                so_far += more;
            }
        } else {
            ends.push(0.5 * (from + to));
        }
        ends.push(to);
        for w in ends.windows(2) {
            self.cut([w[0], w[1]], chord, depth + 1, found)?;
        }
        Some(())
    }

    /// Where its points lie, so close that their chords are within the tolerance; `None` where its ways through the faces beside it
    /// lead nowhere, or it takes too many.
    pub fn polyline(&self, chord: f64) -> Option<Polyline> {
        let [from, to] = self.course.reach();
        let mut stops: Vec<f64> = self.course.creases();
        for side in 0..2 {
            self.crossings(side, &mut stops)?;
        }
        stops.sort_by(f64::total_cmp);
        // Stops that are closer than this are one.
        let near = |a: f64, b: f64| size(&minus(&self.at_curve(a), &self.at_curve(b))) < 2.0 * ON_CREASE_MM;
        let mut kept = vec![from];
        for t in stops {
            if t > from && t < to && !near(kept[kept.len() - 1], t) && !near(t, to) {
                kept.push(t);
            }
        }
        kept.push(to);
        let mut found = Polyline { t: vec![from], off: 0.0, strip: 0.0 };
        for w in kept.windows(2) {
            self.cut([w[0], w[1]], chord, 0, &mut found)?;
        }
        Some(found)
    }

    /// How far its points lie at most from where their parameters say: as stops beside a crease count as on it.
    pub fn moved(&self, line: &Polyline) -> Option<f64> {
        let mut most = 0.0_f64;
        for (side, beside) in self.beside.iter().enumerate() {
            let Chart::Spline { patches, .. } = beside.chart else { continue };
            for t in &line.t {
                let at = self.parameters(side, *t)?;
                most = most.max(size(&minus(&patches.across(at[0]).at(at[1])[0], &self.at_curve(*t))));
            }
        }
        Some(most)
    }
}

impl Polyline {
    /// Halves a stretch.
    pub fn halve(&mut self, i: usize) {
        self.t.insert(i + 1, 0.5 * (self.t[i] + self.t[i + 1]));
    }
}
