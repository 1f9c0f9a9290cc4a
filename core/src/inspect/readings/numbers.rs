//! The numbers of readings in the list that was given first.

use alloc::vec::Vec;

/// Which readings of a list these are: so that what is said of one names it as its owner does.
#[derive(Clone, Debug, Default)]
pub(super) enum Numbers {
    /// All of them.
    #[default]
    All,
    /// All but these, rising.
    Without(Vec<u32>),
    /// These, in this order.
    Only(Vec<u32>),
}

impl Numbers {
    /// The number of the one at a place.
    pub fn of(&self, place: usize) -> usize {
        match self {
            Self::All => place,
            Self::Without(out) => number_among(place as u32, out, |out| *out) as usize,
            Self::Only(which) => which.get(place).map_or(place, |number| *number as usize),
        }
    }

    /// The numbers of some of them, by their places.
    pub fn picked(&self, which: impl Iterator<Item = usize>) -> Self {
        // There are never more than `MAX_READINGS`.
        Self::Only(which.map(|place| self.of(place) as u32).collect())
    }
}

/// The number among all of the one at a place among those that are left, where some were taken out: so many left ones precede
/// one of these as its number less its place among them, and the first that more precede than are asked for comes after.
pub(super) fn number_among<T>(place: u32, out: &[T], number: impl Fn(&T) -> u32) -> u32 {
    let (mut low, mut high) = (0, out.len());
    while low < high {
        let middle = low + (high - low) / 2;
        let before = out.get(middle).map_or(0, |out| number(out) as usize - middle);
        if before <= place as usize { low = middle + 1 } else { high = middle }
    }
    place + low as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::vec;

    #[test]
    fn numbers_are_those_of_the_list_given_first() {
        let without = Numbers::Without(vec![0, 3, 4, 7]);
        let left: Vec<usize> = (0..5).map(|place| without.of(place)).collect();
        assert_eq!(left, [1, 2, 5, 6, 8]);
        let picked = without.picked([4, 0, 2].into_iter());
        assert_eq!([0, 1, 2].map(|place| picked.of(place)), [8, 1, 5]);
        assert_eq!(Numbers::All.of(17), 17);
    }
}
