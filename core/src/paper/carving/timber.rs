//! The blank, and the saw's lines, in words.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::flow::COLUMN_MM;
use super::marks::{in_inches, in_mm};
use super::table::{Column, table};
use super::words::{heading, whereabouts, words};
use crate::carve::{SawLine, TimberFacts, Way};
use crate::paper::dimension::Dimension;
use crate::paper::draft::Draft;
use crate::paper::layer::Layer;
use crate::paper::path::Point;
use crate::paper::station::mm;
use crate::paper::text::{Anchor, Text};
use crate::shape::Neck;

fn sizes(mm3: [f64; 3]) -> String {
    let [length, width, thickness] = mm3.map(mm);
    format!("{length} x {width} x {thickness} mm")
}

fn cm3(mm3: f64) -> String {
    format!("{:.1}", libm::round(mm3 / 100.0) / 10.0)
}

/// The blanks, the place of the neck in them, and both ways of making it.
pub(super) fn facts(facts: &TimberFacts) -> Vec<Draft> {
    let share = if facts.stock_mm3 > 0.0 { 100.0 * facts.waste_mm3 / facts.stock_mm3 } else { 0.0 };
    let blanks = format!(
        "Neck blank {}, board's blank {}; together {} cm3, of which {} cm3 ({share:.0} %) become waste. From the blank's \
         headstock end to the nut: {} mm.",
        sizes(facts.blank_mm),
        sizes(facts.board_blank_mm),
        cm3(facts.stock_mm3),
        cm3(facts.waste_mm3),
        mm(facts.nut_from_end_mm)
    );
    let glued =
        facts.scarf_mm.map(|_| words("The neck lies in the wood as it is with the scarf glued.", COLUMN_MM));
    let row = |name: &str, f: &dyn Fn(&Way) -> String| {
        let [one, scarf] = &facts.ways;
        vec![String::from(name), f(one), f(scarf)]
    };
    let slope = |w: &Way| match w.turned_from_mm {
        Some([back, _]) => format!("along it, but behind the nut ({back:.0} mm) as in one piece"),
        None if w.grain_slope > 0.0 => format!("1 in {:.1}", 1.0 / w.grain_slope),
        None => "along it".into(),
    };
    let strength = |w: &Way| {
        let beyond = if w.grain_slope > 0.2 { "less than " } else { "about " };
        format!("{beyond}{:.0} %", 100.0 * w.grain_strength)
    };
    let mut rows = vec![
        row("least blank, mm", &|w| w.construction.name().into()),
        row("length", &|w| mm(w.needed_mm[0])),
        row("width", &|w| mm(w.needed_mm[1])),
        row("thickness", &|w| mm(w.needed_mm[2])),
        row("volume, cm3", &|w| cm3(w.volume_mm3)),
        row("grain in the headstock", &slope),
        row("strength left there", &strength),
    ];
    if facts.ways.iter().any(|w| w.obstacle.is_some()) {
        rows.push(row("what is in the way", &|w| w.obstacle.clone().unwrap_or_else(|| "nothing".into())));
    }
    let columns = [Column::Words(44.0), Column::Words(42.0), Column::Words(42.0)];
    let mut blocks = vec![words(&blanks, COLUMN_MM)];
    blocks.extend(glued);
    blocks.push(heading("One piece or scarfed", table(&columns, &rows)));
    blocks
}

/// The saw's lines, each with its own clearance.
pub(super) fn saw_lines(lines: &[SawLine], neck: &Neck) -> Vec<Draft> {
    let mut rows =
        vec![["line along the", "chosen by", "wood left, mm", "least there"].map(String::from).to_vec()];
    for line in lines {
        rows.push(vec![
            line.name.into(),
            if line.chosen { "you" } else { "best straight line" }.into(),
            mm(line.clearance.least.value),
            whereabouts(neck, line.clearance.least.x_mm),
        ]);
    }
    let columns = [Column::Words(28.0), Column::Words(30.0), Column::Number(22.0), Column::Words(48.0)];
    vec![heading("Wood that the saw leaves over the finished back", table(&columns, &rows))]
}

/// The blank as it comes, with the scarf to saw: the heel's end on the right, its top face up.
pub(super) fn scarf(facts: &TimberFacts, neck: &Neck, end: f64) -> Option<Draft> {
    let [run, _] = facts.scarf_mm?;
    let [length, _, thick] = facts.blank_mm;
    let mut draft = Draft::default();
    draft.closed(Layer::Outline, &[[0.0, 0.0], [length, 0.0], [length, thick], [0.0, thick]]);
    // The slope goes on from the shaft's top, where the headstock's face begins, down toward the headstock's end.
    let top = length - (end - neck.headstock().root_x_mm);
    let cut = [[top, thick], [top - run, 0.0]];
    draft.polyline(Layer::CutLine, &cut);
    let level = |from: Point, to: Point, y: f64, words: &str| {
        Dimension::level([from, to], y, format!("{words}: {}", mm(libm::fabs(to[0] - from[0]))))
    };
    draft.dimension(level(cut[0], [length, thick], thick + 6.0, "scarf to heel's end, on the top"));
    draft.dimension(level(cut[1], [cut[0][0], 0.0], -7.0, "scarf"));
    draft.text(Text::new([0.0, thick + 7.0], Anchor::Start, "The blank as it comes, with the scarf to saw"));
    Some(draft)
}

/// How far out fanned slots end; how far along the neck the lines to mark tell.
pub(super) fn fan(neck: &Neck) -> Vec<Draft> {
    if !neck.layout().fan().is_fanned() {
        return Vec::new();
    }
    let board = neck.layout().board();
    let mut rows = vec![["", "bass end mm", "in", "treble end mm", "in"].map(String::from).to_vec()];
    let mut say = |name: String, out: [f64; 2]| {
        let mut row = vec![name];
        for out in out.map(libm::fabs) {
            row.extend([in_mm(out), in_inches(out)]);
        }
        rows.push(row);
    };
    say("nut".into(), board.nut_ends_mm().map(|x| 0.5 * board.width_mm(x)));
    for fret in neck.layout().frets() {
        let (bass, treble) = fret.slot_ends_mm;
        say(format!("fret {}", fret.number), [bass.1, treble.1]);
    }
    say("board's end".into(), [0.5 * board.width_mm(board.end_mm()); 2]);
    let number = [Column::Number(26.0), Column::Number(22.0)];
    let columns = [Column::Words(26.0), number[0], number[1], number[0], number[1]];
    vec![heading("How far out from the centreline these ends lie", table(&columns, &rows))]
}
