//! The two sides of a neck.

/// One side of a neck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// The side of the lowest string.
    Bass,
    /// The side of the highest string.
    Treble,
}

impl Side {
    /// Both sides, bass first.
    pub const BOTH: [Self; 2] = [Self::Bass, Self::Treble];

    /// The sign of `y` on this side of a right-handed neck.
    #[must_use]
    pub const fn sign(self) -> f64 {
        match self {
            Self::Bass => -1.0,
            Self::Treble => 1.0,
        }
    }
}

/// Something that either side has.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Sides<T> {
    /// What the bass side has.
    pub bass: T,
    /// What the treble side has.
    pub treble: T,
}

impl<T> Sides<T> {
    /// The one of this side.
    pub const fn of(&self, side: Side) -> &T {
        match side {
            Side::Bass => &self.bass,
            Side::Treble => &self.treble,
        }
    }

    /// Made from each side.
    pub fn each(mut f: impl FnMut(Side) -> T) -> Self {
        Self { bass: f(Side::Bass), treble: f(Side::Treble) }
    }
}
