//! The wood after every stage of random necks' carving plans as STEP files, each with what a kernel has to find in it: how many
//! solids, their volume together, areas of sections through all of them.

use std::path::Path;

use neckwright::carve::{Stage, Wood};
use neckwright::exchange::{StepOptions, step};
use neckwright::shape::Neck;
use neckwright::spec::{Specification, Stock, numbers};
use serde_json::{Value, json};

use crate::{kinds, share};

/// Sections of each stage.
const STATIONS: usize = 8;

fn sections(wood: &Wood, next: &mut dyn FnMut() -> u64) -> Vec<Value> {
    let [from, to] = wood.reach_mm();
    let at = |i: usize, share: f64| from + (to - from) * (i as f64 + share) / STATIONS as f64;
    (0..STATIONS)
        .map(|i| {
            let x = at(i, share(next));
            json!([x, wood.area_mm2(x)])
        })
        .collect()
}

/// What is expected of a stage's solids, and the file.
fn told(stage: &Stage, neck: &Neck, next: &mut dyn FnMut() -> u64) -> (Value, Option<String>) {
    let wood = &stage.wood;
    let mut expected = json!({
        "stage": stage.name.name(),
        "kinds": kinds(neck),
        "volumes": [wood.volume_mm3() + wood.bored_mm3()],
        "sections": sections(wood, next),
    });
    let solids = match wood.solids() {
        Ok(solids) => solids,
        Err(error) => {
            expected["error"] = error.to_string().into();
            return (expected, None);
        }
    };
    expected["solids"] = solids.len().into();
    let parts: Vec<_> = solids.iter().map(|solid| (solid, [0.6, 0.3, 0.2])).collect();
    match step(stage.name.name(), &parts, &StepOptions::default()) {
        Ok(file) => (expected, Some(file)),
        Err(error) => {
            expected["error"] = error.to_string().into();
            (expected, None)
        }
    }
}

/// All stages of so many plans.
pub fn export(folder: &Path, count: usize) -> Result<(), Box<dyn std::error::Error>> {
    let mut next = numbers(7);
    let mut made = 0;
    while made < count {
        let (spec, stock) = (Specification::plausible(&mut next), Stock::plausible(&mut next));
        let Ok(neck) = Neck::new(&spec) else { continue };
        let Ok(plan) = neck.carving_plan(&stock) else { continue };
        let mut dice = numbers(1000 + made as u64);
        for (i, stage) in plan.stages().iter().enumerate() {
            let (expected, file) = told(stage, &neck, &mut dice);
            let name = format!("{made:03}-{i}");
            if let Some(file) = file {
                std::fs::write(folder.join(format!("{name}.step")), file)?;
            }
            std::fs::write(folder.join(format!("{name}.json")), expected.to_string())?;
        }
        made += 1;
    }
    Ok(())
}
