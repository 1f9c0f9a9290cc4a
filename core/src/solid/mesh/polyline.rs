//! Edges as polylines: the same points for both faces beside them.

use alloc::vec;
use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::chart::Chart;
use super::course::{Course, Way};
use super::deviation::apart;
use super::grid::Net;
use crate::solid::Point3;

/// What of the tolerance the strip between a trace and its chord in the parameters may take.
const STRIP: f64 = 0.02;
/// A stop this close to a row counts as on it: between the two a strip would be left that no triangle fits.
const ON_ROW_MM: f64 = 1e-6;
/// What of the tolerance a surface may lie off along an edge: so little that its last triangles need not be halved, which would
/// make slivers there.
const FLAT: f64 = 0.95;
/// The most times a stretch is cut again.
const MOST_CUTS: u32 = 24;
/// A place that is known to such a part of the stretch that it was looked for in is known.
const CLOSE: f64 = 1e-9;
/// The most points an edge may take: more than there is room for in memory with all that follows from them.
const MOST_POINTS: usize = 200_000;

/// A face beside an edge: its chart, and the edge's way through its parameters where that is a spline's.
pub(super) struct Beside<'a> {
    pub chart: &'a Chart,
    pub way: Option<Way>,
}

/// An edge's points.
pub(super) struct Polyline {
    pub points: Vec<Point3>,
    /// Where on its curve.
    pub t: Vec<f64>,
    /// Their parameters in both faces.
    pub at: [Vec<[f64; 2]>; 2],
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

/// How much a stop on an edge matters: one at a column may go where another is close.
#[derive(Clone, Copy, PartialEq, PartialOrd)]
enum Rank {
    Column,
    Row,
    End,
}

/// One edge between its faces.
pub(super) struct Along<'a> {
    pub course: &'a Course,
    pub beside: [Beside<'a>; 2],
    pub ends: [Point3; 2],
    pub chord: f64,
}

impl Along<'_> {
    fn parameters(&self, side: usize, t: f64) -> Option<[f64; 2]> {
        let Beside { chart, way } = &self.beside[side];
        match (chart, way) {
            (Chart::Spline { patches, net }, Some(way)) => {
                let [mut s, u] = way.at(self.course, patches, t);
                // A stop at a row lies on it, whatever rounding said; a crossing or a joint of the surface may lie beside it.
                let i = net.rows.partition_point(|r| *r < s - ON_ROW_MM);
                if let Some(row) = net.rows.get(i).filter(|r| **r <= s + ON_ROW_MM) {
                    s = *row;
                }
                Some([s, u])
            }
            (Chart::Cylinder { columns, .. }, _) => {
                let [angle, up] = chart.of_point(self.course.at(t))?;
                let j = columns.partition_point(|c| *c < angle - 1e-9);
                Some([columns.get(j).copied().filter(|c| *c <= angle + 1e-9).unwrap_or(angle), up])
            }
            _ => chart.of_point(self.course.at(t)),
        }
    }

    /// Stops where it crosses the lines of one face's grid.
    fn crossings(&self, side: usize, stops: &mut Vec<(f64, Rank)>) -> Option<()> {
        let Beside { chart, way } = &self.beside[side];
        let none = Vec::new();
        let (lines, net): ([&Vec<f64>; 2], Option<&Net>) = match chart {
            Chart::Plane { .. } => return Some(()),
            Chart::Cylinder { columns, .. } => ([columns, &none], None),
            Chart::Spline { net, .. } => ([&net.rows, &none], Some(net)),
        };
        let rank = |k: usize| if k == 0 && net.is_some() { Rank::Row } else { Rank::Column };
        let reach = self.course.reach();
        if let Some(Way::Straight([a, b])) = way {
            for k in 0..2 {
                let [from, to] = [a[k].min(b[k]), a[k].max(b[k])];
                let first = lines[k].partition_point(|v| *v <= from);
                for v in lines[k].iter().skip(first).take_while(|v| **v < to) {
                    let share = (v - a[k]) / (b[k] - a[k]);
                    stops.push((reach[0] + share * (reach[1] - reach[0]), rank(k)));
                }
            }
            return Some(());
        }
        let samples = self.course.samples();
        let values: Vec<[f64; 2]> =
            samples.iter().map(|t| self.parameters(side, *t)).collect::<Option<_>>()?;
        for (t, f) in samples.windows(2).zip(values.windows(2)) {
            for k in 0..2 {
                let [from, to] = [f[0][k].min(f[1][k]), f[0][k].max(f[1][k])];
                // The first line and the last bound the face, and along a line there is no crossing it.
                let inner = 1..lines[k].len().max(2) - 1;
                let lines = lines[k].get(inner).unwrap_or(&[]);
                if to - from <= 1e-9 {
                    continue;
                }
                let first = lines.partition_point(|v| *v <= from);
                for v in lines.iter().skip(first).take_while(|v| **v <= to) {
                    let value = |t: f64| self.parameters(side, t).map_or(f64::NAN, |at| at[k]);
                    let at = solved(&value, [t[0], t[1]], [f[0][k], f[1][k]], *v)?;
                    stops.push((at, rank(k)));
                }
            }
        }
        Some(())
    }

    /// Bounds for a stretch: how far the curve leaves its chord, and what the strips in the parameters add.
    fn bounds(&self, [from, to]: [f64; 2], finer: usize) -> [f64; 2] {
        let most = self.course.bends([from, to], finer).iter().map(|b| b.1).fold(0.0, f64::max);
        let strip = self.beside.iter().map(|beside| match (beside.chart, &beside.way) {
            (Chart::Spline { net, .. }, Some(way)) => {
                let [h, w] = way.off([from, to]);
                0.125 * (h * h * net.most[0] + 2.0 * h * w * net.most[1] + w * w * net.most[2])
            }
            _ => 0.0,
        });
        [0.125 * (to - from) * (to - from) * most, strip.fold(0.0, f64::max)]
    }

    /// Cuts a stretch until its chords are within the tolerance; the places where each part ends. `None` where that takes too many.
    fn cut(&self, [from, to]: [f64; 2], depth: u32, found: &mut Vec<f64>, most: &mut [f64; 2]) -> Option<()> {
        let fits = |[off, strip]: [f64; 2]| off <= self.chord && strip <= STRIP * self.chord;
        let mut own = self.bounds([from, to], 1);
        if !fits(own) {
            own = self.bounds([from, to], 4);
        }
        if found.len() > MOST_POINTS || own.iter().any(|x| !x.is_finite()) {
            return None;
        }
        if depth >= MOST_CUTS || (fits(own) && self.flat([from, to])?) {
            *most = [most[0].max(own[0]), most[1].max(own[1])];
            found.push(to);
            return Some(());
        }
        // As many parts as the bend asks for, the shorter the more it bends.
        let parts = self.course.bends([from, to], 4);
        let per = |b: f64| libm::sqrt(b / (8.0 * self.chord));
        let whole: f64 = parts.iter().map(|([a, b], m)| (b - a) * per(*m)).sum();
        let count = (libm::ceil(1.001 * whole) as usize).max(2);
        if count > MOST_POINTS {
            return None;
        }
        let (mut ends, mut so_far, mut next) = (vec![from], 0.0, 1);
        if own[0] > self.chord {
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
            self.cut([w[0], w[1]], depth + 1, found, most)?;
        }
        Some(())
    }

    /// Whether the surfaces beside a stretch are as flat as its chord is straight: a triangle on it can be no closer. `None` where
    /// nothing bounds them.
    fn flat(&self, [from, to]: [f64; 2]) -> Option<bool> {
        let mut flat = true;
        for side in 0..2 {
            let Chart::Spline { patches, net } = self.beside[side].chart else { continue };
            let (a, b) = (self.parameters(side, from)?, self.parameters(side, to)?);
            let at = [0, 1].map(|k| 0.5 * (a[k] + b[k]));
            let (_, normal) = patches.across(at[0]).with_normal(at[1]);
            let [h, w] = [0, 1].map(|k| b[k] - a[k]);
            let range = net.range(&[a, b], &[normal]);
            let mixed = 0.25 * h * w;
            let along = apart(&range.along[0], [h, w].map(libm::fabs), [mixed, mixed]);
            let [ss, su, uu] = range.size;
            let whole = 0.125 * (h * h * ss + 2.0 * libm::fabs(h * w) * su + w * w * uu);
            let off = along.max(whole);
            if !off.is_finite() {
                return None;
            }
            flat &= off <= FLAT * self.chord;
        }
        Some(flat)
    }

    /// How far its points lie at most from where their parameters say: as stops beside a row count as on it.
    fn moved(&self, points: &[Point3], at: &[Vec<[f64; 2]>; 2]) -> f64 {
        let mut most = 0.0_f64;
        for (beside, at) in self.beside.iter().zip(at) {
            let Chart::Spline { patches, .. } = beside.chart else { continue };
            for (point, at) in points.iter().zip(at) {
                most = most.max(size(&minus(&patches.across(at[0]).at(at[1])[0], point)));
            }
        }
        most
    }

    /// A place of it, with its parameters in both faces.
    pub fn at(&self, t: f64) -> Option<(Point3, [[f64; 2]; 2])> {
        Some((self.course.at(t), [self.parameters(0, t)?, self.parameters(1, t)?]))
    }

    /// Its points; `None` where its ways through the faces beside it lead nowhere, or it takes too many.
    pub fn polyline(&self) -> Option<Polyline> {
        let reach = self.course.reach();
        let mut stops: Vec<(f64, Rank)> = vec![(reach[0], Rank::End), (reach[1], Rank::End)];
        stops.extend(self.course.creases().into_iter().map(|t| (t, Rank::End)));
        for side in 0..2 {
            self.crossings(side, &mut stops)?;
        }
        stops.sort_by(|a, b| a.0.total_cmp(&b.0));
        // Stops that are closer than this make only slivers.
        let close = 0.25 * self.chord;
        let mut kept: Vec<(f64, Rank, Point3)> = Vec::with_capacity(stops.len());
        for (t, rank) in stops {
            let point = self.course.at(t);
            let near = |last: &(f64, Rank, Point3)| size(&minus(&last.2, &point)) < close;
            let mut take = true;
            while let Some(last) = kept.last().filter(|l| near(l)) {
                if last.1 >= rank && !(rank == Rank::End && last.0 < t) {
                    take = false;
                    break;
                }
                if last.1 == Rank::End {
                    break;
                }
                kept.pop();
            }
            if take {
                kept.push((t, rank, point));
            }
        }
        let (mut t, mut most) = (vec![reach[0]], [0.0; 2]);
        for w in kept.windows(2) {
            self.cut([w[0].0, w[1].0], 0, &mut t, &mut most)?;
        }
        let last = t.len() - 1;
        let point = |(i, t): (usize, &f64)| match i {
            0 => self.ends[0],
            i if i == last => self.ends[1],
            _ => self.course.at(*t),
        };
        let points: Vec<Point3> = t.iter().enumerate().map(point).collect();
        let at = |side: usize| t.iter().map(|t| self.parameters(side, *t)).collect::<Option<Vec<_>>>();
        let at = [at(0)?, at(1)?];
        let strip = most[1] + self.moved(&points, &at);
        Some(Polyline { points, t, at, off: most[0], strip })
    }
}
