//! Rows and columns of spline faces: as few as leave every cell between them within the tolerance.

use alloc::rc::Rc;
use alloc::vec;
use alloc::vec::Vec;

use super::bezier::Table;
use super::pace::Pace;
use super::patches::{Bends, Cell, Patches, bends};

/// How many cells around bounds are kept for.
const CELLS: usize = 12;
/// The most times a stretch is halved.
const MOST_HALVES: u32 = 14;
/// How much finer than the least number of columns is tried.
const FINER: [f64; 6] = [1.02, 1.1, 1.2, 1.35, 1.55, 1.8];
/// Columns are spaced by the bend there, but where it is little as if it were this part of the most.
const LEAST_BEND: f64 = 0.15;

/// A spline face before its grid is laid.
pub(super) struct Bent {
    pub patches: Patches,
    /// The stretches along and around that the face takes up.
    pub used: [[f64; 2]; 2],
}

/// The grid of one face.
pub(super) struct Net {
    /// The stations at which rows of the solid lie, and where the face begins and ends.
    pub rows: Vec<f64>,
    pub columns: Vec<f64>,
    /// For each band between rows one of how many columns it has.
    pub steps: Vec<usize>,
    pace: Rc<Pace>,
    parts: Vec<f64>,
    /// For each part along its bounds over the cells.
    bends: Vec<Vec<Bends>>,
    /// The greatest of all.
    pub most: Bends,
}

/// Bounds of faces over the same fine parts along.
struct Bounds {
    /// Ends of the parts, for all faces.
    parts: Vec<f64>,
    forced: Vec<bool>,
    /// For each face its cells around and the pace over them, the first part that it takes up, and the bounds.
    paces: Vec<Rc<Pace>>,
    first: Vec<usize>,
    bends: Vec<Vec<Vec<Bends>>>,
}

fn cells_of(face: &Bent) -> Vec<f64> {
    let [from, to] = face.used[1];
    let mut ends: Vec<f64> = vec![from];
    ends.extend(face.patches.around.iter().copied().filter(|u| *u > from && *u < to));
    ends.push(to);
    let straight = face.patches.tables[0][0].width == 2;
    let mut cells = vec![from];
    for w in ends.windows(2) {
        let n = if straight { 1 } else { CELLS.div_ceil(ends.len() - 1) };
        cells.extend((1..=n).map(|i| if i == n { w[1] } else { w[0] + (w[1] - w[0]) * i as f64 / n as f64 }));
    }
    cells
}

/// Bounds over the cells of a face for a stretch along whose tables are given.
fn of_stretch(face: &Bent, pace: &Pace, tables: &[Table], length: f64) -> Vec<Bends> {
    let mut found = Vec::with_capacity(pace.cells.len() - 1);
    for (span, table) in face.patches.around.windows(2).zip(tables) {
        let width = span[1] - span[0];
        let own: Vec<Cell> = pace
            .cells
            .windows(2)
            .enumerate()
            .filter(|(_, c)| 0.5 * (c[0] + c[1]) > span[0] && 0.5 * (c[0] + c[1]) < span[1])
            .map(|(i, c)| Cell {
                between: [(c[0] - span[0]) / width, (c[1] - span[0]) / width],
                speed: [pace.speed[i], pace.speed[i + 1]],
                gain: pace.gain(i),
            })
            .collect();
        let all = bends(table, width, &own, face.patches.weighted);
        found.extend(all.into_iter().map(|[ss, su, uu]| [ss / (length * length), su / length, uu]));
    }
    found
}

fn most(all: &[Bends]) -> Bends {
    all.iter().fold([0.0; 3], |m, b| [m[0].max(b[0]), m[1].max(b[1]), m[2].max(b[2])])
}

impl Bounds {
    fn new(faces: &[Bent], paces: Vec<Rc<Pace>>, chord: f64) -> Self {
        let mut ends: Vec<f64> = Vec::new();
        for face in faces {
            let [from, to] = face.used[0];
            ends.extend(face.patches.along.iter().copied().filter(|s| *s > from && *s < to));
            ends.extend([from, to]);
        }
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|b, a| *b - *a < 1e-9);
        let mut bounds = Self {
            parts: ends.first().copied().into_iter().collect(),
            forced: Vec::new(),
            first: vec![usize::MAX; faces.len()],
            bends: vec![Vec::new(); faces.len()],
            paces,
        };
        for w in ends.windows(2) {
            let over: Vec<(usize, Vec<Table>)> = (0..faces.len())
                .filter(|f| {
                    let middle = 0.5 * (w[0] + w[1]);
                    middle > faces[*f].used[0][0] && middle < faces[*f].used[0][1]
                })
                .map(|f| {
                    let spans = faces[f].patches.around.len() - 1;
                    (f, (0..spans).map(|u| faces[f].patches.table([w[0], w[1]], u)).collect())
                })
                .collect();
            bounds.halve(faces, [w[0], w[1]], &over, chord, 0);
        }
        // A face that takes more than one row has one at either end, and one at each crease.
        let mut at = Vec::new();
        for (face, all) in faces.iter().zip(&bounds.bends) {
            let [from, to] = face.used[0];
            let along = all.iter().map(|b| most(b)[0]).fold(0.0, f64::max);
            if along * (to - from) * (to - from) > 0.8 * chord {
                at.extend([from, to]);
            }
            at.extend(face.patches.creases.iter().copied().filter(|s| *s > from && *s < to));
        }
        let near = |s: &f64| at.iter().any(|a: &f64| libm::fabs(a - s) < 1e-9);
        bounds.forced = bounds.parts.iter().map(near).collect();
        bounds
    }

    /// Halves a stretch until it is well shorter than a row would be there.
    fn halve(
        &mut self,
        faces: &[Bent],
        [from, to]: [f64; 2],
        over: &[(usize, Vec<Table>)],
        chord: f64,
        depth: u32,
    ) {
        let length = to - from;
        let found: Vec<Vec<Bends>> =
            over.iter().map(|(f, tables)| of_stretch(&faces[*f], &self.paces[*f], tables, length)).collect();
        let short = over.iter().zip(&found).all(|((f, _), all)| {
            let at = &self.paces[*f].at;
            let whole = at[at.len() - 1];
            all.iter().all(|[ss, su, uu]| {
                let width = libm::sqrt(8.0 * chord / uu.max(1e-300)).min(whole);
                length * length * ss <= 0.8 * chord && length * width * su <= 0.8 * chord
            })
        });
        if short || depth >= MOST_HALVES {
            for ((f, _), all) in over.iter().zip(found) {
                if self.bends[*f].is_empty() {
                    self.first[*f] = self.parts.len() - 1;
                }
                self.bends[*f].push(all);
            }
            self.parts.push(to);
            return;
        }
        let middle = 0.5 * (from + to);
        for (ends, places) in [([from, middle], [0.0, 0.5]), ([middle, to], [0.5, 1.0])] {
            let half: Vec<(usize, Vec<Table>)> = over
                .iter()
                .map(|(f, tables)| (*f, tables.iter().map(|t| t.along(places)).collect()))
                .collect();
            self.halve(faces, ends, &half, chord, depth + 1);
        }
    }
}

/// How columns of one class of faces, those of the same make around, are spaced.
struct Spacing {
    cells: Vec<f64>,
    /// Columns up to each end of a cell, for a tolerance of an eighth.
    so_far: Vec<f64>,
}

impl Spacing {
    fn new(cells: &[f64], members: &[&Vec<Vec<Bends>>]) -> Self {
        let mut bent = vec![0.0_f64; cells.len() - 1];
        for all in members.iter().flat_map(|m| m.iter()) {
            for (own, b) in bent.iter_mut().zip(all) {
                *own = own.max(b[2]);
            }
        }
        let greatest = bent.iter().copied().fold(0.0, f64::max);
        let mut so_far = vec![0.0];
        for (w, b) in cells.windows(2).zip(&bent) {
            let rate = libm::sqrt(b.max(LEAST_BEND * greatest));
            so_far.push(so_far[so_far.len() - 1] + (w[1] - w[0]) * rate);
        }
        Self { cells: cells.into(), so_far }
    }

    fn columns(&self, finer: f64, chord: f64) -> Vec<f64> {
        let whole = self.so_far[self.so_far.len() - 1];
        let count = libm::ceil(finer * whole / libm::sqrt(8.0 * chord)).max(1.0) as usize;
        let (first, last) = (self.cells[0], self.cells[self.cells.len() - 1]);
        let inner = (1..count).map(|j| {
            let want = whole * j as f64 / count as f64;
            let i = self.so_far.partition_point(|s| *s <= want).clamp(1, self.so_far.len() - 1);
            let (a, b) = (self.so_far[i - 1], self.so_far[i]);
            self.cells[i - 1] + (self.cells[i] - self.cells[i - 1]) * (want - a) / (b - a)
        });
        core::iter::once(first).chain(inner).chain([last]).collect()
    }
}

/// The columns of one step: every so many of all, and the last one.
fn stepped(columns: &[f64], step: usize) -> impl Iterator<Item = [f64; 2]> + '_ {
    let last = columns.len() - 1;
    (0..last).step_by(step).map(move |j| [columns[j], columns[(j + step).min(last)]])
}

/// Width and cells of each column.
type Level = Vec<(f64, core::ops::Range<usize>)>;

/// The coarsest level, from one on, whose columns all fit a stretch along.
fn fitting(levels: &[Level], own: &[Bends], length: f64, chord: f64, from: usize) -> Option<usize> {
    (0..=from).rev().find(|level| {
        levels[*level].iter().all(|(width, cells)| {
            let [ss, su, uu] = most(&own[cells.clone()]);
            length * length * ss + 2.0 * length * width * su + width * width * uu <= 8.0 * chord
        })
    })
}

/// Where a stretch lies among cells, as a range of them.
fn among(cells: &[f64], [from, to]: [f64; 2]) -> core::ops::Range<usize> {
    let last = cells.len() - 2;
    let a = cells.partition_point(|c| *c <= from + 1e-12).saturating_sub(1).min(last);
    let b = cells.partition_point(|c| *c < to - 1e-12).clamp(a + 1, last + 1);
    a..b
}

/// Rows and steps of columns for one choice of columns: those of the least number of triangles.
struct Plan {
    cost: f64,
    /// Which ends of parts are rows.
    rows: Vec<usize>,
    /// For each face and band the step of its columns.
    steps: Vec<Vec<usize>>,
}

impl Bounds {
    /// The greatest step of a face's columns that a stretch of parts allows.
    fn plan(&self, faces: &[Bent], columns: &[&Vec<f64>], chord: f64) -> Plan {
        let levels: Vec<Vec<Level>> = columns
            .iter()
            .zip(&self.paces)
            .map(|(columns, pace)| {
                let count = columns.len() - 1;
                (0..=count.ilog2())
                    .map(|k| stepped(columns, 1 << k).map(|w| (w[1] - w[0], among(&pace.at, w))).collect())
                    .collect()
            })
            .collect();
        let n = self.parts.len();
        let mut best: Vec<(f64, usize)> = vec![(f64::INFINITY, 0); n];
        best[0].0 = 0.0;
        let mut bands: Vec<Vec<usize>> = vec![Vec::new(); n];
        for j in 1..n {
            let mut own: Vec<Vec<Bends>> =
                self.paces.iter().map(|p| vec![[0.0; 3]; p.at.len() - 1]).collect();
            let mut level: Vec<Option<usize>> = vec![None; faces.len()];
            for i in (0..j).rev() {
                let mut cost = 1.0;
                let mut fits = true;
                for f in 0..faces.len() {
                    let Some(k) = i.checked_sub(self.first[f]).filter(|k| *k < self.bends[f].len()) else {
                        cost += level[f].map_or(0.0, |l| 2.0 * levels[f][l].len() as f64);
                        continue;
                    };
                    for (m, b) in own[f].iter_mut().zip(&self.bends[f][k]) {
                        *m = [m[0].max(b[0]), m[1].max(b[1]), m[2].max(b[2])];
                    }
                    let to = self.parts[j].min(faces[f].used[0][1]);
                    let from = level[f].unwrap_or(levels[f].len() - 1);
                    level[f] = fitting(&levels[f], &own[f], to - self.parts[i], chord, from);
                    let Some(l) = level[f] else {
                        fits = false;
                        break;
                    };
                    cost += 2.0 * levels[f][l].len() as f64 + 1.0;
                }
                // A single part has to do, whether it fits or not: what comes of it is checked.
                if !fits && i + 1 < j {
                    break;
                }
                if !fits {
                    cost += 1e9;
                    level.iter_mut().for_each(|l| *l = Some(0));
                }
                if best[i].0 + cost < best[j].0 {
                    best[j] = (best[i].0 + cost, i);
                    bands[j] = level.iter().map(|l| 1 << l.unwrap_or(0)).collect();
                }
                if self.forced[i] {
                    break;
                }
            }
        }
        let mut rows = vec![n - 1];
        let mut steps: Vec<Vec<usize>> = vec![Vec::new(); faces.len()];
        let mut j = n - 1;
        while j > 0 {
            for (f, step) in bands[j].iter().enumerate() {
                steps[f].push(*step);
            }
            j = best[j].1;
            rows.push(j);
        }
        rows.reverse();
        steps.iter_mut().for_each(|s| s.reverse());
        Plan { cost: best[n - 1].0, rows, steps }
    }
}

/// The grids of a solid's spline faces: rows in common, so that faces meet row by row.
pub(super) fn nets(faces: &[Bent], chord: f64) -> Vec<Net> {
    if faces.is_empty() {
        return Vec::new();
    }
    let cells: Vec<Vec<f64>> = faces.iter().map(cells_of).collect();
    let make = |f: usize| {
        let [from, to] = faces[f].used[1];
        (cells[f].len(), faces[f].patches.tables[0][0].width, from.to_bits(), to.to_bits())
    };
    let mut classes: Vec<Vec<usize>> = Vec::new();
    for f in 0..faces.len() {
        match classes.iter_mut().find(|c| make(c[0]) == make(f)) {
            Some(class) => class.push(f),
            None => classes.push(vec![f]),
        }
    }
    let class_of: Vec<usize> =
        (0..faces.len()).map(|f| classes.iter().position(|c| c.contains(&f)).unwrap_or(0)).collect();
    let pace = |class: &Vec<usize>| {
        let members: Vec<&Bent> = class.iter().map(|f| &faces[*f]).collect();
        Rc::new(Pace::new(&cells[class[0]], &members))
    };
    let paces: Vec<Rc<Pace>> = classes.iter().map(pace).collect();
    let bounds = Bounds::new(faces, class_of.iter().map(|c| Rc::clone(&paces[*c])).collect(), chord);
    let spacings: Vec<Spacing> = classes
        .iter()
        .zip(&paces)
        .map(|(c, pace)| Spacing::new(&pace.at, &c.iter().map(|f| &bounds.bends[*f]).collect::<Vec<_>>()))
        .collect();
    let mut best: Option<(Plan, Vec<Vec<f64>>)> = None;
    for finer in FINER {
        let all: Vec<Vec<f64>> = spacings.iter().map(|s| s.columns(finer, chord)).collect();
        let own: Vec<&Vec<f64>> = class_of.iter().map(|c| &all[*c]).collect();
        let plan = bounds.plan(faces, &own, chord);
        if best.as_ref().is_none_or(|(b, _)| plan.cost < b.cost) {
            best = Some((plan, all));
        }
    }
    let Some((plan, columns)) = best else { return Vec::new() };
    let net = |f: usize| {
        let [from, to] = faces[f].used[0];
        let stations: Vec<f64> = plan.rows.iter().map(|i| bounds.parts[*i]).collect();
        let (mut rows, mut steps) = (vec![from], Vec::new());
        for (w, step) in stations.windows(2).zip(&plan.steps[f]) {
            if w[1] > from + 1e-9 && w[0] < to - 1e-9 {
                rows.push(w[1].min(to));
                steps.push(*step);
            }
        }
        let parts = &bounds.parts[bounds.first[f]..=bounds.first[f] + bounds.bends[f].len()];
        let all: Vec<Bends> = bounds.bends[f].iter().map(|b| most(b)).collect();
        Net {
            rows,
            columns: columns[class_of[f]].iter().map(|v| bounds.paces[f].u(*v)).collect(),
            steps,
            pace: Rc::clone(&bounds.paces[f]),
            parts: parts.into(),
            bends: bounds.bends[f].clone(),
            most: most(&all),
        }
    };
    (0..faces.len()).map(net).collect()
}

impl Net {
    /// Every how many columns there is one at a place along: on a row as many as the finer band beside it has.
    pub fn step(&self, s: f64) -> usize {
        let after = self.rows.partition_point(|r| *r <= s + 1e-9).saturating_sub(1).min(self.steps.len() - 1);
        let before = self.rows.partition_point(|r| *r < s - 1e-9).saturating_sub(1).min(self.steps.len() - 1);
        self.steps[after].min(self.steps[before])
    }

    pub fn has_column(&self, j: usize, s: f64) -> bool {
        j.is_multiple_of(self.step(s)) || j + 1 == self.columns.len()
    }

    /// Bound of how far the surface lies from a triangle of it whose corners span a stretch along and one around:
    /// `⅛(h²·M₁ + 2hw·M₂ + w²·M₃)`, as the deviation is half the sum of `λᵢ·D²S(p − pᵢ)` and a spread of weighted places is at
    /// most a quarter of the stretch's square.
    pub fn off(&self, [s, u]: [[f64; 2]; 2]) -> f64 {
        let v = u.map(|u| self.pace.v(u));
        let (h, w) = (s[1] - s[0], v[1] - v[0]);
        let cells = among(&self.pace.at, v);
        let parts = among(&self.parts, s);
        let each = self.bends[parts].iter().map(|b| most(&b[cells.clone()]));
        let [ss, su, uu] = each.fold([0.0_f64; 3], |m, b| [m[0].max(b[0]), m[1].max(b[1]), m[2].max(b[2])]);
        0.125 * (h * h * ss + 2.0 * h * w * su + w * w * uu)
    }
}
