//! The map of what is left to take, on the back laid flat.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::block::{Words, block};
use super::draft::Draft;
use super::layer::Layer;
use super::path::{Path, Point};
use super::sheet::Sheet;
use super::station::{mm, name};
use super::text::{Anchor, TEXT_MM, Text};
use crate::inspect::{Finding, FindingKind, Inspection, Map, Place, stretch_words};
use crate::shape::{Neck, Side, Sides};

/// Rows of numbers: places around as a share of the way from the spine to the top edge.
const ROWS: [f64; 7] = [-0.9, -0.6, -0.3, 0.0, 0.3, 0.6, 0.9];
/// Numbers closer together along the neck than this run into each other.
const PITCH_MM: f64 = 13.0;
/// A cell is told where its uncertainty has come down to this share of what was known before any reading.
const KNOWN: f64 = 0.7;
/// What is drawn around a finding is no smaller than this either way, mm.
const LEAST_RING: Point = [7.0, 5.0];
/// From the edges to the words beside them, mm.
const BESIDE_MM: f64 = 5.0;

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

    /// What is left at a place, between the cells around it; `None` where the map does not know.
    fn left(&self, x: f64, around: f64) -> Option<f64> {
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
        (unsure <= KNOWN * self.map.spread_mm).then_some(left)
    }

    /// Stations with numbers: the nut and every fret that leaves room.
    fn stations(&self) -> Vec<f64> {
        let (Some(from), Some(to)) = (self.map.x_mm.first(), self.map.x_mm.last()) else { return Vec::new() };
        let frets = (0..=60).filter_map(|n| self.neck.station_mm(f64::from(n)).ok());
        let mut kept: Vec<f64> = Vec::new();
        for x in frets.filter(|x| x >= from && x <= to) {
            if kept.last().is_none_or(|last| x - last >= PITCH_MM) {
                kept.push(x);
            }
        }
        kept
    }

    fn numbers(&self, draft: &mut Draft) -> bool {
        let mut unknown = false;
        let stations = self.stations();
        let last = stations.len().saturating_sub(1);
        for (i, x) in stations.into_iter().enumerate() {
            // At the ends of the map numbers stand within it; along the spine above its line.
            let (anchor, beside) = match i {
                0 => (Anchor::Start, 1.0),
                _ if i == last => (Anchor::End, -1.0),
                _ => (Anchor::Middle, 0.0),
            };
            for around in ROWS {
                let [x, y] = self.at(x, around);
                let words = match self.left(x, around) {
                    Some(left) => signed(left),
                    None => {
                        unknown = true;
                        String::from("?")
                    }
                };
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
        unknown
    }

    /// Rings around what was found, each with its number.
    fn rings(&self, draft: &mut Draft, found: &[&Finding]) {
        for (i, f) in found.iter().enumerate() {
            let x = 0.5 * (f.x_mm[0] + f.x_mm[1]);
            let share = |way: f64| {
                let side = if way < 0.0 { Side::Bass } else { Side::Treble };
                self.up(side) * libm::fabs(way)
            };
            let [a, b] = f.around_mm.unwrap_or([0.0, 0.0]).map(share);
            let y = match f.place {
                Place::Shoulder(side) | Place::Edge(side) if f.around_mm.is_none() => {
                    self.up(side) * 0.5 * self.ways(x).of(side)[0]
                }
                Place::CarveLine(side) => self.up(side) * self.ways(x).of(side)[1],
                _ => 0.5 * (a + b),
            };
            let half = [0.5 * (f.x_mm[1] - f.x_mm[0]), 0.5 * libm::fabs(b - a)];
            let half = [half[0] + LEAST_RING[0], half[1] + LEAST_RING[1]];
            draft.path(Layer::CutLine, Path::ellipse([x, y], half));
            let mark = format!("{}", i + 1);
            draft.text(
                Text::new([x + 0.72 * half[0] + 1.0, y + 0.72 * half[1]], Anchor::Start, mark).high(3.2),
            );
        }
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

/// What was found, with the number of its ring.
fn listed(neck: &Neck, found: &[&Finding]) -> Vec<String> {
    let line = |(i, f): (usize, &&Finding)| {
        let at = stretch_words(neck, f.x_mm);
        let amount = mm(libm::fabs(f.amplitude_mm));
        let unsure = mm(2.0 * f.uncertainty_mm);
        let what = match f.kind {
            FindingKind::Low => format!("{amount} below the finished neck"),
            _ => format!("a {} of {amount}", f.kind.name()),
        };
        format!("{}: {at}, {}: {what} (±{unsure}).", i + 1, f.place.name())
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
    let staged = inspection.stage_map.is_some();
    let map = inspection.stage_map.as_ref().or(inspection.map.as_ref())?;
    let flat = Flat { neck, map };
    let found: Vec<&Finding> = inspection.low.iter().chain(&inspection.unfair).collect();
    let mut draft = Draft::default();
    flat.outline(&mut draft);
    let unknown = flat.numbers(&mut draft);
    flat.sides(&mut draft);
    flat.rings(&mut draft, &found);
    let to = if staged { "this stage's target" } else { "the finished neck" };
    let mut notes = alloc::vec![format!(
        "Numbers: wood over {to}, square to the surface; a minus sign where it lies too low. Between the readings they are \
         drawn in from those around. The line inside each edge is the carve line."
    )];
    if unknown {
        notes.push(String::from("A question mark: no reading tells."));
    }
    if found.is_empty() {
        notes.push(String::from("Nothing was found to be too low, flat, hollow or raised."));
    } else {
        notes.push(String::from("Rings, the figure after ± twice the standard uncertainty:"));
        notes.extend(listed(neck, &found));
    }
    let words = Words { what: "What is left to take, the back laid flat", notes: &notes };
    let [low, high] = draft.bounds();
    let width = (high[0] - low[0]).clamp(230.0, 420.0);
    draft.take(block(neck, &words, width), [low[0], low[1] - 9.0]);
    Some(draft.into_sheet("What is left to take", &[], None))
}
