//! From a solid's faces and edges to one mesh.

use alloc::vec;
use alloc::vec::Vec;

use super::chart::Chart;
use super::course::{Course, Way};
use super::facet::NONE;
use super::polyline::{Along, Beside, Polyline};
use super::triangles::Mesh;
use super::web::Web;
use crate::solid::{Curve, Face, Solid, Surface};

/// What of the tolerance edges are laid for: the rest is for strips between traces and their chords.
const AIM: f64 = 0.97;
/// Edges that are found by a search lie on their faces within this, mm.
const EDGE_MM: f64 = 1e-9;

/// How many times edges are laid closer where no mesh comes of them.
const TRIES: i32 = 4;
/// The most points all edges may take: far more than those of a neck do.
const MOST_POINTS: usize = 200_000;

/// The faces beside each edge, that which goes along it first.
fn beside(solid: &Solid) -> Option<Vec<[usize; 2]>> {
    let mut found = vec![[usize::MAX; 2]; solid.edges.len()];
    for (f, face) in solid.faces.iter().enumerate() {
        for step in face.loops.iter().flatten() {
            found[step.edge][usize::from(!step.forward)] = f;
        }
    }
    found.iter().flatten().all(|f| *f != usize::MAX).then_some(found)
}

/// The mesh of a solid; `None` where it can't be made one.
pub(super) fn mesh(solid: &Solid, chord: f64) -> Option<Mesh> {
    let beside = beside(solid)?;
    let courses: Vec<Course> = solid.edges.iter().map(|e| Course::new(solid, e)).collect();
    let chart = |face: &Face| match &face.surface {
        Surface::Plane { point, normal, along } => Some(Chart::plane(*point, *normal, *along)),
        Surface::Cylinder { .. } => Chart::cylinder(face, &courses),
        Surface::Spline(surface) => Chart::spline(surface),
    };
    let charts: Vec<Chart> = solid.faces.iter().map(chart).collect::<Option<_>>()?;
    let edges: Vec<Along<'_>> = (0..solid.edges.len())
        .map(|e| {
            let sides = beside[e].map(|f| {
                let chart = &charts[f];
                let way = match chart {
                    Chart::Spline { patches, .. } => Some(Way::new(&solid.faces[f], patches, e, &courses[e])),
                    _ => None,
                };
                Beside { chart, way }
            });
            // Two splines that go on over their last isoline.
            let last = |b: &Beside<'_>| match (b.chart, &b.way) {
                (Chart::Spline { patches, .. }, Some(Way::Straight(ends))) => {
                    ends.iter().all(|p| p[1] == patches.reach()[1][1])
                }
                _ => false,
            };
            let sharp = !sides.iter().all(last);
            let ends = solid.edges[e].ends.map(|v| solid.vertices[v]);
            Along { course: &courses[e], faces: beside[e], beside: sides, ends, sharp }
        })
        .collect();
    let within = solid.edges.iter().map(|e| e.within_mm).fold(EDGE_MM, f64::max);
    // Where a tolerance is as large as the solid's own parts, edges that lie off by so much turn triangles beside them over.
    (0..TRIES).find_map(|i| {
        let aim = AIM * libm::ldexp(chord - 1e-7, -2 * i);
        let mut lines: Vec<Polyline> = edges.iter().map(|edge| edge.polyline(aim)).collect::<Option<_>>()?;
        if lines.iter().map(|line| line.t.len()).sum::<usize>() > MOST_POINTS {
            return None;
        }
        parted(solid, &mut lines);
        let mut web = Web::laid(solid, &charts, &edges, &mut lines)?;
        let chords = lines.iter().map(|line| line.off).fold(0.0, f64::max);
        let mut strips = 0.0_f64;
        for (edge, line) in edges.iter().zip(&lines) {
            strips = strips.max(line.strip + edge.moved(line)?);
        }
        let off = web.settled(chord - 1e-9 - strips - within)?;
        let mesh = gathered(solid, &web, off.max(chords) + strips + within);
        (mesh.chord_mm <= chord).then_some(mesh)
    })
}

/// Halves edges that would be one as polylines: those of one stretch between the ends of another, and those of loops of two.
fn parted(solid: &Solid, lines: &mut [Polyline]) {
    let mut all: Vec<([usize; 2], bool, usize)> = solid
        .edges
        .iter()
        .enumerate()
        .map(|(e, edge)| {
            let [a, b] = edge.ends;
            ([a.min(b), a.max(b)], !matches!(edge.curve, Curve::Line), e)
        })
        .collect();
    all.sort_unstable();
    for group in all.chunk_by(|a, b| a.0 == b.0) {
        for (_, _, e) in &group[1..] {
            if lines[*e].t.len() == 2 {
                lines[*e].halve(0);
            }
        }
    }
}

/// The mesh of what is settled.
fn gathered(solid: &Solid, web: &Web<'_>, chord_mm: f64) -> Mesh {
    let mut mesh = Mesh {
        name: solid.name.clone(),
        positions_mm: Vec::with_capacity(web.corners.len()),
        normals: Vec::with_capacity(web.corners.len()),
        station_girth: Vec::with_capacity(web.corners.len()),
        same_place: Vec::with_capacity(web.corners.len()),
        triangles: Vec::with_capacity(web.facets.len()),
        chord_mm,
    };
    // Face by face, as the corners of each lie together.
    let facets = || web.facets.iter().filter(|facet| !facet.is_gone());
    let mut used = vec![false; web.corners.len()];
    facets().flat_map(|facet| facet.corners).for_each(|c| used[c as usize] = true);
    let mut order: Vec<u32> = (0..web.corners.len() as u32).filter(|c| used[*c as usize]).collect();
    order.sort_by_key(|c| web.corners[*c as usize].face);
    let mut index = vec![0; web.corners.len()];
    let mut first_at = vec![NONE; web.places as usize];
    for own in order.chunk_by(|a, b| web.corners[*a as usize].face == web.corners[*b as usize].face) {
        let f = web.corners[own[0] as usize].face as usize;
        let joined = || web.edges.iter().filter(|edge| !edge.sharp).flat_map(|edge| edge.faces);
        let half = joined().any(|face| face == f);
        let corners = || own.iter().map(|c| &web.corners[*c as usize]);
        let girth = super::girth::Girth::new(solid, &solid.faces[f], corners(), half);
        for (c, corner) in own.iter().zip(corners()) {
            let new = mesh.positions_mm.len() as u32;
            index[*c as usize] = new;
            let first = match first_at.get_mut(corner.place as usize) {
                Some(first) => {
                    *first = (*first).min(new);
                    *first
                }
                None => new,
            };
            mesh.same_place.push(first);
            mesh.positions_mm.push(corner.point);
            mesh.normals.push(corner.normal);
            mesh.station_girth.push([corner.point[0], girth.at(corner)]);
        }
    }
    // By their corners, so that neighbours come one after the other.
    mesh.triangles.extend(facets().map(|facet| {
        let mut t = facet.corners.map(|c| index[c as usize]);
        let first = (0..3).min_by_key(|k| t[*k]).unwrap_or(0);
        t.rotate_left(first);
        t
    }));
    mesh.triangles.sort_unstable();
    mesh
}
