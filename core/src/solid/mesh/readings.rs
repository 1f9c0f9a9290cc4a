//! Spline faces read at many stations, before their grids are laid.

use alloc::vec;
use alloc::vec::Vec;

use super::bends::{Bend, between, over, parts, places};
use super::grid::{Bent, SAME};

/// Faces read over the same fine parts along.
pub(super) struct Readings {
    /// Ends of the parts, for all faces.
    pub parts: Vec<f64>,
    pub forced: Vec<bool>,
    /// For each face the places around, the first part that it takes up, and the bends over each part.
    pub places: Vec<Vec<f64>>,
    pub first: Vec<usize>,
    pub bends: Vec<Vec<Vec<Bend>>>,
    /// For each face one before it that it mirrors.
    pub twins: Vec<Option<usize>>,
}

impl Readings {
    pub fn new(faces: &[Bent], chord: f64) -> Self {
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
