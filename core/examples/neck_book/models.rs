//! The neck as solids, for programs that draw and mill.

use neckwright::exchange::{StepOptions, step, threemf};
use neckwright::measure::Error;
use neckwright::shape::Neck;
use neckwright::spec::{MeshOptions, SolidOptions};

/// Colours of neck wood and fretboard: cherry, and something darker.
const COLOURS: [[f64; 3]; 2] = [[0.72, 0.43, 0.28], [0.27, 0.16, 0.11]];

/// The files, and what is left out of them, with the reason.
pub struct Models {
    pub files: Vec<(String, Vec<u8>)>,
    pub left_out: Vec<String>,
}

/// The models of a neck, with its slots where they leave wood under them. The rest of the book does not depend on them: what can't
/// be made is left out and said.
pub fn of(neck: &Neck) -> Models {
    let (mut files, mut left_out) = (Vec::new(), Vec::new());
    let solids = |slots: bool| neck.solids(&SolidOptions { slots, ..SolidOptions::default() });
    let solids = solids(true).or_else(|why| {
        let without = solids(false)?;
        left_out.push(format!("The solids have no fret slots: {why}"));
        Ok(without)
    });
    let name = &neck.normalised().name;
    let name = if name.is_empty() { "neck" } else { name };
    let mut add = |file: &str, made: Result<Vec<u8>, Error>| match made {
        Ok(bytes) => files.push((file.into(), bytes)),
        Err(why) => left_out.push(format!("There is no {file}: {why}")),
    };
    match solids {
        Ok(solids) => {
            let both = [&solids.neck_wood, &solids.fretboard];
            let coloured = [(both[0], COLOURS[0]), (both[1], COLOURS[1])];
            add("neck.step", step(name, &coloured, &StepOptions::default()).map(String::into_bytes));
            let meshes: Result<Vec<_>, _> = both.iter().map(|s| s.mesh(&MeshOptions::default())).collect();
            let file = |meshes: Vec<_>| threemf(name, &meshes.iter().zip(COLOURS).collect::<Vec<_>>());
            add("neck.3mf", meshes.and_then(file));
        }
        Err(why) => add("neck.step and no neck.3mf", Err(why)),
    }
    Models { files, left_out }
}
