//! The grits that there are.

use alloc::format;

use super::{GritScale, Grits};
use crate::measure::{Fault, Faults, Kind};

/// The numbers from 24 to 400 that FEPA 43-1 and ANSI B74.18 both grade, though not to the same size of grain.
const NUMBERS: [u32; 17] = [24, 30, 36, 40, 50, 60, 80, 100, 120, 150, 180, 220, 240, 280, 320, 360, 400];

impl GritScale {
    /// The grits that the scale has from 24 to 400, from the coarsest on.
    ///
    /// Source: FEPA 43-1 and ANSI B74.18, from memory.
    #[must_use]
    pub const fn grits(self) -> &'static [u32] {
        match self {
            Self::Fepa | Self::Cami => &NUMBERS,
        }
    }

    /// The grit of the scale that is nearest to a number; of two as near the finer one.
    fn nearest(self, number: u32) -> Option<u32> {
        self.grits().iter().rev().copied().min_by_key(|grit| grit.abs_diff(number))
    }
}

/// Holds the grits against their scale, and each that it has against the one before.
pub(super) fn check(sanding: &Grits, faults: &mut Faults) {
    let mut before = None;
    for (index, grit) in sanding.grits.iter().copied().enumerate() {
        let fault =
            |reason| Fault::new(Kind::Conflict, format!("sanding.grits[{index}]"), reason).value(grit, "");
        if !sanding.scale.grits().contains(&grit) {
            faults.add(|| {
                let remedy = match sanding.scale.nearest(grit) {
                    Some(near) if sanding.grits.contains(&near) => {
                        format!("leave it out: the nearest one, {near}, is there already")
                    }
                    Some(near) => format!("give {near}"),
                    None => "leave it out".into(),
                };
                fault(format!("there is no such grit in {}", sanding.scale.name())).remedy(remedy)
            });
            continue;
        }
        if let Some(before) = before.filter(|before| grit <= *before) {
            faults.add(|| {
                fault(format!("sanding goes from coarse to fine, and the grit before is {before}"))
                    .remedy(if grit == before { "leave it out" } else { "put the grits in rising order" })
            });
        }
        before = Some(grit);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_grits_rise_and_the_nearest_is_found() {
        for scale in GritScale::ALL {
            assert!(scale.grits().is_sorted_by(|a, b| a < b));
            for grit in scale.grits() {
                assert_eq!(scale.nearest(*grit), Some(*grit));
            }
            for (number, near) in [(0, 24), (70, 80), (90, 100), (69, 60), (239, 240), (5000, 400)] {
                assert_eq!(scale.nearest(number), Some(near), "{number}");
            }
        }
    }
}
