//! Templates at full size.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::scene::Drawing;
use crate::carve::{Template, TemplatePlane};
use crate::paper::block::{HEADING_MM, lines as write};
use crate::paper::draft::Draft;
use crate::paper::layer::Layer;
use crate::paper::offset::piece;
use crate::paper::path::{Path, Point};
use crate::paper::sections;
use crate::paper::station::mm;
use crate::paper::text::{Anchor, TEXT_MM, Text};

/// How far a template's body reaches below the curve and beside it, mm.
const BODY_MM: f64 = 10.0;
const BESIDE_MM: f64 = 6.0;

fn same(a: &[Point], b: &[Point]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(p, q)| (0..2).all(|k| libm::fabs(p[k] - q[k]) < 1e-6))
}

/// A template, its curve where the wood is and its body below.
fn cell(name: &str, template: &Template, offset_mm: f64) -> Draft {
    let mut draft = Draft::default();
    let points = &template.points_mm;
    let (first, last) = (points[0], points[points.len() - 1]);
    let base = points.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min) - BODY_MM;
    let mut outline = points.clone();
    let is_across = matches!(template.plane, TemplatePlane::Across { .. });
    if is_across {
        let way = if last[0] > first[0] { 1.0 } else { -1.0 };
        let beside = [last[0] + way * BESIDE_MM, first[0] - way * BESIDE_MM];
        outline.extend([[beside[0], last[1]], [beside[0], base], [beside[1], base], [beside[1], first[1]]]);
    } else {
        outline.extend([[last[0], base], [first[0], base]]);
    }
    piece(&mut draft, Path::polyline(&outline, true), offset_mm);
    let [low, high] = draft.bounds();
    let middle = 0.5 * (low[0] + high[0]);
    let mut notes: Vec<String> = Vec::new();
    if is_across {
        draft.line(Layer::Centreline, [0.0, base - 1.5], [0.0, high[1] + 3.0]);
    } else {
        // The nut is where a template along the neck is set.
        if low[0] < 0.0 && high[0] > 0.0 {
            draft.line(Layer::Centreline, [0.0, base - 1.5], [0.0, high[1] + 3.0]);
            draft.text(Text::new([0.0, high[1] + 4.0], Anchor::Middle, "nut"));
        }
        notes.push(format!("from {} to {}", mm(low[0]), mm(high[0])));
        notes.push(format!("ends {} and {} down", mm(-first[1]), mm(-last[1])));
    }
    let mut y = base - 4.5;
    for words in core::iter::once(name).chain(notes.iter().map(String::as_str)) {
        y -= 1.8 * TEXT_MM;
        draft.text(Text::new([middle, y], Anchor::Middle, words));
    }
    draft
}

/// All templates in rows; those of both sides once where they are the same. With an offset each has the way of a cutter's
/// middle around it.
pub(in crate::paper) fn templates(all: &[Template], width: f64, offset_mm: f64) -> Drawing {
    let mut cells = Vec::new();
    // A stretch of no length has no curve to cut along.
    let usable =
        |t: &&Template| t.points_mm.len() > 1 && t.points_mm[0] != t.points_mm[t.points_mm.len() - 1];
    let drawn: Vec<&Template> = all.iter().filter(usable).collect();
    for (i, template) in drawn.iter().enumerate() {
        let twin = |t: &&&Template| {
            matches!(t.plane, TemplatePlane::SideFace(_)) && same(&t.points_mm, &template.points_mm)
        };
        let is_side = matches!(template.plane, TemplatePlane::SideFace(_));
        if is_side && drawn[..i].iter().any(|t| twin(&t)) {
            continue;
        }
        let both = is_side && drawn[i + 1..].iter().any(|t| twin(&t));
        let name = if both {
            template.name.replace("bass side", "both sides").replace("treble side", "both sides")
        } else {
            template.name.clone()
        };
        cells.push(cell(&name, template, offset_mm));
    }
    let mut draft = sections::rows(&cells, width);
    if let Some(first) = drawn.first() {
        let [low, high] = draft.bounds();
        let which = if drawn.iter().any(|t| t.allowance_mm == 0.0 && first.allowance_mm > 0.0) {
            "Every template but those of the glued zone, which are of the finished shape,"
        } else {
            "Every template"
        };
        let over = if first.allowance_mm > 0.0 {
            format!(
                "{which} has {:.2} mm for the grits on it at the spine, running out to nothing at the carve line.",
                first.allowance_mm
            )
        } else {
            "Every template is of the finished shape.".into()
        };
        let mut words = Draft::default();
        let below = write(&mut words, &over, 0.0, 0.0, TEXT_MM, HEADING_MM);
        draft.stand(words, [low[0], high[1] + 3.2 - below]);
    }
    Drawing { draft, origin: None }
}
