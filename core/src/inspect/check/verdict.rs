//! What a number with its uncertainty says of the wood.

/// A sign is told where the number is more than this many standard uncertainties from 0.
const TIMES: f64 = 2.0;

/// What a number of what is left says of the wood, in words that a builder can act on.
///
/// A sign is told where the number is more than twice its standard uncertainty, which is some 95 in 100 of a normal
/// distribution (JCGM 100:2008, G.1.3).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Verdict {
    /// There is wood to take.
    StillOn,
    /// There is less wood than there should be.
    TooLow,
    /// The number is no surer than that it may be either.
    Unsure,
    /// No reading tells anything there.
    Unread,
}

impl Verdict {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::StillOn, Self::TooLow, Self::Unsure, Self::Unread];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::StillOn => "still on",
            Self::TooLow => "too low",
            Self::Unsure => "unsure",
            Self::Unread => "unread",
        }
    }

    /// That of a number that is read, by its standard uncertainty.
    pub(super) fn of(mm: f64, uncertainty_mm: f64) -> Self {
        let unsure_mm = TIMES * uncertainty_mm;
        if mm > unsure_mm {
            Self::StillOn
        } else if mm < -unsure_mm {
            Self::TooLow
        } else {
            Self::Unsure
        }
    }
}
