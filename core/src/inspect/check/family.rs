//! The chance that nothing alarms among many candidates that share their readings.

use super::normal::{Angles, Neighbours, Tails, Weights, above};

/// Rows of candidates, and how those of each row hang together.
///
/// The chance that of all candidates one comes as far as `u` where nothing is wrong is taken by a product over a tree,
/// `P(all within) ≈ Π P(one within | its parent within)`, each candidate hung on the one among its
/// neighbours that it is most correlated with (the product-type approximation of Glaz & Johnson, JASA 79 (1984) 436;
/// memory). On what is scanned here it is within about a tenth of the rate that simulation finds.
#[derive(Clone, Debug)]
pub(crate) struct Family {
    angles: Angles,
    tails: Tails,
}

impl Family {
    pub fn new(tails: Tails) -> Self {
        Self { angles: Angles::new(), tails }
    }

    pub fn p<'a>(&self, rows: impl Iterator<Item = &'a Weights>, u: f64) -> f64 {
        // Further off than any float tells of.
        if above(u) == 0.0 {
            return 0.0;
        }
        let mut all = Weights::none();
        rows.for_each(|row| all.join(row));
        // Not from -0, which is what an empty sum of floats starts from.
        0.0 - libm::expm1(Neighbours::new(&self.angles, u, self.tails).sum(&all))
    }
}
