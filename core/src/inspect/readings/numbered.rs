//! Stations that are bare numbers, and may be meant as frets.

use alloc::format;

use super::entry::Entry;
use super::field::{Field, Given};
use crate::measure::{Fault, Kind};

/// The highest number that a fret is likely to have.
pub(super) const HIGHEST: f64 = 24.0;
/// Of fewer different numbers nothing can be said.
const FEWEST: u32 = 2;

/// Whether a station in millimetres looks like the number of a fret.
pub(super) fn like_a_fret(mm: f64) -> bool {
    (1.0..=HIGHEST).contains(&mm) && libm::floor(mm) == mm
}

/// What the stations of a text have been so far.
#[derive(Default)]
pub(super) struct Numbered {
    /// A bit for each whole number.
    seen: u32,
    /// The first of them, and where it stands.
    first: Option<(f64, u32)>,
    /// Whether there is a station of another sort.
    others: bool,
}

impl Numbered {
    pub(super) fn see(&mut self, entry: &Entry<'_>) {
        match entry.given.get(Field::At as usize) {
            Some(Given::Number(mm)) if like_a_fret(*mm) => {
                self.seen |= 1 << *mm as u32;
                let line = entry.lines.get(Field::At as usize).copied().unwrap_or(entry.line);
                self.first.get_or_insert((*mm, line));
            }
            // The nut is 0 either way, and what is not there says nothing.
            Some(Given::Number(0.0) | Given::Nothing) | None => {}
            Some(Given::Text(text)) if text.trim().eq_ignore_ascii_case("nut") => {}
            Some(_) => self.others = true,
        }
    }

    /// Where all stations are whole numbers as frets have them, and no other station tells what is meant.
    pub(super) fn fault(&self) -> Option<Fault> {
        let (number, line) = self.first.filter(|_| !self.others && self.seen.count_ones() >= FEWEST)?;
        let why =
            "a bare number is millimetres from the nut, and all stations here look like numbers of frets";
        let fault = Fault::new(Kind::Conflict, super::field::path(line, None, Field::At.name()), why);
        let remedy = format!(
            "write them like \"fret {number}\", or like \"{number} mm\" if the readings all lie that near to the nut; no \
             reading is taken"
        );
        Some(fault.value(number, "mm").remedy(remedy))
    }
}
