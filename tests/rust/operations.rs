//! What each operation of the shared cases calls in Rust.

use crate::Case;
use neckwright::exchange::{ColouredMesh, StepOptions, gltf, step, stl, threemf};
use neckwright::inspect::Readings;
use neckwright::measure::Error;
use neckwright::shape::{Neck, Side};
use neckwright::solid::Solid;
use neckwright::spec::{InspectionOptions, MeshOptions, SolidOptions, Specification, Stock};

/// The results of an operation, each with its name.
pub type Outputs = Vec<(&'static str, Vec<f64>)>;

/// Calls the operation of a case: what the library answers.
///
/// # Errors
/// - the operation or one of its arguments is not known (this is a fault of the case, not of the library).
pub fn perform(case: &Case) -> Result<Result<Outputs, Error>, String> {
    match case.operation.as_str() {
        "fret_positions_mm" => {
            let (scale_mm, fret_count) = (case.number("scale_mm")?, case.count("fret_count")?);
            let divisions = case.count("divisions")?;
            let answer = neckwright::layout::fret_positions_mm(scale_mm, fret_count, divisions);
            Ok(answer.map(|positions| vec![("positions", positions)]))
        }
        "read_specification" => Ok(Specification::from_json(case.document()?).map(|specification| {
            let width = specification.nut.width.mm();
            vec![("nut_width", vec![width]), ("fret_count", vec![f64::from(specification.frets.count)])]
        })),
        "neck_along" => {
            let x_mm = case.numbers("x_mm")?;
            Ok(Neck::from_json(case.document()?).and_then(|neck| along(&neck, &x_mm)))
        }
        "neck_section" => {
            let x_mm = case.number("x_mm")?;
            Ok(Neck::from_json(case.document()?).and_then(|neck| section(&neck, x_mm)))
        }
        "neck_whole" => Ok(Neck::from_json(case.document()?).map(|neck| whole(&neck))),
        "neck_stages" => {
            let stock = case.text("stock")?;
            Ok(Neck::from_json(case.document()?).and_then(|neck| stages(&neck, stock)))
        }
        "neck_inspect" => {
            let readings = case.text("readings")?;
            Ok(Neck::from_json(case.document()?).and_then(|neck| inspect(&neck, readings)))
        }
        "neck_files" => Ok(Neck::from_json(case.document()?).and_then(|neck| files(&neck))),
        other => Err(format!("unknown operation {other}")),
    }
}

fn along(neck: &Neck, x_mm: &[f64]) -> Result<Outputs, Error> {
    let each = |read: &dyn Fn(f64) -> Result<f64, Error>| {
        x_mm.iter().map(|x| read(*x)).collect::<Result<Vec<f64>, Error>>()
    };
    let walls = x_mm.iter().map(|x| neck.rod_wall_mm(*x)).collect::<Result<Vec<Option<f64>>, Error>>()?;
    Ok(vec![
        ("thickness", each(&|x| neck.thickness_mm(x))?),
        ("width", each(&|x| neck.width_mm(x))?),
        ("girth", each(&|x| neck.girth_mm(x))?),
        ("carve_line_bass", each(&|x| neck.carve_line_mm(x, Side::Bass))?),
        ("carve_line_treble", each(&|x| neck.carve_line_mm(x, Side::Treble))?),
        ("rod_wall", walls.into_iter().flatten().collect()),
    ])
}

fn section(neck: &Neck, x_mm: f64) -> Result<Outputs, Error> {
    let section = neck.section(x_mm)?;
    let points = |side| section.control_points_mm(side).map_or(Vec::new(), |p| p.as_flattened().to_vec());
    Ok(vec![
        ("area", vec![section.area_mm2()]),
        ("centroid", section.centroid_mm().to_vec()),
        ("second_moments", section.second_moment_mm4().to_vec()),
        ("control_points_bass", points(Side::Bass)),
        ("control_points_treble", points(Side::Treble)),
    ])
}

fn whole(neck: &Neck) -> Outputs {
    let (volume, least) = (neck.volume_mm3(), neck.least_rod_wall());
    vec![
        ("volumes", vec![volume.neck_wood_mm3, volume.fretboard_mm3]),
        ("rod_channel", vec![volume.rod_channel_mm3]),
        ("least_rod_wall", least.map_or(Vec::new(), |least| vec![least.value])),
        ("least_rod_wall_at", least.map_or(Vec::new(), |least| vec![least.x_mm])),
    ]
}

fn stages(neck: &Neck, stock: &str) -> Result<Outputs, Error> {
    let plan = neck.carving_plan(&Stock::from_json(stock)?)?;
    Ok(vec![
        ("stock", vec![plan.stock_mm3()]),
        ("removed", plan.stages().iter().map(|stage| stage.removed_mm3).collect()),
        ("left", plan.stages().iter().map(|stage| stage.left_mm3).collect()),
        ("finished", vec![plan.finished_mm3()]),
    ])
}

fn inspect(neck: &Neck, csv: &str) -> Result<Outputs, Error> {
    let readings = Readings::from_csv(csv).map_err(|bad| bad.error)?;
    let inspection = neck.inspect(&readings, &InspectionOptions::default())?;
    let of_low =
        |read: &dyn Fn(&neckwright::inspect::Finding) -> f64| inspection.low.iter().map(read).collect();
    Ok(vec![
        ("deviations", inspection.rows.iter().filter_map(|row| Some(row.finished?.mm)).collect()),
        ("low_from", of_low(&|low| low.x_mm[0])),
        ("low_to", of_low(&|low| low.x_mm[1])),
        ("low_amplitude", of_low(&|low| low.amplitude_mm)),
        ("low_p_value", of_low(&|low| low.p_value)),
    ])
}

/// 64-bit FNV-1a of a file, as two numbers of 32 bits.
fn sum(bytes: &[u8]) -> Vec<f64> {
    let sum = bytes
        .iter()
        .fold(0xcbf2_9ce4_8422_2325_u64, |sum, byte| (sum ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3));
    vec![(sum >> 32) as f64, (sum & 0xffff_ffff) as f64]
}

fn files(neck: &Neck) -> Result<Outputs, Error> {
    const BROWN: [f64; 3] = [0.5, 0.25, 0.125];
    let solids = neck.solids(&SolidOptions::default())?;
    let parts = [&solids.neck_wood, &solids.fretboard];
    let coloured: Vec<(&Solid, [f64; 3])> = parts.iter().map(|part| (*part, BROWN)).collect();
    let meshes =
        parts.iter().map(|part| part.mesh(&MeshOptions::default())).collect::<Result<Vec<_>, Error>>()?;
    let shown: Vec<ColouredMesh<'_>> = meshes.iter().map(|mesh| (mesh, BROWN)).collect();
    let mut counts = Vec::new();
    let mut places = Vec::new();
    for mesh in &meshes {
        counts.extend([mesh.positions_mm.len() as f64, mesh.triangles.len() as f64]);
        places.extend(mesh.positions_mm.as_flattened().iter().flat_map(|x| x.to_le_bytes()));
    }
    Ok(vec![
        ("step", sum(step("neck", &coloured, &StepOptions::default())?.as_bytes())),
        ("stl", sum(&stl("neck", &shown)?)),
        ("threemf", sum(&threemf("neck", &shown)?)),
        ("gltf", sum(&gltf("neck", &shown)?)),
        ("mesh_counts", counts),
        ("mesh_places", sum(&places)),
    ])
}
