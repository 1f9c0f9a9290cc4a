//! Meshes against each face of the solid: its own points against the triangles, and points of the triangles against the face.

use neckwright::measure::Length;
use neckwright::shape::Neck;
use neckwright::solid::{Curve, Face, Mesh, Point3, Solid};
use neckwright::spec::{MeshOptions, SolidOptions, Specification, numbers};

use common::foot::Places;
use common::near::{Near, cross, dot, minus};

mod common;

/// Points of an edge, close together.
fn points(solid: &Solid, edge: usize) -> Vec<Point3> {
    let edge = &solid.edges[edge];
    let [a, b] = edge.ends.map(|v| solid.vertices[v]);
    let shares = (0..=EACH).map(|i| i as f64 / EACH as f64);
    match &edge.curve {
        Curve::Line => shares.map(|t| [0, 1, 2].map(|k| a[k] + t * (b[k] - a[k]))).collect(),
        Curve::Arc { centre, axis, .. } => {
            let (p, q) = (minus(a, *centre), minus(b, *centre));
            let square = cross(*axis, p);
            let turn = libm::atan2(dot(q, square), dot(q, p)).rem_euclid(core::f64::consts::TAU);
            let on = |t: f64| {
                let (sin, cos) = libm::sincos(t * turn);
                [0, 1, 2].map(|k| centre[k] + cos * p[k] + sin * square[k])
            };
            shares.map(on).collect()
        }
        Curve::Spline(spline) => {
            let [from, to] = spline.knots.reach();
            shares.map(|t| spline.at(from + t * (to - from))).collect()
        }
    }
}

/// In how many parts an edge is looked at.
const EACH: usize = 40;
/// How far from the edges of a face its points are taken at least, mm: the edges have a test of their own.
const AWAY_MM: f64 = 1.0;

/// A face's loops in the parameters of its surface, as polygons.
fn outline(solid: &Solid, face: &Face, places: &Places<'_>) -> Vec<Vec<[f64; 2]>> {
    let mut loops = Vec::new();
    for steps in &face.loops {
        let mut own: Vec<[f64; 2]> = Vec::new();
        for step in steps {
            let mut all = points(solid, step.edge);
            if !step.forward {
                all.reverse();
            }
            all.pop();
            for p in all {
                let (at, off) = places.found(p, own.last().copied());
                assert!(off < 1e-5, "an edge of the {} lies {off} mm off its face", solid.name);
                own.push(at);
            }
        }
        loops.push(own);
    }
    loops
}

fn inside(loops: &[Vec<[f64; 2]>], [s, u]: [f64; 2]) -> bool {
    let crossings = loops.iter().flat_map(|own| {
        (0..own.len()).filter(move |i| {
            let (a, b) = (own[*i], own[(i + 1) % own.len()]);
            (a[1] <= u) != (b[1] <= u) && a[0] + (b[0] - a[0]) * (u - a[1]) / (b[1] - a[1]) > s
        })
    });
    crossings.count() % 2 == 1
}

/// The triangles of each face: a face's vertices are its own, and those of the faces follow each other.
fn by_face(mesh: &Mesh, faces: usize) -> Vec<Vec<[u32; 3]>> {
    let mut of: Vec<u32> = (0..mesh.positions_mm.len() as u32).collect();
    fn root(of: &mut [u32], mut v: u32) -> u32 {
        while of[v as usize] != v {
            of[v as usize] = of[of[v as usize] as usize];
            v = of[v as usize];
        }
        v
    }
    for t in &mesh.triangles {
        let all = t.map(|v| root(&mut of, v));
        let least = all.into_iter().min().expect("three");
        all.iter().for_each(|v| of[*v as usize] = least);
    }
    let mut found: std::collections::BTreeMap<u32, Vec<[u32; 3]>> = Default::default();
    for t in &mesh.triangles {
        found.entry(root(&mut of, t[0])).or_default().push(*t);
    }
    assert_eq!(found.len(), faces, "faces of the {}", mesh.name);
    found.into_values().collect()
}

/// Looks at some points of each face and at some triangles; how many of each.
fn faces_lie_within(
    solid: &Solid,
    chord: f64,
    each: usize,
    draw: &mut impl FnMut() -> f64,
    looked: &mut [usize; 2],
) {
    let options = MeshOptions { chord: Length::from_mm(chord), ..MeshOptions::default() };
    let mesh = solid.mesh(&options).expect("a mesh");
    let near = Near::new(&mesh);
    for (face, triangles) in solid.faces.iter().zip(by_face(&mesh, solid.faces.len())) {
        let places = Places::new(&face.surface);
        let loops = outline(solid, face, &places);
        let all = || loops.iter().flatten();
        let [from, to] = [f64::INFINITY, f64::NEG_INFINITY].map(|x| [x; 2]);
        let from = all().fold(from, |m, p| [m[0].min(p[0]), m[1].min(p[1])]);
        let to = all().fold(to, |m, p| [m[0].max(p[0]), m[1].max(p[1])]);
        let edges: Vec<[Point3; 2]> = loops
            .iter()
            .flat_map(|own| {
                (0..own.len()).map(|i| [own[i], own[(i + 1) % own.len()]].map(|at| places.at(at)))
            })
            .collect();
        for _ in 0..each {
            let at = [0, 1].map(|k| from[k] + (to[k] - from[k]) * draw());
            if !inside(&loops, at) {
                continue;
            }
            let p = places.at(at);
            let beside = edges.iter().any(|[a, b]| {
                let (along, off) = (minus(*b, *a), minus(p, *a));
                let t = (dot(along, off) / dot(along, along).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
                let rest = [0, 1, 2].map(|k| off[k] - t * along[k]);
                dot(rest, rest) < AWAY_MM * AWAY_MM
            });
            if !beside {
                assert!(near.within(p, chord), "{p:?} of a face lies off the {}", solid.name);
                looked[0] += 1;
            }
        }
        for _ in 0..each.min(2 * triangles.len()) {
            let t = triangles[(draw() * triangles.len() as f64) as usize % triangles.len()];
            let [a, b, c] = t.map(|v| mesh.positions_mm[v as usize]);
            // Its middle, and that of one of its sides.
            for share in [[1.0 / 3.0; 3], [[0.5, 0.5, 0.0], [0.0, 0.5, 0.5], [0.5, 0.0, 0.5]][looked[1] % 3]]
            {
                let p = [0, 1, 2].map(|k| share[0] * a[k] + share[1] * b[k] + share[2] * c[k]);
                let (_, off) = places.found(p, Some(places.found(a, None).0));
                assert!(off <= chord, "{p:?} of a triangle of the {} lies {off} mm off its face", solid.name);
                looked[1] += 1;
            }
        }
    }
}

#[test]
fn every_face_is_near_its_triangles_and_they_near_it() {
    let mut next = numbers(81);
    let mut draw = || (next() >> 11) as f64 / (1_u64 << 53) as f64;
    let mut plausible = numbers(82);
    let mut looked = [0; 2];
    let specs = std::iter::from_fn(|| Some(Specification::plausible(&mut plausible)));
    for (i, neck) in specs.filter_map(|s| Neck::new(&s).ok()).take(4).enumerate() {
        let options = SolidOptions { slots: i % 3 == 1, ..SolidOptions::default() };
        let solids =
            neck.solids(&options).or_else(|_| neck.solids(&SolidOptions { slots: false, ..options }));
        let solids = solids.expect("solids");
        for solid in [&solids.neck_wood, &solids.fretboard] {
            faces_lie_within(solid, [0.1, 0.02, 0.5][i % 3], 60, &mut draw, &mut looked);
        }
    }
    println!("{looked:?}");
    assert!(looked[0] > 1_000 && looked[1] > 3_000, "{looked:?}");
}
