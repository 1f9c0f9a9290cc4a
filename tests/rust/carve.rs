//! Everything that can be asked of a carving plan.

use crate::{Dice, solids, sound};
use neckwright::carve::{CarvingPlan, Details, Stage, Wood};
use neckwright::shape::Neck;
use neckwright::solid::Solid;
use neckwright::spec::Stock;

/// How far the last stage's wood may be off the finished neck, as a share.
const SAME: f64 = 1e-12;
/// Of how many plans one is asked for the solids of all its stages.
const SOLIDS_ONE_IN: usize = 32;
/// How finely the last stage of these is meshed.
const CHORDS_MM: [f64; 5] = [5.0, 2.0, 0.7, 0.1, 0.02];

/// Asks for the plan of a neck from a stock, and everything of it. That it is refused is a good answer where it says
/// why and what would mend it.
pub(crate) fn ask(neck: &Neck, stock: &Stock) -> Result<(), String> {
    match neck.carving_plan(stock) {
        Ok(plan) => of_plan(neck, &plan),
        Err(error) => match error.faults().iter().find(|f| f.reason.is_empty() || f.remedy.is_empty()) {
            None if !error.faults().is_empty() => Ok(()),
            _ => Err(format!("has no plan and does not say what would make one: {error}")),
        },
    }
}

fn of_plan(neck: &Neck, plan: &CarvingPlan) -> Result<(), String> {
    plan.stock().check().map_err(|error| format!("fills its stock in to one that is refused: {error}"))?;
    sound("plan", &(plan.stock_mm3(), plan.finished_mm3(), plan.stops_mm(), plan.glued_from_mm()))?;
    let mut before = plan.start();
    for stage in plan.stages() {
        let name = stage.name.name();
        of_stage(stage).map_err(|what| format!("{name}: {what}"))?;
        of_wood(&stage.wood, before).map_err(|what| format!("{name}: {what}"))?;
        before = &stage.wood;
    }
    let mut dice = Dice::new(plan.finished_mm3().to_bits() ^ plan.stock_mm3().to_bits());
    if dice.below(SOLIDS_ONE_IN) == 0 {
        // The facets' wood has no mesh now and then yet.
        let meshed = plan.stages().len().saturating_sub(1);
        let chord = CHORDS_MM[dice.below(CHORDS_MM.len())];
        for (i, stage) in plan.stages().iter().enumerate() {
            of_solids(&stage.wood, (i == meshed).then_some(chord))
                .map_err(|what| format!("{}: {what}", stage.name.name()))?;
        }
    }
    // One of them is enough: which one goes by the neck.
    let turn = neck.layout().frets().len() % plan.stages().len().max(1);
    if let Some(stage) = plan.stages().get(turn) {
        crate::inspect::at_stage(neck, stage).map_err(|what| format!("{}: {what}", stage.name.name()))?;
    }
    let Some(last) = plan.stages().last() else { return Err("has a plan without stages".to_owned()) };
    let off = (last.left_mm3 - plan.finished_mm3()) / plan.finished_mm3();
    if off.abs() > SAME {
        return Err(format!("leaves wood that is {off:e} off the finished neck"));
    }
    let again =
        neck.carving_plan(plan.stock()).map_err(|error| format!("has no plan a second time: {error}"))?;
    if again
        .stages()
        .iter()
        .zip(plan.stages())
        .any(|(a, b)| a.removed_mm3.to_bits() != b.removed_mm3.to_bits())
    {
        return Err("has another plan from its filled-in stock".to_owned());
    }
    Ok(())
}

fn of_stage(stage: &Stage) -> Result<(), String> {
    sound("lines", &stage.lines)?;
    sound("checks", &stage.checks)?;
    sound("volumes", &(stage.removed_mm3, stage.left_mm3))?;
    if stage.action.is_empty() || stage.tool.is_empty() {
        return Err("does not say what to do with what".to_owned());
    }
    if stage.cautions.iter().any(|c| c.words.is_empty()) {
        return Err("has a caution without words".to_owned());
    }
    if stage.removed_mm3 < -1e-6 {
        return Err(format!("puts {} mm3 back", -stage.removed_mm3));
    }
    if let Some(clearance) = &stage.clearance {
        sound("clearance", clearance)?;
        if !clearance.holds() {
            return Err(format!("comes too near: {clearance:?}"));
        }
    }
    match &stage.details {
        Details::None => Ok(()),
        Details::Timber(facts) => sound("timber", facts),
        Details::Sawing(lines) => sound("saw lines", lines),
        Details::Cutter(facts) => sound("cutter", facts),
        Details::Facets(facts) => sound("facets", facts),
        Details::Targets(targets) => sound("targets", targets),
        Details::Templates(templates) => sound("templates", templates),
        Details::Sanding(plan) => sound("sanding", plan),
    }
}

fn of_wood(wood: &Wood, before: &Wood) -> Result<(), String> {
    let [from, to] = wood.reach_mm();
    for i in 0..=6 {
        let x = from + (to - from) * (f64::from(i) + 0.5) / 7.0;
        let (area, was) = (wood.area_mm2(x), before.area_mm2(x));
        sound("area", &area)?;
        if area < 0.0 || area > was * (1.0 + 1e-12) {
            return Err(format!("has a section of {area} mm2 at {x}, and before it had {was}"));
        }
        let corners = wood.polyline_mm(x, 0.05).map_err(|error| format!("no section at {x}: {error}"))?;
        sound("section", &corners)?;
        sound("depth", &wood.depth_mm(x).ok())?;
        if let Some([y, z]) = corners.iter().find(|[y, z]| !before.contains_mm([x, *y, *z], 1e-6)) {
            return Err(format!("has wood at {x}, {y}, {z} where there was none before"));
        }
    }
    Ok(())
}

/// The solids of a wood, closed, and a mesh of them. That paths of a ball only just touch, or that cuts come up through the top, is a
/// good answer; that the faces can't be put together is a fault of the library.
fn of_solids(wood: &Wood, chord_mm: Option<f64>) -> Result<(), String> {
    let made = match wood.solids() {
        Ok(made) => made,
        Err(error) => {
            let told = |path: &str| ["cutter.paths", "shaft.carve_line"].contains(&path);
            let good = error.faults().iter().all(|f| told(&f.path) && !f.remedy.is_empty());
            return if good { Ok(()) } else { Err(format!("has no solids: {error}")) };
        }
    };
    if made.is_empty() || made.len() > 2 || !made.iter().all(Solid::is_closed) {
        return Err(format!("is {} solids, or one that is not closed", made.len()));
    }
    let volume = wood.volume_mm3() + wood.bored_mm3();
    let Some(chord) = chord_mm else { return Ok(()) };
    for solid in &made {
        solids::meshed(solid, chord, (made.len() == 1).then_some(volume))?;
    }
    Ok(())
}
