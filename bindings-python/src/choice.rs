//! Words that choose one of a few.

use crate::errors::fault;
use crate::given::Given;
use neckwright::measure::{Fault, Kind};
use neckwright::shape::{Part, Side};
use pyo3::prelude::*;

/// The choice that a word stands for.
///
/// # Errors
/// - `NeckwrightError`: the word stands for none; all are named.
pub(crate) fn choice<T: Copy>(
    py: Python<'_>,
    word: Given<String>,
    argument: &str,
    all: &[(&'static str, T)],
) -> PyResult<T> {
    let word = word.named(py, argument)?;
    let found = all.iter().find(|(name, _)| *name == word);
    found.map(|(_, choice)| *choice).ok_or_else(|| {
        let names: Vec<String> = all.iter().map(|(name, _)| format!("\"{name}\"")).collect();
        let given: String = word.chars().take(40).flat_map(char::escape_debug).collect();
        let wrong = Fault::new(Kind::Unreadable, argument, format!("not one of {}", names.join(", ")));
        fault(py, wrong.value(format!("\"{given}\""), "").remedy("give one of them"))
    })
}

/// A side by its name.
pub(crate) fn side(py: Python<'_>, word: Given<String>) -> PyResult<Side> {
    choice(py, word, "side", &[Side::Bass, Side::Treble].map(|side| (side.name(), side)))
}

/// A part of a section by its name; nothing for the whole of it.
pub(crate) fn part(py: Python<'_>, word: Given<String>) -> PyResult<Option<Part>> {
    let all = [
        ("whole", None),
        ("fretboard", Some(Part::Fretboard)),
        ("neck_wood", Some(Part::NeckWood)),
        ("channel", Some(Part::Channel)),
    ];
    choice(py, word, "part", &all)
}
