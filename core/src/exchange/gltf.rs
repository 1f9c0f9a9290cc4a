//! Binary glTF 2.0 (ISO/IEC 12113).

use alloc::vec::Vec;

use serde_json::{Value, json};

use super::parts::{ColouredMesh, apart, check, counted, single};
use crate::measure::Error;
use crate::solid::Point3;

const MM_PER_M: f64 = 1000.0;

// What the standard numbers them by.
const UNSIGNED_INT: u32 = 5125;
const FLOAT: u32 = 5126;
const ARRAY_BUFFER: u32 = 34962;
const ELEMENT_ARRAY_BUFFER: u32 = 34963;

/// A direction or place of the neck in the standard's frame, whose `y` goes up: the neck lies with its board upward. A turn, no
/// mirror.
fn turned([x, y, z]: Point3) -> Point3 {
    [x, z, -y]
}

/// A part of a colour as light: the standard takes it linear (IEC 61966-2-1).
fn linear(c: f64) -> f64 {
    if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
}

/// The binary part and what describes it.
#[derive(Default)]
struct Buffers {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
}

impl Buffers {
    /// Numbers of four bytes each, `N` to an element.
    fn put<const N: usize>(&mut self, numbers: &[[[u8; 4]; N]], target: u32, mut accessor: Value) -> usize {
        self.views.push(json!({
            "buffer": 0,
            "byteOffset": self.bytes.len(),
            "byteLength": 4 * N * numbers.len(),
            "target": target,
        }));
        self.bytes.extend(numbers.as_flattened().as_flattened());
        accessor["bufferView"] = json!(self.views.len() - 1);
        accessor["count"] = json!(N * numbers.len() / width(&accessor));
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    fn floats<const N: usize>(&mut self, numbers: &[[f32; N]], kind: &str) -> usize {
        let of = |start: f32, pick: fn(f32, f32) -> f32| {
            let mut most = [start; N];
            for p in numbers {
                for (m, c) in most.iter_mut().zip(p) {
                    *m = pick(*m, *c);
                }
            }
            most.iter().map(|c| f64::from(*c)).collect::<Vec<_>>()
        };
        let accessor = json!({
            "componentType": FLOAT,
            "type": kind,
            "min": of(f32::INFINITY, f32::min),
            "max": of(f32::NEG_INFINITY, f32::max),
        });
        let bytes: Vec<_> = numbers.iter().map(|p| p.map(f32::to_le_bytes)).collect();
        self.put(&bytes, ARRAY_BUFFER, accessor)
    }
}

/// How many numbers an element of an accessor has.
fn width(accessor: &Value) -> usize {
    match accessor["type"].as_str() {
        Some("VEC3") => 3,
        Some("VEC2") => 2,
        _ => 1,
    }
}

/// A binary glTF file of meshes as named, coloured nodes of one scene; the same bytes every time.
///
/// Metres, as the standard says, with its `+Y` up: the neck's station runs along `+X`, what points out of the fretboard along `+Y`,
/// and its `y`, toward the treble side of a right-handed neck, along `−Z`. The first texture coordinate is the station in metres, the
/// second how far around the face from 0 to 1. A mesh without triangles is left out.
///
/// Numbers are of single precision: the same place has the same bits in each vertex, and a triangle two of whose corners are one
/// place then is left out, which leaves a watertight mesh watertight.
///
/// # Errors
/// - no mesh that has a triangle: many programs refuse a file without one;
/// - a mesh whose lists don't fit each other, or with a number that is none;
/// - a part of a colour outside 0 to 1;
/// - more than 4 GiB.
pub fn gltf(name: &str, meshes: &[ColouredMesh<'_>]) -> Result<Vec<u8>, Error> {
    check(meshes)?;
    let mut buffers = Buffers::default();
    let (mut nodes, mut shapes, mut materials) = (Vec::new(), Vec::new(), Vec::new());
    for (mesh, colour) in meshes {
        let places: Vec<_> =
            mesh.positions_mm.iter().map(|p| single(turned(*p).map(|c| c / MM_PER_M))).collect();
        let triangles: Vec<_> = apart(mesh, &places).map(|(t, _)| t.map(u32::to_le_bytes)).collect();
        if triangles.is_empty() {
            continue;
        }
        let normals: Vec<_> = mesh.normals.iter().map(|n| single(turned(*n))).collect();
        let around: Vec<_> =
            mesh.station_girth.iter().map(|[x, g]| [(x / MM_PER_M) as f32, *g as f32]).collect();
        let attributes = json!({
            "POSITION": buffers.floats(&places, "VEC3"),
            "NORMAL": buffers.floats(&normals, "VEC3"),
            "TEXCOORD_0": buffers.floats(&around, "VEC2"),
        });
        let indices = json!({"componentType": UNSIGNED_INT, "type": "SCALAR"});
        let indices = buffers.put(&triangles, ELEMENT_ARRAY_BUFFER, indices);
        let [r, g, b] = colour.map(linear);
        nodes.push(json!({"name": mesh.name, "mesh": shapes.len()}));
        shapes.push(json!({
            "name": mesh.name,
            "primitives": [{"attributes": attributes, "indices": indices, "material": materials.len()}],
        }));
        materials.push(json!({
            "name": mesh.name,
            "pbrMetallicRoughness":
                {"baseColorFactor": [r, g, b, 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.6},
        }));
    }
    let mut scene = json!({"name": name});
    let mut told =
        json!({"asset": {"version": "2.0", "generator": alloc::format!("neckwright {}", crate::VERSION)}});
    // The standard has no empty lists.
    if !nodes.is_empty() {
        scene["nodes"] = (0..nodes.len()).collect();
        told["nodes"] = nodes.into();
        told["meshes"] = shapes.into();
        told["materials"] = materials.into();
        told["buffers"] = json!([{"byteLength": buffers.bytes.len()}]);
        told["bufferViews"] = buffers.views.into();
        told["accessors"] = buffers.accessors.into();
    }
    told["scene"] = json!(0);
    told["scenes"] = json!([scene]);
    let mut text = alloc::format!("{told}").into_bytes();
    while text.len() % 4 != 0 {
        text.push(b' ');
    }
    let chunks = [(b"JSON", text), (b"BIN\0", buffers.bytes)];
    let chunks = chunks.iter().filter(|(_, bytes)| !bytes.is_empty());
    let length = chunks.clone().map(|(_, bytes)| 8 + bytes.len()).sum::<usize>() + 12;
    let mut out = Vec::with_capacity(length);
    out.extend(b"glTF");
    out.extend([2, counted(length, "bytes")?].map(u32::to_le_bytes).as_flattened());
    for (kind, bytes) in chunks {
        out.extend(counted(bytes.len(), "bytes")?.to_le_bytes());
        out.extend(*kind);
        out.extend(bytes);
    }
    Ok(out)
}
