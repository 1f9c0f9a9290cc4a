//! The chance that nothing alarms among many candidates that share their readings.

use super::normal::{Angles, Neighbours, Tails, Weights, above};

/// All candidates, and how they hang together.
///
/// The chance that of all candidates one comes as far as `u` where nothing is wrong is taken by a product over a tree,
/// `P(all within) ≈ Π P(one within | its parent within)`, each candidate hung on the one among its
/// neighbours that it is most correlated with (the product-type approximation of Glaz & Johnson, JASA 79 (1984) 436;
/// memory). What a candidate shares with others than its parent is not counted off, so that the chance that something
/// alarms comes out too large rather than too small. By simulation, at significances from 0.01 to 0.2: stretches alarm at
/// 0.65 to 0.8 of the stated rate along one row, at 0.8 to 0.95 over many short ones; kernels at 0.85 to 1 of it in rows evenly
/// read, at 0.65 to 0.85 where places lie in clusters or every other one is much less sure.
#[derive(Clone, Debug)]
pub(crate) struct Family {
    angles: Angles,
    tails: Tails,
    weights: Weights,
    /// Candidates that hang as near and are not counted in yet: in evenly read rows many come one after the other.
    same: (Option<f64>, f64),
    /// How many candidates were added or taken out so far.
    #[cfg(test)]
    pub work: usize,
}

impl Family {
    pub fn new(tails: Tails) -> Self {
        Self {
            angles: Angles::new(),
            tails,
            weights: Weights::none(),
            same: (None, 0.0),
            #[cfg(test)]
            work: 0,
        }
    }

    /// Adds a candidate by its nearness to the one that it hangs on.
    pub fn add(&mut self, nearness: Option<f64>) {
        self.change(nearness, 1.0);
    }

    /// Takes a candidate out that was added.
    pub fn remove(&mut self, nearness: Option<f64>) {
        self.change(nearness, -1.0);
    }

    fn change(&mut self, nearness: Option<f64>, count: f64) {
        if nearness == self.same.0 {
            self.same.1 += count;
        } else {
            self.weights.add(self.same.0, self.same.1);
            self.same = (nearness, count);
        }
        #[cfg(test)]
        {
            self.work += 1;
        }
    }

    /// How often one of all candidates comes as far as this where nothing is wrong.
    pub fn p(&mut self, u: f64) -> f64 {
        self.weights.add(self.same.0, self.same.1);
        self.same.1 = 0.0;
        // Further off than any float tells of.
        if above(u) == 0.0 {
            return 0.0;
        }
        // Not from -0, which is what an empty sum of floats starts from.
        0.0 - libm::expm1(Neighbours::new(&self.angles, u, self.tails).sum(&self.weights))
    }
}
