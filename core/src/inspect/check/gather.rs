//! From readings to rows, and to what the scans and the map look at.

use alloc::vec::Vec;

use super::doubt::{Doubt, Tell, doubts};
use super::fair::MOST_PLACES;
use super::map::Spot;
use super::place::Place;
use super::row::{Deviation, Row};
use super::sequence::{Datum, Line, Sequence};
use super::touched::touched;
use crate::carve::{Wood, WoodFace};
use crate::inspect::Measured;
use crate::inspect::readings::Placed;
use crate::measure::{Error, Station};
use crate::shape::{Edge, Foot, Neck, Path, Side, Sides};

/// Points of one section lie at one station to within this, mm.
const ONE_STATION_MM: f64 = Station::LEAST_GAP_MM;
/// Points nearer together around a section than this are one place, mm.
const ONE_PLACE_MM: f64 = 0.05;
/// Points tell of the spine where they lie within this share of the carved side from it, and where the surface is as
/// nearly level.
const AT_SPINE: f64 = 0.15;
const LEVEL: f64 = 0.95;

/// The lengths of a finished section's outline.
#[derive(Clone, Copy)]
pub(crate) struct Frame {
    pub x: f64,
    /// Length of either carved side, and of either side up to the top edge.
    pub carved: Sides<f64>,
    pub whole: Sides<f64>,
}

impl Frame {
    pub fn place_at(&self, way: f64) -> Place {
        let side = if way < 0.0 { Side::Bass } else { Side::Treble };
        let share = libm::fabs(way) / self.carved.of(side);
        if share <= 1.0 / 3.0 {
            Place::Spine
        } else if share <= 1.0 {
            Place::Shoulder(side)
        } else {
            Place::Edge(side)
        }
    }
}

/// The finished section's outline, measured from its spine.
pub(crate) struct Around {
    pub frame: Frame,
    pub path: Path,
    /// The edge that is the bass side's cubic; the treble side's is the next.
    cubic: Option<usize>,
    spine: f64,
    /// Where the spine lies across.
    spine_across: f64,
    /// Whether a board lies there.
    boarded: bool,
    /// Share of the carved depth at which either side's handle lies.
    shoulder: Sides<f64>,
}

impl Around {
    pub fn new(neck: &Neck, x: f64) -> Self {
        let section = neck.section_at(x);
        let path = Path::of_outline(&section.whole_outline());
        let is_cubic = |i: &usize| matches!(path.edges.get(*i), Some(Edge::Cubic { .. }));
        let cubic = (0..path.edges.len()).find(is_cubic).filter(|i| is_cubic(&(i + 1)));
        let starts = |i: usize| path.starts.get(i).copied().unwrap_or(0.0);
        let (spine, mut carved, mut whole) = match cubic {
            Some(i) => {
                // The last edge is the top.
                let top = starts(path.edges.len().saturating_sub(1));
                let spine = starts(i + 1);
                let carved = Sides { bass: spine - starts(i), treble: starts(i + 2) - spine };
                (spine, carved, Sides { bass: spine, treble: top - spine })
            }
            None => (0.0, Sides::default(), Sides::default()),
        };
        for side in [&mut carved.bass, &mut carved.treble, &mut whole.bass, &mut whole.treble] {
            *side = side.max(1e-9);
        }
        let shoulder = Sides::each(|side| {
            section.back.as_ref().map_or(1.0, |back| {
                let p = back.of(side);
                let depth = p[0][1] - p[3][1];
                if depth > 1e-6 { ((p[0][1] - p[1][1]) / depth).clamp(0.0, 1.0) } else { 1.0 }
            })
        });
        let spine_across = section.back.as_ref().map_or(0.0, |back| back.bass[3][0]);
        Self {
            frame: Frame { x, carved, whole },
            path,
            cubic,
            spine,
            spine_across,
            boarded: section.board.is_some(),
            shoulder,
        }
    }

    /// Where around a foot lies, from the spine.
    pub fn way(&self, foot: &Foot) -> f64 {
        foot.along - self.spine
    }

    pub fn place(&self, foot: &Foot) -> Place {
        match self.cubic {
            Some(_) if foot.edge + 1 < self.path.edges.len() => self.frame.place_at(self.way(foot)),
            _ if self.boarded => Place::Board,
            _ => Place::Face,
        }
    }

    /// How far the surface moves, square to itself, where the spine goes down by 1 and the carve line stays.
    fn share(&self, foot: &Foot) -> f64 {
        let (side, u) = match self.cubic {
            Some(i) if foot.edge == i => (Side::Bass, foot.u),
            Some(i) if foot.edge == i + 1 => (Side::Treble, 1.0 - foot.u),
            _ => return 0.0,
        };
        let s = 1.0 - u;
        let down = 3.0 * s * s * u * self.shoulder.of(side) + 3.0 * s * u * u + u * u * u;
        -foot.normal[1] * down
    }
}

/// Everything that is read off the readings.
pub(crate) struct Gathered {
    /// In the order of their stations.
    pub rows: Vec<Row>,
    pub around: Vec<Frame>,
    /// Rows of deviations from the finished neck.
    pub low: Vec<Sequence>,
    /// Rows of deviations from the stage, or from the finished neck without one.
    pub fair: Vec<Sequence>,
    pub spots: Vec<Spot>,
    pub stage_spots: Vec<Spot>,
    pub doubtful: Vec<Doubt>,
}

/// The last one made, while the station stays the same.
fn at_station<T>(x: f64, known: &mut Option<(f64, T)>, make: impl FnOnce() -> T) -> Option<&T> {
    if known.as_ref().is_none_or(|(at, _)| *at != x) {
        *known = Some((x, make()));
    }
    known.as_ref().map(|(_, made)| made)
}

/// Nothing but their rows and their doubts comes of the readings `aside`, rising.
pub(crate) fn gather(
    neck: &Neck,
    readings: &[Placed],
    wood: Option<&Wood>,
    aside: &[usize],
) -> Result<Gathered, Error> {
    let mut order: Vec<(usize, &Placed)> = readings.iter().enumerate().collect();
    // In order of their places; those at one place stay in the order given.
    order.sort_by(|a, b| a.1.x_mm.total_cmp(&b.1.x_mm));
    let count = |line: fn(&Measured) -> bool| order.iter().filter(|(_, p)| line(&p.reading.measured)).count();
    let thick = count(|measured| *measured == Measured::Thickness);
    let mut rows = Vec::with_capacity(order.len());
    let mut around: Vec<Frame> = Vec::new();
    let mut lines: [(Line, Vec<[Datum; 2]>); 5] =
        [Line::Spine, Line::Width, Line::Girth, Line::Carve(Side::Bass), Line::Carve(Side::Treble)]
            .map(|line| (line, Vec::new()));
    let mut sections: Vec<(Line, Vec<[Datum; 2]>)> = Vec::new();
    let mut tells: [Vec<Tell>; 5] = Default::default();
    let (mut spots, mut stage_spots) = (Vec::with_capacity(order.len()), Vec::new());
    let mut face: Option<(f64, Option<WoodFace>)> = None;
    let mut latest: Option<Around> = None;
    let mut section_from = f64::NEG_INFINITY;
    let steps = wood.map_or_else(Vec::new, Wood::steps_mm);
    let behind = |x: f64| steps.partition_point(|step| *step <= x);
    lines[0].1.reserve(thick);
    tells[0].reserve(thick);
    for (i, Placed { x_mm: x, reading, .. }) in order {
        let x = *x;
        let counts = aside.binary_search(&i).is_err();
        let face = wood.and_then(|wood| at_station(x, &mut face, || wood.face(x))?.as_ref());
        let (value, uncertainty_mm) = (reading.value_mm, reading.uncertainty_mm);
        let off = |target: f64| Some(value - target).filter(|d| d.is_finite());
        let variance = uncertainty_mm * uncertainty_mm;
        let datum = |at: f64, value: f64, share: f64, shared: bool| Datum {
            at,
            value,
            weight: 1.0 / variance,
            share,
            shared,
            ends: [at; 2],
        };
        let mut around_mm = None;
        let (place, finished, stage) = match reading.measured {
            Measured::Thickness => {
                (Place::Spine, off(neck.thickness_mm(x)?), face.and_then(|f| off(f.thickness)))
            }
            Measured::Width => (Place::Width, off(neck.width_mm(x)?), face.and_then(|f| off(f.width))),
            Measured::Girth => (Place::Girth, off(neck.girth_mm(x)?), face.and_then(|f| off(f.girth))),
            Measured::CarveLine(side) => (
                Place::CarveLine(side),
                off(neck.carve_line_mm(x, side)?),
                face.and_then(|f| off(*f.carve.of(side))),
            ),
            Measured::Radius => {
                let board = neck.layout().board();
                let boarded = x >= board.start_mm() && x <= board.end_mm();
                let radius = board.crown().radius_mm(x).filter(|_| boarded);
                let stage = face.and_then(|f| f.radius.flatten()).and_then(off);
                (Place::Board, radius.and_then(off), stage)
            }
            Measured::Point { across_mm } => {
                if latest.as_ref().is_none_or(|a| a.frame.x != x) {
                    latest = Some(Around::new(neck, x));
                }
                let Some(here) = latest.as_ref() else { continue };
                let point = [across_mm, -value];
                let foot = here.path.foot(point);
                let stage = face.and_then(|f| f.path.foot(point)).map(|foot| foot.distance);
                let place = foot.as_ref().map_or(Place::Board, |foot| here.place(foot));
                if let Some(foot) = foot.filter(|_| !matches!(place, Place::Board | Place::Face)) {
                    let way = here.way(&foot);
                    around_mm = Some(way);
                    let side = if way < 0.0 { Side::Bass } else { Side::Treble };
                    let share = here.share(&foot);
                    if counts && (x - section_from > ONE_STATION_MM || sections.is_empty()) {
                        section_from = x;
                        // Of as many places as the one before it, more likely than not.
                        let size = sections.last().map_or(0, |section| section.1.len());
                        sections.push((Line::Section(around.len()), Vec::with_capacity(size)));
                        around.push(here.frame);
                    }
                    let base = stage.unwrap_or(foot.distance);
                    if let Some((_, section)) = sections.last_mut().filter(|_| counts) {
                        section.push([foot.distance, base].map(|d| datum(way, d, share, false)));
                    }
                    if libm::fabs(way) <= AT_SPINE * here.frame.carved.of(side) && foot.normal[1] < -LEVEL {
                        if counts {
                            lines[0].1.push([foot.distance, base].map(|d| datum(x, d, 0.0, true)));
                        }
                        let away = libm::fabs(across_mm - here.spine_across).max(libm::fabs(way));
                        tells[0].push(Tell { row: rows.len(), steps: behind(x), away: side.sign() * away });
                    }
                    let around = (way / here.frame.whole.of(side)).clamp(-1.0, 1.0);
                    if counts {
                        spots.push(Spot { x, around, value: foot.distance, variance });
                        stage_spots.extend(stage.map(|value| Spot { x, around, value, variance }));
                    }
                }
                (place, foot.map(|foot| foot.distance), stage)
            }
        };
        let line = match reading.measured {
            Measured::Thickness => Some(0),
            Measured::Width => Some(1),
            Measured::Girth => Some(2),
            Measured::CarveLine(Side::Bass) => Some(3),
            Measured::CarveLine(Side::Treble) => Some(4),
            Measured::Point { .. } | Measured::Radius => None,
        };
        if let (Some(line), Some(finished)) = (line, finished) {
            let base = stage.unwrap_or(finished);
            tells[line].push(Tell { row: rows.len(), steps: behind(x), away: 0.0 });
            if counts {
                lines[line].1.push([finished, base].map(|d| datum(x, d, 0.0, false)));
            }
            if counts && line == 0 {
                spots.push(Spot { x, around: 0.0, value: finished, variance });
                stage_spots.extend(stage.map(|value| Spot { x, around: 0.0, value, variance }));
            }
        }
        let deviation = |mm: f64| Deviation { mm, uncertainty_mm };
        let [finished, stage] = [finished, stage].map(|off| off.map(deviation));
        rows.push(Row {
            reading: i,
            line: reading.line,
            x_mm: x,
            measured: reading.measured,
            place,
            around_mm,
            touched_mm: touched(neck, x, reading.measured, value, finished.map(|d| d.mm)),
            finished,
            verdict: finished.as_ref().map(Deviation::verdict),
            stage,
            stage_verdict: stage.as_ref().map(Deviation::verdict),
        });
    }
    let sequences = |which: usize, all: &mut dyn Iterator<Item = &(Line, Vec<[Datum; 2]>)>| {
        all.filter(|(_, data)| !data.is_empty())
            .map(|(line, data)| {
                let gap = if matches!(line, Line::Section(_)) { ONE_PLACE_MM } else { ONE_STATION_MM };
                Sequence::new(*line, data.iter().map(|d| d[which]).collect(), gap)
            })
            .collect::<Vec<_>>()
    };
    // What departs from a fair curve because the stage does is no departure: where a cut ends the row does too.
    let before = |d: &[Datum; 2]| behind(d[1].at);
    let spine: Vec<(Line, Vec<[Datum; 2]>)> = lines[0]
        .1
        .chunk_by(|a, b| before(a) == before(b))
        .map(|stretch| (Line::Spine, stretch.to_vec()))
        .collect();
    let fair = sequences(1, &mut spine.iter().chain(&sections));
    let fair = fair.into_iter().map(|row| row.coarser(MOST_PLACES)).collect();
    // A thickness is the section's place at the spine; it is the spine's own row that tells of it alone.
    let counts =
        |row: &&Row| row.measured == Measured::Thickness && aside.binary_search(&row.reading).is_err();
    for row in rows.iter().filter(counts) {
        let near = around.partition_point(|frame: &Frame| frame.x < row.x_mm - ONE_STATION_MM);
        let here = around.get(near).filter(|frame| frame.x <= row.x_mm + ONE_STATION_MM);
        if let (Some(_), Some((_, section)), Some(d)) = (here, sections.get_mut(near), row.finished) {
            let weight = 1.0 / (d.uncertainty_mm * d.uncertainty_mm);
            let datum = Datum { at: 0.0, value: d.mm, weight, share: 1.0, shared: true, ends: [0.0; 2] };
            section.push([datum; 2]);
        }
    }
    let low = sequences(0, &mut lines.iter().chain(&sections));
    let mut doubtful = Vec::new();
    tells.iter().for_each(|tells| doubts(&rows, tells, &mut doubtful));
    doubtful.sort_by(|a, b| a.x_mm.total_cmp(&b.x_mm));
    Ok(Gathered { rows, around, low, fair, spots, stage_spots, doubtful })
}
