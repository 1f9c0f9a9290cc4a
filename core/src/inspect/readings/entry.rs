//! From the fields of one entry to a reading, or to all that is wrong with it.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::Quantity;
use super::field::{Field, Given, path};
use super::instrument::Sure;
use super::quantity::ACROSS;
use crate::inspect::{Instrument, Measured, Reading};
use crate::measure::{Bound, Fault, Kind, Length, Station, quoted};
use crate::shape::Side;
use crate::spec::{Look, nearest};

/// One entry of a text.
pub(super) struct Entry<'a> {
    pub given: [Given<'a>; 7],
    /// The line of each field.
    pub lines: [u32; 7],
    /// The line that it begins on.
    pub line: u32,
    /// Its number, where paths tell it.
    pub index: Option<u32>,
    /// Whether capitals don't count: spreadsheets put them at the beginning of a cell.
    pub sloppy: bool,
}

/// How sure a reading is: what it says, or the instrument that will say it.
#[derive(Clone, Copy)]
pub(super) enum Told {
    Mm(f64),
    By(Instrument),
}

impl Told {
    /// As the number that a reading carries until all instruments are known; above 0 only where it says so itself.
    fn mark(self) -> f64 {
        match self {
            Self::Mm(mm) => mm,
            Self::By(instrument) => -1.0 - f64::from(instrument as u8),
        }
    }

    /// The instrument that has yet to say how sure the reading is.
    pub(super) fn instrument(mark: f64) -> Option<Instrument> {
        Instrument::ALL.into_iter().find(|instrument| Self::By(*instrument).mark() == mark)
    }
}

impl<'a> Entry<'a> {
    pub(super) const NOTHING: [Given<'a>; 7] = [const { Given::Nothing }; 7];

    pub(super) fn path(&self, field: Field) -> String {
        path(self.lines[field as usize], self.index, field.name())
    }

    fn given(&self, field: Field) -> &Given<'a> {
        &self.given[field as usize]
    }

    /// The reading, and nothing where anything is wrong. Its uncertainty is a mark ([`Told`]).
    pub(super) fn reading(&self, look: &mut Look) -> Option<Reading> {
        let mut judge = Judge { entry: self, look, sound: true };
        let at = judge.station();
        let quantity = judge.word(Field::Quantity, &Quantity::ALL, Quantity::name);
        let value_mm = judge.length(Field::Value, quantity.map(Quantity::bound));
        for (field, why) in Field::REQUIRED {
            if matches!(self.given(field), Given::Nothing) {
                judge.fault(field, |path| Fault::new(Kind::Missing, path, why).remedy("give it"));
            }
        }
        let side = judge.word(Field::Side, &Side::BOTH, Side::name);
        let across_mm = judge.length(Field::Across, Some(ACROSS));
        let uncertainty = judge.length(Field::Uncertainty, quantity.map(Quantity::uncertainty_bound));
        let instrument = judge.word(Field::Instrument, &Instrument::ALL, Instrument::name);
        let quantity = quantity?;
        judge.belongs(quantity);
        judge.instrument_fits(quantity, instrument);
        let measured = match quantity {
            Quantity::Thickness => Measured::Thickness,
            Quantity::Width => Measured::Width,
            Quantity::Girth => Measured::Girth,
            Quantity::CarveLine => Measured::CarveLine(side?),
            Quantity::Point => Measured::Point { across_mm: across_mm? },
            Quantity::Radius => Measured::Radius,
        };
        let told = match uncertainty {
            Some(mm) => Told::Mm(mm),
            None => Told::By(instrument.unwrap_or(quantity.usual_instrument())),
        };
        let reading =
            Reading { at: at?, measured, value_mm: value_mm?, uncertainty_mm: told.mark(), line: self.line };
        judge.sound.then_some(reading)
    }
}

struct Judge<'e, 'a> {
    entry: &'e Entry<'a>,
    look: &'e mut Look,
    sound: bool,
}

impl<'e, 'a> Judge<'e, 'a> {
    fn given(&self, field: Field) -> &'e Given<'a> {
        self.entry.given(field)
    }

    fn fault(&mut self, field: Field, fault: impl FnOnce(String) -> Fault) {
        self.sound = false;
        let entry = self.entry;
        self.look.faults.add(|| fault(entry.path(field)));
    }

    fn unreadable(&mut self, field: Field, fault: Box<Fault>) {
        self.fault(field, |path| Fault { path, ..*fault });
    }

    fn wrong_type(&mut self, field: Field, wanted: &str, remedy: &str) {
        let given = self.given(field);
        self.fault(field, |path| {
            let reason = format!("{wanted} is wanted here, and this is {}", given.sort());
            Fault::new(Kind::WrongType, path, reason).value(given.shown(), "").remedy(remedy)
        });
    }

    /// A length in mm; none where there is none, or it is faulty.
    fn length(&mut self, field: Field, bound: Option<Bound>) -> Option<f64> {
        let (mm, text) = match self.given(field) {
            Given::Nothing => return None,
            Given::Number(mm) => (*mm, None),
            Given::Text(text) => match self.length_of(text) {
                Ok(length) => (length.mm(), Some(&**text)),
                Err(fault) => {
                    self.unreadable(field, fault);
                    return None;
                }
            },
            _ => {
                self.wrong_type(field, "a length", "write it like 43 or \"43 mm\"");
                return None;
            }
        };
        match bound {
            Some(bound) if !bound.contains(mm) => {
                self.sound = false;
                if !self.look.faults.only_counts() {
                    self.look.path = self.entry.path(field);
                    self.look.number(Some(bound), "mm", mm, text);
                }
                None
            }
            _ => Some(mm),
        }
    }

    /// A length as it is written, and where capitals don't count with its unit in small letters: no two units differ in
    /// nothing else.
    fn length_of(&self, text: &str) -> Result<Length, Box<Fault>> {
        let read = Length::read(text);
        if read.is_err() && self.entry.sloppy {
            return Length::read(&text.to_ascii_lowercase()).or(read);
        }
        read
    }

    fn station(&mut self) -> Option<Station> {
        let (station, text) = match self.given(Field::At) {
            Given::Nothing => return None,
            Given::Number(mm) => (Station::Mm(*mm), None),
            Given::Text(text) => {
                let read = match Station::read(text) {
                    Err(_) if self.entry.sloppy => Station::read(&text.to_ascii_lowercase()),
                    read => read,
                };
                match read {
                    Ok(station) => (station, Some(&**text)),
                    Err(mut fault) => {
                        fault.value = quoted(text);
                        self.unreadable(Field::At, fault);
                        return None;
                    }
                }
            }
            _ => {
                self.wrong_type(Field::At, "a station", "write it like 120, \"nut\" or \"fret 7\"");
                return None;
            }
        };
        if on_any_neck(station) {
            return Some(station);
        }
        self.sound = false;
        if !self.look.faults.only_counts() {
            self.look.path = self.entry.path(Field::At);
            self.look.station(station, text);
        }
        None
    }

    /// One word out of a few.
    fn word<T: Copy>(&mut self, field: Field, all: &[T], name: impl Fn(T) -> &'static str) -> Option<T> {
        let word = match self.given(field) {
            Given::Nothing => return None,
            Given::Text(word) => word,
            // A spreadsheet's cell is a number where it looks like one.
            Given::Number(_) if self.entry.sloppy => "",
            _ => {
                self.wrong_type(field, "a text", "put it in quotation marks");
                return None;
            }
        };
        let same = |known: &str| {
            if self.entry.sloppy { known.eq_ignore_ascii_case(word) } else { known == word }
        };
        let found = all.iter().copied().find(|choice| same(name(*choice)));
        if found.is_none() {
            let names = || all.iter().map(|choice| name(*choice));
            self.fault(field, |path| {
                let all: Vec<String> = names().map(quoted).collect();
                let remedy = match nearest(word, names()) {
                    Some(meant) => format!("did you mean {}?", quoted(meant)),
                    None => String::from("give one of them"),
                };
                Fault::new(Kind::Unreadable, path, format!("not one of {}", all.join(", ")))
                    .value(quoted(word), "")
                    .remedy(remedy)
            });
        }
        found
    }

    /// A carve line has a side and a point a place across, and nothing else has.
    fn belongs(&mut self, quantity: Quantity) {
        for (field, owner, what) in
            [(Field::Side, Quantity::CarveLine, "side"), (Field::Across, Quantity::Point, "place across")]
        {
            let given = self.given(field);
            let there = !matches!(given, Given::Nothing);
            if there == (quantity == owner) {
                continue;
            }
            if there {
                self.fault(field, |path| {
                    let reason =
                        format!("only a {} has a {what}, and this is a {}", owner.name(), quantity.name());
                    Fault::new(Kind::Conflict, path, reason)
                        .value(given.shown(), "")
                        .remedy("leave it out, or say that it is another quantity")
                });
            } else {
                self.fault(field, |path| {
                    let remedy = match owner {
                        Quantity::CarveLine => "give \"bass\" or \"treble\"",
                        _ => "give its distance from the centreline, positive toward the treble side",
                    };
                    Fault::new(Kind::Missing, path, format!("a {} has a {what}", owner.name())).remedy(remedy)
                });
            }
        }
    }

    fn instrument_fits(&mut self, quantity: Quantity, instrument: Option<Instrument>) {
        let Some(instrument) = instrument else { return };
        let unsure = matches!(self.given(Field::Uncertainty), Given::Nothing);
        match (quantity, instrument.sure()) {
            (Quantity::Radius, Sure::Mm(_)) if unsure => self.fault(Field::Uncertainty, |path| {
                let reason =
                    format!("how sure a radius by {} is, its points' distance decides", instrument.name());
                Fault::new(Kind::Missing, path, reason).remedy("give the radius's standard uncertainty")
            }),
            (Quantity::Radius, _) | (_, Sure::Mm(_)) => {}
            _ => self.fault(Field::Instrument, |path| {
                Fault::new(Kind::Conflict, path, "a radius gauge tells nothing but a radius")
                    .value(quoted(instrument.name()), "")
                    .remedy("name another instrument or leave it out")
            }),
        }
    }
}

/// Whether a station is in its bounds.
fn on_any_neck(station: Station) -> bool {
    match station {
        Station::Mm(mm) => Station::MM.contains(mm),
        Station::Fret(fret) => Station::FRET.contains(fret),
    }
}

/// Holds a reading that was made in code against the same bounds; whether it is sound.
pub(super) fn check(reading: &Reading, index: u32, look: &mut Look) -> bool {
    let mut sound = true;
    let quantity = reading.measured.quantity();
    let mut number = |field: Field, bound: Bound, value: f64| {
        if !bound.contains(value) {
            sound = false;
            if !look.faults.only_counts() {
                look.path = path(reading.line, Some(index), field.name());
                look.number(Some(bound), "mm", value, None);
            }
        }
    };
    number(Field::Value, quantity.bound(), reading.value_mm);
    if let Measured::Point { across_mm } = reading.measured {
        number(Field::Across, ACROSS, across_mm);
    }
    number(Field::Uncertainty, quantity.uncertainty_bound(), reading.uncertainty_mm);
    if !on_any_neck(reading.at) {
        sound = false;
        if !look.faults.only_counts() {
            look.path = path(reading.line, Some(index), Field::At.name());
            look.station(reading.at, None);
        }
    }
    sound
}
