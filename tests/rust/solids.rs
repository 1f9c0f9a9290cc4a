//! Everything that can be asked of a neck's solids and of what is written of them.

use crate::{Dice, sound};
use neckwright::exchange::{ColouredMesh, StepOptions, StepProtocol, gltf, step, stl, threemf};
use neckwright::measure::{Error, Length};
use neckwright::shape::Neck;
use neckwright::solid::{Mesh, Solid};
use neckwright::spec::{MeshOptions, SolidOptions};

/// Numbers that are no tolerance.
const NONSENSE_MM: [f64; 9] =
    [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, 1e3, 0.0, -0.0, -0.02, f64::MIN_POSITIVE];

/// Chord tolerances, and of how many necks one is meshed at the finest of them.
const CHORDS_MM: [f64; 5] = [5.0, 2.0, 0.7, 0.1, 0.02];
const FINEST_MM: f64 = 0.005;
const FINEST_ONE_IN: usize = 16;

/// More than any neck of the bounds needs at these.
const MOST_TRIANGLES: usize = 1_000_000;

const COLOURS: [[f64; 3]; 2] = [[0.6, 0.3, 0.2], [0.0, 1.0, 0.05]];

/// Asks for the solids in all ways, their meshes and their files. That slots are too deep, or cubics too many, is a good answer.
pub(crate) fn ask(neck: &Neck, dice: &mut Dice) -> Result<(), String> {
    let usual = SolidOptions { slots: false, ..SolidOptions::default() };
    for value in NONSENSE_MM {
        let options = SolidOptions { cubic_within: Some(Length::from_mm(value)), ..usual.clone() };
        refused("cubic_within", value, neck.solids(&options))?;
    }
    let solids = neck.solids(&usual).map_err(|error| format!("has no solids: {error}"))?;
    let plain = [&solids.neck_wood, &solids.fretboard];
    whole(plain)?;
    let volume = neck.volume_mm3();
    let within = 1e-6 * libm::pow(10.0, 5.0 * dice.share());
    let others = [
        ("frets.slot_depth", SolidOptions { slots: true, ..usual.clone() }),
        ("cubic_within", SolidOptions { cubic_within: Some(Length::from_mm(within)), ..usual }),
    ];
    let mut slotted = None;
    for (path, options) in others {
        match neck.solids(&options) {
            Ok(solids) => {
                whole([&solids.neck_wood, &solids.fretboard])?;
                slotted = slotted.or(options.slots.then_some(solids));
            }
            Err(error) if error.faults().iter().all(|f| f.path == path && !f.remedy.is_empty()) => {}
            Err(error) => return Err(format!("has no solids with {options:?}: {error}")),
        }
    }
    let chord =
        if dice.below(FINEST_ONE_IN) == 0 { FINEST_MM } else { CHORDS_MM[dice.below(CHORDS_MM.len())] };
    let mut meshes = Vec::new();
    for (solid, law) in plain.into_iter().zip([volume.neck_wood_mm3, volume.fretboard_mm3]) {
        for value in NONSENSE_MM {
            let options = MeshOptions { chord: Length::from_mm(value), ..MeshOptions::default() };
            refused("chord", value, solid.mesh(&options))?;
        }
        meshes.push(meshed(solid, chord, Some(law))?);
    }
    written(&meshes)?;
    if let Some(solids) = slotted {
        meshed(&solids.fretboard, chord.max(0.02), None)?;
    }
    Ok(())
}

/// Numbers that are no tolerance are refused by name.
fn refused<T>(path: &str, value: f64, answer: Result<T, Error>) -> Result<(), String> {
    match answer {
        Err(error) if error.faults().iter().all(|f| f.path == path && !f.reason.is_empty()) => Ok(()),
        Err(error) => Err(format!("{path} = {value} is refused as: {error}")),
        Ok(_) => Err(format!("takes {path} = {value}")),
    }
}

/// Whether solids are closed and can be written as STEP.
fn whole(solids: [&Solid; 2]) -> Result<(), String> {
    if let Some(open) = solids.iter().find(|solid| !solid.is_closed()) {
        return Err(format!("has a {} that is not closed", open.name));
    }
    let mut options = StepOptions::default();
    if solids[0].faces.len().is_multiple_of(2) {
        options.protocol = StepProtocol::Ap214;
    }
    let text = step("\"a' \\ neck\" – 木", &[(solids[0], COLOURS[0]), (solids[1], COLOURS[1])], &options)
        .map_err(|error| format!("has no STEP file: {error}"))?;
    if !text.ends_with("END-ISO-10303-21;\n")
        || !text.is_ascii()
        || text.contains("NaN")
        || text.contains("inf")
    {
        return Err("has a STEP file without an end, or with a number that is none".to_owned());
    }
    Ok(())
}

/// A mesh of a solid, of numbers, proven and of the volume that the laws give it.
pub(crate) fn meshed(solid: &Solid, chord_mm: f64, law_mm3: Option<f64>) -> Result<Mesh, String> {
    let options = MeshOptions { chord: Length::from_mm(chord_mm), ..MeshOptions::default() };
    let mesh = solid.mesh(&options).map_err(|error| format!("has no mesh at {chord_mm} mm: {error}"))?;
    let told = format!("mesh of the {} at {chord_mm} mm", solid.name);
    if mesh.chord_mm.is_nan() || mesh.chord_mm > chord_mm {
        return Err(format!("has a {told} that is proven to {} mm", mesh.chord_mm));
    }
    if mesh.triangles.is_empty() || mesh.triangles.len() > MOST_TRIANGLES {
        return Err(format!("has a {told} of {} triangles", mesh.triangles.len()));
    }
    let numbers = mesh.positions_mm.iter().chain(&mesh.normals).flatten();
    if numbers.chain(mesh.station_girth.iter().flatten()).any(|n| !n.is_finite()) {
        return Err(format!("has a {told} with a number that is none"));
    }
    let (mut six, mut twice) = (0.0, 0.0);
    for triangle in &mesh.triangles {
        let [a, b, c] = triangle.map(|v| mesh.positions_mm[v as usize]);
        let (u, v) = ([0, 1, 2].map(|k| b[k] - a[k]), [0, 1, 2].map(|k| c[k] - a[k]));
        let across = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
        // Turned as the surface is at its corners, and not flat.
        let turned = triangle.iter().all(|v| {
            let normal = mesh.normals[*v as usize];
            (0..3).map(|k| across[k] * normal[k]).sum::<f64>() > 0.0
        });
        if !turned {
            return Err(format!("has a {told} with a triangle that is turned over at {a:?}"));
        }
        six += (0..3).map(|k| a[k] * across[k]).sum::<f64>();
        twice += libm::sqrt(across.iter().map(|n| n * n).sum());
    }
    // Nowhere further off than the chord tolerance: the volume is off by no more than a skin of it.
    let off = law_mm3.map_or(0.0, |law| (six / 6.0 - law).abs());
    if off.is_nan() || off > 1.1 * chord_mm * 0.5 * twice + 1e-6 {
        return Err(format!("has a {told} of {} mm3 for {law_mm3:?}", six / 6.0));
    }
    Ok(mesh)
}

fn written(meshes: &[Mesh]) -> Result<(), String> {
    let coloured: Vec<ColouredMesh<'_>> = meshes.iter().zip(COLOURS).collect();
    let failed = |error: Error| format!("has no file of its meshes: {error}");
    let name = "a <neck> & \"more\" – 木";
    let files = [
        (stl(name, &coloured).map_err(failed)?, &b"neckwright"[..]),
        (threemf(name, &coloured).map_err(failed)?, b"PK"),
        (gltf(name, &coloured).map_err(failed)?, b"glTF"),
    ];
    if let Some((_, start)) = files.iter().find(|(bytes, start)| !bytes.starts_with(start)) {
        return Err(format!("has a file that does not begin with {}", String::from_utf8_lossy(start)));
    }
    // The count of triangles as the file tells it.
    let stl = &files[0].0;
    let count = u32::from_le_bytes([stl[80], stl[81], stl[82], stl[83]]) as usize;
    if stl.len() != 84 + 50 * count || count > meshes.iter().map(|mesh| mesh.triangles.len()).sum() {
        return Err(format!("has an STL file of {} bytes for {count} triangles", stl.len()));
    }
    for colour in [f64::NAN, -0.1, 1.1, f64::INFINITY] {
        let odd: Vec<ColouredMesh<'_>> = meshes.iter().map(|mesh| (mesh, [0.5, colour, 0.5])).collect();
        if refused_by(&odd).iter().any(|refused| !refused) {
            return Err(format!("is written in a colour of {colour}"));
        }
    }
    sound("counts", &count)
}

/// Whether each of the writers refuses.
fn refused_by(meshes: &[ColouredMesh<'_>]) -> [bool; 3] {
    [stl("", meshes).is_err(), threemf("", meshes).is_err(), gltf("", meshes).is_err()]
}
