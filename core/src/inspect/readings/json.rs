//! Reading a JSON document as it streams by: the readings are all that is kept of it.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;
use core::fmt;

use serde::de::{DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};

use super::collection::{name_fault, too_long};
use super::elements::Elements;
use super::entry::Entry;
use super::field::{Field, Given, NOTE, path};
use super::gather::Gather;
use super::meant::Meant;
use super::{BadReadings, MAX_READINGS, Readings};
use crate::inspect::Instrument;
use crate::measure::{Bound, Fault, Kind, Length, exactly, quoted, shortened};
use crate::spec::{nearest, syntax};

/// The keys of the document.
const KEYS: [&str; 4] = ["format", "name", "uncertainties", "readings"];

const FORMAT: Bound = Bound {
    lowest: 1.0,
    highest: Readings::FORMAT as f64,
    why: "formats are numbered from 1, and this library knows no other",
};

/// Reads a whole text.
pub(super) fn read(text: &str) -> Result<Readings, BadReadings> {
    if let Some(refused) = too_long(text) {
        return Err(refused);
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        let fault = Fault::new(Kind::Syntax, "line 1", "the text is empty");
        return Err(Gather::refused(fault.remedy("write {\"readings\": []} for none")));
    }
    let mut state = State {
        text,
        gather: Gather::new(text.len(), true),
        byte: 0,
        key_line: 1,
        line: 1,
        begun: None,
        field: None,
        among: false,
        elements: None,
        newer: None,
    };
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let part = Part { state: &mut state, what: What::Document };
    match part.deserialize(&mut deserializer).and_then(|given| deserializer.end().map(|()| given)) {
        Ok(given) => state.wants(&given, "", "an object with the readings", "write {\"readings\": [ … ]}"),
        Err(error) => state.broken_off(&error),
    }
    if let Some(newer) = state.newer {
        return Err(Gather::refused(newer));
    }
    state.gather.finish()
}

/// What is known while the document streams by.
struct State<'t> {
    text: &'t str,
    gather: Gather,
    /// The place of the last key, and its line.
    byte: usize,
    key_line: u32,
    /// The line of what is being read.
    line: u32,
    /// The line of the reading whose fields are being read; 0 before its first key.
    begun: Option<u32>,
    /// The field of the reading whose value is being read.
    field: Option<Field>,
    /// Whether the list of readings is being read.
    among: bool,
    /// The elements of that list.
    elements: Option<Elements<'t>>,
    newer: Option<Fault>,
}

impl State<'_> {
    /// Goes on to a key. It lies within the text unless it has escapes; then the line is the one known last.
    fn go_to(&mut self, key: &str) -> bool {
        let place = (key.as_ptr() as usize).checked_sub(self.text.as_ptr() as usize);
        if let Some(place) = place
            && let Some(between) = self.text.as_bytes().get(self.byte..place)
        {
            self.key_line += between.iter().filter(|byte| **byte == b'\n').count() as u32;
            self.line = self.key_line;
            self.byte = place;
            return true;
        }
        false
    }

    /// Goes on to the beginning of the next reading, where nothing else tells its line.
    fn go_to_element(&mut self) {
        let next = self.gather.next();
        if let Some(elements) = &mut self.elements {
            self.line = self.line.max(elements.line_of(next));
        }
    }

    /// The path of something here.
    fn path(&self, field: &str) -> String {
        path(self.line, self.among.then(|| self.gather.next()), field)
    }

    fn fault(&mut self, field: &str, fault: impl FnOnce(String) -> Fault) {
        let place = (self.line, self.among.then(|| self.gather.next()));
        self.gather.look.faults.add(|| fault(path(place.0, place.1, &shortened(field))));
    }

    fn twice(&mut self, key: &str) {
        self.fault(key, |path| {
            Fault::new(Kind::Conflict, path, "the key is given twice in the same place")
                .remedy("keep one of the two")
        });
    }

    fn unknown(&mut self, shown: &str, key: &str, known: &[&'static str], meant: &mut Meant) {
        let near = nearest(key, known.iter().copied());
        if let Some(near) = near {
            meant.note(&self.gather.look.faults, near);
        }
        self.fault(shown, |path| {
            let remedy = match near {
                Some(near) => format!("did you mean {near}?"),
                None => the_keys(known),
            };
            Fault::new(Kind::UnknownKey, path, "there is no such key").remedy(remedy)
        });
    }

    /// Notes what is not of the sort that is wanted: anything that was not taken.
    fn wants(&mut self, given: &Given<'_>, field: &str, wanted: &str, remedy: &str) {
        if !matches!(given, Given::Nothing) {
            self.fault(field, |path| {
                let reason = format!("{wanted} is wanted here, and this is {}", given.sort());
                Fault::new(Kind::WrongType, path, reason).value(given.shown(), "").remedy(remedy)
            });
        }
    }

    /// The text is not JSON from some place on.
    fn broken_off(&mut self, error: &serde_json::Error) {
        let line = u32::try_from(error.line()).unwrap_or(u32::MAX).max(1);
        let entry = self.among.then(|| self.gather.next());
        let field = self.field.map_or("", Field::name);
        self.gather.look.faults.add(|| {
            syntax(&path(line, entry, field), error)
                .remedy("mend the text there or just before; nothing after that place is read yet")
        });
        if let Some(begun) = self.begun {
            self.gather.spoil(if begun == 0 { line } else { begun });
        }
    }

    fn format(&mut self, given: &Given<'_>) {
        match given {
            Given::Number(format) if *format > FORMAT.highest && libm::floor(*format) == *format => {
                let latest = Readings::FORMAT;
                let reason = format!(
                    "the document is written in a later format, and this library reads up to {latest}"
                );
                let fault = Fault::new(Kind::NewerFormat, self.path("format"), reason);
                let remedy = format!("update the library or save the document in format {latest}");
                self.newer = Some(fault.value(exactly(*format), "").remedy(remedy));
            }
            Given::Number(format) => {
                self.gather.look.path = self.path("format");
                self.gather.look.number(Some(FORMAT), "", *format, None);
            }
            other => self.wants(other, "format", "a whole number", "write digits only"),
        }
    }

    fn name(&mut self, given: &Given<'_>) {
        match given {
            Given::Text(text) => match name_fault(text) {
                Some((kind, reason, remedy)) => self.fault("name", |path| {
                    Fault::new(kind, path, reason).value(quoted(text), "").remedy(remedy)
                }),
                None => self.gather.name = String::from(text.as_ref()),
            },
            other => self.wants(other, "name", "a text", "put it in quotation marks"),
        }
    }

    fn uncertainty(&mut self, instrument: Instrument, given: &Given<'_>) {
        let field = format!("uncertainties.{}", instrument.name());
        let place = self.path(&field);
        match given {
            Given::Number(mm) => self.gather.say(instrument, *mm, None, place),
            Given::Text(text) => match Length::read(text) {
                Ok(length) => self.gather.say(instrument, length.mm(), Some(text), place),
                Err(fault) => self.fault(&field, |path| Fault { path, ..*fault }),
            },
            other => self.wants(other, &field, "a length", "write it like 0.05 or \"0.05 mm\""),
        }
    }
}

/// What may be given.
fn the_keys(known: &[&'static str]) -> String {
    format!("the keys here are {}", known.join(", "))
}

/// What a part of the document should be.
#[derive(Clone, Copy, PartialEq)]
enum What {
    Document,
    Uncertainties,
    Readings,
    Entry,
    Scalar,
}

/// Reads one part of the document. What it takes itself comes out as [`Given::Nothing`].
struct Part<'s, 't> {
    state: &'s mut State<'t>,
    what: What,
}

impl<'t> Part<'_, 't> {
    fn inner(&mut self, what: What) -> Part<'_, 't> {
        Part { state: self.state, what }
    }

    /// The next key of an object.
    fn key<A: MapAccess<'t>>(&mut self, entries: &mut A) -> Result<Option<Cow<'t, str>>, A::Error> {
        let key = entries.next_key_seed(self.inner(What::Scalar))?;
        Ok(key.map(|key| {
            let key = if let Given::Text(key) = key { key } else { Cow::Borrowed("") };
            if !self.state.go_to(&key) && self.state.begun == Some(0) {
                self.state.go_to_element();
            }
            key
        }))
    }

    fn document<A: MapAccess<'t>>(mut self, entries: &mut A) -> Result<(), A::Error> {
        let mut seen = [false; KEYS.len()];
        let mut meant = Meant::default();
        while let Some(key) = self.key(entries)? {
            let known = KEYS.iter().position(|known| *known == key);
            match known.and_then(|index| seen.get_mut(index)) {
                Some(seen) if !*seen => *seen = true,
                Some(_) => {
                    self.state.twice(&key);
                    entries.next_value::<IgnoredAny>()?;
                    continue;
                }
                None => self.state.unknown(&key, &key, &KEYS, &mut meant),
            }
            let what = match &*key {
                "uncertainties" => What::Uncertainties,
                "readings" => What::Readings,
                _ => What::Scalar,
            };
            let given = entries.next_value_seed(self.inner(what))?;
            let state = &mut *self.state;
            match &*key {
                "format" => state.format(&given),
                "name" => state.name(&given),
                "uncertainties" => {
                    state.wants(
                        &given,
                        "uncertainties",
                        "an object",
                        "write it like {\"caliper\": \"0.05 mm\"}",
                    );
                }
                "readings" => {
                    state.wants(&given, "readings", "a list", "put it in brackets, a single reading too");
                }
                _ => {}
            }
        }
        let there = |name: &str| KEYS.iter().zip(&seen).any(|(key, seen)| *seen && *key == name);
        meant.settle(&mut self.state.gather.look.faults, there, || the_keys(&KEYS));
        if let [.., false] = seen {
            self.state.fault("readings", |path| {
                Fault::new(Kind::Missing, path, "the readings are a list under this key")
                    .remedy("add \"readings\"")
            });
        }
        Ok(())
    }

    fn uncertainties<A: MapAccess<'t>>(mut self, entries: &mut A) -> Result<(), A::Error> {
        let mut seen = [false; Instrument::ALL.len()];
        let mut meant = Meant::default();
        let names = Instrument::ALL.map(Instrument::name);
        while let Some(key) = self.key(entries)? {
            let given = entries.next_value_seed(self.inner(What::Scalar))?;
            let shown = format!("uncertainties.{key}");
            let instrument = Instrument::ALL.into_iter().find(|instrument| instrument.name() == key);
            match instrument.and_then(|instrument| Some((instrument, seen.get_mut(instrument as usize)?))) {
                Some((_, true)) => self.state.twice(&shown),
                Some((instrument, seen)) => {
                    *seen = true;
                    self.state.uncertainty(instrument, &given);
                }
                None => self.state.unknown(&shown, &key, &names, &mut meant),
            }
        }
        let there = |name: &str| names.iter().zip(&seen).any(|(key, seen)| *seen && *key == name);
        meant.settle(&mut self.state.gather.look.faults, there, || the_keys(&names));
        Ok(())
    }

    fn readings<A: SeqAccess<'t>>(mut self, entries: &mut A) -> Result<(), A::Error> {
        let state = &mut *self.state;
        state.among = true;
        state.elements =
            Some(Elements::new(state.text.as_bytes().get(state.byte..).unwrap_or_default(), state.line));
        loop {
            if self.state.gather.count() >= MAX_READINGS {
                if entries.next_element::<IgnoredAny>()?.is_some() {
                    let line = self.state.line;
                    self.state.gather.has_room(line);
                    while entries.next_element::<IgnoredAny>()?.is_some() {}
                }
                break;
            }
            match entries.next_element_seed(self.inner(What::Entry))? {
                Some(Given::Nothing) => {}
                Some(given) => {
                    self.state.go_to_element();
                    self.state.wants(&given, "", "an object", "put the reading's fields in braces");
                    let line = self.state.line;
                    self.state.gather.spoil(line);
                }
                None => break,
            }
        }
        self.state.among = false;
        Ok(())
    }

    fn entry<A: MapAccess<'t>>(mut self, entries: &mut A) -> Result<(), A::Error> {
        let index = self.state.gather.next();
        let mut entry: Option<Entry<'t>> = None;
        let begin =
            |line| Entry { given: Entry::NOTHING, lines: [line; 7], line, index: Some(index), sloppy: false };
        let (mut broken, mut noted) = (false, false);
        let mut meant = Meant::default();
        self.state.begun = Some(0);
        while let Some(key) = self.key(entries)? {
            let line = self.state.line;
            let entry = entry.get_or_insert_with(|| begin(line));
            self.state.begun = Some(entry.line);
            let field = Field::ALL.into_iter().find(|field| field.name() == key);
            self.state.field = field;
            let given = entries.next_value_seed(self.inner(What::Scalar))?;
            self.state.field = None;
            if key == NOTE {
                // The caller's own, whatever is in it.
                if core::mem::replace(&mut noted, true) {
                    broken = true;
                    self.state.twice(NOTE);
                }
                continue;
            }
            let places = field.map(|field| field as usize);
            let place = places.and_then(|i| Some((entry.given.get_mut(i)?, entry.lines.get_mut(i)?)));
            match place {
                Some((place @ Given::Nothing, on)) => (*place, *on) = (given, line),
                Some(_) => {
                    broken = true;
                    self.state.twice(&key);
                }
                None => {
                    broken = true;
                    self.state.unknown(&key, &key, &Field::ALL.map(Field::name), &mut meant);
                }
            }
        }
        let entry = match entry {
            Some(entry) => entry,
            None => {
                self.state.go_to_element();
                begin(self.state.line)
            }
        };
        let there = |name: &str| {
            let given = Field::ALL.iter().zip(&entry.given);
            given.into_iter().any(|(field, given)| !matches!(given, Given::Nothing) && field.name() == name)
        };
        meant.settle(&mut self.state.gather.look.faults, there, || the_keys(&Field::ALL.map(Field::name)));
        let byte = self.state.byte;
        self.state.gather.take(&entry, broken, byte);
        self.state.begun = None;
        Ok(())
    }
}

impl<'t> DeserializeSeed<'t> for Part<'_, 't> {
    type Value = Given<'t>;

    fn deserialize<D: Deserializer<'t>>(self, deserializer: D) -> Result<Given<'t>, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'t> Visitor<'t> for Part<'_, 't> {
    type Value = Given<'t>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("readings")
    }

    fn visit_bool<E>(self, value: bool) -> Result<Given<'t>, E> {
        Ok(Given::Flag(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Given<'t>, E> {
        Ok(Given::Number(value as f64))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Given<'t>, E> {
        Ok(Given::Number(value as f64))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Given<'t>, E> {
        Ok(Given::Number(value))
    }

    fn visit_str<E>(self, value: &str) -> Result<Given<'t>, E> {
        Ok(Given::Text(Cow::Owned(String::from(value))))
    }

    fn visit_borrowed_str<E>(self, value: &'t str) -> Result<Given<'t>, E> {
        Ok(Given::Text(Cow::Borrowed(value)))
    }

    fn visit_unit<E>(self) -> Result<Given<'t>, E> {
        Ok(Given::Null)
    }

    fn visit_seq<A: SeqAccess<'t>>(self, mut entries: A) -> Result<Given<'t>, A::Error> {
        if self.what == What::Readings {
            self.readings(&mut entries)?;
            return Ok(Given::Nothing);
        }
        while entries.next_element::<IgnoredAny>()?.is_some() {}
        Ok(Given::List)
    }

    fn visit_map<A: MapAccess<'t>>(self, mut entries: A) -> Result<Given<'t>, A::Error> {
        match self.what {
            What::Document => self.document(&mut entries)?,
            What::Uncertainties => self.uncertainties(&mut entries)?,
            What::Entry => self.entry(&mut entries)?,
            What::Readings | What::Scalar => {
                while entries.next_entry::<IgnoredAny, IgnoredAny>()?.is_some() {}
                return Ok(Given::Object);
            }
        }
        Ok(Given::Nothing)
    }
}
