//! Something that either side of a neck has.

pub use crate::layout::Side;

/// Something that either side has.
#[derive(Clone, Copy, Debug, PartialEq, Default, serde::Serialize)]
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
