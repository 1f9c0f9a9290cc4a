//! Names that were probably meant by others that there are not.

use alloc::string::String;
use alloc::vec::Vec;

use crate::measure::Faults;

/// Faults that suggest a name, until it is known which names are given: none is suggested that would then be there twice.
#[derive(Default)]
pub(super) struct Meant {
    /// The place of the fault, and the name.
    all: Vec<(usize, &'static str)>,
}

impl Meant {
    /// Notes that the next fault suggests a name.
    pub(super) fn note(&mut self, faults: &Faults, name: &'static str) {
        // A fault that is only counted is never told.
        if faults.kept() < crate::measure::MAX_FAULTS {
            self.all.push((faults.kept(), name));
        }
    }

    /// Takes back what is there already.
    pub(super) fn settle(
        self,
        faults: &mut Faults,
        there: impl Fn(&str) -> bool,
        otherwise: impl Fn() -> String,
    ) {
        let mut told: Vec<&str> = Vec::new();
        for (place, name) in self.all {
            let twice = there(name) || told.contains(&name);
            told.push(name);
            if twice && let Some(fault) = faults.kept_mut(place) {
                fault.remedy = otherwise();
            }
        }
    }
}
