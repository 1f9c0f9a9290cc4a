//! Rows and columns of spline faces: as few as leave every cell between them within the tolerance.

use alloc::vec;
use alloc::vec::Vec;

use super::bending::{Bending, Range};
use super::bends::{Bend, between, over, parts, places};
use super::patches::Patches;
use crate::solid::Point3;

/// How much finer than the least number of columns is tried.
const FINER: [f64; 2] = [2.0, 2.8];
/// Every how many columns a band may have one.
const STEPS: [usize; 15] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 20, 24];
/// Columns are spaced by the bend there, but where it is little as if it were this part of the most.
const LEAST_BEND: f64 = 0.2;
/// Stations closer than this are one, mm.
const SAME: f64 = 1e-6;
/// What of the tolerance edges are laid for: they bound their faces' last triangles.
pub(super) const OF_EDGES: f64 = 0.95;

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
    /// The tolerance it is laid for, mm.
    pub chord: f64,
    /// The stretch around that the face takes up.
    pub around: [f64; 2],
    /// For each band between rows one of how many columns it has.
    pub steps: Vec<usize>,
    /// For each band its parts.
    bands: Vec<Vec<Part>>,
    /// Greatest sizes of the second derivatives.
    pub most: [f64; 3],
}

/// A part of a surface within one span each way.
struct Part {
    reach: [[f64; 2]; 2],
    bending: Bending,
}

/// Faces read over the same fine parts along.
struct Readings {
    /// Ends of the parts, for all faces.
    parts: Vec<f64>,
    forced: Vec<bool>,
    /// For each face the places around, the first part that it takes up, and the bends over each part.
    places: Vec<Vec<f64>>,
    first: Vec<usize>,
    bends: Vec<Vec<Vec<Bend>>>,
    /// For each face one before it that it mirrors.
    twins: Vec<Option<usize>>,
}

impl Readings {
    fn new(faces: &[Bent], chord: f64) -> Self {
        let mut ends: Vec<f64> = Vec::new();
        for face in faces {
            let [from, to] = face.used[0];
            ends.extend(face.patches.along.iter().copied().filter(|s| *s > from && *s < to));
            ends.extend([from, to]);
        }
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|b, a| *b - *a < SAME);
        let places: Vec<Vec<f64>> = faces.iter().map(places).collect();
        let mut all: Vec<f64> = ends.first().copied().into_iter().collect();
        for w in ends.windows(2) {
            parts(faces, &places, [w[0], w[1]], chord, &mut all);
        }
        let mut forced_at = Vec::new();
        let (mut first, mut bends) = (vec![usize::MAX; faces.len()], vec![Vec::new(); faces.len()]);
        let twins = twins(faces);
        for (f, face) in faces.iter().enumerate() {
            let [from, to] = face.used[0];
            let own = |i: &usize| over(face, [all[*i], all[*i + 1]]);
            if let Some(start) = (0..all.len() - 1).find(own) {
                let end = start + (start..all.len() - 1).take_while(own).count();
                first[f] = start;
                bends[f] = match twins[f] {
                    Some(twin) => bends[twin].clone(),
                    None => between(face, &all[start..=end], &places[f]),
                };
            }
            let most = bends[f].iter().flatten();
            let along = most.fold(0.0_f64, |m, b| m.max(b.off([to - from, 0.0])));
            // A face that takes more than one row has one at either end, and one at each crease.
            if along > 0.8 * chord {
                forced_at.extend([from, to]);
            }
            forced_at.extend(face.patches.creases.iter().copied().filter(|s| *s > from && *s < to));
        }
        let near = |s: &f64| forced_at.iter().any(|a: &f64| libm::fabs(a - s) < SAME);
        let forced = all.iter().map(near).collect();
        Self { parts: all, forced, places, first, bends, twins }
    }
}

/// For each face one before it that it mirrors, if there is one: it bends as much everywhere.
fn twins(faces: &[Bent]) -> Vec<Option<usize>> {
    let mirrored = |f: usize, g: usize| {
        let (a, b) = (&faces[f], &faces[g]);
        a.used == b.used
            && a.patches.along == b.patches.along
            && a.patches.around == b.patches.around
            && a.patches.weighted == b.patches.weighted
            && a.patches.tables.iter().flatten().zip(b.patches.tables.iter().flatten()).all(|(a, b)| {
                a.width == b.width
                    && a.poles.len() == b.poles.len()
                    && a.poles
                        .iter()
                        .zip(&b.poles)
                        .all(|(p, q)| p[0] == q[0] && p[1] == -q[1] && p[2] == q[2] && p[3] == q[3])
            })
    };
    (0..faces.len()).map(|f| (0..f).find(|g| mirrored(f, *g))).collect()
}

/// Columns of one class of faces, those of the same make around: closer where these bend more.
fn columns(places: &[f64], members: &[&Vec<Vec<Bend>>], finer: f64, chord: f64) -> Vec<f64> {
    let mut bent = vec![0.0_f64; places.len()];
    let mut count = 0.0;
    for all in members.iter().flat_map(|m| m.iter()) {
        count += 1.0;
        for (own, b) in bent.iter_mut().zip(all) {
            *own += libm::sqrt(b.around());
        }
    }
    let greatest = bent.iter().copied().fold(0.0, f64::max);
    let mut so_far = vec![0.0];
    for (w, b) in places.windows(2).zip(bent.windows(2)) {
        let rate = b[0].max(b[1]).max(LEAST_BEND * greatest) / count;
        so_far.push(so_far[so_far.len() - 1] + (w[1] - w[0]) * rate);
    }
    let whole = so_far[so_far.len() - 1];
    let count = libm::ceil(finer * whole / libm::sqrt(8.0 * chord)).max(1.0) as usize;
    let (first, last) = (places[0], places[places.len() - 1]);
    let inner = (1..count).map(|j| {
        let want = whole * j as f64 / count as f64;
        let i = so_far.partition_point(|s| *s <= want).clamp(1, so_far.len() - 1);
        let (a, b) = (so_far[i - 1], so_far[i]);
        places[i - 1] + (places[i] - places[i - 1]) * (want - a) / (b - a)
    });
    core::iter::once(first).chain(inner).chain([last]).collect()
}

/// The columns of one step: every so many of all, and the last one.
fn stepped(columns: &[f64], step: usize) -> impl Iterator<Item = [f64; 2]> + '_ {
    let last = columns.len() - 1;
    (0..last).step_by(step).map(move |j| [columns[j], columns[(j + step).min(last)]])
}

/// Width of each column, and the places that bound it.
type Level = Vec<(f64, core::ops::RangeInclusive<usize>)>;

/// The places around between which a column lies.
fn among(places: &[f64], [from, to]: [f64; 2]) -> core::ops::RangeInclusive<usize> {
    let last = places.len() - 1;
    let a = places.partition_point(|c| *c <= from + 1e-12).saturating_sub(1).min(last - 1);
    let b = places.partition_point(|c| *c < to - 1e-12).clamp(a + 1, last);
    a..=b
}

/// How many triangles a cell is likely to become, once those that lie too far off are halved.
fn halved(off: f64) -> f64 {
    2.0 * if off == 0.0 {
        0.0
    } else if off <= 1.0 {
        1.0
    } else {
        1.0 + 1.2 * off
    }
}

/// The cheapest level, from one on, for a stretch along, and how many triangles it takes; `None` where most have to be halved.
fn fitting(levels: &[Level], own: &[Bend], length: f64, chord: f64, from: usize) -> Option<(usize, f64)> {
    let mut best: Option<(usize, f64)> = None;
    for level in (0..=from).rev() {
        let (mut cost, mut fit) = (0.0, 0);
        for (width, places) in &levels[level] {
            let (first, last) = (*places.start(), *places.end());
            let mut most = own[first];
            own[first + 1..=last].iter().for_each(|b| most = most.with(b));
            let off = most.off([length, *width]) / chord;
            fit += usize::from(off <= 1.0);
            cost += halved(off);
        }
        if best.is_some_and(|b| b.1 < cost) {
            break;
        }
        if level == 0 && 2 * fit < levels[0].len() {
            break;
        }
        best = Some((level, cost));
    }
    best
}

/// Rows and steps of columns for one choice of columns: those of the least number of triangles.
struct Plan {
    cost: f64,
    /// Which ends of parts are rows.
    rows: Vec<usize>,
    /// For each face and band the step of its columns.
    steps: Vec<Vec<usize>>,
}

impl Readings {
    fn plan(&self, faces: &[Bent], columns: &[&Vec<f64>], chord: f64) -> Plan {
        let levels: Vec<Vec<Level>> = columns
            .iter()
            .zip(&self.places)
            .map(|(columns, places)| {
                let count = columns.len() - 1;
                let step = |step: &usize| stepped(columns, *step).map(|w| (w[1] - w[0], among(places, w)));
                STEPS.iter().filter(|s| **s < 2 * count).map(|s| step(s).collect()).collect()
            })
            .collect();
        let n = self.parts.len();
        let mut best: Vec<(f64, usize)> = vec![(f64::INFINITY, 0); n];
        best[0].0 = 0.0;
        let mut bands: Vec<Vec<usize>> = vec![Vec::new(); n];
        let mut own: Vec<Vec<Bend>> = self.places.iter().map(|p| vec![Bend::NONE; p.len()]).collect();
        for j in 1..n {
            own.iter_mut().flatten().for_each(|b| *b = Bend::NONE);
            let mut level: Vec<Option<(usize, f64)>> = vec![None; faces.len()];
            for i in (0..j).rev() {
                let mut cost = 1.0;
                let mut fits = true;
                for f in 0..faces.len() {
                    let Some(k) = i.checked_sub(self.first[f]).filter(|k| *k < self.bends[f].len()) else {
                        cost += level[f].map_or(0.0, |l| l.1);
                        continue;
                    };
                    if let Some(twin) = self.twins[f] {
                        level[f] = level[twin];
                        cost += level[f].map_or(0.0, |l| l.1 + 1.0);
                        continue;
                    }
                    for (m, b) in own[f].iter_mut().zip(&self.bends[f][k]) {
                        *m = m.with(b);
                    }
                    let to = self.parts[j].min(faces[f].used[0][1]);
                    let from = level[f].map_or(levels[f].len() - 1, |l| l.0);
                    level[f] = fitting(&levels[f], &own[f], to - self.parts[i], chord, from);
                    let Some(l) = level[f] else {
                        fits = false;
                        break;
                    };
                    cost += l.1 + 1.0;
                }
                // A single part has to do, whether it fits or not: what comes of it is checked.
                if !fits && i + 1 < j {
                    break;
                }
                if !fits {
                    cost += 1e9;
                    level.iter_mut().for_each(|l| *l = Some((0, 0.0)));
                }
                if best[i].0 + cost < best[j].0 {
                    best[j] = (best[i].0 + cost, i);
                    bands[j] = level.iter().map(|l| STEPS[l.map_or(0, |l| l.0)]).collect();
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
    let readings = Readings::new(faces, chord);
    let make = |f: usize| {
        let at = &readings.places[f];
        (at.len(), faces[f].patches.tables[0][0].width, at[0].to_bits(), at[at.len() - 1].to_bits())
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
    let mut best: Option<(Plan, Vec<Vec<f64>>)> = None;
    for finer in FINER {
        let of = |class: &Vec<usize>| {
            let members: Vec<_> = class.iter().map(|f| &readings.bends[*f]).collect();
            columns(&readings.places[class[0]], &members, finer, chord)
        };
        let all: Vec<Vec<f64>> = classes.iter().map(of).collect();
        let own: Vec<&Vec<f64>> = class_of.iter().map(|c| &all[*c]).collect();
        let plan = readings.plan(faces, &own, chord);
        if best.as_ref().is_none_or(|(b, _)| plan.cost < b.cost) {
            best = Some((plan, all));
        }
    }
    let Some((plan, columns)) = best else { return Vec::new() };
    let net = |f: usize| {
        let [from, to] = faces[f].used[0];
        let stations: Vec<f64> = plan.rows.iter().map(|i| readings.parts[*i]).collect();
        let (mut rows, mut steps) = (vec![from], Vec::new());
        for (w, step) in stations.windows(2).zip(&plan.steps[f]) {
            if w[1] > from + SAME && w[0] < to - SAME {
                rows.push(if w[1] > to - SAME { to } else { w[1] });
                steps.push(*step);
            }
        }
        Net::new(&faces[f], chord, rows, columns[class_of[f]].clone(), steps)
    };
    (0..faces.len()).map(net).collect()
}

impl Net {
    fn new(face: &Bent, chord: f64, rows: Vec<f64>, columns: Vec<f64>, steps: Vec<usize>) -> Self {
        let patches = &face.patches;
        let mut most = [0.0_f64; 3];
        let band = |w: &[f64]| -> Vec<Part> {
            let inner = patches.along.iter().copied().filter(|s| *s > w[0] && *s < w[1]);
            let ends: Vec<f64> = core::iter::once(w[0]).chain(inner).chain([w[1]]).collect();
            let mut found = Vec::new();
            for s in ends.windows(2) {
                for (k, u) in patches.around.windows(2).enumerate() {
                    let table = patches.table([s[0], s[1]], k);
                    let bending = Bending::new(&table, [s[1] - s[0], u[1] - u[0]], patches.weighted);
                    let size = bending.range([0.0, 1.0], &[]).size;
                    most = [0, 1, 2].map(|k| most[k].max(size[k]));
                    found.push(Part { reach: [[s[0], s[1]], [u[0], u[1]]], bending });
                }
            }
            found
        };
        let bands = rows.windows(2).map(band).collect();
        Self { rows, columns, chord, around: face.used[1], steps, bands, most }
    }

    /// Every how many columns there is one on a row: as many as the finer band beside it has.
    pub fn step(&self, row: usize) -> usize {
        let last = self.steps.len() - 1;
        self.steps[row.saturating_sub(1)].min(self.steps[row.min(last)])
    }

    /// Bounds of the second derivatives over what some corners span, along some directions.
    pub fn range<const D: usize>(&self, corners: &[[f64; 2]], directions: &[Point3; D]) -> Range<D> {
        let reach = [0, 1].map(|k| {
            let all = corners.iter().map(|c| c[k]);
            all.fold([f64::INFINITY, f64::NEG_INFINITY], |r, x| [r[0].min(x), r[1].max(x)])
        });
        let last = self.bands.len() - 1;
        let [from, to] = reach[0];
        let first = self.rows.partition_point(|r| *r <= from).saturating_sub(1).min(last);
        let mut found: Option<Range<D>> = None;
        for band in &self.bands[first..] {
            for part in band {
                let [along, around] = part.reach;
                if found.is_some() && (along[0] >= to || along[1] <= from) {
                    continue;
                }
                let [u0, u1] = [reach[1][0].max(around[0]), reach[1][1].min(around[1])];
                if u1 < u0 || (u1 == u0 && reach[1][0] < reach[1][1]) {
                    continue;
                }
                let width = around[1] - around[0];
                let own =
                    part.bending.range([(u0 - around[0]) / width, (u1 - around[0]) / width], directions);
                found = Some(match found {
                    Some(found) => found.with(&own),
                    None => own,
                });
            }
            if band.last().is_some_and(|p| p.reach[0][1] >= to) {
                break;
            }
        }
        found.unwrap_or(Range {
            along: [[[f64::NEG_INFINITY, f64::INFINITY]; 3]; D],
            size: [f64::INFINITY; 3],
        })
    }
}
