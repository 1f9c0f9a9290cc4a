//! Tables of the lines to mark.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec;
use alloc::vec::Vec;

use super::words::heading;
use crate::carve::{Datum, Face, Line, Mark};
use crate::measure::Sixtyfourths;
use crate::paper::block::lines as write;
use crate::paper::draft::Draft;
use crate::paper::flow::COLUMN_MM;
use crate::paper::station::mm;
use crate::paper::table::{Column, table};
use crate::paper::text::TEXT_MM;

/// Lines beside each other in one table.
const BESIDE: usize = 3;
/// The widest column of places.
const PLACE_MM: f64 = 52.0;
const MM_MM: f64 = 15.0;
const INCH_MM: f64 = 18.6;

/// A line of the plan as the page shows it: two sides that are alike are one.
pub(super) struct Marked<'a> {
    pub line: &'a Line,
    /// What the drawing calls it.
    pub letter: String,
    pub name: String,
    pub on: Face,
    /// Whether it stands for both sides.
    pub both: bool,
}

/// The n-th name: `A` to `Z`, then `A2`.
fn letter(n: usize) -> String {
    let c = char::from(b'A' + (n % 26) as u8);
    if n < 26 { c.to_string() } else { format!("{c}{}", n / 26 + 1) }
}

fn alike(a: &[Mark], b: &[Mark]) -> bool {
    let same = |a: f64, b: f64| libm::fabs(a - b) < 5e-4 || (a.is_nan() && b.is_nan());
    a.len() == b.len()
        && a.iter()
            .zip(b)
            .all(|(a, b)| a.place == b.place && same(a.x_mm, b.x_mm) && same(a.distance_mm, b.distance_mm))
}

/// The lines of a stage; where bass and treble side are the same, once.
pub(super) fn marked(lines: &[Line]) -> Vec<Marked<'_>> {
    let mut all: Vec<Marked<'_>> = Vec::new();
    let mut taken = vec![false; lines.len()];
    for (i, line) in lines.iter().enumerate() {
        if taken[i] || line.marks.is_empty() {
            continue;
        }
        let other = |l: &Line| {
            l.name != line.name
                && l.name.replace("treble side", "bass side") == line.name.replace("treble side", "bass side")
                && l.from == line.from
                && l.straight == line.straight
                && alike(&l.marks, &line.marks)
        };
        let twin = (i + 1..lines.len()).find(|k| !taken[*k] && other(&lines[*k]));
        if let Some(k) = twin {
            taken[k] = true;
        }
        let both = twin.is_some();
        let name = if both {
            line.name
                .replace("the bass side", "either side")
                .replace("the treble side", "either side")
                .replace("bass side", "both sides")
                .replace("treble side", "both sides")
        } else {
            line.name.clone()
        };
        let on = match line.on {
            Face::BassSide | Face::TrebleSide if both => Face::BothSides,
            on => on,
        };
        all.push(Marked { line, letter: letter(all.len()), name, on, both });
    }
    all
}

/// What a drawing calls the line of which `is` tells by its name, and which has a mark at a station; of two alike sides one
/// line stands for both.
pub(super) fn letter_at<'a>(all: &'a [Marked<'_>], x_mm: f64, is: &dyn Fn(&str) -> bool) -> Option<&'a str> {
    let named = |m: &&Marked<'_>| {
        is(&m.line.name) || (m.both && is(&m.line.name.replace("bass side", "treble side")))
    };
    let marked = |m: &&Marked<'_>| m.line.marks.iter().any(|k| k.x_mm == x_mm);
    all.iter().filter(named).find(marked).map(|m| m.letter.as_str())
}

/// A distance in mm; `-` where there is none.
pub(super) fn in_mm(value: f64) -> String {
    if value.is_nan() { "-".into() } else { mm(value) }
}

/// A distance to a 64th of an inch, for an inch rule.
pub(super) fn in_64ths(value: Sixtyfourths) -> String {
    if value.count().is_nan() {
        return "-".into();
    }
    value.to_string().trim_end_matches(" in").into()
}

/// What an instrument reads, in inches: finer than any 64th, in which a whole allowance could vanish.
pub(super) fn in_decimals(value: f64) -> String {
    if value.is_nan() { "-".into() } else { format!("{:.3}", libm::round(value / 25.4 * 1e3) / 1e3 + 0.0) }
}

/// A place as a table tells it: one that is neither nut nor fret with its station, so that it can be found.
pub(super) fn place(place: &str, x: f64) -> String {
    let known = place == "nut" || ["fret ", "position ", "hole "].iter().any(|k| place.starts_with(k));
    if known || in_numbers(place) || place.contains(FACE) {
        place.into()
    } else {
        format!("{place} ({x:.1})")
    }
}

/// Whether a place is told as a station.
pub(super) fn in_numbers(place: &str) -> bool {
    place.starts_with(|c: char| c == '-' || c.is_ascii_digit()) && place.ends_with("mm")
}

/// What marks and readings on the headstock's face are told by.
pub(super) const FACE: &str = "along the face";

fn said(m: &Marked<'_>) -> String {
    let from = match m.line.from {
        Datum::Nut => "along the neck from ",
        // The name tells it.
        Datum::FaceStart if !m.name.contains(FACE) => "along the face from ",
        _ => "from ",
    };
    let shape = match (m.line.marks.len(), m.line.straight) {
        // Places for a drill are no line.
        _ if m.name.starts_with("tuner hole") => "",
        (0..=2, _) => "",
        (_, true) => "; straight",
        (_, false) => "; joined from mark to mark, straight or fair",
    };
    let on = if m.name.contains(m.on.name()) { String::new() } else { format!("on {}, ", the(m.on)) };
    format!("{}  {}: {on}{from}{}{shape}.", m.letter, m.name, m.line.from.name())
}

fn the(face: Face) -> String {
    match face {
        Face::BothSides => "both sides".into(),
        face => format!("the {}", face.name()),
    }
}

/// Whether two lines fit one table: half of the places of the shorter one, or more, are the other's too.
fn together(a: &Marked<'_>, b: &Marked<'_>) -> bool {
    let from = [a.line.from, b.line.from];
    let (a, b) = (&a.line.marks, &b.line.marks);
    let shared = a.iter().filter(|k| b.iter().any(|o| same_place(k, o))).count();
    if (from[0] == Datum::Nut) != (from[1] == Datum::Nut) {
        return false;
    }
    2 * shared >= a.len().min(b.len()) && shared > 0
}

fn same_place(a: &Mark, b: &Mark) -> bool {
    // The ends of a slanted line are told along the neck like its middle, and share its row.
    let along = |k: &Mark| k.x_mm == k.distance_mm;
    a.place == b.place && (a.x_mm == b.x_mm || (along(a) && along(b)))
}

/// Whether the distances of a line tell the places themselves.
pub(super) const fn tells_places(line: &Line) -> bool {
    matches!(line.from, Datum::Nut | Datum::BlankEnd | Datum::BlankHeelEnd | Datum::FaceStart)
}

/// The places of several lines in their order along the neck.
fn places<'a>(group: &[Marked<'a>]) -> Vec<&'a Mark> {
    let mut all: Vec<&Mark> = group[0].line.marks.iter().collect();
    for mark in group[1..].iter().flat_map(|m| &m.line.marks) {
        if !all.iter().any(|k| same_place(k, mark)) {
            let falling = all.len() > 1 && all[0].x_mm > all[1].x_mm;
            let at = all.iter().position(|k| (k.x_mm > mark.x_mm) != falling).unwrap_or(all.len());
            all.insert(at, mark);
        }
    }
    all
}

/// Single marks of the same kind: a row each.
fn single(m: &Marked<'_>) -> bool {
    m.line.marks.len() == 1
}

fn singles(group: &[Marked<'_>]) -> Draft {
    let first = &group[0];
    let mut rows = vec![vec![String::new(), format!("mm from {}", first.line.from.name()), "in".into()]];
    for m in group {
        let mark = &m.line.marks[0];
        let place = if m.name.contains(&mark.place) { String::new() } else { format!(", {}", mark.place) };
        rows.push(vec![
            format!("{}  {}{place}", m.letter, m.name),
            in_mm(mark.distance_mm),
            in_64ths(m.line.sixtyfourths(mark.distance_mm)),
        ]);
    }
    table(&[Column::Words(76.0), Column::Number(33.0), Column::Number(INCH_MM)], &rows)
}

fn several(group: &[Marked<'_>]) -> Draft {
    let mut draft = Draft::default();
    let mut y = 0.0;
    for m in group {
        y = write(&mut draft, &said(m), 0.0, y, TEXT_MM, COLUMN_MM) - 0.4;
    }
    let left = COLUMN_MM - group.len() as f64 * (MM_MM + INCH_MM);
    let mut columns = vec![Column::Words(left.min(PLACE_MM))];
    let mut head = vec![String::from("at")];
    for m in group {
        columns.extend([Column::Number(MM_MM), Column::Number(INCH_MM)]);
        // Two letters leave no room for the unit.
        let unit = if m.letter.len() > 1 { "" } else { " mm" };
        head.extend([format!("{}{unit}", m.letter), "in".into()]);
    }
    let mut rows = vec![head];
    let itself = group.iter().any(|m| tells_places(m.line));
    for at in places(group) {
        let mut row = vec![if itself { at.place.clone() } else { place(&at.place, at.x_mm) }];
        for m in group {
            let mark = m.line.marks.iter().find(|k| same_place(k, at));
            let distance = mark.map_or(f64::NAN, |k| k.distance_mm);
            row.extend([in_mm(distance), in_64ths(m.line.sixtyfourths(distance))]);
        }
        rows.push(row);
    }
    draft.take(table(&columns, &rows), [0.0, y - 1.5]);
    draft
}

/// The lines that have no mark anywhere, by name.
pub(super) fn unmarked(lines: &[Line]) -> Option<String> {
    let names: Vec<&str> = lines.iter().filter(|l| l.marks.is_empty()).map(|l| l.name.as_str()).collect();
    (!names.is_empty()).then(|| format!("Nothing to mark, as nothing is cut there: {}.", names.join("; ")))
}

/// The tables of all lines, as blocks.
pub(super) fn tables(all: &[Marked<'_>]) -> Vec<Draft> {
    let mut blocks = Vec::new();
    let mut rest = all;
    while let Some(first) = rest.first() {
        let like = |m: &&Marked<'_>| {
            if single(first) { single(m) && m.line.from == first.line.from } else { together(m, first) }
        };
        let count = rest.iter().take_while(like).count().max(1);
        let count = if single(first) { count } else { count.min(BESIDE) };
        let (group, after) = rest.split_at(count);
        blocks.push(if single(first) { singles(group) } else { several(group) });
        rest = after;
    }
    if let Some(first) = blocks.first_mut() {
        *first = heading("Lines to mark", core::mem::take(first));
    }
    blocks
}
