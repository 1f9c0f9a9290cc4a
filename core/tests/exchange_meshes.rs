//! Meshes as STL, 3MF and glTF, read back by the formats' own rules. Programs of other hands read them in `tests/kernel`.
#![allow(missing_docs)]

mod exchange_common;

use exchange_common::{ball, corners, cuboid, is_closed, joined, sixfold_volume};
use neckwright::exchange::{ColouredMesh, gltf, stl, threemf};
use neckwright::measure::{Error, Kind, Length};
use neckwright::shape::Neck;
use neckwright::solid::Mesh;
use neckwright::spec::{MeshOptions, SolidOptions};

fn two() -> [Mesh; 2] {
    [
        cuboid("a <box> & \"lid\"", [-10.0, -20.1, -0.3], [300.0, 20.0, 0.7]),
        ball("ball", [50.0, 0.1, -40.0], 12.3, 20),
    ]
}

fn coloured(meshes: &[Mesh]) -> Vec<ColouredMesh<'_>> {
    meshes.iter().zip([[0.6, 0.3, 0.2], [0.0, 1.0, 0.04]]).collect()
}

fn le32(bytes: &[u8], at: usize) -> u32 {
    u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap())
}

fn le16(bytes: &[u8], at: usize) -> usize {
    usize::from(u16::from_le_bytes(bytes[at..at + 2].try_into().unwrap()))
}

fn float(bytes: &[u8], at: usize) -> f64 {
    f64::from(f32::from_bits(le32(bytes, at)))
}

/// The corners of an STL file's triangles, and the squares it tells.
fn read_stl(file: &[u8]) -> (Vec<[[f64; 3]; 3]>, Vec<[f64; 3]>) {
    assert!(!file.starts_with(b"solid"));
    let count = le32(file, 80) as usize;
    assert_eq!(file.len(), 84 + 50 * count);
    let three = |at: usize| [0, 4, 8].map(|k| float(file, at + k));
    let at = |i: usize| 84 + 50 * i;
    let triangles = (0..count).map(|i| [12, 24, 36].map(|k| three(at(i) + k))).collect();
    (triangles, (0..count).map(|i| three(at(i))).collect())
}

fn bits(triangles: &[[[f64; 3]; 3]]) -> Vec<[[u8; 12]; 3]> {
    let place =
        |p: &[f64; 3]| -> [u8; 12] { p.map(|c| (c as f32).to_le_bytes()).as_flattened().try_into().unwrap() };
    triangles.iter().map(|t| t.each_ref().map(place)).collect()
}

#[test]
fn an_stl_file_has_every_triangle_with_its_square() {
    let meshes = two();
    let file = stl("näck", &coloured(&meshes)).unwrap();
    assert!(file.starts_with(format!("neckwright {}, mm: n?ck ", neckwright::VERSION).as_bytes()));
    let (triangles, squares) = read_stl(&file);
    let wanted: Vec<_> = meshes.iter().flat_map(corners).collect();
    assert_eq!(triangles.len(), wanted.len());
    for (got, wanted) in triangles.iter().flatten().flatten().zip(wanted.iter().flatten().flatten()) {
        assert_eq!(*got as f32, *wanted as f32);
    }
    assert!(is_closed(&bits(&triangles)));
    let (got, wanted) = (sixfold_volume(&triangles), sixfold_volume(&wanted));
    assert!(wanted > 0.0 && (got / wanted - 1.0).abs() < 1e-6);
    for ([a, b, c], n) in triangles.iter().zip(&squares) {
        let dot = |a: &[f64; 3], b: &[f64; 3]| (0..3).map(|k| n[k] * (b[k] - a[k])).sum::<f64>();
        assert!((n.iter().map(|c| c * c).sum::<f64>() - 1.0).abs() < 1e-6);
        assert!(dot(a, b).abs() < 1e-4 && dot(a, c).abs() < 1e-4);
    }
}

/// A tent over a square whose ridge is shorter than single precision tells.
fn tent() -> Mesh {
    let (x, d) = (500.0, 1e-9);
    let places = vec![
        [x, 0.0, 0.0],
        [x + 2.0, 0.0, 0.0],
        [x + 2.0, 2.0, 0.0],
        [x, 2.0, 0.0],
        [x + 1.0, 1.0, 1.0],
        [x + 1.0 + d, 1.0, 1.0],
    ];
    let triangles =
        vec![[0, 2, 1], [0, 3, 2], [0, 1, 4], [1, 5, 4], [1, 2, 5], [2, 3, 5], [3, 4, 5], [3, 0, 4]];
    joined("tent", places, vec![[0.0, 0.0, 1.0]; 6], vec![[0.0; 2]; 6], triangles)
}

#[test]
fn triangles_that_single_precision_takes_leave_no_hole() {
    let meshes = [tent()];
    assert!(is_closed(&corners(&meshes[0]).iter().map(|t| t.map(double_bits)).collect::<Vec<_>>()));
    let (triangles, _) = read_stl(&stl("", &coloured(&meshes)).unwrap());
    // Those two on both sides of the ridge.
    assert_eq!(triangles.len(), 6);
    assert!(is_closed(&bits(&triangles)));
    let glb = Glb::read(&gltf("", &coloured(&meshes)).unwrap());
    let triangles = glb.triangles(0);
    assert_eq!(triangles.len(), 6);
    assert!(is_closed(&bits(&triangles)));
}

fn double_bits(p: [f64; 3]) -> [u8; 24] {
    p.map(f64::to_le_bytes).as_flattened().try_into().unwrap()
}

/// The files of a zip container by its directory, each held against its own header and its sum.
fn unzipped(file: &[u8]) -> Vec<(String, Vec<u8>)> {
    let end = file.len() - 22;
    assert_eq!(&file[end..end + 4], b"PK\x05\x06");
    let (count, mut at) = (le16(file, end + 10), le32(file, end + 16) as usize);
    assert_eq!(at + le32(file, end + 12) as usize, end);
    let mut files = vec![];
    for _ in 0..count {
        assert_eq!(&file[at..at + 4], b"PK\x01\x02");
        let own = le32(file, at + 42) as usize;
        assert_eq!(&file[own..own + 4], b"PK\x03\x04");
        assert_eq!(file[own + 4..own + 30], file[at + 6..at + 32]);
        // Made on 1 January 1980 at midnight.
        assert_eq!((le16(file, at + 12), le16(file, at + 14)), (0, 1 << 5 | 1));
        let name = le16(file, at + 28);
        let from = own + 30 + name;
        assert_eq!(file[own + 30..from], file[at + 46..at + 46 + name]);
        let packed = &file[from..from + le32(file, at + 20) as usize];
        let plain = miniz_oxide::inflate::decompress_to_vec(packed).unwrap();
        assert_eq!(plain.len(), le32(file, at + 24) as usize);
        // The sum as ISO 3309 has it, bit by bit.
        let sum = plain.iter().fold(!0_u32, |sum, byte| {
            (0..8).fold(sum ^ u32::from(*byte), |s, _| (s >> 1) ^ (0xedb8_8320 * (s & 1)))
        });
        assert_eq!(!sum, le32(file, at + 16));
        files.push((String::from_utf8(file[at + 46..at + 46 + name].to_vec()).unwrap(), plain));
        at += 46 + name;
    }
    assert_eq!(at, end);
    files
}

#[test]
fn a_3mf_file_has_every_digit() {
    let meshes = two();
    let files = unzipped(&threemf("neck & <board>", &coloured(&meshes)).unwrap());
    let names: Vec<&str> = files.iter().map(|f| f.0.as_str()).collect();
    assert_eq!(names, ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]);
    for (_, file) in &files {
        roxmltree::Document::parse(std::str::from_utf8(file).unwrap()).unwrap();
    }
    let text = String::from_utf8(files[2].1.clone()).unwrap();
    let model = roxmltree::Document::parse(&text).unwrap();
    let all = |name: &'static str| {
        model.descendants().filter(move |n| {
            n.has_tag_name(("http://schemas.microsoft.com/3dmanufacturing/core/2015/02", name))
        })
    };
    assert_eq!(model.root_element().attribute("unit"), Some("millimeter"));
    let bases: Vec<_> = all("base").map(|b| b.attribute("displaycolor").unwrap()).collect();
    assert_eq!(bases, ["#994D33", "#00FF0A"]);
    let objects: Vec<_> = all("object").collect();
    let names: Vec<_> = objects.iter().map(|o| o.attribute("name").unwrap()).collect();
    assert_eq!(names, [&meshes[0].name, &meshes[1].name, "neck & <board>"]);
    for (object, mesh) in objects.iter().zip(&meshes) {
        let (corners, triangles) = mesh.places().unwrap();
        let of = |tag: &str, names: [&str; 3]| -> Vec<[f64; 3]> {
            let parts = object.descendants().filter(|n| n.tag_name().name() == tag);
            parts.map(|v| names.map(|k| v.attribute(k).unwrap().parse().unwrap())).collect()
        };
        assert_eq!(of("vertex", ["x", "y", "z"]), corners);
        let told = triangles.iter().map(|t| t.map(f64::from)).collect::<Vec<_>>();
        assert_eq!(of("triangle", ["v1", "v2", "v3"]), told);
    }
    let item = all("item").next().unwrap().attribute("objectid");
    assert_eq!(item, objects[2].attribute("id"));
    let parts: Vec<_> = all("component").map(|c| c.attribute("objectid")).collect();
    assert_eq!(parts, [objects[0].attribute("id"), objects[1].attribute("id")]);
}

/// A binary glTF file taken apart.
struct Glb {
    told: serde_json::Value,
    bytes: Vec<u8>,
}

impl Glb {
    fn read(file: &[u8]) -> Self {
        assert_eq!(&file[..4], b"glTF");
        assert_eq!((le32(file, 4), le32(file, 8) as usize), (2, file.len()));
        let long = le32(file, 12) as usize;
        assert_eq!(&file[16..20], b"JSON");
        assert_eq!(long % 4, 0);
        let told = serde_json::from_slice(&file[20..20 + long]).unwrap();
        let bytes = &file[20 + long..];
        if !bytes.is_empty() {
            assert_eq!((le32(bytes, 0) as usize + 8, &bytes[4..8]), (bytes.len(), &b"BIN\0"[..]));
        }
        Self { told, bytes: bytes.get(8..).unwrap_or_default().to_vec() }
    }

    fn numbers(&self, accessor: &serde_json::Value, width: usize) -> Vec<u32> {
        let accessor = &self.told["accessors"][accessor.as_u64().unwrap() as usize];
        let view = &self.told["bufferViews"][accessor["bufferView"].as_u64().unwrap() as usize];
        let from = view["byteOffset"].as_u64().unwrap() as usize;
        let count = width * accessor["count"].as_u64().unwrap() as usize;
        assert_eq!(view["byteLength"], 4 * count);
        (0..count).map(|i| le32(&self.bytes, from + 4 * i)).collect()
    }

    fn floats<const N: usize>(&self, mesh: usize, name: &str) -> Vec<[f64; N]> {
        let attribute = &self.told["meshes"][mesh]["primitives"][0]["attributes"][name];
        let numbers = self.numbers(attribute, N);
        let floats: Vec<f64> = numbers.iter().map(|b| f64::from(f32::from_bits(*b))).collect();
        floats.chunks(N).map(|c| c.try_into().unwrap()).collect()
    }

    fn triangles(&self, mesh: usize) -> Vec<[[f64; 3]; 3]> {
        let places = self.floats::<3>(mesh, "POSITION");
        let indices = self.numbers(&self.told["meshes"][mesh]["primitives"][0]["indices"], 1);
        indices.chunks(3).map(|t| [0, 1, 2].map(|k| places[t[k] as usize])).collect()
    }
}

/// Every normal is of length 1, and on the side of its triangles that these are seen counter-clockwise from, as the standard has
/// the outside.
fn squares_agree(glb: &Glb, mesh: usize) {
    let (places, normals) = (glb.floats::<3>(mesh, "POSITION"), glb.floats::<3>(mesh, "NORMAL"));
    for n in &normals {
        assert!((n.iter().map(|c| c * c).sum::<f64>() - 1.0).abs() < 1e-6, "{n:?}");
    }
    let indices = glb.numbers(&glb.told["meshes"][mesh]["primitives"][0]["indices"], 1);
    let (mut lower, mut steep) = (0, 0_u32);
    for t in indices.chunks(3).map(|t| [0, 1, 2].map(|k| t[k] as usize)) {
        let [a, b, c] = t.map(|v| places[v]);
        let [u, v] = [b, c].map(|p| [0, 1, 2].map(|k| p[k] - a[k]));
        let square: [f64; 3] =
            [0, 1, 2].map(|k| u[(k + 1) % 3] * v[(k + 2) % 3] - u[(k + 2) % 3] * v[(k + 1) % 3]);
        let norm = |p: [f64; 3]| p.iter().map(|c| c * c).sum::<f64>().sqrt();
        let size = norm(square);
        // Half a metre is told to 3e-8 m: of lower triangles the direction is not known.
        if size < 2e-6 * norm(u).max(norm(v)) {
            lower += 1;
            continue;
        }
        for n in t.map(|v| normals[v]) {
            let along: f64 = (0..3).map(|k| square[k] * n[k]).sum();
            // Where a back turns into a block's square corner a triangle may lie across the whole turn; none is turned about.
            assert!(along > -0.01 * size, "{along} of {size} at {a:?}");
            steep += u32::from(along < 0.5 * size);
        }
    }
    assert!(30 * steep as usize <= indices.len(), "{steep} of {} corners", indices.len());
    assert!(20 * lower < indices.len() / 3, "{lower} of {}", indices.len() / 3);
}

#[test]
fn a_real_necks_gltf_has_its_normals_outward() {
    let neck = Neck::from_json(r#"{ "scale": { "bass": 660, "treble": 640, "square_fret": 7 } }"#).unwrap();
    let solids = neck.solids(&SolidOptions::default()).unwrap();
    let options = MeshOptions { chord: Length::from_mm(0.1), ..MeshOptions::default() };
    let meshes = [solids.neck_wood, solids.fretboard].map(|solid| solid.mesh(&options).unwrap());
    let glb = Glb::read(&gltf("neck", &coloured(&meshes)).unwrap());
    for i in 0..meshes.len() {
        squares_agree(&glb, i);
    }
}

#[test]
fn a_gltf_file_is_the_neck_in_metres_with_its_board_up() {
    let meshes = two();
    let glb = Glb::read(&gltf("neck", &coloured(&meshes)).unwrap());
    assert_eq!(glb.told["asset"]["version"], "2.0");
    assert_eq!(glb.told["asset"]["generator"], format!("neckwright {}", neckwright::VERSION));
    assert_eq!(glb.told["scenes"][0]["name"], "neck");
    assert_eq!(glb.told["buffers"][0]["byteLength"], glb.bytes.len());
    for (i, mesh) in meshes.iter().enumerate() {
        assert_eq!(glb.told["nodes"][i]["name"], mesh.name);
        assert_eq!(glb.told["scenes"][0]["nodes"][i], i);
        let places = glb.floats::<3>(i, "POSITION");
        for (got, [x, y, z]) in places.iter().zip(&mesh.positions_mm) {
            assert_eq!(got.map(|c| c as f32), [x, z, &-y].map(|c| (c / 1000.0) as f32));
        }
        for (got, [x, y, z]) in glb.floats::<3>(i, "NORMAL").iter().zip(&mesh.normals) {
            assert_eq!(got.map(|c| c as f32), [*x as f32, *z as f32, -*y as f32]);
        }
        squares_agree(&glb, i);
        for (got, [x, g]) in glb.floats::<2>(i, "TEXCOORD_0").iter().zip(&mesh.station_girth) {
            assert_eq!(got.map(|c| c as f32), [(x / 1000.0) as f32, *g as f32]);
        }
        // The least and the greatest number as they are in the buffer, not as they were before.
        for k in 0..3 {
            let accessor = &glb.told["accessors"][4 * i];
            let all = || places.iter().map(|p| p[k]);
            assert_eq!(accessor["min"][k], all().fold(f64::INFINITY, f64::min));
            assert_eq!(accessor["max"][k], all().fold(f64::NEG_INFINITY, f64::max));
        }
        let triangles = glb.triangles(i);
        assert!(is_closed(&bits(&triangles)));
        let wanted = sixfold_volume(&corners(mesh)) * 1e-9;
        assert!(wanted > 0.0 && (sixfold_volume(&triangles) / wanted - 1.0).abs() < 1e-6);
    }
    // 0.6 of a screen's scale as light (IEC 61966-2-1).
    let colour = &glb.told["materials"][0]["pbrMetallicRoughness"]["baseColorFactor"];
    assert!((colour[0].as_f64().unwrap() - 0.318_546_778_123_2).abs() < 1e-9);
    assert_eq!(colour[3], 1.0);
    assert_eq!(glb.told["materials"][1]["pbrMetallicRoughness"]["baseColorFactor"][2], 0.04 / 12.92);
}

#[test]
fn a_file_of_nothing_is_refused() {
    let hollow = Mesh { triangles: vec![], ..cuboid("none", [0.0; 3], [1.0; 3]) };
    let full = cuboid("box", [0.0; 3], [1.0; 3]);
    for writer in WRITERS {
        for meshes in [vec![], vec![(&hollow, [0.0; 3])]] {
            let error = writer("", &meshes).unwrap_err();
            let fault = &error.faults()[0];
            assert_eq!((fault.kind, fault.path.as_str()), (Kind::Missing, "meshes"));
            assert!(!fault.remedy.is_empty(), "{fault:?}");
        }
        assert!(writer("", &[(&hollow, [0.0; 3]), (&full, [0.0; 3])]).is_ok());
    }
}

type Writer = fn(&str, &[ColouredMesh<'_>]) -> Result<Vec<u8>, Error>;
const WRITERS: [Writer; 3] = [stl, threemf, gltf];

#[test]
fn a_mesh_that_contradicts_itself_is_refused() {
    let good = cuboid("box", [0.0; 3], [1.0; 3]);
    let with = |change: fn(&mut Mesh)| {
        let mut mesh = good.clone();
        change(&mut mesh);
        mesh
    };
    let white = [1.0; 3];
    let bad = [
        (with(|m| m.triangles[3][1] = 24), white, Kind::Conflict, "meshes[0].triangles[3]"),
        (with(|m| m.same_place[2] = 3), white, Kind::Conflict, "meshes[0].same_place[2]"),
        (with(|m| m.positions_mm[5][0] = f64::NAN), white, Kind::OutOfRange, "meshes[0].positions_mm[5]"),
        (with(|m| m.positions_mm[5][0] = 1e300), white, Kind::OutOfRange, "meshes[0].positions_mm[5]"),
        (with(|m| m.normals[6][0] = f64::INFINITY), white, Kind::OutOfRange, "meshes[0].normals[6]"),
        (with(|m| m.same_place[13] = 1), white, Kind::Conflict, "meshes[0].same_place[13]"),
        (with(|m| m.normals[6][0] += 1e-5), white, Kind::OutOfRange, "meshes[0].normals[6]"),
        (with(|m| m.normals.truncate(3)), white, Kind::Conflict, "meshes[0].normals"),
        (good.clone(), [0.0, 1.01, 0.0], Kind::OutOfRange, "meshes[0].colour[1]"),
        (good.clone(), [0.0, 0.0, f64::NAN], Kind::OutOfRange, "meshes[0].colour[2]"),
    ];
    for (mesh, colour, kind, path) in &bad {
        for writer in WRITERS {
            let error = writer("", &[(mesh, *colour)]).unwrap_err();
            let fault = &error.faults()[0];
            assert_eq!((fault.kind, fault.path.as_str()), (*kind, *path));
            assert!(
                !fault.value.is_empty() && fault.lowest.is_some() && !fault.remedy.is_empty(),
                "{fault:?}"
            );
        }
    }
}
