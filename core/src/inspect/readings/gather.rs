//! Readings while they are being gathered, with what is wrong.

use alloc::string::String;
use alloc::vec::Vec;

use super::conflict;
use super::entry::{Entry, Told, check};
use super::field::{Field, path};
use super::numbered::Numbered;
use super::numbers::{Numbers, number_among};
use super::{BadEntry, BadReadings, MAX_READINGS, Readings};
use crate::inspect::{Instrument, Reading};
use crate::measure::{Error, Fault, Kind};
use crate::spec::Look;

/// Readings, faults and the places of bad entries.
pub(super) struct Gather {
    pub(super) look: Look,
    /// Whether paths tell an entry's number.
    pub(super) numbered: bool,
    /// What a document says of its instruments.
    pub(super) sure: [Option<f64>; 6],
    pub(super) name: String,
    list: Vec<Reading>,
    bad: Vec<BadEntry>,
    /// What bare numbers tell of stations, where a hand may have written them.
    stations: Numbered,
    /// So many bytes the text has.
    bytes: usize,
}

impl Gather {
    pub(super) fn new(bytes: usize, numbered: bool) -> Self {
        Self {
            look: Look::default(),
            numbered,
            sure: [None; 6],
            name: String::new(),
            list: Vec::new(),
            bad: Vec::new(),
            stations: Numbered::default(),
            bytes,
        }
    }

    /// So many entries so far, good or bad.
    pub(super) fn count(&self) -> usize {
        self.list.len() + self.bad.len()
    }

    /// The number of the next entry.
    pub(super) fn next(&self) -> u32 {
        // There are never more than `MAX_READINGS`.
        self.count() as u32
    }

    /// What a document says of an instrument, checked: kept where it is sound.
    pub(super) fn say(&mut self, instrument: Instrument, mm: f64, text: Option<&str>, path: String) {
        let bound = instrument.uncertainty_bound();
        if bound.contains(mm) {
            if let Some(sure) = self.sure.get_mut(instrument as usize) {
                *sure = Some(mm);
            }
        } else {
            self.look.path = path;
            self.look.number(Some(bound), "mm", mm, text);
        }
    }

    /// Whether there is still room for one; the fault that there is none stands at `line`.
    pub(super) fn has_room(&mut self, line: u32) -> bool {
        let count = self.count();
        if count >= MAX_READINGS {
            let index = self.numbered.then_some(self.next());
            self.look.faults.add(|| too_many(count + 1, path(line, index, "")));
            return false;
        }
        true
    }

    /// Takes an entry that ends at about the given byte of the text; one that is `broken` can't be good.
    pub(super) fn take(&mut self, entry: &Entry<'_>, broken: bool, byte: usize) {
        if entry.sloppy {
            self.stations.see(entry);
        }
        match entry.reading(&mut self.look) {
            Some(reading) if !broken => self.push(reading, byte),
            _ => self.spoil(entry.line),
        }
    }

    /// Notes that an entry is bad.
    pub(super) fn spoil(&mut self, line: u32) {
        self.bad.push(BadEntry { line, entry: self.next() });
    }

    /// Adds a reading. Room is made for as many as the rest of the text will have if it goes on like this: doubling would
    /// want three times the memory for a moment.
    fn push(&mut self, reading: Reading, byte: usize) {
        let len = self.list.len();
        if len == self.list.capacity() {
            let each = (byte / (len + 1)).max(1);
            let ahead = self.bytes.saturating_sub(byte) / each;
            let ahead = if len < 64 { 64 } else { ahead + ahead / 64 };
            self.list.reserve_exact(ahead.clamp(len / 8 + 64, MAX_READINGS));
        }
        self.list.push(reading);
    }

    /// Checks readings that were made in code.
    pub(super) fn check_all(mut self, mut list: Vec<Reading>) -> Result<Readings, BadReadings> {
        if list.len() > MAX_READINGS {
            let count = list.len();
            let line = list.get(MAX_READINGS).map_or(0, |reading| reading.line);
            let index = Some(MAX_READINGS as u32);
            self.look.faults.add(|| too_many(count, path(line, index, "")));
            list.truncate(MAX_READINGS);
        }
        let mut index = 0;
        list.retain(|reading| {
            let sound = check(reading, index, &mut self.look);
            if !sound {
                self.bad.push(BadEntry { line: reading.line, entry: index });
            }
            index += 1;
            sound
        });
        self.list = list;
        self.finish()
    }

    /// All that is sound, and what is wrong.
    pub(super) fn finish(mut self) -> Result<Readings, BadReadings> {
        self.settle();
        self.contradictions();
        self.numbered_like_frets();
        let numbers = match &*self.bad {
            [] => Numbers::All,
            bad => Numbers::Without(bad.iter().map(|bad| bad.entry).collect()),
        };
        let good = Readings { name: self.name, list: self.list, numbers };
        match self.look.faults.into_result() {
            Ok(()) => Ok(good),
            Err(error) => Err(BadReadings { error, good, bad: self.bad }),
        }
    }

    /// Nothing is read but the fault.
    pub(super) fn refused(fault: Fault) -> BadReadings {
        BadReadings { error: Error::from(fault), good: Readings::default(), bad: Vec::new() }
    }

    /// Takes out all readings where their stations look like numbers of frets.
    fn numbered_like_frets(&mut self) {
        let Some(fault) = self.stations.fault() else { return };
        self.look.faults.add(|| fault);
        let number = |place| number_among(place, &self.bad, |bad| bad.entry);
        let mut taken: Vec<BadEntry> = Vec::with_capacity(self.list.len());
        for (reading, index) in self.list.drain(..).zip(0_u32..) {
            taken.push(BadEntry { line: reading.line, entry: number(index) });
        }
        self.bad.append(&mut taken);
        self.bad.sort_unstable_by_key(|bad| bad.entry);
    }

    /// Readings that leave it to an instrument now learn how sure they are.
    fn settle(&mut self) {
        for reading in &mut self.list {
            if reading.uncertainty_mm > 0.0 {
                continue;
            }
            if let Some(instrument) = Told::instrument(reading.uncertainty_mm) {
                let given = self.sure.get(instrument as usize).copied().flatten();
                reading.uncertainty_mm =
                    given.unwrap_or_else(|| instrument.usual_uncertainty_mm(reading.value_mm));
            }
        }
    }

    /// Takes out the readings that contradict others.
    fn contradictions(&mut self) {
        let found = conflict::contradictions(&self.list);
        if found.is_empty() {
            return;
        }
        // The numbers that the readings had among all entries, before anything was taken out.
        let number = |place| number_among(place, &self.bad, |bad| bad.entry);
        let mut places = Vec::with_capacity(found.len());
        for contradiction in &found {
            let place = |index: u32| {
                let line = self.list.get(index as usize).map_or(0, |reading| reading.line);
                BadEntry { line, entry: number(index) }
            };
            let (own, other) = (place(contradiction.index), place(contradiction.other));
            let named = |at: BadEntry, field| path(at.line, self.numbered.then_some(at.entry), field);
            let list = &self.list;
            self.look
                .faults
                .add(|| contradiction.fault(list, named(own, Field::Value.name()), &named(other, "")));
            places.push(own);
        }
        let mut found = found.iter().peekable();
        let mut index = 0;
        self.list.retain(|_| {
            let out = found.next_if(|contradiction| contradiction.index == index).is_some();
            index += 1;
            !out
        });
        self.bad.append(&mut places);
        self.bad.sort_unstable_by_key(|bad| bad.entry);
    }
}

fn too_many(count: usize, path: String) -> Fault {
    Fault::new(Kind::TooLarge, path, "no neck has so many readings")
        .value(count, "readings")
        .range(None, MAX_READINGS as f64)
        .remedy("inspect the neck stretch by stretch; neither this reading nor those after it are read")
}
