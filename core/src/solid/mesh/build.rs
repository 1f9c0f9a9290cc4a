//! From a solid's faces and edges to one mesh.

use alloc::vec;
use alloc::vec::Vec;

use super::chart::Chart;
use super::course::{Course, Way};
use super::facet::Facet;
use super::grid::{Bent, Net, OF_EDGES, nets};
use super::patch::{Corner, Triangulated, triangulated};
use super::patches::Patches;
use super::polyline::{Along, Beside, Polyline};
use super::settle::{Part, Side, settled};
use super::triangles::Mesh;
use crate::solid::{Solid, Surface};

/// What of the tolerance edges are laid for: the rest is for corners that were left out beside others.
const AIM: f64 = 0.96;
/// What of that grids are laid for: more than all of it, as halving the few triangles that it is too much for takes less of them
/// than a closer grid.
const OF_GRIDS: f64 = 1.1;
/// Edges that are found by a search lie on their faces within this, mm.
const EDGE_MM: f64 = 1e-9;

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

/// The stretches of a spline's parameters within its loops, from the edges' ways.
fn used(patches: &Patches, courses: &[Course], ways: &[(usize, Way)]) -> [[f64; 2]; 2] {
    let mut reach = [[f64::INFINITY, f64::NEG_INFINITY]; 2];
    for (edge, way) in ways {
        let course = &courses[*edge];
        let mut add = |at: [f64; 2]| {
            for k in 0..2 {
                reach[k] = [reach[k][0].min(at[k]), reach[k][1].max(at[k])];
            }
        };
        match way {
            // Its coefficients bound it.
            Way::Trace(pieces) => pieces.rows.iter().flatten().for_each(|p| add(*p)),
            Way::Straight(ends) => ends.iter().for_each(|p| add(*p)),
            Way::Found(_) => course.reach().into_iter().for_each(|t| add(way.at(course, patches, t))),
        }
    }
    let whole = patches.reach();
    [0, 1].map(|k| {
        let [a, b] = [reach[k][0].max(whole[k][0]), reach[k][1].min(whole[k][1])];
        let near = |x: f64, end: f64| if libm::fabs(x - end) < 1e-9 { end } else { x };
        [near(a, whole[k][0]), near(b, whole[k][1])]
    })
}

/// The mesh of a solid; `None` where loops cross once they are polylines.
pub(super) fn mesh(solid: &Solid, chord: f64, finer: f64) -> Option<Mesh> {
    let aim = AIM * finer * (chord - 1e-7);
    let beside = beside(solid)?;
    let courses: Vec<Course> = solid.edges.iter().map(|e| Course::new(solid, e)).collect();
    let mut bent: Vec<Bent> = Vec::new();
    let mut ways_of: Vec<Vec<(usize, Way)>> = Vec::new();
    let mut bent_of: Vec<Option<usize>> = vec![None; solid.faces.len()];
    for (f, face) in solid.faces.iter().enumerate() {
        let Surface::Spline(surface) = &face.surface else { continue };
        let patches = Patches::new(surface);
        let ways: Vec<(usize, Way)> = face
            .loops
            .iter()
            .flatten()
            .map(|s| (s.edge, Way::new(face, &patches, s.edge, &courses[s.edge])))
            .collect();
        bent_of[f] = Some(bent.len());
        let used = used(&patches, &courses, &ways);
        bent.push(Bent { patches, used });
        ways_of.push(ways);
    }
    let nets: Vec<Net> = nets(&bent, OF_GRIDS * aim)?;
    let mut charts: Vec<Option<Chart>> = bent
        .into_iter()
        .zip(nets)
        .map(|(bent, net)| Some(Chart::Spline { patches: bent.patches, net }))
        .collect();
    let charts: Option<Vec<Chart>> = solid
        .faces
        .iter()
        .zip(&bent_of)
        .map(|(face, bent)| match &face.surface {
            Surface::Plane { point, normal, along } => Some(Chart::plane(*point, *normal, *along)),
            Surface::Cylinder { .. } => Chart::cylinder(solid, face, &courses, aim),
            Surface::Spline(_) => charts[(*bent)?].take(),
        })
        .collect();
    let charts = charts?;
    let mut way = |face: usize, edge: usize| {
        let own = &mut ways_of[bent_of[face]?];
        let at = own.iter().position(|(e, _)| *e == edge)?;
        Some(own.swap_remove(at).1)
    };
    let mut joined = vec![false; solid.faces.len()];
    let mut smooth = vec![false; solid.edges.len()];
    let edges: Vec<Along<'_>> = (0..solid.edges.len())
        .map(|e| {
            let sides = beside[e].map(|f| Beside { chart: &charts[f], way: way(f, e) });
            // Two splines that go on over their last isoline.
            let last = |b: &Beside<'_>| match (b.chart, &b.way) {
                (Chart::Spline { patches, .. }, Some(Way::Straight(ends))) => {
                    ends.iter().all(|p| p[1] == patches.reach()[1][1])
                }
                _ => false,
            };
            if sides.iter().all(last) {
                smooth[e] = true;
                beside[e].iter().for_each(|f| joined[*f] = true);
            }
            let ends = solid.edges[e].ends.map(|v| solid.vertices[v]);
            Along { course: &courses[e], beside: sides, ends, chord: OF_EDGES * aim }
        })
        .collect();
    let polylines: Vec<Polyline> = edges.iter().map(Along::polyline).collect::<Option<_>>()?;
    assembled(solid, &charts, (&edges, &polylines), &beside, [&joined, &smooth], chord - 1e-9)
}

fn assembled(
    solid: &Solid,
    charts: &[Chart],
    (edges, polylines): (&[Along<'_>], &[Polyline]),
    beside: &[[usize; 2]],
    [joined, smooth]: [&[bool]; 2],
    chord: f64,
) -> Option<Mesh> {
    // Places on edges are numbered: the vertices, then what lies between on each edge.
    let mut first_place = Vec::with_capacity(polylines.len());
    let mut places = solid.vertices.len();
    for line in polylines {
        first_place.push(places);
        places += line.points.len() - 2;
    }
    let mut parts: Vec<Part<'_>> = Vec::with_capacity(solid.faces.len());
    for (f, face) in solid.faces.iter().enumerate() {
        let chart = &charts[f];
        let mut corners: Vec<Corner> = Vec::new();
        let mut sides: Vec<Option<Side>> = Vec::new();
        let mut loops: Vec<Vec<u32>> = Vec::with_capacity(face.loops.len());
        for steps in &face.loops {
            let mut own = Vec::new();
            for step in steps {
                let line = &polylines[step.edge];
                let side = usize::from(beside[step.edge][0] != f);
                let last = line.points.len() - 1;
                for k in 0..last {
                    let i = if step.forward { k } else { last - k };
                    let place = match i {
                        0 => solid.edges[step.edge].ends[0],
                        i if i == last => solid.edges[step.edge].ends[1],
                        _ => first_place[step.edge] + i - 1,
                    };
                    let at = line.at[side][i];
                    own.push(corners.len() as u32);
                    sides.push(Some(Side {
                        next: 0,
                        edge: step.edge,
                        over: [line.t[i], line.t[if step.forward { i + 1 } else { i - 1 }]],
                        sharp: !smooth[step.edge],
                        which: side,
                    }));
                    corners.push(Corner {
                        place: Some(place as u32),
                        point: line.points[i],
                        normal: chart.normal(at),
                        at,
                    });
                }
            }
            loops.push(own);
        }
        // The angle of a cylinder and its axis, in this order, are right-handed as seen from outside of it.
        let made = triangulated(chart, &loops, corners, !face.outward)?;
        for own in &loops {
            for (i, corner) in own.iter().enumerate() {
                if let Some(side) = &mut sides[*corner as usize] {
                    side.next = own[(i + 1) % own.len()];
                }
            }
        }
        let Triangulated { corners, triangles } = made;
        let facets = triangles.into_iter().map(|t| Facet::new(t, &corners, face.outward)).collect();
        parts.push(Part { chart, corners, facets, outward: face.outward, sides });
    }
    let chords = polylines.iter().map(|line| line.off).fold(0.0, f64::max);
    let strips = polylines.iter().map(|line| line.strip).fold(0.0, f64::max);
    let within = solid.edges.iter().map(|e| e.within_mm).fold(EDGE_MM, f64::max);
    let (off, places) = settled(&mut parts, edges, places, chord - strips - within)?;
    let mut first_at = vec![u32::MAX; places];
    let mut mesh = Mesh {
        name: solid.name.clone(),
        positions_mm: Vec::new(),
        normals: Vec::new(),
        station_girth: Vec::new(),
        same_place: Vec::new(),
        triangles: Vec::new(),
        chord_mm: 0.0,
    };
    mesh.chord_mm = off.max(chords) + strips + within;
    for ((face, part), joined) in solid.faces.iter().zip(&parts).zip(joined) {
        let corners = &part.corners;
        let mut triangles: Vec<[u32; 3]> = part.facets.iter().map(|f| f.corners).collect();
        // By their corners, so that neighbours come one after the other.
        triangles.iter_mut().for_each(|t| {
            let first = (0..3).min_by_key(|i| t[*i]).unwrap_or(0);
            t.rotate_left(first);
        });
        triangles.sort_unstable();
        let start = mesh.positions_mm.len() as u32;
        let girth = super::girth::Girth::new(solid, face, corners, *joined);
        for corner in corners.iter() {
            let index = mesh.positions_mm.len() as u32;
            let first = match corner.place {
                Some(place) => {
                    let first = &mut first_at[place as usize];
                    *first = (*first).min(index);
                    *first
                }
                None => index,
            };
            mesh.same_place.push(first);
            mesh.positions_mm.push(corner.point);
            mesh.normals.push(if face.outward { corner.normal } else { corner.normal.map(|x| 0.0 - x) });
            mesh.station_girth.push([corner.point[0], girth.at(corner)]);
        }
        mesh.triangles.extend(triangles.iter().map(|t| t.map(|v| v + start)));
    }
    Some(mesh)
}
