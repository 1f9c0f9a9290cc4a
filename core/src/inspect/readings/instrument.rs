//! The instruments: their words, and how sure they are.

use super::quantity::{RADIUS_UNCERTAINTY, UNCERTAINTY};
use crate::inspect::Instrument;
use crate::measure::Bound;

/// How sure an instrument is.
#[derive(Clone, Copy)]
pub(super) enum Sure {
    /// Standard uncertainty, mm.
    Mm(f64),
    /// Standard uncertainty as a share of what it shows.
    Share(f64),
}

impl Instrument {
    /// Every instrument.
    pub const ALL: [Self; 6] =
        [Self::Caliper, Self::Rule, Self::Tape, Self::RadiusGauge, Self::ContourGauge, Self::Scan];

    /// The word that stands for it in a document.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Caliper => "caliper",
            Self::Rule => "rule",
            Self::Tape => "tape",
            Self::RadiusGauge => "radius gauge",
            Self::ContourGauge => "contour gauge",
            Self::Scan => "scan",
        }
    }

    /// How sure it is where nobody says so: common practice, no source. A caliper on wood repeats to a tenth, a rule is read to
    /// half a millimetre, a tape to one; a radius gauge comes in steps of a tenth or so of the radius.
    pub(super) const fn sure(self) -> Sure {
        match self {
            Self::Caliper | Self::Scan => Sure::Mm(0.05),
            Self::Rule => Sure::Mm(0.25),
            Self::Tape => Sure::Mm(0.5),
            Self::ContourGauge => Sure::Mm(0.2),
            Self::RadiusGauge => Sure::Share(0.03),
        }
    }

    /// The standard uncertainty of what it shows, mm, where nobody says so: 0.05 mm for a caliper and a scan, 0.2 for a
    /// contour gauge, 0.25 for a rule, 0.5 for a tape, and 3 % of the radius for a radius gauge. Common practice, no
    /// source.
    ///
    /// ```
    /// # use neckwright::inspect::Instrument;
    /// assert_eq!(Instrument::Tape.usual_uncertainty_mm(92.0), 0.5);
    /// assert_eq!(Instrument::RadiusGauge.usual_uncertainty_mm(300.0), 9.0);
    /// ```
    #[must_use]
    pub fn usual_uncertainty_mm(self, value_mm: f64) -> f64 {
        match self.sure() {
            Sure::Mm(mm) => mm,
            Sure::Share(share) => share * value_mm,
        }
    }

    /// What its standard uncertainty may be, mm.
    pub(super) const fn uncertainty_bound(self) -> Bound {
        match self {
            Self::RadiusGauge => RADIUS_UNCERTAINTY,
            _ => UNCERTAINTY,
        }
    }
}
