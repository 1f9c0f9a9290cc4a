//! One face as triangles: the cells of its grid, and a constrained Delaunay triangulation of its chart where edges cross them.

use alloc::vec;
use alloc::vec::Vec;

use spade::handles::{FixedFaceHandle, FixedVertexHandle, InnerTag};
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

use super::cells::Cells;
use super::chart::Chart;
use crate::solid::Point3;

/// By how much a plane is stretched in its triangulation: of corners on a circle no four lie on one then, which to find out takes
/// exact numbers.
const STRETCH: f64 = 1.02;

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

/// The sides of triangles that have nothing beside them, and the loops' sides that have not: between them lies what is left of
/// the face, to the left of each.
fn left_over(loops: &[Vec<u32>], triangles: &[[u32; 3]]) -> Vec<[u32; 2]> {
    // Sorted by their ends; a side gone both ways has nothing left beside it.
    let around = |own: &Vec<u32>| -> Vec<[u32; 2]> {
        (0..own.len()).map(|i| [own[i], own[(i + 1) % own.len()]]).collect()
    };
    let key = |[a, b]: [u32; 2]| ([a.min(b), a.max(b)], a < b);
    let mut sides: Vec<([u32; 2], bool)> = Vec::with_capacity(3 * triangles.len());
    for [a, b, c] in triangles {
        sides.extend([[*b, *a], [*c, *b], [*a, *c]].map(key));
    }
    sides.extend(loops.iter().flat_map(around).map(key));
    sides.sort_unstable();
    let mut found = Vec::new();
    let mut i = 0;
    while i < sides.len() {
        if sides.get(i + 1).is_some_and(|next| next.0 == sides[i].0) {
            i += 2;
            continue;
        }
        let ([a, b], forward) = sides[i];
        found.push(if forward { [a, b] } else { [b, a] });
        i += 1;
    }
    found
}

/// Triangles of a face, from the corners on its loops; `turned` where the chart shows it from inside of the solid. `None` where
/// loops cross in the chart.
pub(super) fn triangulated(
    chart: &Chart,
    loops: &[Vec<u32>],
    mut corners: Vec<Corner>,
    turned: bool,
) -> Option<Triangulated> {
    if loops.iter().any(|own| own.len() < 3) {
        return None;
    }
    let (mut triangles, sides) = match chart {
        Chart::Spline { patches, net } => {
            let mut cells = Cells::new(patches, net, loops, &mut corners);
            let mut triangles = cells.triangles(&corners);
            if turned {
                triangles.iter_mut().for_each(|t| t.swap(1, 2));
            }
            (triangles, cells.sides)
        }
        Chart::Cylinder { columns, .. } => (Vec::new(), rulings(columns, &corners)),
        Chart::Plane { .. } => (Vec::new(), Vec::new()),
    };
    let bounds = left_over(loops, &triangles);
    if !bounds.is_empty() {
        filled(chart, &corners, &bounds, &sides, turned, &mut triangles)?;
    }
    Some(Triangulated { corners, triangles })
}

/// Straight lines of a cylinder between corners at the same angle.
fn rulings(columns: &[f64], corners: &[Corner]) -> Vec<[u32; 2]> {
    let mut on: Vec<Vec<(f64, u32)>> = vec![Vec::new(); columns.len()];
    for (i, corner) in corners.iter().enumerate() {
        if let Ok(j) = columns.binary_search_by(|c| c.total_cmp(&corner.at[0])) {
            on[j].push((corner.at[1], i as u32));
        }
    }
    let mut found = Vec::new();
    let last = columns.len() - 1;
    for all in on.iter_mut().take(last).skip(1).filter(|all| all.len() == 2) {
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        found.push([all[0].1, all[1].1]);
    }
    found
}

/// The triangles to the left of bounds.
fn filled(
    chart: &Chart,
    corners: &[Corner],
    bounds: &[[u32; 2]],
    sides: &[[u32; 2]],
    turned: bool,
    triangles: &mut Vec<[u32; 3]>,
) -> Option<()> {
    // Only what corners are still needed: those of the bounds, and between them what sides join.
    let mut inner = vec![false; corners.len()];
    triangles.iter().flatten().for_each(|c| inner[*c as usize] = true);
    let mut on_bounds = vec![false; corners.len()];
    bounds.iter().flatten().for_each(|c| on_bounds[*c as usize] = true);
    let mut of = vec![usize::MAX; corners.len()];
    let way = if turned { -1.0 } else { 1.0 };
    let stretch = if matches!(chart, Chart::Plane { .. }) { STRETCH } else { 1.0 };
    let mut sites: Vec<Site> = Vec::new();
    for (i, corner) in corners.iter().enumerate() {
        if on_bounds[i] || !inner[i] {
            let [x, y] = chart.place(corner.at);
            of[i] = sites.len();
            sites.push(Site { at: Point2::new(tidy(x), tidy(way * stretch * y)), index: i as u32 });
        }
    }
    let count = sites.len();
    let ends: Vec<[usize; 2]> = bounds.iter().map(|e| e.map(|c| of[c as usize])).collect();
    let mut crossed = false;
    let mut made =
        ConstrainedDelaunayTriangulation::<Site>::try_bulk_load_cdt(sites, ends.clone(), |_| crossed = true)
            .ok()?;
    if crossed || made.num_vertices() != count {
        return None;
    }
    let key = |e: [usize; 2]| [e[0].min(e[1]), e[0].max(e[1])];
    let mut held: Vec<[usize; 2]> = ends.iter().map(|e| key(*e)).collect();
    held.sort_unstable();
    for side in sides {
        let side = side.map(|c| of[c as usize]);
        if side.contains(&usize::MAX) {
            continue;
        }
        let [a, b] = side.map(FixedVertexHandle::from_index);
        // Where a corner on the loops was left out beside another, a side may meet them elsewhere; then it is not held.
        if made.can_add_constraint(a, b) {
            made.add_constraint(a, b);
        }
    }
    let mut inside = vec![false; made.num_all_faces()];
    let mut open: Vec<FixedFaceHandle<InnerTag>> = Vec::new();
    for [a, b] in ends {
        let [a, b] = [a, b].map(FixedVertexHandle::from_index);
        let left = made.get_edge_from_neighbors(a, b)?.face().as_inner()?.fix();
        if !core::mem::replace(&mut inside[left.index()], true) {
            open.push(left);
        }
    }
    while let Some(face) = open.pop() {
        let face = made.face(face);
        for edge in face.adjacent_edges() {
            let own = edge.vertices().map(|v| v.fix().index());
            if edge.is_constraint_edge() && held.binary_search(&key(own)).is_ok() {
                continue;
            }
            let next = edge.rev().face().as_inner()?.fix();
            if !core::mem::replace(&mut inside[next.index()], true) {
                open.push(next);
            }
        }
        triangles.push(face.vertices().map(|v| v.data().index));
    }
    Some(())
}
