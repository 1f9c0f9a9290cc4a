//! Outlines of the wood, from the side and from the front, and what can be done with them.

use alloc::vec;
use alloc::vec::Vec;

use crate::carve::Wood;
use crate::paper::draft::Draft;
use crate::paper::layer::Layer;
use crate::paper::path::Point;
use crate::shape::{Side, Sides};

/// How far a drawn chord may lie off an outline, mm.
const CHORD_MM: f64 = 0.005;
/// A joint's sections are looked at this far beside it, mm: right on it they may be either side's.
const BESIDE_MM: f64 = 1e-6;

/// Stations and values of a function over the stretches between stations: straight lines between them keep within
/// [`CHORD_MM`] as far as a look at three places of each can tell; a jump at a station is drawn upright.
pub(super) fn trace(f: &dyn Fn(f64) -> f64, stations: &[f64]) -> Vec<Point> {
    let mut points: Vec<Point> = Vec::new();
    for w in stations.windows(2).filter(|w| w[1] - w[0] > 4.0 * BESIDE_MM) {
        let inside = |x: f64| f(x.clamp(w[0] + BESIDE_MM, w[1] - BESIDE_MM));
        let at = |i: u32| w[0] + (w[1] - w[0]) * f64::from(i) / 4.0;
        let mut open: Vec<(f64, f64, u32)> = (0..4).rev().map(|i| (at(i), at(i + 1), 0)).collect();
        points.push([w[0], inside(w[0])]);
        while let Some((a, b, deep)) = open.pop() {
            let off = |t: f64| libm::fabs(inside(a + t * (b - a)) - ((1.0 - t) * inside(a) + t * inside(b)));
            if deep < 10 && [0.25, 0.5, 0.75].into_iter().any(|t| off(t) > CHORD_MM) {
                let middle = 0.5 * (a + b);
                open.push((middle, b, deep + 1));
                open.push((a, middle, deep + 1));
            } else {
                points.push([b, inside(b)]);
            }
        }
    }
    straightened(points)
}

/// The same line without the points that lie on the way between their neighbours.
fn straightened(points: Vec<Point>) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::with_capacity(points.len());
    for p in points {
        if out.last() == Some(&p) {
            continue;
        }
        if let [.., a, b] = out[..] {
            let turn = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
            let along = (b[0] - a[0]) * (p[0] - b[0]) + (b[1] - a[1]) * (p[1] - b[1]);
            if along > 0.0 && libm::fabs(turn) <= 1e-7 * libm::hypot(p[0] - a[0], p[1] - a[1]) {
                out.pop();
            }
        }
        out.push(p);
    }
    out
}

/// The wood at a time, and whether the board counts.
#[derive(Clone, Copy)]
pub(in crate::paper) struct Piece<'a> {
    pub wood: &'a Wood,
    pub board: bool,
}

impl Piece<'_> {
    fn reach(&self) -> [f64; 2] {
        let wood = self.wood.wood_reach_mm();
        if !self.board {
            return wood;
        }
        let board = self.wood.board_reach_mm();
        [wood[0].min(board[0]), wood[1].max(board[1])]
    }

    fn stations(&self, within: [f64; 2]) -> Vec<f64> {
        let [from, to] = self.reach();
        let (from, to) = (from.max(within[0]), to.min(within[1]));
        let mut at = self.wood.stations();
        at.retain(|x| *x > from && *x < to);
        at.insert(0, from);
        at.push(to);
        at
    }

    fn on(&self, [from, to]: [f64; 2], x: f64) -> bool {
        x >= from && x <= to
    }

    /// Height of the top.
    fn top(&self, x: f64) -> f64 {
        if self.board && self.on(self.wood.board_reach_mm(), x) {
            -self.wood.board_top_mm()
        } else {
            -self.wood.wood_top_mm(x)
        }
    }

    /// Height of the underside.
    pub fn bottom(&self, x: f64) -> f64 {
        let glue = -self.wood.neck().layout().board().thickness_mm();
        if self.on(self.wood.wood_reach_mm(), x) { self.wood.depth_mm(x).map_or(glue, |d| -d) } else { glue }
    }

    /// The board's top edge from the side.
    pub fn edge(&self, within: [f64; 2]) -> Vec<Point> {
        let [from, to] = self.wood.board_reach_mm();
        let (from, to) = (from.max(within[0]), to.min(within[1]));
        let mut at = self.wood.stations();
        at.retain(|x| *x > from && *x < to);
        at.insert(0, from);
        at.push(to);
        trace(&|x| -self.wood.board_edge_mm(x), &at)
    }

    /// The outline from the side between two stations: `[x, z]`, closed.
    pub fn side(&self, within: [f64; 2]) -> Vec<Point> {
        let at = self.stations(within);
        if at[0] >= at[at.len() - 1] {
            return Vec::new();
        }
        let mut outline = trace(&|x| self.top(x), &at);
        outline.extend(trace(&|x| self.bottom(x), &at).into_iter().rev());
        outline
    }

    /// The outlines of wood and board from the front: `[x, y]` as the neck's own hand sees it, each closed.
    pub fn plan(&self) -> Vec<Vec<Point>> {
        let hand = self.wood.neck().hand_sign();
        let closed = |starts: Sides<f64>, end: f64, half: &dyn Fn(Side, f64) -> f64| {
            let edge = |side: Side| {
                let mut at: Vec<f64> = self.wood.stations();
                at.retain(|x| *x > *starts.of(side) && *x < end);
                at.insert(0, *starts.of(side));
                at.push(end);
                trace(&|x| hand * side.sign() * half(side, x), &at)
            };
            let mut outline = edge(Side::Bass);
            outline.extend(edge(Side::Treble).into_iter().rev());
            outline
        };
        let [from, to] = self.wood.wood_reach_mm();
        let both = |x: f64| Sides { bass: x, treble: x };
        let mut all = vec![closed(both(from), to, &|s, x| self.wood.half_width_mm(s, x))];
        if self.board {
            let starts = Sides::each(|side| self.wood.board_start_mm(side));
            let to = self.wood.board_reach_mm()[1];
            let mut board = closed(starts, to, &|_, x| self.wood.board_half_width_mm(x));
            // Where a slanted nut's line leaves the blank by its end instead of its edge, that end is left square.
            let slope = self.wood.neck().layout().nut_line().slope;
            let nearest = starts.bass.min(starts.treble);
            let across = nearest / slope;
            if starts.bass != starts.treble
                && libm::fabs(across) < self.wood.board_half_width_mm(nearest) - 1e-6
            {
                board.push([nearest, hand * across]);
            }
            all.push(board);
        }
        all
    }

    /// The section at a station: `[y, z]`, closed.
    pub fn section(&self, x: f64) -> Vec<Point> {
        let corners = self.wood.polyline_mm(x, CHORD_MM).unwrap_or_default();
        if self.board {
            return corners;
        }
        below(&corners, -self.wood.neck().layout().board().thickness_mm())
    }
}

/// The part of a closed outline below a height (Sutherland and Hodgman's clipping).
fn below(outline: &[Point], height: f64) -> Vec<Point> {
    clipped(outline, 1, height)
}

/// The part of a closed outline that lies below a limit along one of the axes.
pub(super) fn clipped(outline: &[Point], axis: usize, limit: f64) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::new();
    for (i, b) in outline.iter().enumerate() {
        let a = &outline[if i == 0 { outline.len() - 1 } else { i - 1 }];
        let inside = |p: &Point| p[axis] <= limit;
        if inside(a) != inside(b) {
            let t = (limit - a[axis]) / (b[axis] - a[axis]);
            let mut p = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
            p[axis] = limit;
            out.push(p);
        }
        if inside(b) {
            out.push(*b);
        }
    }
    out
}

/// Draws a closed outline but for what lies along the station where the drawing breaks off.
pub(super) fn draw(draft: &mut Draft, layer: Layer, outline: &[Point], breaks: f64) {
    if outline.iter().all(|p| p[0] < breaks) {
        draft.closed(layer, outline);
        return;
    }
    let mut line: Vec<Point> = Vec::new();
    let end = outline.len();
    // From a corner at the break on, so that what is drawn hangs together.
    let first = (0..end).find(|i| outline[*i][0] >= breaks && outline[(i + 1) % end][0] < breaks);
    for i in 0..end {
        let at = |k: usize| outline[(first.unwrap_or(0) + k) % end];
        let (a, b) = (at(i), at(i + 1));
        if a[0] >= breaks && b[0] >= breaks {
            draft.polyline(layer, &core::mem::take(&mut line));
            continue;
        }
        if line.is_empty() {
            line.push(a);
        }
        line.push(b);
    }
    if line.len() > 1 {
        draft.polyline(layer, &line);
    }
}

/// Slanted strokes over what lies within an odd number of closed outlines.
pub(super) fn hatch(draft: &mut Draft, layer: Layer, outlines: &[Vec<Point>], pitch: f64, rising: bool) {
    // A stroke of less than this is a trace of two outlines that run along each other.
    const LEAST_MM: f64 = 0.35;
    let half = core::f64::consts::FRAC_1_SQRT_2;
    let slant = if rising { 1.0 } else { -1.0 };
    // Along the strokes and across them.
    let turned = |p: Point| [half * (p[0] + slant * p[1]), half * (p[1] - slant * p[0])];
    let back = |p: Point| [half * (p[0] - slant * p[1]), half * (slant * p[0] + p[1])];
    let rings: Vec<Vec<Point>> = outlines.iter().map(|o| o.iter().map(|p| turned(*p)).collect()).collect();
    let across = rings.iter().flatten().map(|p| p[1]);
    let (low, high) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |a, v| (a.0.min(v), a.1.max(v)));
    if low > high {
        return;
    }
    let mut level = (libm::floor(low / pitch) + 0.5) * pitch;
    while level < high {
        let mut cuts: Vec<f64> = Vec::new();
        for ring in &rings {
            for (i, b) in ring.iter().enumerate() {
                let a = ring[if i == 0 { ring.len() - 1 } else { i - 1 }];
                if (a[1] > level) != (b[1] > level) {
                    cuts.push(a[0] + (b[0] - a[0]) * (level - a[1]) / (b[1] - a[1]));
                }
            }
        }
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.chunks_exact(2).filter(|c| c[1] - c[0] > LEAST_MM) {
            draft.line(layer, back([pair[0], level]), back([pair[1], level]));
        }
        level += pitch;
    }
}
