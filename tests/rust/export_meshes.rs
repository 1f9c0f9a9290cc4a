//! Writes meshes as STL, 3MF and glTF files, with a JSON file of what programs of other hands have to find in them:
//!
//!     cargo run --release --bin export_meshes -- FOLDER
#![forbid(unsafe_code)]

use neckwright::exchange::{ColouredMesh, gltf, stl, threemf};
use neckwright::measure::Length;
use neckwright::shape::Neck;
use neckwright::solid::Mesh;
use neckwright::spec::{HeadstockKind, MeshOptions, SolidOptions, Specification, numbers};
use serde_json::{Value, json};
use std::collections::HashMap;
use std::path::Path;

/// How many random necks.
const RANDOM: usize = 12;

/// The volume within a mesh.
fn volume_mm3(mesh: &Mesh) -> f64 {
    let six = |t: &[u32; 3]| {
        let [a, b, c] = t.map(|v| mesh.positions_mm[v as usize]);
        a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    };
    mesh.triangles.iter().map(six).sum::<f64>() / 6.0
}

/// A ball in rings from pole to pole, with a seam, its name full of what files have to escape.
fn ball() -> Mesh {
    let (rings, slices, radius_mm, centre) = (30_usize, 60_usize, 12.3, [50.0, 0.1, -40.0]);
    let (mut positions_mm, mut normals, mut station_girth) = (vec![], vec![], vec![]);
    let mut triangles = vec![];
    for i in 0..=rings {
        for j in 0..=slices {
            let t = core::f64::consts::PI * i as f64 / rings as f64;
            let s = core::f64::consts::TAU * (j % slices) as f64 / slices as f64;
            let flat = if i % rings == 0 { 0.0 } else { libm::sin(t) };
            let n = [flat * libm::cos(s), flat * libm::sin(s), libm::cos(t)];
            positions_mm.push([0, 1, 2].map(|k| centre[k] + radius_mm * n[k]));
            normals.push(n);
            station_girth.push([centre[0] + radius_mm * n[0], j as f64 / slices as f64]);
            let a = (i * (slices + 1) + j) as u32;
            let b = a + slices as u32 + 1;
            if i < rings && j < slices {
                if i > 0 {
                    triangles.push([a, b + 1, a + 1]);
                }
                if i + 1 < rings {
                    triangles.push([a, b, b + 1]);
                }
            }
        }
    }
    let mut first = HashMap::new();
    let bits = |p: &[f64; 3]| p.map(|c| (c + 0.0).to_bits());
    let same_place =
        positions_mm.iter().enumerate().map(|(i, p)| *first.entry(bits(p)).or_insert(i as u32)).collect();
    let name = "a \"ball\" & <søm>".into();
    Mesh { name, positions_mm, normals, station_girth, same_place, triangles, chord_mm: 0.1 }
}

/// Meshes, and the volume of each part where it is known.
type Made = (Vec<Mesh>, Vec<Option<f64>>);

/// The meshes of a neck, and what its laws say of the volumes; the slots' share of the board is the mesh's own.
fn of_neck(neck: &Neck, chord_mm: f64, slots: bool) -> Result<Made, Box<dyn std::error::Error>> {
    let solids = neck.solids(&SolidOptions { slots, ..SolidOptions::default() })?;
    let options = MeshOptions { chord: Length::from_mm(chord_mm), ..MeshOptions::default() };
    let meshes = vec![solids.neck_wood.mesh(&options)?, solids.fretboard.mesh(&options)?];
    let volume = neck.volume_mm3();
    Ok((meshes, vec![Some(volume.neck_wood_mm3), Some(volume.fretboard_mm3).filter(|_| !slots)]))
}

/// `volumes_mm3` are those that the meshes come near to, where they are known otherwise.
fn write(
    folder: &Path,
    group: &str,
    meshes: &[Mesh],
    volumes_mm3: &[Option<f64>],
) -> Result<Value, Box<dyn std::error::Error>> {
    let colours = [[0.6, 0.3, 0.2], [0.2, 0.1, 0.05]];
    let coloured: Vec<ColouredMesh<'_>> = meshes.iter().zip(colours).collect();
    std::fs::write(folder.join(format!("{group}.3mf")), threemf(group, &coloured)?)?;
    std::fs::write(folder.join(format!("{group}.glb")), gltf(group, &coloured)?)?;
    for (i, one) in coloured.iter().enumerate() {
        std::fs::write(folder.join(format!("{group}.{i}.stl")), stl(group, &[*one])?)?;
    }
    let part = |(mesh, law): (&Mesh, &Option<f64>)| -> Result<Value, neckwright::measure::Error> {
        let (places, triangles) = mesh.places()?;
        Ok(json!({
            "name": mesh.name,
            "volume_mm3": volume_mm3(mesh),
            "law_mm3": law,
            "chord_mm": mesh.chord_mm,
            "places": places.len(),
            "triangles": triangles.len(),
        }))
    };
    Ok(meshes.iter().zip(volumes_mm3).map(part).collect::<Result<_, _>>()?)
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let Some(folder) = std::env::args().nth(1) else {
        eprintln!("export_meshes FOLDER");
        std::process::exit(2);
    };
    let folder = Path::new(&folder).join("meshes");
    std::fs::create_dir_all(&folder)?;
    let mut expected = json!({"ball": write(&folder, "ball", &[ball()], &[None])?});
    let (meshes, volumes) = of_neck(&Neck::new(&Specification::default())?, 0.1, false)?;
    expected["default"] = write(&folder, "default", &meshes, &volumes)?;
    let class = include_str!("../../core/examples/neck_book/evening_class.json");
    let class = Neck::new(&Specification::from_json(class)?)?;
    for (group, chord_mm, slots) in [("class", 0.02, true), ("class_fine", 0.005, false)] {
        let (meshes, volumes) = of_neck(&class, chord_mm, slots)?;
        expected[group] = write(&folder, group, &meshes, &volumes)?;
    }
    let mut next = numbers(2026);
    let (mut made, mut errors, mut kinds) = (0, json!({}), [0; 5]);
    while made < RANDOM {
        let Ok(neck) = Neck::new(&Specification::plausible(&mut next)) else { continue };
        let group = format!("neck_{made:02}");
        match of_neck(&neck, 0.1, false) {
            Ok((meshes, volumes)) => expected[&group] = write(&folder, &group, &meshes, &volumes)?,
            Err(error) => errors[&group] = error.to_string().into(),
        }
        let own = [
            neck.volute().height_mm > 0.0,
            neck.volute().height_mm == 0.0,
            neck.headstock().kind == HeadstockKind::Angled,
            neck.layout().nut_line().slope != 0.0,
            neck.hand_sign() < 0.0,
        ];
        kinds.iter_mut().zip(own).for_each(|(count, own)| *count += usize::from(own));
        made += 1;
    }
    let names = ["volute", "no volute", "angled headstock", "slanted nut", "left-handed"];
    let kinds: HashMap<_, _> = names.into_iter().zip(kinds).collect();
    let expected = json!({"groups": expected, "errors": errors, "kinds": kinds});
    std::fs::write(folder.join("expected.json"), expected.to_string())?;
    Ok(())
}
