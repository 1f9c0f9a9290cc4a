//! Sections of the shaft while it is being rounded.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::lying::{Lying, PITCH_MM};
use super::marks::{in_decimals, in_mm, letter_at, place};
use super::outline::hatch;
use super::scene::{Drawing, Scene};
use super::words::{heading, whereabouts, words};
use crate::carve::{CutterFacts, CutterRow, Facet, FacetFacts, FacetMarks, TargetRow, Targets};
use crate::measure::told;
use crate::paper::dimension::Dimension;
use crate::paper::draft::Draft;
use crate::paper::flow::COLUMN_MM;
use crate::paper::layer::Layer;
use crate::paper::path::Point;
use crate::paper::sections;
use crate::paper::sheet::Shape;
use crate::paper::station::mm;
use crate::paper::table::{Column, table};
use crate::paper::text::{Anchor, TEXT_MM, Text};
use crate::shape::{Side, Sides};
use crate::spec::CutterShape;

/// How many sections a page shows, where a row has room for them.
const SECTIONS: usize = 4;
/// Width of a row of sections beside which there is room for a column on A3.
const ROW_MM: f64 = 264.0;

/// A section right at a stop may be either side's: it is taken this far within, mm.
const WITHIN_MM: f64 = 1e-4;

/// Of marked stations those that sections are drawn at, the first and the last among them.
fn chosen(count: usize, sections: usize) -> Vec<usize> {
    let mut at: Vec<usize> = (0..sections).map(|i| i * count.saturating_sub(1) / (sections - 1)).collect();
    at.dedup();
    at.retain(|i| *i < count);
    at
}

/// Sections at marked stations: as many as a row holds, no fewer than two.
fn one_row(count: usize, width: f64, section: impl Fn(usize) -> Draft) -> Vec<Draft> {
    let mut most = SECTIONS;
    loop {
        let cells: Vec<Draft> = chosen(count, most).into_iter().map(&section).collect();
        let wide = |d: &Draft| d.bounds()[1][0] - d.bounds()[0][0] + sections::APART_MM;
        let needed: f64 = cells.iter().map(wide).sum();
        if most == 2 || needed <= width + sections::APART_MM {
            return cells;
        }
        most -= 1;
    }
}

/// The section at a station: the wood before, what goes, what is left, the finished neck.
pub(super) fn cell(scene: &Scene<'_>, x: f64) -> Draft {
    let mut draft = Draft::default();
    let [from, to] = scene.plan.stops_mm();
    let x = x.clamp(from + WITHIN_MM, to - WITHIN_MM);
    let (before, after) = (scene.before.section(x), scene.after.section(x));
    if before != after {
        hatch(&mut draft, Layer::Waste, &[before.clone(), after.clone()], PITCH_MM, true);
    }
    draft.closed(Layer::Outline, &before);
    draft.closed(Layer::Left, &after);
    if let Ok(section) = scene.neck.section(x) {
        draft.path(Layer::Finished, sections::path(&section.outline()));
    }
    let [low, high] = draft.bounds();
    draft.line(Layer::Centreline, [0.0, low[1] - 3.0], [0.0, high[1] + 3.0]);
    draft
}

/// Names a section and says something under it.
fn named(draft: &mut Draft, place: &str, notes: &[String]) {
    let low = draft.bounds()[0];
    let mut y = low[1] - 5.0 - 3.2;
    draft.text(Text::new([0.0, y], Anchor::Middle, place).high(3.2));
    for note in notes {
        y -= 1.8 * TEXT_MM;
        draft.text(Text::new([0.0, y], Anchor::Middle, note.as_str()));
    }
}

/// Puts sections below another drawing.
fn under(top: Drawing, cells: &[Draft]) -> Drawing {
    let Drawing { mut draft, origin } = top;
    let [low, high] = draft.bounds();
    let rows = sections::rows(cells, (high[0] - low[0]).max(ROW_MM));
    draft.stand(rows, [low[0], low[1] - 8.0]);
    Drawing { draft, origin }
}

fn alone(cells: &[Draft]) -> Drawing {
    Drawing { draft: sections::rows(cells, ROW_MM), origin: None }
}

/// Whether both sides have the same numbers, to what a page shows of them.
fn alike<const N: usize>(sides: &Sides<[f64; N]>) -> bool {
    sides.bass.iter().zip(&sides.treble).all(|(a, b)| libm::fabs(a - b) < 5e-4 || a == b)
}

/// The run of the cutter from the side, and sections of what it leaves.
pub(super) fn cutter(scene: &Scene<'_>, facts: &CutterFacts) -> Drawing {
    let mut view = Lying::whole(scene);
    let [low, high] = view.draft.bounds();
    let hump = if scene.neck.volute().height_mm > 0.0 { "volute" } else { "transition" };
    for (x, at) in scene.plan.stops_mm().into_iter().zip([hump, "heel"]) {
        view.draft.line(Layer::Hidden, [x, low[1] - 2.0], [x, high[1] + 2.0]);
        view.say_above([x, high[1] + 2.0], format!("stop at the {at} {}", mm(x)));
    }
    view.lines();
    let size = size(facts.shape);
    let one = |i: usize| {
        let row = &facts.rows[i];
        let mut draft = cell(scene, row.x_mm);
        let largest = [row.largest_mm.bass, row.largest_mm.treble].into_iter().flatten().reduce(f64::min);
        let notes: Vec<String> =
            largest.iter().map(|r| format!("largest safe {size} {}", no_more_than(*r))).collect();
        named(&mut draft, &row.place, &notes);
        draft
    };
    let [low, high] = view.draft.bounds();
    let cells = one_row(facts.rows.len(), (high[0] - low[0]).max(ROW_MM), one);
    under(view.done(), &cells)
}

/// To a thousandth: a cutter of 7/8 in is 22.225 mm.
fn thousandths(mm: f64) -> String {
    format!("{mm:.3}")
}

/// A limit to a thousandth, never more than it is but for what the plan takes to be the same.
fn no_more_than(mm: f64) -> String {
    thousandths(libm::floor((mm + 1e-6) * 1e3) / 1e3)
}

/// What a cutter's size is called: a chamfer's is the width that it takes off either face.
const fn size(shape: CutterShape) -> &'static str {
    match shape {
        CutterShape::Chamfer => "width",
        _ => "radius",
    }
}

/// What the cutter leaves, and the path of its centre.
pub(super) fn cutter_words(scene: &Scene<'_>, facts: &CutterFacts) -> Vec<Draft> {
    let side = format!("{} side", facts.largest_side.name());
    let size = size(facts.shape);
    let limit = if let Some(largest) = facts.largest_mm {
        format!(
            "A {} of {} mm ({} in) {size}. The largest that is safe over the whole run: {} mm ({} in), at {} on the {side}.",
            facts.shape.name(),
            thousandths(facts.radius_mm),
            in_decimals(facts.radius_mm),
            no_more_than(largest),
            no_more_than(largest / 25.4),
            whereabouts(scene.neck, facts.largest_x_mm),
        )
    } else {
        format!(
            "A {} of {} mm ({} in) {size}.",
            facts.shape.name(),
            thousandths(facts.radius_mm),
            in_decimals(facts.radius_mm)
        )
    };
    let mut blocks = vec![words(&limit, COLUMN_MM)];
    let same = facts.rows.iter().all(|r| alike(&r.left_mm));
    for side in if same { vec![Side::Bass] } else { vec![Side::Bass, Side::Treble] } {
        blocks.push(left(&facts.rows, side, same));
    }
    let guided: Vec<_> = facts.paths.iter().filter(|p| p.around.is_none()).collect();
    if let [first, .., last] = guided[..] {
        let mirrored = first
            .points_mm
            .iter()
            .zip(&last.points_mm)
            .all(|(a, b)| libm::fabs(a[1] + b[1]) < 5e-4 && libm::fabs(a[2] - b[2]) < 5e-4);
        for path in if mirrored { vec![first] } else { vec![first, last] } {
            let mut rows =
                vec![vec![String::from("cutter's axis at"), "off centreline".into(), "below crown".into()]];
            let at = |row: &CutterRow| path.points_mm.iter().find(|p| p[0] == row.x_mm);
            for (p, row) in facts.rows.iter().filter_map(|row| Some((at(row)?, row))) {
                rows.push(vec![place(&row.place, row.x_mm), mm(libm::fabs(p[1])), mm(-p[2])]);
            }
            let sides = if mirrored { "both sides" } else { path.side.name() };
            let columns = [Column::Words(50.0), Column::Number(36.0), Column::Number(36.0)];
            blocks.push(heading(&format!("Path of the cutter, {sides}"), table(&columns, &rows)));
        }
    } else if !facts.paths.is_empty() {
        blocks.push(words(
            &format!(
                "The ball follows {} paths a side, from the carve line to the spine, each touching the back with its \
                 shaping allowance on: their points are in the plan's data.",
                facts.paths.len() / 2
            ),
            COLUMN_MM,
        ));
    }
    blocks
}

fn left(rows: &[CutterRow], side: Side, same: bool) -> Draft {
    let head = ["at", "carve line", "1/4", "1/2", "3/4", "spine"];
    let mut all = vec![head.map(String::from).to_vec()];
    for row in rows {
        let mut cells = vec![place(&row.place, row.x_mm)];
        cells.extend(row.left_mm.of(side).map(in_mm));
        all.push(cells);
    }
    let mut columns = vec![Column::Words(30.0), Column::Number(26.0)];
    columns.extend([Column::Number(17.0); 4]);
    let sides = if same { "both sides alike".into() } else { format!("{} side", side.name()) };
    heading(&format!("Wood left over the finished back, mm, {sides}"), table(&columns, &all))
}

/// A facet's name: the letters of the lines that it lies between.
fn facet_name(scene: &Scene<'_>, facet: &Facet, x: f64) -> String {
    let Facet { round, side, angle_deg, .. } = facet;
    let begins = format!("round {round}, {} degrees, {} side", told(*angle_deg), side.name());
    let letter = |edge: &str| {
        letter_at(&scene.lines, x, &|name| name.starts_with(&begins) && name.contains(&format!(": {edge}")))
    };
    let letters: Vec<&str> = ["upper", "lower"].into_iter().filter_map(letter).collect();
    letters.join("-")
}

/// Sections with the facets, each with the letters of its lines.
pub(super) fn facets(scene: &Scene<'_>, facts: &FacetFacts) -> Drawing {
    let hand = scene.neck.hand_sign();
    let at = |facet: &Facet, x: f64| facet.marks.iter().find(|m| m.x_mm == x).cloned();
    // Where a facet runs out is a place of its own.
    let shared = |m: &&FacetMarks| facts.facets.iter().all(|f| at(f, m.x_mm).is_some());
    let stations: Vec<&FacetMarks> =
        facts.facets.first().into_iter().flat_map(|f| &f.marks).filter(shared).collect();
    let one = |i: usize| {
        let x = stations[i].x_mm;
        let mut draft = cell(scene, x);
        for facet in &facts.facets {
            let Some(marks) = at(facet, x) else { continue };
            let (Some(upper), Some(lower)) = (marks.upper_mm, marks.lower_mm) else { continue };
            let sign = hand * facet.side.sign();
            let seen = |p: [f64; 2]| [sign * p[0], -p[1]];
            let (upper, lower) = (seen(upper), seen(lower));
            draft.line(Layer::CutLine, upper, lower);
            for centre in [upper, lower] {
                draft.add(Layer::Dimensions, Shape::Circle { centre, radius_mm: 0.4 });
            }
        }
        for facet in &facts.facets {
            let Some(marks) = at(facet, x) else { continue };
            let (Some(upper), Some(lower)) = (marks.upper_mm, marks.lower_mm) else { continue };
            let sign = hand * facet.side.sign();
            let a = facet.angle_deg.to_radians();
            let out = [sign * libm::cos(a), -libm::sin(a)];
            let foot = [0.5 * sign * (upper[0] + lower[0]), -0.5 * (upper[1] + lower[1])];
            number(&mut draft, foot, out, &facet_name(scene, facet, x));
        }
        named(&mut draft, &stations[i].place, &[]);
        draft
    };
    let letters = |m: &&FacetMarks| -> Vec<String> {
        let there = facts.facets.iter().filter(|f| at(f, m.x_mm).is_some_and(|m| m.upper_mm.is_some()));
        there.map(|f| facet_name(scene, f, m.x_mm)).collect()
    };
    let cells: Vec<Draft> =
        telling(&stations.iter().map(letters).collect::<Vec<_>>()).into_iter().map(one).collect();
    alone(&cells)
}

/// Of the stations of all sections those that a page shows: the first and the last, then whichever has the most names that
/// no other shown section has.
fn telling(names: &[Vec<String>]) -> Vec<usize> {
    let mut at = chosen(names.len(), 2);
    loop {
        let new = |i: usize| names[i].iter().filter(|n| !at.iter().any(|k| names[*k].contains(n))).count();
        // Of equals the one nearest to the middle.
        let off = |i: usize| (2 * i).abs_diff(names.len());
        match (0..names.len()).max_by_key(|i| (new(*i), names.len() - off(*i).min(names.len()))) {
            Some(best) if new(best) > 0 => at.push(best),
            _ => break,
        }
    }
    at.sort_unstable();
    at
}

/// A number outward of a place, with a short line to it.
fn number(draft: &mut Draft, foot: Point, out: Point, name: &str) {
    const TURNS: [f64; 9] = [0.0, 0.35, -0.35, 0.7, -0.7, 1.0, -1.0, 1.3, -1.3];
    for (step, turn) in (0..20).flat_map(|step| TURNS.map(|turn| (step, turn))) {
        let away = 4.0 + f64::from(step);
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let out = [cos * out[0] - sin * out[1], sin * out[0] + cos * out[1]];
        let middle = [0, 1].map(|k| foot[k] + away * out[k]);
        let text = Text::new([middle[0], middle[1] - 0.5 * TEXT_MM], Anchor::Middle, name);
        // The line ends where the words' room begins.
        let [low, high] = text.room();
        let within = [0, 1].map(|k| (0.5 * (high[k] - low[k]) + 0.8) / libm::fabs(out[k]).max(1e-9));
        let end = [0, 1].map(|k| middle[k] - within[0].min(within[1]).min(away) * out[k]);
        if draft.is_free(&text) && draft.is_clear(&[foot, end]) {
            draft.text(text);
            draft.line(Layer::Dimensions, foot, end);
            return;
        }
    }
}

/// What the facets leave.
pub(super) fn facet_words(scene: &Scene<'_>, facts: &FacetFacts) -> Vec<Draft> {
    vec![words(
        &format!(
            "In the sections a facet has the letters of the lines that it is planed between; the back itself, round 1 at 90 \
             degrees and planed first, reaches from its line to that of the other side. Each facet leaves {} mm over the \
             finished back; the most wood left at an edge between two facets is {} mm, {}.",
            mm(facts.allowance_mm),
            mm(facts.most_left_mm),
            whereabouts(scene.neck, facts.most_left_x_mm)
        ),
        COLUMN_MM,
    )]
}

/// Sections with what a caliper reads.
pub(super) fn contour(scene: &Scene<'_>, targets: &Targets) -> Drawing {
    let one = |i: usize| {
        let row = &targets.rows[i];
        let mut draft = cell(scene, row.x_mm);
        let [low, high] = draft.bounds();
        let thick = [[0.0, -row.thickness_mm], [0.0, 0.0]];
        draft.dimension(Dimension::upright(thick, high[0] + 7.0, mm(row.thickness_mm)));
        let half = 0.5 * row.width_mm;
        let z = scene
            .after
            .section(row.x_mm)
            .iter()
            .filter(|p| p[0] > half - 0.1)
            .map(|p| p[1])
            .fold(f64::NEG_INFINITY, f64::max);
        let z = if z.is_finite() { z } else { 0.0 };
        draft.dimension(Dimension::level([[-half, z], [half, z]], high[1] + 4.0, mm(row.width_mm)));
        for (j, depth) in row.depths_mm.into_iter().enumerate() {
            let z = -depth;
            let left = low[0] - 2.0;
            draft.line(Layer::Dimensions, [left, z], [high[0] + 2.0, z]);
            let words = format!("{}", ['c', 'b', 'a'][2 - j]);
            let text = Text::new([left - 1.0, z - 0.5 * TEXT_MM], Anchor::End, words.as_str());
            if draft.is_free(&text) {
                draft.text(text);
            }
        }
        named(&mut draft, &row.place, &[format!("girth {}", mm(row.girth_mm))]);
        draft
    };
    let cells = one_row(targets.rows.len(), ROW_MM, one);
    alone(&cells)
}

/// The readings at all stations.
pub(super) fn target_words(scene: &Scene<'_>, targets: &Targets) -> Vec<Draft> {
    let mut rows =
        vec![["at", "thick mm", "in", "wide mm", "in", "girth mm", "in"].map(String::from).to_vec()];
    let head = ["at", "a deep", "wide", "b deep", "wide", "c deep", "wide"];
    let [mut in_mms, mut in_ins] = [0, 1].map(|_| vec![head.map(String::from).to_vec()]);
    for row in &targets.rows {
        let TargetRow { x_mm, thickness_mm, width_mm, girth_mm, .. } = row;
        let at = place(&row.place, *x_mm);
        let mut cells = vec![at.clone()];
        for value in [thickness_mm, width_mm, girth_mm] {
            cells.extend([in_mm(*value), in_decimals(*value)]);
        }
        rows.push(cells);
        for (table, told) in [(&mut in_mms, in_mm as fn(f64) -> String), (&mut in_ins, in_decimals)] {
            let mut cells = vec![at.clone()];
            for (depth, width) in row.depths_mm.iter().zip(row.widths_mm) {
                cells.extend([told(*depth), told(width)]);
            }
            table.push(cells);
        }
    }
    let mut columns = vec![Column::Words(29.0)];
    columns.extend([Column::Number(18.0), Column::Number(15.0)].repeat(3));
    let mut narrow = vec![Column::Words(29.0)];
    narrow.extend([Column::Number(16.5); 6]);
    let flat = if let Some(radius) = targets.flattest_radius_mm {
        format!(
            "A flat shows first {}, where the back is bent to a radius of {} mm.",
            whereabouts(scene.neck, targets.flattest.x_mm),
            mm(radius)
        )
    } else {
        format!("The back is flat {}.", whereabouts(scene.neck, targets.flattest.x_mm))
    };
    vec![
        heading(
            &format!("Caliper and tape, {} mm still on at the spine", mm(targets.allowance_mm)),
            table(&columns, &rows),
        ),
        heading("Widths of the back at depths from the crown, mm", table(&narrow, &in_mms)),
        heading("The same in inches", table(&narrow, &in_ins)),
        words(&flat, COLUMN_MM),
    ]
}
