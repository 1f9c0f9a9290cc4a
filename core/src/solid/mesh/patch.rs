//! One face as triangles between its edges: a constrained Delaunay triangulation of its chart.

use alloc::vec;
use alloc::vec::Vec;

use spade::handles::{FixedFaceHandle, FixedVertexHandle, InnerTag};
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

use super::chart::Chart;
use super::facet::Corner;

/// By how much a plane is stretched in its triangulation: of corners on a circle no four lie on one then, which to find out takes
/// exact numbers.
const STRETCH: f64 = 1.02;

/// The triangles of a face.
pub(super) struct Patch {
    pub triangles: Vec<[u32; 3]>,
    /// Sides along creases.
    pub held: Vec<[u32; 2]>,
}

/// What keeps a face from being triangles: sides of its loops, by their first corners, that cross others; none where it is not known
/// which.
pub(super) struct Crossed(pub Vec<u32>);

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

/// Sides between the corners that lie on a crease, where it goes through the face.
fn creased(chart: &Chart, loops: &[Vec<u32>], corners: &[Corner]) -> Vec<[u32; 2]> {
    let Chart::Spline { patches, .. } = chart else { return Vec::new() };
    let mut found = Vec::new();
    let sides = || loops.iter().flat_map(|own| (0..own.len()).map(|i| [own[i], own[(i + 1) % own.len()]]));
    for crease in &patches.creases[0] {
        let mut on: Vec<(f64, u32)> = Vec::new();
        let mut crossed: Vec<f64> = Vec::new();
        for [a, b] in sides() {
            let [p, q] = [a, b].map(|c| corners[c as usize].at);
            if p[0] == *crease {
                on.push((p[1], a));
            }
            if (p[0] <= *crease) != (q[0] <= *crease) {
                crossed.push(p[1] + (q[1] - p[1]) * (crease - p[0]) / (q[0] - p[0]));
            }
        }
        on.sort_by(|a, b| a.0.total_cmp(&b.0));
        crossed.sort_by(f64::total_cmp);
        for w in on.windows(2) {
            let middle = 0.5 * (w[0].0 + w[1].0);
            if crossed.partition_point(|u| *u < middle) % 2 == 1 {
                found.push([w[0].1, w[1].1]);
            }
        }
    }
    found
}

/// Whether two sides meet elsewhere than in a corner of both.
fn meet([a, b]: [[f64; 2]; 2], [c, d]: [[f64; 2]; 2]) -> bool {
    let turn =
        |p: [f64; 2], q: [f64; 2], r: [f64; 2]| (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
    let apart = |x: f64, y: f64| (x > 0.0 && y > 0.0) || (x < 0.0 && y < 0.0);
    !apart(turn(a, b, c), turn(a, b, d)) && !apart(turn(c, d, a), turn(c, d, b))
}

/// Sides of the loops that cross others, by their first corners.
fn crossings(sides: &[[usize; 2]], sites: &[Site]) -> Vec<u32> {
    let place = |i: usize| [sites[i].at.x, sites[i].at.y];
    let bounds = |[a, b]: [usize; 2], k: usize| {
        let (a, b) = (place(a)[k], place(b)[k]);
        [a.min(b), a.max(b)]
    };
    let mut order: Vec<[usize; 2]> = sides.to_vec();
    order.sort_by(|a, b| bounds(*a, 0)[0].total_cmp(&bounds(*b, 0)[0]));
    let mut found = Vec::new();
    for (i, one) in order.iter().enumerate() {
        let own = [0, 1].map(|k| bounds(*one, k));
        for other in order[i + 1..].iter().take_while(|o| bounds(**o, 0)[0] <= own[0][1]) {
            let across = bounds(*other, 1);
            if across[0] > own[1][1] || across[1] < own[1][0] {
                continue;
            }
            let meets = match one.iter().find(|c| other.contains(c)) {
                // Over each other from the corner that both have.
                Some(shared) => {
                    let far = |side: &[usize; 2]| place(if side[0] == *shared { side[1] } else { side[0] });
                    let from = place(*shared);
                    let [p, q] = [far(one), far(other)].map(|p| [p[0] - from[0], p[1] - from[1]]);
                    let size = libm::hypot(p[0], p[1]) * libm::hypot(q[0], q[1]);
                    libm::fabs(p[0] * q[1] - p[1] * q[0]) <= 1e-12 * size && p[0] * q[0] + p[1] * q[1] > 0.0
                }
                None => meet(one.map(place), other.map(place)),
            };
            if meets {
                found.extend([one[0], other[0]].map(|c| sites[c].index));
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// A side, whichever way it goes.
fn key(side: [usize; 2]) -> [usize; 2] {
    [side[0].min(side[1]), side[0].max(side[1])]
}

/// Triangles of a face, from its corners, all of which are on its loops; `turned` where the chart shows it from inside of the
/// solid.
pub(super) fn triangulated(
    chart: &Chart,
    loops: &[Vec<u32>],
    corners: &[Corner],
    turned: bool,
) -> Result<Patch, Crossed> {
    if loops.iter().any(|own| own.len() < 3) {
        return Err(Crossed(Vec::new()));
    }
    let way = if turned { -1.0 } else { 1.0 };
    let stretch = if matches!(chart, Chart::Plane { .. }) { STRETCH } else { 1.0 };
    let site = |(i, corner): (usize, &Corner)| {
        let [x, y] = chart.place(corner.at);
        Site { at: Point2::new(tidy(x), tidy(way * stretch * y)), index: i as u32 }
    };
    let sites: Vec<Site> = corners.iter().enumerate().map(site).collect();
    let ends: Vec<[usize; 2]> = loops
        .iter()
        .flat_map(|own| (0..own.len()).map(|i| [own[i] as usize, own[(i + 1) % own.len()] as usize]))
        .collect();
    let mut crossed = false;
    let mut made =
        ConstrainedDelaunayTriangulation::<Site>::try_bulk_load_cdt(sites.clone(), ends.clone(), |_| {
            crossed = true
        })
        .map_err(|_| Crossed(Vec::new()))?;
    if made.num_vertices() != sites.len() {
        return Err(Crossed(Vec::new()));
    }
    if crossed {
        return Err(Crossed(crossings(&ends, &sites)));
    }
    let mut bounds: Vec<[usize; 2]> = ends.iter().map(|e| key(*e)).collect();
    bounds.sort_unstable();
    let mut held = Vec::new();
    for side in creased(chart, loops, corners) {
        let [a, b] = side.map(|c| FixedVertexHandle::from_index(c as usize));
        if bounds.binary_search(&key(side.map(|c| c as usize))).is_err() && made.can_add_constraint(a, b) {
            made.add_constraint(a, b);
            held.push([side[0].min(side[1]), side[0].max(side[1])]);
        }
    }
    held.sort_unstable();
    let triangles = inside(&made, &ends, &bounds).ok_or_else(|| Crossed(Vec::new()))?;
    Ok(Patch { triangles, held })
}

/// The triangles to the left of loops.
fn inside(
    made: &ConstrainedDelaunayTriangulation<Site>,
    ends: &[[usize; 2]],
    bounds: &[[usize; 2]],
) -> Option<Vec<[u32; 3]>> {
    let mut inside = vec![false; made.num_all_faces()];
    let mut open: Vec<FixedFaceHandle<InnerTag>> = Vec::new();
    for side in ends {
        let [a, b] = side.map(FixedVertexHandle::from_index);
        let left = made.get_edge_from_neighbors(a, b)?.face().as_inner()?.fix();
        if !core::mem::replace(&mut inside[left.index()], true) {
            open.push(left);
        }
    }
    let mut triangles = Vec::new();
    while let Some(face) = open.pop() {
        let face = made.face(face);
        for edge in face.adjacent_edges() {
            let own = edge.vertices().map(|v| v.fix().index());
            if edge.is_constraint_edge() && bounds.binary_search(&key(own)).is_ok() {
                continue;
            }
            let next = edge.rev().face().as_inner()?.fix();
            if !core::mem::replace(&mut inside[next.index()], true) {
                open.push(next);
            }
        }
        triangles.push(face.vertices().map(|v| v.data().index));
    }
    Some(triangles)
}
