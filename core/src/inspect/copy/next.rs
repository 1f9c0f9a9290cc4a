//! Which further readings would sharpen a copied neck most.

use alloc::string::String;

use crate::measure::Station;
use crate::inspect::Measured;

/// A reading worth taking.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// Where along the neck.
    pub at: Station,
    /// What of it.
    pub measured: Measured,
    /// What it does, in a sentence.
    pub sentence: String,
}
