//! The boundaries between the bounds of a stage's wood, as long as they go on.

use alloc::vec::Vec;

use super::walk::Stretch;

/// Two ends of one boundary, mm.
const SAME_END_MM: f64 = 1e-5;

/// A boundary between two bounds.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    /// The bound of lesser `y` and that of greater.
    pub ids: [usize; 2],
    pub step: bool,
    pub reach: [f64; 2],
    /// Stations, and where it lies there.
    pub seen: Vec<[f64; 2]>,
}

/// The boundaries in the stretches, each as long as it goes on, and which of them lie in each stretch.
pub(super) fn chains(stretches: &[Stretch]) -> (Vec<Chain>, Vec<Vec<usize>>) {
    let mut chains: Vec<Chain> = Vec::new();
    let mut of: Vec<Vec<usize>> = Vec::new();
    for (i, stretch) in stretches.iter().enumerate() {
        let before = i.checked_sub(1).filter(|k| stretches[*k].x[1] == stretch.x[0]);
        let own = (0..stretch.ids.len().saturating_sub(1)).map(|k| {
            let (ids, step) = ([stretch.ids[k], stretch.ids[k + 1]], stretch.steps[k]);
            let seen: Vec<[f64; 2]> = stretch.seen.iter().map(|(x, y)| [*x, y[k]]).collect();
            let goes_on = |c: &&usize| {
                let chain = &chains[**c];
                let (last, first) = (chain.seen.last(), seen.first());
                chain.ids == ids
                    && chain.step == step
                    && chain.reach[1] == stretch.x[0]
                    && last.zip(first).is_some_and(|(a, b)| {
                        libm::fabs(a[1] - b[1]) < SAME_END_MM.max(0.5 * (b[0] - a[0]).max(0.0))
                    })
            };
            let on = before.and_then(|k| of[k].iter().find(goes_on).copied());
            match on {
                Some(c) => {
                    chains[c].reach[1] = stretch.x[1];
                    chains[c].seen.extend(seen);
                    c
                }
                None => {
                    chains.push(Chain { ids, step, reach: stretch.x, seen });
                    chains.len() - 1
                }
            }
        });
        let own: Vec<usize> = own.collect();
        of.push(own);
    }
    (chains, of)
}
