//! Faults while they are being collected.

use alloc::vec::Vec;

use super::{Error, Fault, MAX_FAULTS};

/// The faults found so far. No more than [`MAX_FAULTS`] are ever made, so that a hostile document costs no
/// more than an honest one.
#[derive(Debug, Default)]
pub(crate) struct Faults {
    kept: Vec<Fault>,
    more: usize,
}

impl Faults {
    /// Adds a fault; `fault` is only called where there is still room for it.
    pub(crate) fn add(&mut self, fault: impl FnOnce() -> Fault) {
        if self.kept.len() < MAX_FAULTS {
            self.kept.push(fault());
        } else {
            self.more = self.more.saturating_add(1);
        }
    }

    /// Counts a fault where there is no room for it any more, and says whether it did: so that what it would be made of
    /// need not be made either.
    pub(crate) fn only_counts(&mut self) -> bool {
        let full = self.kept.len() >= MAX_FAULTS;
        if full {
            self.more = self.more.saturating_add(1);
        }
        full
    }

    /// How many are kept, and so the place of the next one.
    pub(crate) fn kept(&self) -> usize {
        self.kept.len()
    }

    /// A fault that was kept, to say more of it.
    pub(crate) fn kept_mut(&mut self, place: usize) -> Option<&mut Fault> {
        self.kept.get_mut(place)
    }

    /// Whether there are none.
    pub(crate) fn is_empty(&self) -> bool {
        self.kept.is_empty()
    }

    /// `Err` with the faults, where there are any.
    pub(crate) fn into_result(self) -> Result<(), Error> {
        Error::with_more(self.kept, self.more)
    }
}
