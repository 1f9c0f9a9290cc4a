//! Which further readings would sharpen a copied neck most.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::copied::{Copied, State};
use super::family::Places;
use super::matrix::{add_square, dot, inverse, times};
use super::rows::rows_of;
use super::section::{BASS_LINE, HALF, LOCALS, Local, SPINE, TREBLE_LINE};
use crate::inspect::Measured;
use crate::measure::{Station, told};
use crate::shape::{Neck, Side};

/// A reading worth taking.
#[derive(Clone, Debug, PartialEq)]
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
    /// What to do and what for, in a sentence; what stands behind ± in it is twice the standard uncertainty.
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

/// What is known of all the family's numbers, told or not.
struct Knowledge {
    which: Vec<usize>,
    /// Their covariance.
    covariance: Vec<f64>,
    /// The mean of the squares of what is predicted, as a form of the numbers.
    mean: Vec<f64>,
}

fn unit(quantity: usize, by: f64) -> Local {
    let mut turn = [0.0; LOCALS];
    turn[quantity] = by;
    turn
}

impl Knowledge {
    /// From the readings, each number taken to be known from the start to within what necks differ in it.
    fn new(state: &State) -> Option<Self> {
        let State { family, v, ground, taken, .. } = state;
        // Thicknesses that only go along with others are known no better for it.
        let family = &family.free();
        let which: Vec<usize> = (0..family.size()).filter(|i| family.has_meaning(*i)).collect();
        let n = which.len();
        let mut rows = rows_of(family, v, &which, &taken.places, |place, cut, give| {
            for item in taken.at_place(place) {
                give(&cut.compare(&item.measured, item.value).1);
            }
        })?;
        let unknown: Vec<f64> = which.iter().map(|i| family.unknown(*i, v[*i])).collect();
        // In units of what is not known, so that the numbers are of one size.
        let mut information = vec![0.0; n * n];
        for k in 0..n {
            information[k * n + k] = 1.0;
        }
        for (row, item) in rows.chunks_mut(n.max(1)).zip(&taken.items) {
            for (r, u) in row.iter_mut().zip(&unknown) {
                *r *= u;
            }
            add_square(&mut information, n, row, 1.0 / (item.uncertainty * item.uncertainty));
        }
        let mut covariance = inverse(&information, n)?;
        for i in 0..n {
            for j in 0..n {
                covariance[i * n + j] *= unknown[i] * unknown[j];
            }
        }
        let [from, to] = ground.shaft;
        let x: Vec<f64> = (0..ALONG).map(|i| from + (to - from) * (i as f64 + 0.5) / ALONG as f64).collect();
        let raised = x.iter().map(|x| ground.raised(*x)).collect();
        let rows = rows_of(family, v, &which, &Places { x, raised }, |_, cut, give| {
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
        Some(Self { which, covariance, mean })
    }

    /// Root mean square of what is predicted.
    fn mean_uncertainty(&self) -> f64 {
        libm::sqrt(dot(&self.mean, &self.covariance).max(0.0))
    }

    /// By how much a reading lowers the mean square.
    fn gain(&self, candidate: &Candidate) -> f64 {
        let n = self.which.len();
        let along = times(&self.covariance, n, &candidate.row);
        let common = candidate.uncertainty * candidate.uncertainty + dot(&candidate.row, &along);
        dot(&along, &times(&self.mean, n, &along)) / common
    }

    /// What is known once it is taken.
    fn take(&mut self, candidate: &Candidate) {
        let n = self.which.len();
        let along = times(&self.covariance, n, &candidate.row);
        let common = candidate.uncertainty * candidate.uncertainty + dot(&candidate.row, &along);
        add_square(&mut self.covariance, n, &along, -1.0 / common);
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
            .map(|item| item.uncertainty)
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
fn sentence(at: &Station, measured: &Measured, before: f64, after: f64) -> String {
    let what = match measured {
        Measured::Thickness => format!("the thickness at {at}"),
        Measured::Width => format!("the width at {at}"),
        Measured::Girth => format!("the girth at {at}"),
        Measured::Radius => format!("the board's radius at {at}"),
        Measured::CarveLine(side) => format!("the depth of the carve line at {at}, {} side", side.name()),
        Measured::Point { across_mm } => {
            let side = if *across_mm < 0.0 { Side::Bass } else { Side::Treble };
            let out = libm::round(libm::fabs(*across_mm) * 10.0) / 10.0;
            format!(
                "a point of the section at {at}, {out} mm from the centreline on the {} side",
                side.name()
            )
        }
    };
    format!(
        "measure {what}: thickness and surface of the shaft, now known to ±{} mm on average, would be known to ±{} mm",
        told(2.0 * before),
        told(2.0 * after)
    )
}

impl Copied {
    /// Root mean square of the standard uncertainties of thickness and surface, places spread over the shaft, mm. Unlike the
    /// uncertainties of [`numbers`](Self::numbers) it counts the numbers that no reading tells: they are taken to be known to
    /// within what necks differ in them (see [`copy_neck`](crate::inspect::copy_neck)).
    #[must_use]
    pub fn mean_uncertainty_mm(&self) -> f64 {
        Knowledge::new(&self.state).map_or(0.0, |k| k.mean_uncertainty())
    }

    /// The `count` readings, each after those before it, that would bring down
    /// [`mean_uncertainty_mm`](Self::mean_uncertainty_mm) most, out of thickness, width, carve lines and points around at every
    /// fret and midway between: one by one, each by the trace of what it leaves (sequential A-optimal design; Atkinson & Donev,
    /// Optimum Experimental Designs, 1992; memory). A further reading counts as sharp as those of its quantity that were taken,
    /// where there are none as the quantity's usual instrument ([`Quantity::usual_instrument`](crate::inspect::Quantity::usual_instrument)), and the curve between stations as the one fitted.
    #[must_use]
    pub fn sharpest_next(&self, count: usize) -> Vec<Suggestion> {
        let mut all = Vec::new();
        let Ok(neck) = Neck::new(&self.specification) else { return all };
        let Some(mut known) = Knowledge::new(&self.state) else { return all };
        let Some(candidates) = self.state.candidates(&neck, &known.which) else { return all };
        for _ in 0..count.min(candidates.len()) {
            let before_mm = known.mean_uncertainty();
            let mut best: Option<(f64, &Candidate)> = None;
            for candidate in &candidates {
                let gain = known.gain(candidate);
                if best.as_ref().is_none_or(|(most, _)| gain > *most) {
                    best = Some((gain, candidate));
                }
            }
            let Some((_, best)) = best else { break };
            known.take(best);
            let after_mm = known.mean_uncertainty();
            all.push(Suggestion {
                at: best.at,
                measured: best.measured,
                uncertainty_mm: best.uncertainty,
                before_mm,
                after_mm,
                sentence: sentence(&best.at, &best.measured, before_mm, after_mm),
            });
        }
        all
    }
}
