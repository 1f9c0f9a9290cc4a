//! Which rows and columns make the least number of triangles.

use alloc::vec;
use alloc::vec::Vec;

use super::bends::Bend;
use super::grid::Bent;
use super::readings::Readings;

/// Every how many columns a band may have one.
const STEPS: [usize; 15] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 20, 24];

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
pub(super) struct Plan {
    pub cost: f64,
    /// Which ends of parts are rows.
    pub rows: Vec<usize>,
    /// For each face and band the step of its columns.
    pub steps: Vec<Vec<usize>>,
}

impl Readings {
    pub fn plan(&self, faces: &[Bent], columns: &[&Vec<f64>], chord: f64) -> Plan {
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
