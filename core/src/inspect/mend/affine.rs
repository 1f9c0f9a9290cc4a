//! Numbers that depend on the programme's unknowns, all linearly.

use smallvec::SmallVec;

/// A constant and a share of some unknowns.
#[derive(Clone, Debug, Default)]
pub(super) struct Affine {
    pub terms: SmallVec<[(usize, f64); 12]>,
    pub constant: f64,
}

impl Affine {
    pub fn constant(constant: f64) -> Self {
        Self { terms: SmallVec::new(), constant }
    }

    /// This and `k` times another.
    pub fn plus(mut self, other: &Self, k: f64) -> Self {
        if k != 0.0 {
            self.constant += k * other.constant;
            for (at, share) in &other.terms {
                match self.terms.iter_mut().find(|(known, _)| known == at) {
                    Some((_, sum)) => *sum += k * share,
                    None => self.terms.push((*at, k * share)),
                }
            }
        }
        self
    }

    pub fn times(&self, k: f64) -> Self {
        Self::default().plus(self, k)
    }

    /// Its value where the unknowns are these.
    pub fn value(&self, unknowns: &[f64]) -> f64 {
        let share = |(at, k): &(usize, f64)| k * unknowns.get(*at).copied().unwrap_or(0.0);
        self.constant + self.terms.iter().map(share).sum::<f64>()
    }
}
