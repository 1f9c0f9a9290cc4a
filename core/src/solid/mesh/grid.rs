//! Rows and columns of spline faces: as few as leave every cell between them within the tolerance.

use alloc::vec;
use alloc::vec::Vec;

use super::bending::{Bending, Range};
use super::bends::Bend;
use super::patches::Patches;
use super::plan::Plan;
use super::readings::Readings;
use crate::solid::Point3;

/// How much finer than the least number of columns is tried.
const FINER: [f64; 2] = [2.0, 2.8];
/// Columns are spaced by the bend there, but where it is little as if it were this part of the most.
const LEAST_BEND: f64 = 0.2;
/// Stations closer than this are one, mm.
pub(super) const SAME: f64 = 1e-6;
/// How far past the ends of its knots a place of a face may come out by rounding, as a share of what lies between these.
const PAST: f64 = 1e-9;
/// What of the tolerance edges are laid for: they bound their faces' last triangles.
pub(super) const OF_EDGES: f64 = 0.95;

/// The most columns a face may take: more is no surface of a neck.
pub(super) const MOST_COLUMNS: usize = 100_000;

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
    /// The stretch around that the face takes up, and that of all of its surface.
    pub around: [f64; 2],
    whole: [f64; 2],
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

/// Columns of one class of faces, those of the same make around: closer where these bend more. `None` if they are too many.
fn columns(places: &[f64], members: &[&Vec<Vec<Bend>>], finer: f64, chord: f64) -> Option<Vec<f64>> {
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
    if count > MOST_COLUMNS {
        return None;
    }
    let (first, last) = (places[0], places[places.len() - 1]);
    let inner = (1..count).map(|j| {
        let want = whole * j as f64 / count as f64;
        let i = so_far.partition_point(|s| *s <= want).clamp(1, so_far.len() - 1);
        let (a, b) = (so_far[i - 1], so_far[i]);
        places[i - 1] + (places[i] - places[i - 1]) * (want - a) / (b - a)
    });
    let all: Vec<f64> = core::iter::once(first).chain(inner).chain([last]).collect();
    all.windows(2).all(|w| w[0] < w[1]).then_some(all)
}

/// The grids of a solid's spline faces: rows in common, so that faces meet row by row. `None` where a face takes up nothing, or too
/// many columns.
pub(super) fn nets(faces: &[Bent], chord: f64) -> Option<Vec<Net>> {
    if faces.is_empty() {
        return Some(Vec::new());
    }
    let takes_up =
        |face: &Bent| face.used[0][0] + SAME < face.used[0][1] && face.used[1][0] < face.used[1][1];
    if !faces.iter().all(takes_up) {
        return None;
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
        let all: Vec<Vec<f64>> = classes.iter().map(of).collect::<Option<_>>()?;
        let own: Vec<&Vec<f64>> = class_of.iter().map(|c| &all[*c]).collect();
        let plan = readings.plan(faces, &own, chord);
        if best.as_ref().is_none_or(|(b, _)| plan.cost < b.cost) {
            best = Some((plan, all));
        }
    }
    let (plan, columns) = best?;
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
        (rows.len() > 1).then(|| Net::new(&faces[f], chord, rows, columns[class_of[f]].clone(), steps))
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
        Self { rows, columns, chord, around: face.used[1], whole: patches.reach()[1], steps, bands, most }
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
        // What rounding put past the end of the knots lies on it; what lies further past has no bound.
        let ends = [[self.rows[0], self.rows[last + 1]], self.whole];
        let reach = [0, 1].map(|k| {
            let [from, to] = ends[k];
            let past = PAST * (to - from);
            reach[k]
                .map(|x| if x < from && x >= from - past { from } else { x })
                .map(|x| if x > to && x <= to + past { to } else { x })
        });
        let off_it = |k: usize| !(reach[k][0] >= ends[k][0] && reach[k][1] <= ends[k][1]);
        if off_it(0) || off_it(1) {
            return Range { along: [[[f64::NEG_INFINITY, f64::INFINITY]; 3]; D], size: [f64::INFINITY; 3] };
        }
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
