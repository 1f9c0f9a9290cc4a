//! What lies over a plan, stretch by stretch, and the vertices over its places.

use alloc::collections::BTreeMap;
use alloc::vec;
use alloc::vec::Vec;

use super::super::plan::PlanCurve;
use super::super::sheet::Sheet;
use super::super::shell::Step;
use super::super::spline::Point3;
use super::{LOWER, Making, ONE_MM, Relief, SAME_STATION_MM, UPPER, each_once, near};

/// What a face is part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Group {
    Sheet {
        part: usize,
        sheet: usize,
    },
    /// Over a curve; whether it faces to the right of the way along it.
    Wall {
        curve: usize,
        right: bool,
    },
    /// Over a line square to the centreline; whether it faces toward the bridge.
    Cross {
        station: usize,
        right: bool,
    },
}

/// What an edge lies over in plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Over {
    Curve(usize),
    Cross,
    Point,
}

/// An edge before its curve is made.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub(super) ends: [usize; 2],
    pub(super) over: Over,
    /// Height of its middle.
    pub(super) middle: f64,
    /// The sheets that it lies on.
    pub(super) sheets: Vec<(usize, usize)>,
}

/// A part of a face: one loop.
pub(super) struct Cell {
    pub(super) group: Group,
    pub(super) steps: Vec<Step>,
}

/// A stretch between two stations: the boundaries across, and the sheets between them.
pub(super) struct Stretch {
    /// Indices of the boundaries' curves for the lower and the upper relief, of rising `y`.
    pub(super) curves: [Vec<usize>; 2],
    pub(super) sheets: [Vec<usize>; 2],
}

pub(super) struct Work<'a, 'b> {
    pub(super) making: &'b Making<'a>,
    /// All curves: those of the outline, of the lower relief, of the upper one.
    pub(super) curves: Vec<&'b PlanCurve>,
    pub(super) stations: Vec<f64>,
    pub(super) stretches: Vec<Stretch>,
    /// At each station the places across of something.
    pub(super) places: Vec<Vec<f64>>,
    /// At each station and place the vertices over it, of rising height.
    pub(super) standing: Vec<Vec<Vec<usize>>>,
    pub(super) vertices: Vec<Point3>,
    pub(super) edges: Vec<Draft>,
    pub(super) by_ends: BTreeMap<[usize; 2], Vec<usize>>,
    pub(super) cells: Vec<Cell>,
}

/// Where two curves cross within the stretch that they share: straight ones exactly, others by the roots of their difference.
pub(super) fn crossings(a: &PlanCurve, b: &PlanCurve) -> Vec<f64> {
    let reach = [a.reach[0].max(b.reach[0]), a.reach[1].min(b.reach[1])];
    if reach[0] >= reach[1] {
        return Vec::new();
    }
    // A stage's curves end where they come to others.
    if a.known.is_some() || b.known.is_some() {
        return Vec::new();
    }
    // A foot begins and ends on its own side's edge, which it touches there.
    let leaves = |a: &PlanCurve, b: &PlanCurve| matches!((&a.foot, b.rail), (Some(foot), Some((own, 0))) if foot.side == own);
    if leaves(a, b) || leaves(b, a) {
        return Vec::new();
    }
    let apart = |x: f64| a.law.value(x) - b.law.value(x);
    if a.straight && b.straight {
        let [p, q] = reach.map(apart);
        let cross = p * q < 0.0;
        return if cross { vec![reach[0] + (reach[1] - reach[0]) * p / (p - q)] } else { Vec::new() };
    }
    let part = |curve: &PlanCurve| curve.law.restricted(reach[0], reach[1]);
    part(a).zip(part(b)).and_then(|(a, b)| a.minus(&b)).map_or(Vec::new(), |apart| apart.stations_of(0.0))
}

impl<'a, 'b> Work<'a, 'b> {
    /// `None` where some stretch has no outline or no sheet.
    pub(super) fn new(making: &'b Making<'a>) -> Option<Self> {
        let outline = making.outline.iter().flatten();
        let curves: Vec<&PlanCurve> =
            outline.chain(&making.lower.curves).chain(&making.upper.curves).collect();
        let mut work = Self {
            making,
            curves,
            stations: Vec::new(),
            stretches: Vec::new(),
            places: Vec::new(),
            standing: Vec::new(),
            vertices: Vec::new(),
            edges: Vec::new(),
            by_ends: BTreeMap::new(),
            cells: Vec::new(),
        };
        work.stations = work.all_stations();
        work.stretches = (1..work.stations.len()).map(|i| work.stretch(i)).collect::<Option<_>>()?;
        Some(work)
    }

    pub(super) fn relief(&self, part: usize) -> &'b Relief<'a> {
        if part == UPPER { &self.making.upper } else { &self.making.lower }
    }

    pub(super) fn sheet(&self, part: usize, sheet: usize) -> &'b Sheet<'a> {
        &self.relief(part).sheets[sheet]
    }

    /// Indices of the curves of the outline's sides, and of the reliefs.
    pub(super) fn ids(&self) -> [core::ops::Range<usize>; 4] {
        let counts = [
            self.making.outline[0].len(),
            self.making.outline[1].len(),
            self.making.lower.curves.len(),
            self.making.upper.curves.len(),
        ];
        let mut from = 0;
        counts.map(|count| {
            let ids = from..from + count;
            from = ids.end;
            ids
        })
    }

    pub(super) fn all_stations(&self) -> Vec<f64> {
        let [left, right, lower, upper] = self.ids();
        let own = left.clone().chain(right.clone());
        let ends = |ids: core::ops::Range<usize>| ids.flat_map(|i| self.curves[i].reach);
        let reach = [
            ends(left.clone()).fold(f64::INFINITY, f64::min),
            ends(left.clone()).fold(f64::NEG_INFINITY, f64::max),
        ];
        let mut at: Vec<f64> = self.curves.iter().flat_map(|c| c.reach).collect();
        for part in [UPPER, LOWER] {
            at.extend(self.relief(part).sheets.iter().flat_map(|s| s.reach));
        }
        at.extend(&self.making.stations);
        // Curves of one relief, and of the outline, may cross; those of the other relief lie over them.
        for ids in [lower, upper] {
            for i in ids.clone() {
                for j in own.clone().chain(ids.start..i) {
                    at.extend(crossings(self.curves[i], self.curves[j]));
                }
            }
        }
        at.retain(|x| *x >= reach[0] && *x <= reach[1]);
        each_once(at, SAME_STATION_MM)
    }

    /// The stretch that ends at a station.
    pub(super) fn stretch(&self, i: usize) -> Option<Stretch> {
        let x = [self.stations[i - 1], self.stations[i]];
        let middle = 0.5 * (x[0] + x[1]);
        let [left, right, lower, upper] = self.ids();
        let covers = |id: &usize| {
            let [from, to] = self.curves[*id].reach;
            from <= x[0] + SAME_STATION_MM && to >= x[1] - SAME_STATION_MM
        };
        let at = |id: usize| self.curves[id].law.value(middle);
        let [Some(left), Some(right)] = [left, right].map(|mut ids| ids.find(covers)) else { return None };
        let ends = [left, right];
        let part = |part: usize, ids: core::ops::Range<usize>| {
            let mut all: Vec<usize> = ids
                .filter(covers)
                .filter(|id| at(*id) > at(ends[0]) + ONE_MM && at(*id) < at(ends[1]) - ONE_MM)
                .collect();
            all.sort_by(|a, b| at(*a).total_cmp(&at(*b)));
            let bounds: Vec<usize> = core::iter::once(ends[0]).chain(all).chain([ends[1]]).collect();
            let sheet = |w: &[usize]| {
                let relief = self.relief(part);
                let sheet = (relief.sheet_at)(middle, 0.5 * (at(w[0]) + at(w[1])));
                sheet.filter(|sheet| *sheet < relief.sheets.len())
            };
            let sheets: Vec<usize> = bounds.windows(2).map(sheet).collect::<Option<_>>()?;
            // A boundary with one sheet on either side is none.
            let mut kept = (vec![bounds[0]], Vec::new());
            for (k, sheet) in sheets.iter().enumerate() {
                if kept.1.last() == Some(sheet) {
                    kept.0.pop();
                    kept.1.pop();
                }
                kept.1.push(*sheet);
                kept.0.push(bounds[k + 1]);
            }
            Some(kept)
        };
        let (lower, upper) = (part(LOWER, lower)?, part(UPPER, upper)?);
        Some(Stretch { curves: [lower.0, upper.0], sheets: [lower.1, upper.1] })
    }

    /// The stretches before and behind a station.
    pub(super) fn beside(&self, station: usize) -> [Option<&Stretch>; 2] {
        [station.checked_sub(1).and_then(|i| self.stretches.get(i)), self.stretches.get(station)]
    }

    pub(super) fn y(&self, curve: usize, station: usize) -> f64 {
        self.curves[curve].law.value(self.stations[station])
    }

    /// The cell of a relief at a station, on one side of it, that holds a place across.
    pub(super) fn cell_at(&self, stretch: &Stretch, part: usize, station: usize, y: f64) -> Option<usize> {
        let bounds = &stretch.curves[part];
        (0..stretch.sheets[part].len())
            .find(|k| y > self.y(bounds[*k], station) && y < self.y(bounds[*k + 1], station))
            .map(|k| stretch.sheets[part][k])
    }

    pub(super) fn stand(&mut self) {
        let mut vertices = Vec::new();
        for station in 0..self.stations.len() {
            let x = self.stations[station];
            let beside: Vec<&Stretch> = self.beside(station).into_iter().flatten().collect();
            let curves: Vec<usize> = beside.iter().flat_map(|s| s.curves.iter().flatten()).copied().collect();
            let places = each_once(curves.iter().map(|c| self.y(*c, station)).collect(), ONE_MM);
            let mut standing = Vec::with_capacity(places.len());
            for y in &places {
                let mut heights = Vec::new();
                for (stretch, part) in beside.iter().flat_map(|s| [(s, LOWER), (s, UPPER)]) {
                    let bounds = &stretch.curves[part];
                    for (k, sheet) in stretch.sheets[part].iter().enumerate() {
                        let ends = [bounds[k], bounds[k + 1]];
                        let [from, to] = ends.map(|c| self.y(c, station));
                        if *y < from - ONE_MM || *y > to + ONE_MM {
                            continue;
                        }
                        let sheet = self.sheet(part, *sheet);
                        // Next to its rail a back is so steep that a place there tells little of its height.
                        let here = curves.iter().filter(|c| near(self.y(**c, station), *y));
                        let over = here.max_by_key(|c| sheet.knows(self.curves[**c]));
                        heights.push(match over {
                            Some(curve) => sheet.height_over(self.curves[*curve], x),
                            None => sheet.height(x, *y),
                        });
                    }
                }
                let first = vertices.len();
                vertices.extend(each_once(heights, ONE_MM).into_iter().map(|z| [x, *y, z]));
                standing.push((first..vertices.len()).collect::<Vec<usize>>());
            }
            self.places.push(places);
            self.standing.push(standing);
        }
        self.vertices = vertices;
    }

    /// The place at a station; `None` where it has none.
    pub(super) fn place(&self, station: usize, y: f64) -> Option<usize> {
        let off = |k: &usize| libm::fabs(self.places[station][*k] - y);
        (0..self.places[station].len()).min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// The vertex of a sheet over a place; `None` where nothing lies over it.
    pub(super) fn vertex(&self, station: usize, place: usize, height: f64) -> Option<usize> {
        let off = |v: &&usize| libm::fabs(self.vertices[**v][2] - height);
        let all = &self.standing[station][place];
        all.iter().min_by(|a, b| off(a).total_cmp(&off(b))).copied()
    }
}
