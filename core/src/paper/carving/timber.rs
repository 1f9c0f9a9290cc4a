//! The blank, and the saw's lines, in words.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::marks::{Marked, in_64ths, in_mm};
use super::words::{heading, whereabouts, words};
use crate::carve::{Datum, Face, Grain, HeelBlock, SawLine, TimberFacts, Way};
use crate::measure::Length;
use crate::paper::dimension::Dimension;
use crate::paper::draft::Draft;
use crate::paper::flow::COLUMN_MM;
use crate::paper::layer::Layer;
use crate::paper::path::Point;
use crate::paper::station::mm;
use crate::paper::table::{Column, table};
use crate::paper::text::{Anchor, Text};
use crate::shape::Neck;

fn sizes(mm3: [f64; 3]) -> String {
    let [length, width, thickness] = mm3.map(mm);
    format!("{length} x {width} x {thickness} mm")
}

fn cm3(mm3: f64) -> String {
    format!("{:.1}", libm::round(mm3 / 100.0) / 10.0)
}

/// The heel's block that is glued on.
fn block_words(block: &HeelBlock) -> String {
    format!(
        "Heel's block {}, its grain along the neck, glued under the blank; its front end lies {}, {} mm from the blank's \
         end at the heel.",
        sizes(block.size_mm),
        ends_at(block.from_x_mm),
        mm(block.from_end_mm)
    )
}

fn ends_at(x: f64) -> String {
    if x < 0.0 { format!("{} mm behind the nut", mm(-x)) } else { format!("{} mm from the nut", mm(x)) }
}

/// The blanks, the place of the neck in them, and both ways of making it.
pub(super) fn facts(facts: &TimberFacts) -> Vec<Draft> {
    let share = if facts.stock_mm3 > 0.0 { 100.0 * facts.waste_mm3 / facts.stock_mm3 } else { 0.0 };
    let blanks = format!(
        "Neck blank {}, board's blank {}; {} {} cm3, of which {} cm3 ({share:.0} %) become waste. From the blank's \
         headstock end to the nut: {} mm.",
        sizes(facts.blank_mm),
        sizes(facts.board_blank_mm),
        if facts.heel_block.is_some() { "with the heel's block" } else { "together" },
        cm3(facts.stock_mm3),
        cm3(facts.waste_mm3),
        mm(facts.nut_from_end_mm)
    );
    let glued = match (facts.scarf_mm, facts.heel_block) {
        (None, None) => None,
        (Some(_), None) => Some("with the scarf glued"),
        (None, Some(_)) => Some("with the heel's block glued on"),
        (Some(_), Some(_)) => Some("with the scarf and the heel's block glued"),
    };
    let mut blocks = vec![words(&blanks, COLUMN_MM)];
    blocks.extend(facts.heel_block.map(|b| words(&block_words(&b), COLUMN_MM)));
    blocks.extend(glued.map(|so| words(&format!("The neck lies in the wood as it is {so}."), COLUMN_MM)));
    blocks.push(heading("One piece or scarfed", side_by_side(&facts.ways)));
    blocks.extend(grain_words(&facts.ways).map(|w| words(&w, COLUMN_MM)));
    blocks
}

fn slope(grain: &Grain) -> String {
    if grain.slope > 0.0 { format!("1 in {:.1}", 1.0 / grain.slope) } else { "along it".into() }
}

fn strength(grain: &Grain) -> String {
    let beyond = if grain.slope > 0.2 { "less than" } else { "about" };
    format!("{beyond} {:.0} %", 100.0 * grain.strength)
}

fn side_by_side(ways: &[Way; 2]) -> Draft {
    let row = |name: &str, f: &dyn Fn(&Way) -> String| {
        let [one, scarf] = ways;
        vec![String::from(name), f(one), f(scarf)]
    };
    let dash = || String::from("-");
    let mut rows = vec![
        row("least blank, mm", &|w| w.construction.name().into()),
        row("length", &|w| mm(w.needed_mm[0])),
        row("width", &|w| mm(w.needed_mm[1])),
        row("thickness", &|w| mm(w.needed_mm[2])),
    ];
    if ways.iter().any(|w| w.block_mm.is_some()) {
        let block = |w: &Way| {
            w.block_mm.map_or_else(
                || "none needed".into(),
                |[l, b, t]| format!("{} x {} x {}", mm(l), mm(b), mm(t)),
            )
        };
        rows.push(row("least heel's block", &block));
    }
    rows.push(row("volume, cm3", &|w| cm3(w.volume_mm3)));
    if ways.iter().any(|w| w.block_glued_mm.is_some()) {
        let least = |w: &Way| w.block_glued_mm.map_or_else(dash, mm);
        rows.push(row("thickness, were the heel's block glued on", &least));
    }
    rows.push(row("grain in the headstock, shaft's own wood", &|w| slope(&w.grain)));
    rows.push(row("strength left there", &|w| strength(&w.grain)));
    if ways.iter().any(|w| w.turned.is_some()) {
        rows.push(row("grain of the piece turned over", &|w| {
            w.turned.map_or_else(dash, |t| slope(&t.grain))
        }));
        rows.push(row("strength left there", &|w| w.turned.map_or_else(dash, |t| strength(&t.grain))));
    }
    if ways.iter().any(|w| w.obstacle.is_some()) {
        let obstacle = |w: &Way| match (&w.obstacle, w.block_glued_mm) {
            (None, _) => String::from("nothing"),
            (Some(why), None) => why.clone(),
            (Some(why), Some(_)) => format!("{why}; glue the heel's block on to make it possible"),
        };
        rows.push(row("what is in the way", &obstacle));
    }
    table(&[Column::Words(44.0), Column::Words(42.0), Column::Words(42.0)], &rows)
}

/// Which wood of a scarfed headstock lies where, and what that means.
fn grain_words(ways: &[Way; 2]) -> Option<String> {
    let turned = ways.iter().find_map(|w| w.turned)?;
    let [back, face] = turned.from_mm;
    let first = if back >= 0.05 {
        format!(
            "Behind the nut, to {} mm along its back, a scarfed headstock is the shaft's own wood and no stronger than in \
             one piece. From there to {} mm",
            mm(back),
            mm(face)
        )
    } else {
        format!("From the nut to {} mm", mm(face))
    };
    Some(format!(
        "{first} on its face the shaft's wood thins out over the piece that was turned over: its short grain lies on \
         a glued face {} mm long, with grain that runs true below it. Beyond that the headstock is the turned piece alone, \
         tip and tuner holes with it. A thinner blank brings the joint nearer to the nut. The shares of strength are for \
         clear wood of that slope; they say nothing of the joint, which is as good as its fit and its glue.",
        mm(face)
    ))
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

/// The blank as it comes, with the scarf to saw, its top face up: the end at the heel on the right, and on the left the
/// end that is sawn off with the piece that becomes the headstock.
pub(super) fn scarf(facts: &TimberFacts, lines: &[Marked<'_>]) -> Option<Draft> {
    let ([_, slope], [top, under]) = (facts.scarf_mm?, facts.scarf_from_end_mm?);
    let [length, _, thick] = facts.blank_mm;
    let letter = lines.iter().find(|m| m.line.from == Datum::BlankHeelEnd && m.on == Face::BothSides);
    let letter = letter.map_or_else(String::new, |m| format!("{}  ", m.letter));
    let mut draft = Draft::default();
    draft.closed(Layer::Outline, &[[0.0, 0.0], [length, 0.0], [length, thick], [0.0, thick]]);
    // The slope goes on from the shaft's top, where the headstock's face begins, down toward the headstock's end.
    let cut = [[length - top, thick], [length - under, 0.0]];
    draft.polyline(Layer::CutLine, &cut);
    let level = |from: Point, to: Point, y: f64, words: &str| {
        Dimension::level([from, to], y, format!("{words}: {}", mm(libm::fabs(to[0] - from[0]))))
    };
    let top_words = format!("{letter}top face, to the blank's end at the heel");
    draft.dimension(level(cut[0], [length, thick], thick + 6.0, &top_words));
    let under_words = format!("{letter}underside, to the blank's end at the heel");
    draft.dimension(level(cut[1], [length, 0.0], -7.0, &under_words));
    draft.dimension(level([0.0, 0.0], cut[1], -7.0, "becomes headstock").words_left());
    draft.dimension(Dimension::upright([[length, 0.0], [length, thick]], length + 7.0, mm(thick)));
    // Under the slope, where it is high enough.
    let at = [0.45 * cut[1][0] + 0.55 * cut[0][0], 0.2 * thick];
    draft.text(Text::new(at, Anchor::Start, format!("{} along the cut", mm(slope))));
    draft.text(Text::new(
        [0.0, thick + 13.0],
        Anchor::Start,
        "The blank as it comes, its top face up, with the scarf to saw; the end at the heel is on the right",
    ));
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
            row.extend([in_mm(out), in_64ths(Length::from_mm(out).nearest_64th())]);
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
