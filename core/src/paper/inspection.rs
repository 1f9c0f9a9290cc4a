//! The map of what is left to take, on the back laid flat.

mod ring;

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::block::{Words, blocks};
use super::draft::Draft;
use super::flow::{flow, lefts};
use super::layer::Layer;
use super::legend::MAP;
use super::path::Point;
use super::sheet::Sheet;
use super::station::{mm, name};
use super::text::{Anchor, TEXT_MM, Text};
use crate::inspect::{Finding, FindingKind, Inspection, Map, Place, stretch_words};
use crate::shape::{Neck, Side, Sides};

/// Rows of numbers: places around as a share of the way from the spine to the top edge.
const ROWS: [f64; 7] = [-0.9, -0.6, -0.3, 0.0, 0.3, 0.6, 0.9];
/// Numbers closer together along the neck than this run into each other.
const PITCH_MM: f64 = 13.0;
/// From the edges to the words beside them, mm.
const BESIDE_MM: f64 = 5.0;

/// What the numbers say and don't.
struct Told {
    /// Whether there are places that no reading tells of.
    unknown: bool,
    /// The least and the greatest standard uncertainty of those told, mm.
    unsure_mm: [f64; 2],
}

/// The back laid flat: along the neck to the right, around it up and down, the bass side of a right-handed neck above.
struct Flat<'a> {
    neck: &'a Neck,
    map: &'a Map,
}

impl Flat<'_> {
    /// The way around from the spine to a side's top edge, and to its carve line.
    fn ways(&self, x: f64) -> Sides<[f64; 2]> {
        let section = self.neck.section_at(x);
        Sides::each(|side| section.ways_up_mm(side))
    }

    /// Bass is drawn above on a right-handed neck, and below on its mirror image.
    fn up(&self, side: Side) -> f64 {
        -side.sign() * self.neck.hand_sign()
    }

    /// A place around as a share, −1 at the bass edge.
    fn at(&self, x: f64, around: f64) -> Point {
        let side = if around < 0.0 { Side::Bass } else { Side::Treble };
        [x, self.up(side) * libm::fabs(around) * self.ways(x).of(side)[0]]
    }

    fn outline(&self, draft: &mut Draft) {
        for side in Side::BOTH {
            let line = |k: usize| -> Vec<Point> {
                self.map.x_mm.iter().map(|x| [*x, self.up(side) * self.ways(*x).of(side)[k]]).collect()
            };
            draft.polyline(Layer::Outline, &line(0));
            draft.polyline(Layer::Edges, &line(1));
        }
        if let (Some(from), Some(to)) = (self.map.x_mm.first(), self.map.x_mm.last()) {
            for x in [*from, *to] {
                draft.line(Layer::Outline, self.at(x, -1.0), self.at(x, 1.0));
            }
            draft.line(Layer::Centreline, [from - 4.0, 0.0], [to + 4.0, 0.0]);
        }
    }

    /// What is left at a place, between the cells around it, and its standard uncertainty; `None` where the map does not
    /// know.
    fn left(&self, x: f64, around: f64) -> Option<[f64; 2]> {
        let corner = |list: &[f64], at: f64| -> Option<(usize, f64)> {
            let i = list.partition_point(|v| *v <= at).clamp(1, list.len().checked_sub(1)?) - 1;
            let (a, b) = (*list.get(i)?, *list.get(i + 1)?);
            Some((i, ((at - a) / (b - a)).clamp(0.0, 1.0)))
        };
        let (i, s) = corner(&self.map.x_mm, x)?;
        let (j, t) = corner(&self.map.around, around)?;
        let (mut left, mut unsure) = (0.0, 0.0);
        for (k, a) in [(i, 1.0 - s), (i + 1, s)] {
            for (l, b) in [(j, 1.0 - t), (j + 1, t)] {
                let cell = self.map.cell(k, l)?;
                left += a * b * cell.left_mm;
                unsure += a * b * cell.uncertainty_mm;
            }
        }
        self.map.knows(unsure).then_some([left, unsure])
    }

    /// Stations with numbers, the nut and every fret that leaves room, and how the numbers stand at them: within the map at
    /// its ends.
    fn stations(&self) -> Vec<(f64, Anchor)> {
        let (Some(from), Some(to)) = (self.map.x_mm.first(), self.map.x_mm.last()) else { return Vec::new() };
        let frets = (0..=60).filter_map(|n| self.neck.station_mm(f64::from(n)).ok());
        let half = 0.5 * PITCH_MM;
        let mut kept: Vec<(f64, Anchor)> = Vec::new();
        let mut latest = f64::NEG_INFINITY;
        for x in frets.filter(|x| x >= from && x <= to) {
            let (anchor, middle) = if x - half < *from {
                (Anchor::Start, x + half)
            } else if x + half > *to {
                (Anchor::End, x - half)
            } else {
                (Anchor::Middle, x)
            };
            if middle - latest >= PITCH_MM {
                latest = middle;
                kept.push((x, anchor));
            }
        }
        kept
    }

    fn numbers(&self, draft: &mut Draft) -> Told {
        let mut told = Told { unknown: false, unsure_mm: [f64::INFINITY, 0.0] };
        for (x, anchor) in self.stations() {
            let beside = match anchor {
                Anchor::Start => 1.0,
                Anchor::End => -1.0,
                Anchor::Middle => 0.0,
            };
            for around in ROWS {
                let [x, y] = self.at(x, around);
                let words = match self.left(x, around) {
                    Some([left, unsure]) => {
                        let [least, most] = told.unsure_mm;
                        told.unsure_mm = [least.min(unsure), most.max(unsure)];
                        signed(left)
                    }
                    None => {
                        told.unknown = true;
                        String::from("?")
                    }
                };
                // Along the spine they stand above its line.
                let up = if around == 0.0 { 0.8 } else { -0.5 * TEXT_MM };
                draft.text(Text::new([x + beside, y + up], anchor, words));
            }
            for (k, side) in [(-1.0, Side::Bass), (1.0, Side::Treble)] {
                let [x, y] = self.at(x, k);
                let out = self.up(side);
                draft.line(Layer::Dimensions, [x, y], [x, y + 1.5 * out]);
                if out < 0.0 {
                    draft.text(Text::new([x, y - 2.5 - TEXT_MM], Anchor::Middle, name(self.neck, x)));
                }
            }
        }
        told
    }

    fn sides(&self, draft: &mut Draft) {
        let Some(from) = self.map.x_mm.first() else { return };
        for side in Side::BOTH {
            let y = self.up(side) * 0.5 * self.ways(*from).of(side)[0];
            let words = format!("{} side", side.name());
            draft.text(Text::new([from - BESIDE_MM, y - 0.5 * TEXT_MM], Anchor::End, words));
        }
        draft.text(Text::new([from - BESIDE_MM, -0.5 * TEXT_MM], Anchor::End, "spine"));
    }
}

/// Two decimals with their sign, and none for what rounds to nothing.
fn signed(left: f64) -> String {
    let hundredths = libm::round(left * 100.0);
    if hundredths == 0.0 { String::from("0") } else { format!("{:+.2}", 0.01 * hundredths) }
}

/// What was found, with the number of its ring where it has one.
fn listed(neck: &Neck, found: &[&Finding], ringed: bool) -> Vec<String> {
    let line = |(i, f): (usize, &&Finding)| {
        let at = stretch_words(neck, f.x_mm);
        let amount = mm(libm::fabs(f.amplitude_mm));
        let unsure = mm(2.0 * f.uncertainty_mm);
        let what = match (f.kind, f.place) {
            (FindingKind::Low, Place::Width) => format!("{amount} too narrow"),
            (FindingKind::Low, Place::Girth) => format!("{amount} too small"),
            (FindingKind::Low, Place::CarveLine(_)) => format!("{amount} too high up"),
            (FindingKind::Low, _) => format!("{amount} below the finished neck"),
            _ => format!("a {} of {amount}", f.kind.name()),
        };
        let lowest = f.lowest.map(|lowest| lowest.deviation);
        let lowest = lowest.filter(|d| f.amplitude_mm - d.mm > 2.0 * d.uncertainty_mm);
        let lowest = lowest.map_or(String::new(), |d| format!(", {} at its lowest", mm(libm::fabs(d.mm))));
        let number = if ringed { format!("{}: ", i + 1) } else { String::new() };
        format!("{number}{at}, {}: {what} (±{unsure}){lowest}.", f.place.name())
    };
    found.iter().enumerate().map(line).collect()
}

/// The map of an inspection: the back laid flat at full size, as a tape around it would lie, with what is left to take
/// at nut and frets in millimetres, and a ring around each low patch, flat, hollow and bump. What is left is told to
/// the finished neck, or to the stage that was asked for. `None` for an inspection without a map.
///
/// The bass side of a right-handed neck lies above, the treble side of a left-handed one.
#[must_use]
pub fn inspection(neck: &Neck, inspection: &Inspection) -> Option<Sheet> {
    let stage = inspection.stage.filter(|_| inspection.stage_map.is_some());
    let map = inspection.stage_map.as_ref().or(inspection.map.as_ref())?;
    let flat = Flat { neck, map };
    // A width or a girth that is low lies at no one place of the back.
    let (whole, found): (Vec<&Finding>, Vec<&Finding>) = inspection
        .low
        .iter()
        .chain(&inspection.unfair)
        .partition(|f| matches!(f.place, Place::Width | Place::Girth));
    let mut draft = Draft::default();
    flat.outline(&mut draft);
    let told = flat.numbers(&mut draft);
    flat.sides(&mut draft);
    flat.rings(&mut draft, &found);
    let to = stage.map_or("the finished neck".into(), |s| {
        format!("what the stage \u{201c}{}\u{201d} leaves", s.name())
    });
    let mut notes = alloc::vec![format!(
        "Numbers: wood over {to}, square to the surface; a minus sign where it lies too low. Between the readings they are \
         drawn in from those around. The line inside each edge is the carve line."
    )];
    let [least, most] = told.unsure_mm.map(|u| mm(2.0 * u));
    if told.unsure_mm[0] <= told.unsure_mm[1] {
        let range = if least == most {
            most
        } else {
            format!("from {least} next to a reading to {most} between them")
        };
        notes.push(format!(
            "Their ±, twice the standard uncertainty: {range}; of each it is in the table of what is left to take."
        ));
    }
    if told.unknown {
        notes.push(String::from("A question mark: no reading tells."));
    }
    if found.is_empty() && whole.is_empty() {
        notes.push(String::from("Nothing was found to be too low, flat, hollow or raised."));
    }
    if !found.is_empty() {
        notes.push(String::from("Rings, the figure after ± twice the standard uncertainty:"));
        notes.extend(listed(neck, &found, true));
    }
    if !whole.is_empty() {
        notes.push(String::from("Besides, at no one place of the back:"));
        notes.extend(listed(neck, &whole, false));
    }
    let what = stage.map_or("What is left to take, the back laid flat".into(), |s| {
        format!("What is left to take to the stage \u{201c}{}\u{201d}, the back laid flat", s.name())
    });
    let words = Words { what: &what, notes: &notes, meaning: MAP };
    let [low, high] = draft.bounds();
    let columns: Vec<Point> =
        lefts((high[0] - low[0]).clamp(230.0, 420.0)).iter().map(|x| [low[0] + x, low[1] - 9.0]).collect();
    let words = blocks(neck, &words, |layer| draft.uses(layer));
    draft.entitle(|draft| flow(draft, words, &columns));
    Some(draft.into_sheet("What is left to take", &[], None))
}
