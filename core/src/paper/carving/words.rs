//! What a page says beside its drawing: the action, what goes and what stays, the checks, the cautions.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::marks::{FACE, in_decimals, in_mm, in_numbers, place, tells_places};
use super::scene::Scene;
use crate::carve::{Check, Clearance, Datum, Stage};
use crate::paper::block::lines as write;
use crate::paper::draft::Draft;
use crate::paper::flow::COLUMN_MM;
use crate::paper::station::mm;
use crate::paper::table::{Column, table};
use crate::paper::text::{Anchor, TEXT_MM, Text};
use crate::shape::Neck;
use crate::spec::{Hand, StageName};

const HEADING_MM: f64 = 3.2;

/// A block under a heading.
pub(super) fn heading(words: &str, block: Draft) -> Draft {
    let mut draft = Draft::default();
    draft.text(Text::new([0.0, -HEADING_MM], Anchor::Start, words).high(HEADING_MM));
    let top = block.bounds()[1][1];
    draft.take(block, [0.0, -HEADING_MM - 2.6 - top]);
    draft
}

/// Words as a block.
pub(super) fn words(words: &str, width: f64) -> Draft {
    let mut draft = Draft::default();
    write(&mut draft, words, 0.0, 0.0, TEXT_MM, width);
    draft
}

/// The place of a station for a sentence.
pub(super) fn whereabouts(neck: &Neck, x: f64) -> String {
    match neck.fret_at(x) {
        Ok(fret) if fret > 0.05 => format!("{} mm from the nut (fret {fret:.1})", mm(x)),
        _ if x < 0.0 => format!("{} mm behind the nut", mm(-x)),
        _ => format!("{} mm from the nut", mm(x)),
    }
}

fn cm3(mm3: f64) -> String {
    format!("{:.1}", libm::round(mm3 / 100.0) / 10.0 + 0.0)
}

/// A proven bound rounded down, so that it stays one.
fn down(value: f64) -> String {
    format!("{:.6}", libm::floor(value * 1e6) / 1e6 + 0.0)
}

fn clearance(stage: &Stage, neck: &Neck, c: &Clearance) -> String {
    let over = match stage.name {
        StageName::Taper => "the finished edges in plan",
        StageName::Rounding => "the finished back with its shaping allowance still on",
        StageName::Contour | StageName::Transitions => "the finished spine",
        _ => "the finished neck",
    };
    let [y, z] = c.at_mm;
    let out = libm::fabs(y);
    let place = match stage.name {
        StageName::Taper => String::new(),
        _ => format!(", {} from the centreline and {} below the crown line", mm(out), mm(-z)),
    };
    let there = whereabouts(neck, c.least.x_mm);
    if c.needed_mm == 0.0 && c.least.value < 5e-5 {
        // It touches what it has to leave; rounding is all that the bound may be below zero.
        let off = down(c.least.proven);
        return format!(
            "Touches {over}, {there}{place}; proven: nowhere into it by more than {} mm.",
            off.trim_start_matches('-')
        );
    }
    format!(
        "Least clearance to {over}: {} mm, {there}{place}; proven: nowhere below {} mm. Asked for: {}.",
        told(c.least.value),
        down(c.least.proven),
        if c.needed_mm > 0.0 { format!("{} mm", told(c.needed_mm)) } else { "none".into() }
    )
}

/// Why a stage has no clearance.
fn unproven(stage: &Stage, neck: &Neck) -> &'static str {
    match stage.name {
        StageName::Blank => "the blank is brought to a size that holds the neck with its allowances",
        StageName::RodChannel if neck.rod_cuts().is_empty() => "nothing is cut",
        StageName::RodChannel => "the channel is cut to its finished size",
        StageName::HeadstockFace => "the face is cut to its finished place",
        StageName::Board => "what is cut of the board is cut to its finished place",
        StageName::Sides => "the sides are cut to their finished place",
        StageName::Stops => "nothing is cut",
        StageName::Sanding => {
            "the grits bring the neck to its finished surface; what stands over it before each of them is in their table"
        }
        StageName::Facets => "no facet is planed",
        // What takes wood nowhere near the neck has no place where it comes nearest.
        _ => "nothing is cut over the finished neck",
    }
}

/// Four decimals, never a negative zero.
fn told(value: f64) -> String {
    format!("{:.4}", libm::round(value * 1e4) / 1e4 + 0.0)
}

/// The action, the tool, the volumes and the clearance.
pub(super) fn action(stage: &Stage, neck: &Neck) -> Vec<Draft> {
    let mut blocks = vec![words(&stage.action, COLUMN_MM)];
    blocks.push(words(&format!("Tool: {}.", stage.tool), COLUMN_MM));
    let removed = stage.removed_mm3.max(0.0);
    blocks.push(words(
        &format!(
            "Taken off: {} cm3. Left: {} cm3, board and neck together.",
            cm3(removed),
            cm3(stage.left_mm3)
        ),
        COLUMN_MM,
    ));
    let proof = match &stage.clearance {
        Some(c) => clearance(stage, neck, c),
        None => format!("No clearance to prove: {}.", unproven(stage, neck)),
    };
    blocks.push(words(&proof, COLUMN_MM));
    blocks
}

/// What to check before going on.
pub(super) fn checks(checks: &[Check]) -> Vec<Draft> {
    let mut rows = vec![vec![String::from("reading"), "at".into(), "mm".into(), "in".into()]];
    let mut last = "";
    let mut by_eye = Vec::new();
    for check in checks {
        let Some(reads) = check.reads_mm else {
            by_eye.push(words(&format!("By eye: {}.", check.what), COLUMN_MM));
            continue;
        };
        let what = if check.what == last { String::new() } else { check.what.clone() };
        last = &check.what;
        let at = check.x_mm.map_or_else(|| check.place.clone(), |x| place(&check.place, x));
        rows.push(vec![what, at, in_mm(reads), in_decimals(reads)]);
    }
    let mut blocks = Vec::new();
    if rows.len() > 1 {
        let columns = [Column::Words(54.4), Column::Words(42.0), Column::Number(16.0), Column::Number(15.6)];
        blocks.push(table(&columns, &rows));
    }
    blocks.extend(by_eye);
    if let Some(first) = blocks.first_mut() {
        *first = heading("Check before you go on", core::mem::take(first));
    }
    blocks
}

/// How places are told, where the page has any that are not nut or fret.
pub(super) fn places(scene: &Scene<'_>) -> Vec<Draft> {
    let lines = scene.stage.lines.iter().filter(|l| !tells_places(l));
    let marks = lines.flat_map(|l| &l.marks).map(|k| (k.place.as_str(), Some(k.x_mm)));
    let checks =
        scene.stage.checks.iter().filter(|c| c.reads_mm.is_some()).map(|c| (c.place.as_str(), c.x_mm));
    let all: Vec<_> = marks.chain(checks).collect();
    let mut notes = Vec::new();
    if all.iter().any(|(name, x)| x.is_some_and(|x| in_numbers(name) || place(name, x) != *name)) {
        notes.push(words(
            "Of a place that is neither nut nor fret the number tells how many mm it is from the nut along the neck; with a \
             minus it is behind it.",
            COLUMN_MM,
        ));
    }
    let on_the_face = all.iter().any(|(name, _)| name.contains(FACE))
        || scene.stage.lines.iter().any(|l| l.name.contains(FACE));
    if on_the_face {
        let behind = mm(-scene.neck.headstock().root_x_mm);
        let slanted = if scene.neck.layout().nut_line().slope != 0.0 {
            ", square across behind that end of the slanted nut which lies nearer to the headstock"
        } else {
            ""
        };
        notes.push(words(
            &format!(
                "Distances along the face begin at the nut's headstock side: on the centreline {behind} mm behind the line \
                 from which the frets are measured{slanted}."
            ),
            COLUMN_MM,
        ));
    }
    notes
}

/// What a measure from the board means once frets are in, and where there is no board.
pub(super) fn from_the_board(stage: &Stage, neck: &Neck) -> Option<Draft> {
    let crown = stage.lines.iter().any(|l| l.from == Datum::BoardTop);
    let off_frets = stage.checks.iter().any(|c| c.what.contains("off the frets"));
    let wire = neck.normalised().frets.crown_height.mm();
    let mut all = String::new();
    if off_frets {
        all += &format!(
            "Frets are not counted: a caliper's jaw rests on the board beside the wire, for on the wire it reads {} mm more. ",
            mm(wire)
        );
    }
    if crown {
        all += "The board's crown is the highest line of its wood. Where no board lies, a straight edge laid along it carries \
                it on";
        all += if stage.wood.is_board_made() && !neck.frets().is_empty() {
            ": on the wood between the frets, notched over the wires."
        } else {
            "."
        };
    }
    (!all.is_empty()).then(|| words(all.trim_end(), COLUMN_MM))
}

/// The cautions, a block each.
pub(super) fn cautions(stage: &Stage) -> Vec<Draft> {
    let one = |c: &crate::carve::Caution| {
        let mut topic: String = c.topic.name().into();
        if let Some(first) = topic.get_mut(..1) {
            first.make_ascii_uppercase();
        }
        words(&format!("{topic}. {}", c.words), COLUMN_MM)
    };
    stage.cautions.iter().map(one).collect()
}

/// How sections, or templates, are seen.
pub(super) fn seen(neck: &Neck, templates: bool) -> Draft {
    let left = if neck.normalised().hand == Hand::Left { "treble" } else { "bass" };
    let what = if templates { "Templates across" } else { "Sections" };
    let depths = if templates {
        " Of those along the neck the ends are told from the nut and down from the crown line; the heel is to the right."
    } else {
        ""
    };
    words(
        &format!("{what} are seen from the heel toward the nut, the {left} side on the left.{depths}"),
        COLUMN_MM,
    )
}
