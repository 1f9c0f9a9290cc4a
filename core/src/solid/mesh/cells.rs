//! The cells of a spline face's grid: those that no edge crosses become triangles at once.

use alloc::vec;
use alloc::vec::Vec;

use super::bezier::{minus, size};
use super::deviation::straight_on;
use super::grid::Net;
use super::patch::Corner;
use super::patches::{Patches, cross};

/// How close to the boundary, in columns, a node of the grid only makes slivers.
const CLOSE: f64 = 0.25;

/// Nodes this many times the tolerance from the boundary or closer are left out: edges may leave their chords by as much.
const NEAR: f64 = 4.0;

/// One row: its corners by the parameter around, and which of them are nodes of which column.
#[derive(Default)]
struct Row {
    all: Vec<(f64, u32)>,
    nodes: Vec<(usize, u32)>,
}

/// Nodes and sides of a grid.
pub(super) struct Cells<'a> {
    net: &'a Net,
    loops: &'a [Vec<u32>],
    rows: Vec<Row>,
    /// Sides of cells inside of the face.
    pub sides: Vec<[u32; 2]>,
}

/// Where rows cross the loops, row by row, sorted.
fn crossed(rows: &[f64], loops: &[Vec<u32>], corners: &[Corner]) -> Vec<Vec<f64>> {
    let mut found: Vec<Vec<f64>> = vec![Vec::new(); rows.len()];
    for own in loops {
        for (i, a) in own.iter().enumerate() {
            let b = own[(i + 1) % own.len()];
            let [a, b] = [*a, b].map(|c| corners[c as usize].at);
            let [low, high] = if a[0] <= b[0] { [a, b] } else { [b, a] };
            let first = rows.partition_point(|r| *r < low[0]);
            for (l, row) in rows.iter().enumerate().skip(first).take_while(|(_, r)| **r < high[0]) {
                let share = (row - low[0]) / (high[0] - low[0]);
                found[l].push(if share == 0.0 { low[1] } else { low[1] + share * (high[1] - low[1]) });
            }
        }
    }
    found.iter_mut().for_each(|places| places.sort_by(f64::total_cmp));
    found
}

/// Inside where loops have been crossed an odd number of times.
fn inside(places: &[f64], at: f64) -> bool {
    places.partition_point(|p| *p < at) % 2 == 1
}

/// Twice the area of a triangle of parameters.
fn area(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

impl<'a> Cells<'a> {
    /// With the nodes inside of the loops, which are added to the corners.
    pub fn new(patches: &Patches, net: &'a Net, loops: &'a [Vec<u32>], corners: &mut Vec<Corner>) -> Self {
        let inner = net.rows.len() - 1;
        let mut rows: Vec<Row> = net.rows.iter().map(|_| Row::default()).collect();
        for (i, corner) in corners.iter().enumerate() {
            if let Ok(k) = net.rows.binary_search_by(|r| r.total_cmp(&corner.at[0])) {
                rows[k].all.push((corner.at[1], i as u32));
            }
        }
        let mut sides = Vec::new();
        let across = crossed(&net.rows, loops, corners);
        for (k, places) in across.iter().enumerate().take(inner).skip(1) {
            let s = net.rows[k];
            let row = patches.across(s);
            let step = net.step(k);
            let edges = rows[k].all.len();
            for pair in places.chunks_exact(2) {
                let first = net.columns.partition_point(|u| *u <= pair[0]);
                let within = net.columns.iter().enumerate().skip(first).take_while(|(_, u)| **u < pair[1]);
                let kept = within.filter(|(j, _)| j.is_multiple_of(step) || j + 1 == net.columns.len());
                let made: Vec<(usize, f64)> = kept.map(|(j, u)| (j, *u)).collect();
                let ends = [pair[0], pair[1]].map(|u| row.at(u)[0]);
                for (i, (j, u)) in made.iter().enumerate() {
                    // No node close to where the row ends, nor to an edge that it runs along.
                    let wide = made.get(i + 1).map_or(pair[1], |n| n.1)
                        - if i > 0 { made[i - 1].1 } else { pair[0] };
                    let near = |own: f64| libm::fabs(own - u) < 0.5 * CLOSE * wide;
                    if near(pair[0])
                        || near(pair[1])
                        || rows[k].all[..edges].iter().any(|(own, _)| near(*own))
                    {
                        continue;
                    }
                    let (point, normal) = row.with_normal(*u);
                    if ends.iter().any(|end| size(&minus(end, &point)) < NEAR * net.chord) {
                        continue;
                    }
                    rows[k].all.push((*u, corners.len() as u32));
                    rows[k].nodes.push((*j, corners.len() as u32));
                    corners.push(Corner { place: None, point, normal, at: [s, *u] });
                }
            }
            rows[k].all.sort_by(|a, b| a.0.total_cmp(&b.0));
            for w in rows[k].all.windows(2) {
                if inside(places, 0.5 * (w[0].0 + w[1].0)) {
                    sides.push([w[0].1, w[1].1]);
                }
            }
        }
        for row in [0, inner] {
            rows[row].all.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        Self { net, loops, rows, sides }
    }

    /// The edges over each band, as ends.
    fn edges(&self, corners: &[Corner]) -> Vec<Vec<[u32; 2]>> {
        let rows = &self.net.rows;
        let mut found = vec![Vec::new(); rows.len() - 1];
        for own in self.loops {
            for (i, a) in own.iter().enumerate() {
                let side = [*a, own[(i + 1) % own.len()]];
                let [a, b] = side.map(|c| corners[c as usize].at[0]);
                let (from, to) = (a.min(b), a.max(b));
                let first = rows.partition_point(|l| *l <= from).saturating_sub(1);
                // One along a row goes through no band.
                for band in found.iter_mut().take(rows.partition_point(|l| *l < to)).skip(first) {
                    band.push(side);
                }
            }
        }
        found
    }

    /// The triangles of cells that no edge goes through, counter-clockwise by the two parameters.
    pub fn triangles(&mut self, corners: &[Corner]) -> Vec<[u32; 3]> {
        let rows = &self.net.rows;
        let bands = self.edges(corners);
        let middles: Vec<f64> = rows.windows(2).map(|w| 0.5 * (w[0] + w[1])).collect();
        let places = crossed(&middles, self.loops, corners);
        let mut found = Vec::new();
        for k in 0..rows.len() - 1 {
            // Columns that go from the one row to the other.
            let high = &self.rows[k + 1].nodes;
            let whole: Vec<(usize, [u32; 2])> = self.rows[k]
                .nodes
                .iter()
                .filter_map(|(j, a)| {
                    let i = high.binary_search_by_key(j, |n| n.0).ok()?;
                    Some((*j, [*a, high[i].1]))
                })
                .collect();
            let at = |c: u32| corners[c as usize].at;
            for w in whole.windows(2) {
                let ((_, [a, d]), (_, [b, c])) = (w[0], w[1]);
                let middle = 0.25 * (at(a)[1] + at(b)[1] + at(c)[1] + at(d)[1]);
                let free = bands[k].iter().all(|edge| {
                    let side = |[from, to]: [u32; 2], way: f64| {
                        edge.iter().all(|e| way * area(at(from), at(to), at(*e)) > 0.0)
                    };
                    side([a, d], -1.0) || side([b, c], 1.0)
                });
                if !free || !inside(&places[k], middle) {
                    self.sides.push([a, d]);
                    self.sides.push([b, c]);
                    continue;
                }
                let (Some(low), Some(high)) = (self.row(k, [a, b], at), self.row(k + 1, [d, c], at)) else {
                    continue;
                };
                self.cell([low, high], corners, &mut found);
            }
        }
        found
    }

    /// The corners on a row from one to another.
    fn row(&self, k: usize, ends: [u32; 2], at: impl Fn(u32) -> [f64; 2]) -> Option<&[(f64, u32)]> {
        let [u0, u1] = ends.map(|c| at(c)[1]);
        let row = &self.rows[k].all;
        let from = row.partition_point(|(u, _)| *u < u0);
        let own = row.get(from..row.partition_point(|(u, _)| *u <= u1))?;
        (own.len() >= 2 && own[0].1 == ends[0] && own[own.len() - 1].1 == ends[1]).then_some(own)
    }

    /// The triangles of one cell between its two rows.
    fn cell(&self, [low, high]: [&[(f64, u32)]; 2], corners: &[Corner], found: &mut Vec<[u32; 3]>) {
        if let ([(_, a), (_, b)], [(_, d), (_, c)]) = (low, high) {
            let own = [*a, *b, *c, *d].map(|i| &corners[i as usize]);
            let normal = cross(minus(&own[2].point, &own[0].point), minus(&own[3].point, &own[1].point));
            let length = size(&normal).max(f64::MIN_POSITIVE);
            let at = own.map(|c| c.at);
            let range = self.net.range(&at, &[normal.map(|x| x / length)]);
            if straight_on(&range, at) {
                found.extend([[*a, *d, *c], [*a, *c, *b]]);
            } else {
                found.extend([[*a, *d, *b], [*d, *c, *b]]);
            }
            return;
        }
        // By how far along either row they are.
        let along = |row: &[(f64, u32)], i: usize| {
            let (from, to) = (row[0].0, row[row.len() - 1].0);
            row.get(i + 1).map_or(f64::INFINITY, |n| (0.5 * (n.0 + row[i].0) - from) / (to - from))
        };
        let (mut i, mut j) = (0, 0);
        while i + 1 < low.len() || j + 1 < high.len() {
            if along(low, i) <= along(high, j) {
                found.push([low[i].1, high[j].1, low[i + 1].1]);
                i += 1;
            } else {
                found.push([low[i].1, high[j].1, high[j + 1].1]);
                j += 1;
            }
        }
    }
}
