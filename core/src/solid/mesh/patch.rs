//! One face as triangles: a constrained Delaunay triangulation of its chart.

use alloc::vec;
use alloc::vec::Vec;

use spade::handles::{FixedFaceHandle, FixedVertexHandle, InnerTag};
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

use super::chart::Chart;
use crate::solid::Point3;

/// How close to the boundary, in columns, a node of the grid only makes slivers.
const CLOSE: f64 = 0.03;

/// A corner of the triangles of a face.
pub(super) struct Corner {
    /// The place on an edge that it is, if it is one.
    pub place: Option<u32>,
    pub point: Point3,
    /// Square to the surface; not yet out of the solid.
    pub normal: Point3,
    pub at: [f64; 2],
}

/// The triangles of a face.
pub(super) struct Triangulated {
    pub corners: Vec<Corner>,
    pub triangles: Vec<[u32; 3]>,
    /// Bound of how far the surface lies from them, mm.
    pub off: f64,
}

#[derive(Clone, Copy)]
struct Site {
    at: Point2<f64>,
    index: u32,
}

impl HasPosition for Site {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.at
    }
}

/// What is too small for the exact predicates is nought.
fn tidy(x: f64) -> f64 {
    if libm::fabs(x) < 1e-30 { 0.0 } else { x }
}

/// Where lines of a grid cross the loops, line by line, sorted; `k` is the parameter that a line keeps.
fn crossed(lines: &[f64], k: usize, loops: &[Vec<u32>], corners: &[Corner]) -> Vec<Vec<f64>> {
    let mut found: Vec<Vec<f64>> = vec![Vec::new(); lines.len()];
    for own in loops {
        for (i, a) in own.iter().enumerate() {
            let b = own[(i + 1) % own.len()];
            let [a, b] = [*a, b].map(|c| corners[c as usize].at);
            let [low, high] = if a[k] <= b[k] { [a, b] } else { [b, a] };
            let first = lines.partition_point(|r| *r < low[k]);
            for (l, line) in lines.iter().enumerate().skip(first).take_while(|(_, r)| **r < high[k]) {
                let share = (line - low[k]) / (high[k] - low[k]);
                found[l].push(if share == 0.0 {
                    low[1 - k]
                } else {
                    low[1 - k] + share * (high[1 - k] - low[1 - k])
                });
            }
        }
    }
    found.iter_mut().for_each(|places| places.sort_by(f64::total_cmp));
    found
}

/// Nodes of a spline's grid inside of its loops, and the sides of its cells there: with those held, no triangle reaches over
/// more than one cell.
fn nodes(chart: &Chart, loops: &[Vec<u32>], corners: &mut Vec<Corner>) -> Vec<[usize; 2]> {
    let Chart::Spline { patches, net } = chart else { return Vec::new() };
    let [from, to] = [net.columns[0], net.columns[net.columns.len() - 1]];
    let close = CLOSE * (to - from) / (net.columns.len() - 1) as f64;
    let inner = net.rows.len() - 1;
    // The corners on each line, as the other parameter and index; those on the loops first.
    let mut on_row: Vec<Vec<(f64, u32)>> = vec![Vec::new(); net.rows.len()];
    let mut on_column: Vec<Vec<(f64, u32)>> = vec![Vec::new(); net.columns.len()];
    for (i, corner) in corners.iter().enumerate() {
        let [s, u] = corner.at;
        if let Ok(k) = net.rows.binary_search_by(|r| r.total_cmp(&s)) {
            on_row[k].push((u, i as u32));
        }
        if let Ok(j) = net.columns.binary_search_by(|c| c.total_cmp(&u)) {
            on_column[j].push((s, i as u32));
        }
    }
    let across = crossed(&net.rows, 0, loops, corners);
    for (k, places) in across.iter().enumerate().take(inner).skip(1) {
        let s = net.rows[k];
        let row = patches.across(s);
        let edges = on_row[k].len();
        for pair in places.chunks_exact(2) {
            let first = net.columns.partition_point(|u| *u <= pair[0] + close);
            let inside =
                net.columns.iter().enumerate().skip(first).take_while(|(_, u)| **u < pair[1] - close);
            for (j, u) in inside.filter(|(j, _)| net.has_column(*j, s)) {
                // A row may run along an edge of the face, whose corners are there already.
                if on_row[k][..edges].iter().any(|(own, _)| libm::fabs(own - u) < close) {
                    continue;
                }
                let (point, normal) = row.with_normal(*u);
                on_row[k].push((*u, corners.len() as u32));
                on_column[j].push((s, corners.len() as u32));
                corners.push(Corner { place: None, point, normal, at: [s, *u] });
            }
        }
    }
    let mut sides = Vec::new();
    let mut hold = |all: &mut Vec<(f64, u32)>, places: &[f64], held: &dyn Fn(f64) -> bool| {
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        for w in all.windows(2) {
            let middle = 0.5 * (w[0].0 + w[1].0);
            // Inside where it has crossed the loops an odd number of times.
            if places.partition_point(|p| *p < middle) % 2 == 1 && held(middle) {
                sides.push([w[0].1 as usize, w[1].1 as usize]);
            }
        }
    };
    for (k, all) in on_row.iter_mut().enumerate().take(inner).skip(1) {
        hold(all, &across[k], &|_| true);
    }
    let last = net.columns.len() - 1;
    let along = crossed(&net.columns, 1, loops, corners);
    for (j, all) in on_column.iter_mut().enumerate().take(last).skip(1) {
        hold(all, &along[j], &|s| net.has_column(j, s));
    }
    sides
}

/// Triangles of a face, from the corners on its loops; `turned` where the chart shows it from inside of the solid. `None` where
/// loops cross in the chart.
pub(super) fn triangulated(
    chart: &Chart,
    loops: &[Vec<u32>],
    mut corners: Vec<Corner>,
    turned: bool,
) -> Option<Triangulated> {
    let sides = nodes(chart, loops, &mut corners);
    let way = if turned { -1.0 } else { 1.0 };
    let site = |(i, corner): (usize, &Corner)| {
        let [x, y] = chart.place(corner.at);
        Site { at: Point2::new(tidy(x), tidy(way * y)), index: i as u32 }
    };
    let sites: Vec<Site> = corners.iter().enumerate().map(site).collect();
    let around = |own: &Vec<u32>| -> Vec<[usize; 2]> {
        (0..own.len()).map(|i| [own[i] as usize, own[(i + 1) % own.len()] as usize]).collect()
    };
    let bounds: Vec<[usize; 2]> = loops.iter().flat_map(around).collect();
    let mut crossed = false;
    let mut made = ConstrainedDelaunayTriangulation::<Site>::try_bulk_load_cdt(sites, bounds.clone(), |_| {
        crossed = true
    })
    .ok()?;
    let bound = |e: [usize; 2]| [e[0].min(e[1]) as u32, e[0].max(e[1]) as u32];
    let mut ends: Vec<[u32; 2]> = bounds.iter().map(|e| bound(*e)).collect();
    ends.sort_unstable();
    if crossed || made.num_vertices() != corners.len() {
        return None;
    }
    for side in sides {
        let [a, b] = side.map(FixedVertexHandle::from_index);
        // Where a corner on the loops was left out beside another, a side may meet them elsewhere; then it is not held.
        if made.can_add_constraint(a, b) {
            made.add_constraint(a, b);
        }
    }
    // The face lies to the left of its loops, and as far as the next bound.
    let mut inside = vec![false; made.num_all_faces()];
    let mut open: Vec<FixedFaceHandle<InnerTag>> = Vec::new();
    for [a, b] in bounds {
        let [a, b] = [a, b].map(FixedVertexHandle::from_index);
        let left = made.get_edge_from_neighbors(a, b)?.face().as_inner()?.fix();
        if !core::mem::replace(&mut inside[left.index()], true) {
            open.push(left);
        }
    }
    let mut triangles = Vec::with_capacity(made.num_inner_faces());
    let mut off = 0.0_f64;
    while let Some(face) = open.pop() {
        let face = made.face(face);
        for edge in face.adjacent_edges() {
            let own = edge.vertices().map(|v| v.fix().index());
            if edge.is_constraint_edge() && ends.binary_search(&bound(own)).is_ok() {
                continue;
            }
            let next = edge.rev().face().as_inner()?.fix();
            if !core::mem::replace(&mut inside[next.index()], true) {
                open.push(next);
            }
        }
        let own = face.vertices().map(|v| v.data().index);
        off = off.max(chart.off(own.map(|i| corners[i as usize].at)));
        triangles.push(own);
    }
    // By their corners, so that neighbours come one after the other.
    triangles.iter_mut().for_each(|t| {
        let first = (0..3).min_by_key(|i| t[*i]).unwrap_or(0);
        t.rotate_left(first);
    });
    triangles.sort_unstable();
    Some(Triangulated { corners, triangles, off })
}
