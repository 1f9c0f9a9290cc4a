//! All points of a scan gathered into cells of the outside: what each cell stands off the neck, and how well it is known.

use alloc::vec;
use alloc::vec::Vec;
use core::f64::consts::FRAC_1_SQRT_2;

use super::fit::{Fit, Known};
use super::motion::Vector;
use super::shown::clear_mm;
use super::skin::{Skin, Zone};
use crate::inspect::robust::TUKEY;
use crate::inspect::{Measured, Reading};
use crate::measure::Station;
use crate::shape::Neck;

/// A part of a neck's outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum CloudPart {
    /// The board's face.
    Face,
    /// The side face on the bass side, board and wood.
    BassSide,
    /// The side face on the treble side.
    TrebleSide,
    /// The carved back of the shaft, with volute and sweep.
    Back,
    /// The headstock's face, and what else of the wood's top no board lies on.
    HeadstockFace,
    /// The headstock's back.
    HeadstockBack,
    /// The heel block's back.
    HeelBack,
}

impl CloudPart {
    /// All parts.
    pub const ALL: [Self; 7] = [
        Self::Face,
        Self::BassSide,
        Self::TrebleSide,
        Self::Back,
        Self::HeadstockFace,
        Self::HeadstockBack,
        Self::HeelBack,
    ];

    /// The part's name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Face => "board's face",
            Self::BassSide => "bass side",
            Self::TrebleSide => "treble side",
            Self::Back => "back",
            Self::HeadstockFace => "headstock's face",
            Self::HeadstockBack => "headstock's back",
            Self::HeelBack => "heel block's back",
        }
    }
}

/// A place where the scanned surface stands off the neck by more than the noise of its points tells.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Departure {
    /// Station, mm.
    pub station_mm: f64,
    /// The part of the outside.
    pub part: CloudPart,
    /// Where across, mm from the centreline, positive toward the treble side.
    pub across_mm: f64,
    /// How far the scanned surface stands outside of the neck, square to it, mm; negative inside.
    pub departure_mm: f64,
    /// Its standard uncertainty from the noise of the points and from the pose's uncertainty, mm.
    pub uncertainty_mm: f64,
    /// How many points tell it.
    pub points: usize,
}

/// Cells across a face and along a side.
const FACE: usize = 4;
/// Stations of a column at which its cells' readings may lie. Cells with many points all lie at its middle, and so many
/// sections are not reckoned one by one.
const STEPS: f64 = 8.0;
/// What lies off the neck by more is no surface of it, mm.
const BESIDE_MM: f64 = 3.0;
/// A cell with fewer points is not seen, and its departure is not told: a single outlier makes none.
const FEWEST: f64 = 3.0;
/// How often, of scans of the neck itself, noise makes a departure of any cell at all.
const BY_CHANCE: f64 = 0.01;
/// How many departures are told.
const TOLD: usize = 20;
/// Stations at which the width is told.
const WIDTHS: usize = 8;
/// What no cell is known better than, mm: the table of the surface between its stations.
const LEAST_UNCERTAINTY_MM: f64 = 5e-4;
/// Points of a cell on average, at least.
const POINTS_A_CELL: usize = 20;

#[derive(Clone, Copy, Debug, Default)]
struct Cell {
    count: f64,
    x: f64,
    /// Where around, or across a face.
    place: f64,
    across: f64,
    distance: f64,
    /// How the distances change with the pose.
    by_pose: [f64; 6],
}

impl Cell {
    fn add(&mut self, foot: Vector, around: f64, distance: f64, by_pose: [f64; 6]) {
        self.count += 1.0;
        self.x += foot[0];
        self.place += around;
        self.across += foot[1];
        self.distance += distance;
        for (sum, one) in self.by_pose.iter_mut().zip(by_pose) {
            *sum += one;
        }
    }

    /// Its means.
    fn mean(&self) -> Self {
        let n = self.count;
        Self {
            count: n,
            x: self.x / n,
            place: self.place / n,
            across: self.across / n,
            distance: self.distance / n,
            by_pose: self.by_pose.map(|sum| sum / n),
        }
    }
}

/// What stands behind a reading.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Behind {
    /// How it changes with the pose's turn and shift.
    pub by_pose: [f64; 6],
    /// Whether it is of so few points that one stray point may have made it.
    pub few: bool,
}

/// The cells of a scan.
pub(crate) struct Gathered {
    cells: Vec<Cell>,
    /// What lies off the neck, but near it: where that is most of a cell, it is the surface.
    beside: Vec<Cell>,
    lanes: Lanes,
    along: usize,
    reach: [f64; 2],
    carved: [f64; 2],
    /// Noise of a single point, mm.
    sigma: f64,
    known: Known,
    /// Whether both of the board's sides are shown.
    sides: bool,
    /// Square sum of the distances of what lies on the neck, and how many those are.
    square: f64,
    on: usize,
    off: usize,
}

/// The lanes along the neck into which its outside is divided.
#[derive(Clone, Copy, Debug)]
struct Lanes {
    around: usize,
}

impl Lanes {
    fn count(self) -> usize {
        self.around + 2 * FACE + 2
    }

    fn of(self, zone: Zone, around: f64, across: f64, half: f64) -> Option<usize> {
        let share = |place: f64, count: usize| ((0.5 * (place + 1.0) * count as f64) as usize).min(count - 1);
        match zone {
            Zone::Back => Some(share(around, self.around)),
            Zone::Face => Some(self.around + share((across / half).clamp(-1.0, 1.0), FACE)),
            Zone::WoodTop => Some(self.around + FACE + share((across / half).clamp(-1.0, 1.0), FACE)),
            Zone::Wall => Some(self.around + 2 * FACE + usize::from(around > 0.0)),
            Zone::End => None,
        }
    }
}

/// The chance that so many strays or more come together in a cell that has so many on average: Poisson's, its tail summed; 1
/// where it is no more than the average.
fn together(count: f64, average: f64) -> f64 {
    // No rare thing; and far below the average the first term is too small for a number.
    if count <= average {
        return 1.0;
    }
    let mut term = libm::exp(count * libm::log(average) - average - libm::lgamma(count + 1.0));
    let (mut sum, mut k) = (0.0, count);
    while term > 1e-3 * sum && sum < 1.0 {
        sum += term;
        k += 1.0;
        term *= average / k;
    }
    sum
}

/// Which hand's points are looked at: `y` times this in the scan's frame.
pub(crate) fn turned(p: Vector, hand: f64) -> Vector {
    [p[0], hand * p[1], p[2]]
}

impl Gathered {
    /// Gathers the points, by the pose and by what the field leaves of their distances.
    pub fn new(
        neck: &Neck,
        skin: &Skin,
        points: &[Vector],
        hand: f64,
        (Fit { motion, field, sigma, shown, .. }, known): (&Fit, Known),
        [along, around]: [usize; 2],
    ) -> Self {
        let lanes = Lanes { around };
        let along = (points.len() / (POINTS_A_CELL * lanes.count())).clamp(10, along.max(10));
        let reach = neck.reach_mm();
        let built = neck.built();
        let mut gathered = Self {
            cells: vec![Cell::default(); along * lanes.count()],
            beside: vec![Cell::default(); along * lanes.count()],
            lanes,
            along,
            reach,
            carved: [built.volute.start(), built.sweep.end],
            sigma: *sigma,
            known,
            sides: shown.sides(),
            square: 0.0,
            on: 0,
            off: 0,
        };
        let (most, clear) = (TUKEY * sigma, clear_mm(*sigma));
        let by = along as f64 / (reach[1] - reach[0]);
        for p in points {
            let q = motion.of(turned(*p, hand));
            let touch = skin.touch(q);
            let left = touch.distance - field.at(&touch, q);
            let off = libm::fabs(left) > most;
            if off {
                gathered.off += 1;
            } else {
                gathered.on += 1;
                gathered.square += touch.distance * touch.distance;
            }
            if touch.clear < clear || (off && libm::fabs(touch.distance) > BESIDE_MM) {
                continue;
            }
            let half = skin.board_half(q[0]).max(1.0);
            let Some(lane) = lanes.of(touch.zone, touch.around, q[1], half) else { continue };
            let column = (((q[0] - reach[0]) * by).max(0.0) as usize).min(along - 1);
            let cells = if off { &mut gathered.beside } else { &mut gathered.cells };
            if let Some(cell) = cells.get_mut(column * lanes.count() + lane) {
                // The foot of the point on the surface, not the point, which the noise moves.
                let foot = [0, 1, 2].map(|k| q[k] - touch.distance * touch.normal[k]);
                cell.add(foot, touch.around, touch.distance, known.row(foot, touch.normal));
            }
        }
        gathered
    }

    /// Root of the mean square of the distances of what lies on the neck, mm.
    pub fn rms(&self) -> f64 {
        libm::sqrt(self.square / self.on.max(1) as f64)
    }

    /// Share of the points that lie off it.
    pub fn outliers(&self) -> f64 {
        self.off as f64 / (self.on + self.off).max(1) as f64
    }

    fn uncertainty(&self, count: f64) -> f64 {
        (self.sigma / libm::sqrt(count)).max(LEAST_UNCERTAINTY_MM)
    }

    /// The cells with so many points, their means, with column and lane.
    fn means(&self, fewest: f64) -> impl Iterator<Item = (usize, usize, Cell)> + '_ {
        let lanes = self.lanes.count();
        self.cells
            .iter()
            .enumerate()
            .filter(move |(_, cell)| cell.count >= fewest)
            .map(move |(i, cell)| (i / lanes, i % lanes, cell.mean()))
    }

    fn gap(&self) -> f64 {
        (self.reach[1] - self.reach[0]) / self.along as f64
    }

    /// What the cells say of the shaft between two stations: sections of the back, each column's points at the column's
    /// middle or a few stations beside it, and a few widths. A single point is a reading too where others are
    /// near: where a scan is thin, it is all that there is.
    pub fn readings(&self, skin: &Skin, [from, to]: [f64; 2]) -> (Vec<Reading>, Vec<Behind>) {
        let mut behind = Vec::new();
        let middle = |column: usize| self.reach[0] + self.gap() * (column as f64 + 0.5);
        let inside = |x: f64| x > from && x < to;
        let mut readings = Vec::new();
        let mut widths = [[Cell::default(); 2]; WIDTHS];
        let side = self.lanes.around + 2 * FACE;
        for (column, lane, cell) in self.means(1.0) {
            let x = middle(column);
            if lane < self.lanes.around && inside(cell.x) && self.near(column, lane) >= FEWEST {
                // What the cell stands off hardly changes from its mean station to the nearest of the column's.
                let step = self.gap() / STEPS;
                let x = x + step * libm::round((cell.x - x) / step);
                let (foot, normal) = skin.back_at(x, cell.place);
                let across = libm::sqrt(normal[1] * normal[1] + normal[2] * normal[2]);
                let [y, z] = [1, 2].map(|k| foot[k] + cell.distance * normal[k] / (across * across));
                let by_pose = self.known.row(foot, normal).map(|r| r / across);
                behind.push(Behind { by_pose, few: cell.count < FEWEST });
                readings.push(Reading {
                    at: Station::Mm(x),
                    measured: Measured::Point { across_mm: y },
                    value_mm: -z,
                    uncertainty_mm: self.uncertainty(cell.count) / across,
                    line: 0,
                });
            } else if lane >= side && inside(cell.x) {
                let bin = (((cell.x - from) / (to - from) * WIDTHS as f64) as usize).min(WIDTHS - 1);
                let sum = &mut widths[bin][lane - side];
                sum.count += cell.count;
                sum.x += cell.count * cell.x;
                sum.distance += cell.count * cell.distance;
            }
        }
        for [bass, treble] in widths {
            if !self.sides || bass.count < 1.0 || treble.count < 1.0 {
                continue;
            }
            let mean = |c: &Cell, sum: f64| sum / c.count;
            let x = 0.5 * (mean(&bass, bass.x) + mean(&treble, treble.x));
            // Both sides go the same way across and turn the same way: all that is left is how the width goes along.
            let mut row = [0.0; 6];
            row[3] = skin.board_half(x - 1.0) - skin.board_half(x + 1.0);
            behind.push(Behind { by_pose: row, few: bass.count.min(treble.count) < FEWEST });
            let (u, v) = (self.uncertainty(bass.count), self.uncertainty(treble.count));
            readings.push(Reading {
                at: Station::Mm(x),
                measured: Measured::Width,
                value_mm: 2.0 * skin.board_half(x)
                    + mean(&bass, bass.distance)
                    + mean(&treble, treble.distance),
                uncertainty_mm: libm::sqrt(u * u + v * v),
                line: 0,
            });
        }
        (readings, behind)
    }

    /// How many points the cells next to one of the back have, itself among them.
    fn near(&self, column: usize, lane: usize) -> f64 {
        let columns = column.saturating_sub(1)..(column + 2).min(self.along);
        let lanes = lane.saturating_sub(2)..(lane + 3).min(self.lanes.around);
        let cells = columns.flat_map(|c| lanes.clone().map(move |l| c * self.lanes.count() + l));
        cells.filter_map(|i| self.cells.get(i)).map(|cell| cell.count).sum()
    }

    fn part(&self, lane: usize, x: f64) -> CloudPart {
        let around = self.lanes.around;
        match lane {
            l if l < around && x < self.carved[0] => CloudPart::HeadstockBack,
            l if l < around && x > self.carved[1] => CloudPart::HeelBack,
            l if l < around => CloudPart::Back,
            l if l < around + FACE => CloudPart::Face,
            l if l < around + 2 * FACE => CloudPart::HeadstockFace,
            l if l == around + 2 * FACE => CloudPart::BassSide,
            _ => CloudPart::TrebleSide,
        }
    }

    /// The greatest departures that are no noise, the greatest first.
    pub fn departures(&self) -> Vec<Departure> {
        let lanes = self.lanes.count();
        let on = |i: usize| self.cells.get(i).map_or(0.0, |cell| cell.count);
        // Noise departs so far, and so many strays come together, in any of the cells by this chance (Bonferroni's bound).
        let cells = self.cells.len() as f64;
        let noise = |size: f64| cells * libm::erfc(libm::fabs(size) * FRAC_1_SQRT_2) >= BY_CHANCE;
        let strays = self.beside.iter().map(|cell| cell.count).sum::<f64>() / cells;
        let beside = self.beside.iter().enumerate();
        let beside = beside.filter(|(i, cell)| {
            cell.count >= FEWEST && cell.count > on(*i) && cells * together(cell.count, strays) < BY_CHANCE
        });
        let mut all: Vec<Departure> = self
            .means(FEWEST)
            .map(|(_, lane, cell)| (lane, cell))
            .chain(beside.map(|(i, cell)| (i % lanes, cell.mean())))
            .map(|(lane, cell)| Departure {
                station_mm: cell.x,
                part: self.part(lane, cell.x),
                across_mm: cell.across,
                departure_mm: cell.distance,
                uncertainty_mm: libm::hypot(
                    self.uncertainty(cell.count),
                    self.known.deviation(&cell.by_pose),
                ),
                points: cell.count as usize,
            })
            .filter(|d| !noise(d.departure_mm / d.uncertainty_mm))
            .collect();
        all.sort_by(|a, b| libm::fabs(b.departure_mm).total_cmp(&libm::fabs(a.departure_mm)));
        all.truncate(TOLD);
        all
    }

    /// First and last station with points on at least a tenth of the lanes.
    pub fn covered(&self) -> [f64; 2] {
        let lanes = self.lanes.count();
        let by = self.gap();
        let seen = |column: &usize| {
            let cells = self.cells.iter().skip(column * lanes).take(lanes);
            10 * cells.filter(|c| c.count >= FEWEST).count() >= lanes
        };
        let first = (0..self.along).find(seen).unwrap_or(0);
        let last = (0..self.along).rev().find(seen).unwrap_or(0);
        [self.reach[0] + by * first as f64, self.reach[0] + by * (last + 1) as f64]
    }

    /// The parts of which less than a tenth has points. `board` is from where to where a board lies.
    pub fn unseen(&self, board: [f64; 2]) -> Vec<CloudPart> {
        let lanes = self.lanes.count();
        let by = self.gap();
        let mut seen = [[0_usize; 2]; CloudPart::ALL.len()];
        for column in 0..self.along {
            let x = self.reach[0] + by * (column as f64 + 0.5);
            for lane in 0..lanes {
                let part = self.part(lane, x);
                let there = match part {
                    CloudPart::Face => x > board[0] && x < board[1],
                    CloudPart::HeadstockFace => x < board[0],
                    _ => true,
                };
                if !there {
                    continue;
                }
                let Some(i) = CloudPart::ALL.iter().position(|p| *p == part) else { continue };
                let hit = self.cells.get(column * lanes + lane).is_some_and(|c| c.count >= FEWEST);
                seen[i][1] += 1;
                seen[i][0] += usize::from(hit);
            }
        }
        let hidden = |[hit, all]: [usize; 2]| all > 0 && 10 * hit < all;
        CloudPart::ALL.iter().zip(seen).filter(|(_, s)| hidden(*s)).map(|(p, _)| *p).collect()
    }
}
