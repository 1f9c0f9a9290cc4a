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

/// Nodes of a spline's grid inside of its loops.
fn nodes(chart: &Chart, loops: &[Vec<u32>], corners: &mut Vec<Corner>) {
    let Chart::Spline { patches, net } = chart else { return };
    let [from, to] = [net.columns[0], net.columns[net.columns.len() - 1]];
    let close = CLOSE * (to - from) / (net.columns.len() - 1) as f64;
    let inner = net.rows.len() - 1;
    // For each row the places at which the loops cross it.
    let mut crossed: Vec<Vec<f64>> = vec![Vec::new(); net.rows.len()];
    for own in loops {
        for (i, a) in own.iter().enumerate() {
            let b = own[(i + 1) % own.len()];
            let [a, b] = [*a, b].map(|c| corners[c as usize].at);
            let [low, high] = if a[0] <= b[0] { [a, b] } else { [b, a] };
            let first = net.rows.partition_point(|r| *r < low[0]);
            for (k, row) in net.rows.iter().enumerate().skip(first).take_while(|(_, r)| **r < high[0]) {
                let share = (row - low[0]) / (high[0] - low[0]);
                crossed[k].push(low[1] + share * (high[1] - low[1]));
            }
        }
    }
    for (k, places) in crossed.iter_mut().enumerate().take(inner).skip(1) {
        places.sort_by(f64::total_cmp);
        let s = net.rows[k];
        let row = patches.across(s);
        for pair in places.chunks_exact(2) {
            let first = net.columns.partition_point(|u| *u <= pair[0] + close);
            let inside =
                net.columns.iter().enumerate().skip(first).take_while(|(_, u)| **u < pair[1] - close);
            for (_, u) in inside.filter(|(j, _)| net.has_column(*j, s)) {
                let (point, normal) = row.with_normal(*u);
                corners.push(Corner { place: None, point, normal, at: [s, *u] });
            }
        }
    }
}

/// Triangles of a face, from the corners on its loops; `turned` where the chart shows it from inside of the solid. `None` where
/// loops cross in the chart.
pub(super) fn triangulated(
    chart: &Chart,
    loops: &[Vec<u32>],
    mut corners: Vec<Corner>,
    turned: bool,
) -> Option<Triangulated> {
    nodes(chart, loops, &mut corners);
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
    let made = ConstrainedDelaunayTriangulation::<Site>::try_bulk_load_cdt(sites, bounds.clone(), |_| {
        crossed = true
    })
    .ok()?;
    if crossed || made.num_vertices() != corners.len() {
        return None;
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
            if edge.is_constraint_edge() {
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
