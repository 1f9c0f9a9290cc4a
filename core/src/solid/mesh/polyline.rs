//! Edges as polylines: the same points for both faces beside them.

use alloc::vec;
use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::chart::Chart;
use super::course::{Course, Way};
use super::grid::Net;
use crate::solid::Point3;

/// What of the tolerance the strip between a trace and its chord in the parameters may take.
const STRIP: f64 = 0.02;
/// A stop this close to a row counts as on it: between the two a strip would be left that no triangle fits.
const ON_ROW_MM: f64 = 1e-6;
/// The most times a stretch is cut again.
const MOST_CUTS: u32 = 24;

/// A face beside an edge: its chart, and the edge's way through its parameters where that is a spline's.
pub(super) struct Beside<'a> {
    pub chart: &'a Chart,
    pub way: Option<Way>,
}

/// An edge's points.
pub(super) struct Polyline {
    pub points: Vec<Point3>,
    /// Their parameters in both faces.
    pub at: [Vec<[f64; 2]>; 2],
    /// Bound of how far the curve lies from its chords, mm.
    pub off: f64,
    /// Bound of what the strips between traces and their chords add, mm.
    pub strip: f64,
}

/// Where a function comes to a value between two places on either side of it (the Illinois form of false position).
fn solved(f: &dyn Fn(f64) -> f64, [mut a, mut b]: [f64; 2], [mut fa, mut fb]: [f64; 2], value: f64) -> f64 {
    fa -= value;
    fb -= value;
    let mut side = 0;
    for _ in 0..80 {
        if fa == 0.0 {
            return a;
        }
        if fb == 0.0 || libm::fabs(b - a) <= 1e-15 * (libm::fabs(a) + libm::fabs(b)) {
            return b;
        }
        let c = (fa * b - fb * a) / (fa - fb);
        let fc = f(c) - value;
        if libm::fabs(fc) <= 1e-13 * (1.0 + libm::fabs(value)) {
            return c;
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
    0.5 * (a + b)
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
    fn parameters(&self, side: usize, t: f64) -> [f64; 2] {
        let Beside { chart, way } = &self.beside[side];
        match (chart, way) {
            (Chart::Spline { patches, net }, Some(way)) => {
                let [mut s, mut u] = way.at(self.course, patches, t);
                // A stop at a row lies on it, whatever rounding said; a crossing or a joint of the surface may lie beside it.
                let i = net.rows.partition_point(|r| *r < s - ON_ROW_MM);
                if let Some(row) = net.rows.get(i).filter(|r| **r <= s + ON_ROW_MM) {
                    s = *row;
                }
                let j = net.columns.partition_point(|c| *c < u - 1e-11);
                if let Some(column) = net.columns.get(j).filter(|c| **c <= u + 1e-11) {
                    u = *column;
                }
                [s, u]
            }
            _ => chart.of_point(self.course.at(t)),
        }
    }

    /// Stops where it crosses the lines of one face's grid.
    fn crossings(&self, side: usize, stops: &mut Vec<(f64, Rank)>) {
        let Beside { chart, way } = &self.beside[side];
        let none = Vec::new();
        let (lines, net): ([&Vec<f64>; 2], Option<&Net>) = match chart {
            Chart::Plane { .. } => return,
            Chart::Cylinder { columns, .. } => ([columns, &none], None),
            Chart::Spline { net, .. } => ([&net.rows, &net.columns], Some(net)),
        };
        let kept = |k: usize, j: usize, s: f64| k == 0 || net.is_none_or(|net| net.has_column(j, s));
        let rank = |k: usize| if k == 0 && net.is_some() { Rank::Row } else { Rank::Column };
        let reach = self.course.reach();
        if let Some(Way::Straight([a, b])) = way {
            for k in 0..2 {
                let [from, to] = [a[k].min(b[k]), a[k].max(b[k])];
                let first = lines[k].partition_point(|v| *v <= from);
                for (j, v) in lines[k].iter().enumerate().skip(first).take_while(|(_, v)| **v < to) {
                    let share = (v - a[k]) / (b[k] - a[k]);
                    if kept(k, j, a[0] + share * (b[0] - a[0])) {
                        stops.push((reach[0] + share * (reach[1] - reach[0]), rank(k)));
                    }
                }
            }
            return;
        }
        let samples = self.course.samples();
        let values: Vec<[f64; 2]> = samples.iter().map(|t| self.parameters(side, *t)).collect();
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
                let crossed = lines.iter().enumerate().skip(first).take_while(|(_, v)| **v <= to);
                for (j, v) in crossed.map(|(j, v)| (j + 1, v)) {
                    let at = solved(&|t| self.parameters(side, t)[k], [t[0], t[1]], [f[0][k], f[1][k]], *v);
                    if kept(k, j, self.parameters(side, at)[0]) {
                        stops.push((at, rank(k)));
                    }
                }
            }
        }
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

    /// Cuts a stretch until its chords are within the tolerance; the places where each part ends.
    fn cut(&self, [from, to]: [f64; 2], depth: u32, found: &mut Vec<f64>, most: &mut [f64; 2]) {
        let fits = |[off, strip]: [f64; 2]| off <= self.chord && strip <= STRIP * self.chord;
        let mut own = self.bounds([from, to], 1);
        if !fits(own) {
            own = self.bounds([from, to], 4);
        }
        if fits(own) || depth >= MOST_CUTS {
            *most = [most[0].max(own[0]), most[1].max(own[1])];
            found.push(to);
            return;
        }
        // As many parts as the bend asks for, the shorter the more it bends.
        let parts = self.course.bends([from, to], 4);
        let per = |b: f64| libm::sqrt(b / (8.0 * self.chord));
        let whole: f64 = parts.iter().map(|([a, b], m)| (b - a) * per(*m)).sum();
        let count = (libm::ceil(1.001 * whole) as usize).max(2);
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
            self.cut([w[0], w[1]], depth + 1, found, most);
        }
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

    pub fn polyline(&self) -> Polyline {
        let reach = self.course.reach();
        let mut stops: Vec<(f64, Rank)> = vec![(reach[0], Rank::End), (reach[1], Rank::End)];
        stops.extend(self.course.creases().into_iter().map(|t| (t, Rank::End)));
        for side in 0..2 {
            self.crossings(side, &mut stops);
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
            self.cut([w[0].0, w[1].0], 0, &mut t, &mut most);
        }
        let last = t.len() - 1;
        let point = |(i, t): (usize, &f64)| match i {
            0 => self.ends[0],
            i if i == last => self.ends[1],
            _ => self.course.at(*t),
        };
        let points: Vec<Point3> = t.iter().enumerate().map(point).collect();
        let at: [Vec<[f64; 2]>; 2] = [0, 1].map(|side| t.iter().map(|t| self.parameters(side, *t)).collect());
        let strip = most[1] + self.moved(&points, &at);
        Polyline { points, at, off: most[0], strip }
    }
}
