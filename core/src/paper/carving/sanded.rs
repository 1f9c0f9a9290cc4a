//! The grits.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::rounded::cell;
use super::scene::{Drawing, Scene};
use super::words::{heading, words};
use crate::carve::{Removes, SandingPlan, Zone};
use crate::paper::dimension::Dimension;
use crate::paper::draft::Draft;
use crate::paper::flow::COLUMN_MM;
use crate::paper::table::{Column, table};
use crate::paper::text::{Anchor, Text};

/// Three decimals: what a grit takes off.
fn fine(value: f64) -> String {
    format!("{:.3}", libm::round(value * 1e3) / 1e3 + 0.0)
}

/// A section halfway along the shaft, with the reading before the first grit.
pub(super) fn section(scene: &Scene<'_>, plan: &SandingPlan) -> Drawing {
    let [from, to] = scene.plan.stops_mm();
    let x = 0.5 * (from + to);
    let mut draft = cell(scene, x);
    let [low, high] = draft.bounds();
    if let Ok(finished) = scene.neck.thickness_mm(x) {
        let before = scene.before.wood.depth_mm(x).unwrap_or(finished);
        let reads = format!("{} before the first grit", super::marks::in_mm(before));
        draft.dimension(Dimension::upright([[0.0, -before], [0.0, 0.0]], high[0] + 7.0, reads));
    }
    let place = format!("{:.1} mm from the nut", x);
    draft.text(Text::new([0.0, low[1] - 8.2], Anchor::Middle, place));
    let _ = plan;
    Drawing { draft, origin: None }
}

/// The table of the grits and what every zone is sanded with.
pub(super) fn grits(plan: &SandingPlan) -> Vec<Draft> {
    let mut rows =
        vec![["grit", "grain um", "takes off", "mm", "over before", "after"].map(String::from).to_vec()];
    for step in &plan.steps {
        let marks = match step.removes {
            Removes::ToolMarks => String::from("tool marks"),
            Removes::ScratchesOf(grit) => format!("scratches of {grit}"),
        };
        rows.push(vec![
            format!("{}", step.grit),
            format!("{:.1}", step.grain_um),
            marks,
            fine(step.removes_mm),
            fine(step.left_before_mm),
            fine(step.left_after_mm),
        ]);
    }
    let columns = [
        Column::Words(12.0),
        Column::Number(22.0),
        Column::Words(38.0),
        Column::Number(15.0),
        Column::Number(26.0),
        Column::Number(15.0),
    ];
    let left = |mm: f64, spare: f64| {
        let more = if spare > 0.0 {
            format!(", {} mm more, for the first grit", fine(spare))
        } else {
            String::new()
        };
        format!("{} mm{more}", fine(mm))
    };
    let [take, later] = match plan.steps.len() {
        0 | 1 => ["The one grit takes", ""],
        _ => ["All grits together take", " From the second grit on both stand as far over."],
    };
    let sum = format!(
        "{take} {} mm. Left for sanding: on the spine {}; on the headstock's back {}.{later} Grits by {}.",
        fine(plan.total_mm),
        left(plan.allowance_mm, plan.spare_mm),
        left(plan.headstock_mm, plan.headstock_spare_mm),
        plan.scale.name()
    );
    let mut blocks =
        vec![heading("Grits, mm over the finished spine", table(&columns, &rows)), words(&sum, COLUMN_MM)];
    let mut zones = zones(plan);
    if let Some(first) = zones.first_mut() {
        *first = heading("What the abrasive is held with", core::mem::take(first));
    }
    blocks.extend(zones);
    blocks.extend(notes(plan));
    blocks
}

/// A block for each zone: the grits that it is sanded alike with stand together.
fn zones(plan: &SandingPlan) -> Vec<Draft> {
    let mut blocks = Vec::new();
    for zone in Zone::ALL {
        let mut rows: Vec<(Vec<String>, &str, &str)> = Vec::new();
        for step in &plan.steps {
            let grit = format!("{}", step.grit);
            for held in step.blocks.iter().filter(|b| b.zone == zone) {
                match rows.last_mut() {
                    Some((grits, block, words)) if *block == held.block.name() && *words == held.words => {
                        grits.push(grit.clone());
                    }
                    _ => rows.push((vec![grit.clone()], held.block.name(), held.words)),
                }
            }
        }
        // Not every neck has every zone.
        if rows.is_empty() {
            continue;
        }
        let said = rows
            .iter()
            .map(|(grits, block, words)| format!("{}: {block}. {words}", grits.join(", ")))
            .collect::<Vec<_>>()
            .join(" ");
        let mut name: String = zone.name().into();
        if let Some(first) = name.get_mut(..1) {
            first.make_ascii_uppercase();
        }
        blocks.push(words(&format!("{name}. {said}"), COLUMN_MM));
    }
    blocks
}

fn notes(plan: &SandingPlan) -> Vec<Draft> {
    let mut notes: Vec<(Vec<String>, &str)> = Vec::new();
    for step in &plan.steps {
        for note in &step.notes {
            let grit = format!("{}", step.grit);
            match notes.iter_mut().find(|n| n.1 == *note) {
                Some((grits, _)) => grits.push(grit),
                None => notes.push((vec![grit], note)),
            }
        }
    }
    notes.iter().map(|(grits, note)| words(&format!("{}: {note}", grits.join(", ")), COLUMN_MM)).collect()
}
