//! Meshes made by hand, and what is told of triangles.
#![allow(dead_code, missing_docs)]

use neckwright::solid::Mesh;
use std::collections::HashMap;

/// A mesh with what joins its vertices found by their bits.
pub fn joined(
    name: &str,
    positions_mm: Vec<[f64; 3]>,
    normals: Vec<[f64; 3]>,
    station_girth: Vec<[f64; 2]>,
    triangles: Vec<[u32; 3]>,
) -> Mesh {
    let mut first = HashMap::new();
    let same = positions_mm.iter().enumerate();
    let same_place =
        same.map(|(i, p)| *first.entry(p.map(|c| (c + 0.0).to_bits())).or_insert(i as u32)).collect();
    Mesh { name: name.into(), positions_mm, normals, station_girth, same_place, triangles, chord_mm: 0.0 }
}

/// A box whose faces have vertices of their own.
pub fn cuboid(name: &str, low: [f64; 3], high: [f64; 3]) -> Mesh {
    let (mut places, mut normals, mut around, mut triangles) = (vec![], vec![], vec![], vec![]);
    for axis in 0..3 {
        for (end, sign) in [(low, -1.0), (high, 1.0)] {
            let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
            let first = places.len() as u32;
            for (a, b) in [(0, 0), (1, 0), (1, 1), (0, 1)] {
                let mut p = [0.0; 3];
                p[axis] = end[axis];
                p[u] = [low, high][a][u];
                p[v] = [low, high][b][v];
                places.push(p);
                let mut n = [0.0; 3];
                n[axis] = sign;
                normals.push(n);
                around.push([p[0], b as f64]);
            }
            let [a, b, c, d] = [0, 1, 2, 3].map(|k| first + k);
            triangles.extend(if sign > 0.0 { [[a, b, c], [a, c, d]] } else { [[a, c, b], [a, d, c]] });
        }
    }
    joined(name, places, normals, around, triangles)
}

/// A ball about a point, in rings from pole to pole, with a seam.
pub fn ball(name: &str, centre: [f64; 3], radius: f64, rings: usize) -> Mesh {
    let (mut places, mut normals, mut around, mut triangles) = (vec![], vec![], vec![], vec![]);
    let slices = 2 * rings;
    for i in 0..=rings {
        for j in 0..=slices {
            let (t, s) = (i as f64 / rings as f64, (j % slices) as f64 / slices as f64);
            let (t, s) = (core::f64::consts::PI * t, core::f64::consts::TAU * s);
            let flat = if i % rings == 0 { 0.0 } else { libm::sin(t) };
            let n = [flat * libm::cos(s), flat * libm::sin(s), libm::cos(t)];
            places.push([0, 1, 2].map(|k| centre[k] + radius * n[k]));
            normals.push(n);
            around.push([centre[0] + radius * n[0], j as f64 / slices as f64]);
            if i < rings && j < slices {
                let a = (i * (slices + 1) + j) as u32;
                let b = a + slices as u32 + 1;
                triangles.extend([[a, b, b + 1], [a, b + 1, a + 1]]);
            }
        }
    }
    let mesh = joined(name, places, normals, around, triangles);
    let apart = |t: &&[u32; 3]| {
        let [a, b, c] = t.map(|v| mesh.same_place[v as usize]);
        a != b && b != c && c != a
    };
    Mesh { triangles: mesh.triangles.iter().filter(apart).copied().collect(), ..mesh }
}

/// Whether every edge is gone along as often either way.
pub fn is_closed<const B: usize>(triangles: &[[[u8; B]; 3]]) -> bool {
    let mut gone: HashMap<_, i32> = HashMap::new();
    for t in triangles {
        for k in 0..3 {
            let (a, b) = (t[k], t[(k + 1) % 3]);
            *gone.entry((a.min(b), a.max(b))).or_default() += if a < b { 1 } else { -1 };
        }
    }
    gone.values().all(|times| *times == 0)
}

/// Six times the volume within triangles.
pub fn sixfold_volume(triangles: &[[[f64; 3]; 3]]) -> f64 {
    let six = |[a, b, c]: &[[f64; 3]; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    };
    triangles.iter().map(six).sum()
}

/// The corners of a mesh's triangles.
pub fn corners(mesh: &Mesh) -> Vec<[[f64; 3]; 3]> {
    mesh.triangles.iter().map(|t| t.map(|v| mesh.positions_mm[v as usize])).collect()
}
