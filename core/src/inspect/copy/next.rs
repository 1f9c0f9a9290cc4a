//! Which further readings would sharpen a copied neck most.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::copied::{Copied, State};
use super::family::Places;
use super::knowledge::{Knowledge, Sources, Told};
use super::matrix::{add_square, dot, times};
use super::rows::rows_of;
use super::section::{BASS_LINE, HALF, LOCALS, Local, SPINE, TREBLE_LINE};
use crate::inspect::Measured;
use crate::inspect::lengths::{fine_words, marked_words};
use crate::measure::Station;
use crate::shape::{Neck, Side};
use crate::spec::BenchUnit;

/// A reading worth taking.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Suggestion {
    /// Where along the neck.
    pub at: Station,
    /// What of it.
    pub measured: Measured,
    /// How sharp it counts, standard, mm: as the readings of its quantity that were taken, or as the instrument that it is
    /// usually measured with.
    pub uncertainty_mm: f64,
    /// Root mean square of the standard uncertainty of thickness and surface over the shaft, mm, before it is taken; see
    /// [`Copied::mean_uncertainty_mm`].
    pub before_mm: f64,
    /// The same once it is.
    pub after_mm: f64,
    /// What to do and what for, in a sentence, in the options' [`unit`](crate::spec::CopyOptions::unit); what stands behind ± in
    /// it is twice the standard uncertainty.
    pub sentence: String,
}

/// Places along the shaft, and around a side, at which the uncertainty is averaged.
const ALONG: usize = 9;
const AROUND: [f64; 3] = [0.2, 0.5, 0.8];
/// Places around a side that may be read.
const POINTS: [f64; 4] = [0.15, 0.4, 0.65, 0.85];
/// The most frets that are looked at.
const FRETS: u32 = 40;

/// A reading that could be taken: its row over the numbers, and its uncertainty.
struct Candidate {
    at: Station,
    measured: Measured,
    row: Vec<f64>,
    uncertainty: f64,
}

/// What is known of all the family's numbers, and what it is to tell.
struct Planned {
    known: Knowledge,
    /// The mean of the squares of what is predicted, as a form of the numbers.
    mean: Vec<f64>,
}

fn unit(quantity: usize, by: f64) -> Local {
    let mut turn = [0.0; LOCALS];
    turn[quantity] = by;
    turn
}

impl Planned {
    /// From the readings, each number taken to be known from the start to within what necks differ in it.
    fn new(state: &State) -> Option<Self> {
        let State { family, v, base, weight, scatter, ground, taken, .. } = state;
        // Thicknesses that only go along with others are known no better for it.
        let family = &family.free();
        let all: Vec<(usize, Told)> =
            (0..family.size()).filter(|i| family.has_meaning(*i)).map(|i| (i, Told::Partly)).collect();
        // A reading that scatters more says less.
        let weight: Vec<f64> = weight.iter().map(|w| w / libm::sqrt(*scatter)).collect();
        let sources =
            Sources { family, taken, v, base, weight: &weight, left: None, pull: 1.0, scatter: 1.0 };
        let mut known = Knowledge::new(&sources, &all, &[])?;
        for change in state.changes(family, &known)? {
            add_square(&mut known.covariance, all.len(), &change, 1.0);
        }
        let (which, n) = (&known.which, all.len());
        let [from, to] = ground.shaft;
        let x: Vec<f64> = (0..ALONG).map(|i| from + (to - from) * (i as f64 + 0.5) / ALONG as f64).collect();
        let raised = x.iter().map(|x| ground.raised(*x)).collect();
        let rows = rows_of(family, v, which, &Places { x, raised }, |_, cut, give| {
            give(&unit(SPINE, 1.0));
            for side in Side::BOTH {
                for u in AROUND {
                    if let Some((_, turn)) = cut.surface(side, u) {
                        give(&turn);
                    }
                }
            }
        })?;
        let mut mean = vec![0.0; n * n];
        let count = (rows.len() / n.max(1)).max(1) as f64;
        for row in rows.chunks(n.max(1)) {
            add_square(&mut mean, n, row, 1.0 / count);
        }
        Some(Self { known, mean })
    }

    /// Root mean square of what is predicted.
    fn mean_uncertainty(&self) -> f64 {
        libm::sqrt(dot(&self.mean, &self.known.covariance).max(0.0))
    }

    /// By how much a reading lowers the mean square.
    fn gain(&self, candidate: &Candidate) -> f64 {
        let n = self.known.which.len();
        let along = times(&self.known.covariance, n, &candidate.row);
        let common = candidate.uncertainty * candidate.uncertainty + dot(&candidate.row, &along);
        dot(&along, &times(&self.mean, n, &along)) / common
    }

    /// What is known once it is taken.
    fn take(&mut self, candidate: &Candidate) {
        let n = self.known.which.len();
        let along = times(&self.known.covariance, n, &candidate.row);
        let common = candidate.uncertainty * candidate.uncertainty + dot(&candidate.row, &along);
        add_square(&mut self.known.covariance, n, &along, -1.0 / common);
    }
}

impl State {
    /// The standard uncertainty of a further reading: the middle one of its quantity, else its usual instrument's.
    fn usual(&self, measured: &Measured, value_mm: f64) -> f64 {
        let quantity = measured.quantity();
        let mut all: Vec<f64> = self
            .taken
            .items
            .iter()
            .filter(|item| item.measured.quantity() == quantity)
            .map(|item| item.uncertainty * libm::sqrt(self.scatter))
            .collect();
        all.sort_by(f64::total_cmp);
        let middle = all.get(all.len() / 2).copied();
        middle.unwrap_or_else(|| quantity.usual_instrument().usual_uncertainty_mm(value_mm))
    }

    /// Every reading that could be taken at a fret or midway, on the shaft.
    fn candidates(&self, neck: &Neck, which: &[usize]) -> Option<Vec<Candidate>> {
        let Self { family, v, ground, .. } = self;
        let family = &family.free();
        let (mut places, mut at) = (Places::default(), Vec::new());
        for half in 0..=2 * FRETS {
            let fret = 0.5 * f64::from(half);
            let Ok(x) = neck.station_mm(fret) else { break };
            if (ground.shaft[0]..=ground.shaft[1]).contains(&x) && places.x.last().is_none_or(|l| x > *l) {
                places.x.push(x);
                places.raised.push(ground.raised(x));
                at.push(Station::Fret(fret));
            }
        }
        let locals = family.locals(v, &places)?;
        let mut found: Vec<(Station, Measured, f64)> = Vec::new();
        let rows = rows_of(family, v, which, &places, |place, cut, give| {
            let single = [
                (Measured::Thickness, SPINE, 1.0),
                (Measured::Width, HALF, 2.0),
                (Measured::CarveLine(Side::Bass), BASS_LINE, 1.0),
                (Measured::CarveLine(Side::Treble), TREBLE_LINE, 1.0),
            ];
            for (measured, quantity, by) in single {
                found.push((at[place], measured, by * locals[place][quantity]));
                give(&unit(quantity, by));
            }
            for side in Side::BOTH {
                for u in POINTS {
                    if let Some(([across_mm, depth], turn)) = cut.surface(side, u) {
                        found.push((at[place], Measured::Point { across_mm }, depth));
                        give(&turn);
                    }
                }
            }
        })?;
        let rows = rows.chunks(which.len().max(1));
        let each = found.into_iter().zip(rows).map(|((at, measured, value), row)| Candidate {
            at,
            measured,
            row: row.to_vec(),
            uncertainty: self.usual(&measured, value),
        });
        Some(each.collect())
    }
}

/// What stands behind ± is twice the standard uncertainty.
fn sentence(at: &Station, measured: &Measured, [before, after]: [f64; 2], unit: BenchUnit) -> String {
    let at = match at {
        Station::Fret(0.0) => String::from("the nut"),
        at => format!("{at}"),
    };
    let what = match measured {
        Measured::Thickness => format!("the thickness at {at}"),
        Measured::Width => format!("the width at {at}"),
        Measured::Girth => format!("the girth at {at}"),
        Measured::Radius => format!("the board's radius at {at}"),
        Measured::CarveLine(side) => format!("the depth of the carve line at {at}, {} side", side.name()),
        Measured::Point { across_mm } => {
            let side = if *across_mm < 0.0 { Side::Bass } else { Side::Treble };
            let out = marked_words(libm::fabs(*across_mm), unit);
            format!("a point of the section at {at}, {out} from the centreline on the {} side", side.name())
        }
    };
    format!(
        "measure {what}: thickness and surface of the shaft, now known to ±{} on average, would be known to ±{}",
        fine_words(2.0 * before, unit),
        fine_words(2.0 * after, unit)
    )
}

impl Copied {
    /// Root mean square of the standard uncertainties of thickness and surface, places spread over the shaft, mm. Every number
    /// is taken to be known from the start to within what necks differ in it (see [`copy_neck`](crate::inspect::copy_neck)).
    /// Infinite where it can't be told.
    #[must_use]
    pub fn mean_uncertainty_mm(&self) -> f64 {
        Planned::new(&self.state).map_or(f64::INFINITY, |p| p.mean_uncertainty())
    }

    /// The `count` readings, each after those before it, that would bring down
    /// [`mean_uncertainty_mm`](Self::mean_uncertainty_mm) most, out of thickness, width, carve lines and points around at every
    /// fret and midway between: one by one, each by the trace of what it leaves (sequential A-optimal design; Atkinson & Donev,
    /// Optimum Experimental Designs, 1992; memory). A further reading counts as sharp as those of its quantity that were taken
    /// (wider where [`scatter_counts`](crate::spec::CopyOptions::scatter_counts)),
    /// where there are none as the quantity's usual instrument ([`Quantity::usual_instrument`](crate::inspect::Quantity::usual_instrument)), and the curve between stations as the one fitted.
    #[must_use]
    pub fn sharpest_next(&self, count: usize) -> Vec<Suggestion> {
        let mut all = Vec::new();
        let Ok(neck) = Neck::new(&self.specification) else { return all };
        let Some(mut planned) = Planned::new(&self.state) else { return all };
        let Some(candidates) = self.state.candidates(&neck, &planned.known.which) else { return all };
        for _ in 0..count.min(candidates.len()) {
            let before_mm = planned.mean_uncertainty();
            let mut best: Option<(f64, &Candidate)> = None;
            for candidate in &candidates {
                let gain = planned.gain(candidate);
                if best.as_ref().is_none_or(|(most, _)| gain > *most) {
                    best = Some((gain, candidate));
                }
            }
            let Some((_, best)) = best else { break };
            planned.take(best);
            let after_mm = planned.mean_uncertainty();
            all.push(Suggestion {
                at: best.at,
                measured: best.measured,
                uncertainty_mm: best.uncertainty,
                before_mm,
                after_mm,
                sentence: sentence(&best.at, &best.measured, [before_mm, after_mm], self.state.unit),
            });
        }
        all
    }
}
