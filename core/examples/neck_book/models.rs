//! The neck as solids, for programs that draw and mill.

use neckwright::exchange::{StepOptions, step, threemf};
use neckwright::measure::Error;
use neckwright::shape::Neck;
use neckwright::spec::{MeshOptions, SolidOptions};

/// Colours of neck wood and fretboard: cherry, and something darker.
const COLOURS: [[f64; 3]; 2] = [[0.72, 0.43, 0.28], [0.27, 0.16, 0.11]];

/// The files, and why the board has no slots where they are left out.
pub struct Models {
    pub files: Vec<(String, Vec<u8>)>,
    pub without_slots: Option<String>,
}

/// The models of a neck, with its slots where they leave wood under them.
pub fn of(neck: &Neck) -> Result<Models, String> {
    let told = |error: Error| error.to_string();
    let solids = |slots: bool| neck.solids(&SolidOptions { slots, ..SolidOptions::default() });
    let (solids, without_slots) = match solids(true) {
        Ok(solids) => (solids, None),
        Err(why) => (solids(false).map_err(told)?, Some(why.to_string())),
    };
    let name = &neck.normalised().name;
    let name = if name.is_empty() { "neck" } else { name };
    let both = [&solids.neck_wood, &solids.fretboard];
    let coloured = [(both[0], COLOURS[0]), (both[1], COLOURS[1])];
    let meshes: Vec<_> = both
        .iter()
        .map(|solid| solid.mesh(&MeshOptions::default()))
        .collect::<Result<_, _>>()
        .map_err(told)?;
    let meshes: Vec<_> = meshes.iter().zip(COLOURS).collect();
    let files = vec![
        ("neck.step".into(), step(name, &coloured, &StepOptions::default()).map_err(told)?.into_bytes()),
        ("neck.3mf".into(), threemf(name, &meshes).map_err(told)?),
    ];
    Ok(Models { files, without_slots })
}
