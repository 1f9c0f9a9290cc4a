//! Reading a document into its groups.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use serde_json::{Map, Value};

use super::Ratio;
use super::document::Document;
use super::look::Look;
use super::nearest::nearest;
use super::root::Root;
use super::visit::{About, Choice, Group, LengthOr, List, Slot, Visitor};
use crate::measure::{Angle, Error, Fault, Kind, Length, Station, exactly, quoted, shortened};

/// Reads a text.
pub(crate) fn json<R: Root>(text: &str) -> Result<R, Error> {
    let read = Document::from_json(text, &R::WORDS)?;
    document(&read.value, &read.twice)
}

/// Reads a text no further than JSON goes.
pub(crate) fn unread<R: Root>(text: &str) -> Result<Value, Error> {
    let read = Document::from_json(text, &R::WORDS)?;
    Error::unless_none(read.twice.iter().map(|path| given_twice(path)).collect())?;
    Ok(read.value)
}

fn given_twice(path: &str) -> Fault {
    Fault::new(Kind::Conflict, path, "the key is given twice in the same place").remedy("keep one of the two")
}

/// Reads the whole document; `twice` are the paths of the keys that it gives twice.
pub(crate) fn document<R: Root>(document: &Value, twice: &[String]) -> Result<R, Error> {
    let mut look = Look::default();
    for path in twice {
        look.faults.add(|| given_twice(path));
    }
    let Value::Object(map) = document else {
        let reason = format!("a {} is an object of groups, not {}", R::WORDS.name, sort(document));
        let remedy = format!("put it in braces: {{{}: …}}", quoted(R::WORDS.example));
        return Err(Fault::new(Kind::WrongType, "", reason).remedy(remedy).into());
    };
    newer_format(map, R::FORMAT)?;
    let mut root = R::default();
    group(&mut look, map, &mut root);
    if look.faults.is_empty() {
        root.together(&mut look.faults);
    }
    look.faults.into_result()?;
    Ok(root)
}

/// What a later format says can't be judged here, so nothing else is reported.
fn newer_format(map: &Map<String, Value>, latest: u32) -> Result<(), Error> {
    match map.get("format").and_then(Value::as_f64) {
        Some(format) if format > f64::from(latest) && libm::floor(format) == format => {
            let reason =
                format!("the document is written in a later format, and this library reads up to {latest}");
            let fault = Fault::new(Kind::NewerFormat, "format", reason).value(exactly(format), "");
            Err(fault.remedy(format!("update the library or save the document in format {latest}")).into())
        }
        _ => Ok(()),
    }
}

/// Reads one group: each field from its key.
struct GroupReader<'a> {
    look: &'a mut Look,
    map: &'a Map<String, Value>,
    known: Vec<&'static str>,
}

fn group(look: &mut Look, map: &Map<String, Value>, group: &mut dyn Group) {
    let mut reader = GroupReader { look, map, known: Vec::new() };
    group.visit(&mut reader);
    let GroupReader { look, known, .. } = reader;
    for key in map.keys().filter(|key| !known.contains(&key.as_str())) {
        let short = || shortened(key);
        look.faults.add(|| {
            let path = if look.path.is_empty() { short() } else { format!("{}.{}", look.path, short()) };
            let remedy = match nearest(key, known.iter().copied()) {
                Some(meant) => format!("did you mean {meant}?"),
                None => format!("the keys here are {}", known.join(", ")),
            };
            Fault::new(Kind::UnknownKey, path, "there is no such key").remedy(remedy)
        });
    }
}

impl Visitor for GroupReader<'_> {
    fn field(&mut self, about: &About, slot: Slot<'_>) {
        self.known.push(about.key);
        let given = self.map.get(about.key);
        self.look.at_key(about.key, |look| match (given, about.required) {
            (Some(given), _) => value(look, about, given, slot),
            (None, Some(why)) => {
                let remedy = format!("add \"{}\"", about.key);
                look.fault(|path| Fault::new(Kind::Missing, path, why).remedy(remedy));
            }
            (None, None) => {}
        });
    }
}

/// Reads one value into its slot.
fn value(look: &mut Look, about: &About, given: &Value, slot: Slot<'_>) {
    match slot {
        Slot::Maybe(_) if given.is_null() => look.fault(|path| {
            Fault::new(Kind::WrongType, path, "null says nothing here")
                .remedy("leave the key out to have it worked out")
        }),
        Slot::Maybe(maybe) => value(look, about, given, maybe.fill()),
        Slot::Flag(flag) => match given {
            Value::Bool(yes) => *flag = *yes,
            _ => wrong_type(look, given, Wanted::FLAG),
        },
        Slot::Count(count) => whole_number(look, about, given, count),
        Slot::Number(number) => match given.as_f64() {
            Some(given) => {
                *number = given;
                look.number(about.bound, about.unit, given, None);
            }
            None => wrong_type(look, given, Wanted::NUMBER),
        },
        Slot::Length(length) => {
            if let Some(read) = measure(look, given, Length::read, Length::from_mm, Wanted::LENGTH) {
                *length = read;
                look.number(about.bound, about.unit, read.mm(), given.as_str());
            }
        }
        Slot::Angle(angle) => {
            if let Some(read) = measure(look, given, Angle::read, Angle::from_deg, Wanted::ANGLE) {
                *angle = read;
                look.number(about.bound, about.unit, read.deg(), given.as_str());
            }
        }
        Slot::Ratio(ratio) => {
            if let Some(read) = measure(look, given, Ratio::read, Ratio::new, Wanted::RATIO) {
                *ratio = read;
                look.number(about.bound, about.unit, read.value(), given.as_str());
            }
        }
        Slot::Station(station) => {
            if let Some(read) = measure(look, given, Station::read, Station::Mm, Wanted::STATION) {
                *station = read;
                look.station(read, given.as_str());
            }
        }
        Slot::Text(text) => match given {
            Value::String(given) => {
                look.text(about, given);
                // A text that is refused is not worth a copy.
                if look.faults.is_empty() {
                    text.clone_from(given);
                }
            }
            _ => wrong_type(look, given, Wanted::TEXT),
        },
        Slot::Choice(choice) => one_of(look, given, choice),
        Slot::LengthOr(slot) => length_or(look, about, given, slot),
        Slot::Group(inner) => match given {
            Value::Object(map) => group(look, map, inner),
            _ => wrong_type(look, given, Wanted::GROUP),
        },
        Slot::List(entries) => list(look, about, given, entries),
    }
}

/// A number, or a text that `read` can make one of.
fn measure<T>(
    look: &mut Look,
    given: &Value,
    read: impl Fn(&str) -> Result<T, Box<Fault>>,
    number: impl Fn(f64) -> T,
    wanted: Wanted,
) -> Option<T> {
    match given {
        Value::String(text) => match read(text) {
            Ok(read) => return Some(read),
            Err(mut fault) => look.fault(|path| {
                fault.path = path.to_string();
                *fault
            }),
        },
        _ => match given.as_f64() {
            Some(given) => return Some(number(given)),
            None => wrong_type(look, given, wanted),
        },
    }
    None
}

fn whole_number(look: &mut Look, about: &About, given: &Value, count: &mut u32) {
    match given.as_f64() {
        Some(number) if libm::floor(number) == number => {
            look.number(about.bound, about.unit, number, None);
            // Saturates, and then the number is out of bounds anyway.
            *count = number as u32;
        }
        _ => wrong_type(look, given, Wanted::WHOLE),
    }
}

fn one_of(look: &mut Look, given: &Value, choice: &mut dyn Choice) {
    let names = choice.names();
    let Value::String(word) = given else {
        return wrong_type(look, given, Wanted::TEXT);
    };
    match names.iter().position(|name| name == word) {
        Some(index) => choice.choose(index),
        None => look.fault(|path| {
            let all: Vec<String> = names.iter().map(|name| quoted(name)).collect();
            let remedy = match nearest(word, names.iter().copied()) {
                Some(meant) => format!("did you mean {}?", quoted(meant)),
                None => String::from("give one of them"),
            };
            Fault::new(Kind::Unreadable, path, format!("not one of {}", all.join(", ")))
                .value(quoted(word), "")
                .remedy(remedy)
        }),
    }
}

fn length_or(look: &mut Look, about: &About, given: &Value, slot: &mut dyn LengthOr) {
    let word = slot.word();
    if given.as_str() == Some(word) {
        return slot.set(None);
    }
    let read = |text: &str| {
        Length::read(text).map_err(|mut fault| {
            fault.reason =
                fault.reason.replacen("not a length", &format!("neither \"{word}\" nor a length"), 1);
            if nearest(text, [word]).is_some() {
                fault.remedy = format!("did you mean \"{word}\"?");
            }
            fault
        })
    };
    if let Some(read) = measure(look, given, read, Length::from_mm, Wanted::LENGTH) {
        slot.set(Some(read));
        look.number(about.bound, about.unit, read.mm(), given.as_str());
    }
}

fn list(look: &mut Look, about: &About, given: &Value, entries: &mut dyn List) {
    let Value::Array(given) = given else {
        return wrong_type(look, given, Wanted::LIST);
    };
    look.size(about, given.len(), "entries");
    entries.clear();
    // Of a list that is too long only what would fit is looked at.
    let most = about.size.map_or(usize::MAX, |size| size.highest as usize);
    for (index, given) in given.iter().enumerate().take(most) {
        look.at_index(index, |look| value(look, about, given, entries.push()));
    }
}

/// What a field takes, and how to write it.
#[derive(Clone, Copy)]
struct Wanted {
    what: &'static str,
    remedy: &'static str,
}

impl Wanted {
    const FLAG: Self = Self { what: "true or false", remedy: "write true or false without quotation marks" };
    const WHOLE: Self = Self { what: "a whole number", remedy: "write digits only" };
    const NUMBER: Self = Self { what: "a number", remedy: "write it without quotation marks and unit" };
    const LENGTH: Self = Self { what: "a length", remedy: "write it like 43 or \"43 mm\"" };
    const ANGLE: Self = Self { what: "an angle", remedy: "write it like 10 or \"10 deg\"" };
    const RATIO: Self = Self { what: "a ratio", remedy: "write it like 1.5 or \"18/17\"" };
    const STATION: Self = Self { what: "a station", remedy: "write it like 120, \"nut\" or \"fret 7\"" };
    const TEXT: Self = Self { what: "a text", remedy: "put it in quotation marks" };
    const GROUP: Self = Self { what: "an object", remedy: "put its fields in braces" };
    const LIST: Self = Self { what: "a list", remedy: "put it in brackets, a single entry too" };
}

fn wrong_type(look: &mut Look, given: &Value, wanted: Wanted) {
    look.fault(|path| {
        let shown = match given {
            Value::Null | Value::Array(_) | Value::Object(_) => String::new(),
            Value::Bool(yes) => yes.to_string(),
            Value::Number(number) => number.as_f64().map(exactly).unwrap_or_default(),
            Value::String(text) => quoted(text),
        };
        let reason = format!("{} is wanted here, and this is {}", wanted.what, sort(given));
        Fault::new(Kind::WrongType, path, reason).value(shown, "").remedy(wanted.remedy)
    });
}

/// What sort of JSON value it is, in words.
fn sort(given: &Value) -> &'static str {
    match given {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(number) if number.as_f64().is_some_and(|n| libm::floor(n) != n) => "a fraction",
        Value::Number(_) => "a number",
        Value::String(_) => "a text",
        Value::Array(_) => "a list",
        Value::Object(_) => "an object",
    }
}
