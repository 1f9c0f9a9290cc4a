//! The document as JSON, before anything is known about necks.

use alloc::borrow::ToOwned;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt;

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};

use super::root::Words;

use crate::measure::{Error, Fault, Kind, MAX_FAULTS, shortened};

/// The longest document that is read, in bytes.
pub const MAX_DOCUMENT_BYTES: usize = 256 * 1024;

/// How deep a value is kept: the deepest field, `shaft.profile[].treble.lean` of a specification, lies five steps down.
const DEEPEST: usize = 8;

/// A JSON value, and the paths of the keys that were given twice.
///
/// The usual reader keeps the last of two equal keys and says nothing; a builder who edits the first would
/// never learn why nothing changes. What lies deeper than any field is read and forgotten.
pub(crate) struct Document {
    pub(crate) value: Value,
    pub(crate) twice: Vec<String>,
}

impl Document {
    /// # Errors
    /// - [`Kind::TooLarge`] for a text of more than [`MAX_DOCUMENT_BYTES`].
    /// - [`Kind::Syntax`] for a text that is not JSON.
    pub(crate) fn from_json(text: &str, words: &Words) -> Result<Self, Error> {
        if text.len() > MAX_DOCUMENT_BYTES {
            let reason = format!("the text is longer than any {} needs", words.subject);
            let fault = Fault::new(Kind::TooLarge, "", reason)
                .value(text.len(), "bytes")
                .range(None, MAX_DOCUMENT_BYTES as f64)
                .remedy("leave out what has its default value");
            return Err(fault.into());
        }
        // Some editors put a byte order mark before the text.
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        if text.trim().is_empty() {
            let remedy = format!("write {{}} for a {} of defaults", words.subject);
            return Err(Fault::new(Kind::Syntax, "", "the text is empty").remedy(remedy).into());
        }
        Self::whole(text, words).map_err(|error| syntax("", &error).into())
    }

    /// Reads a text to its end.
    fn whole(text: &str, words: &Words) -> serde_json::Result<Self> {
        let mut deserializer = serde_json::Deserializer::from_str(text);
        let document = Self::read(&mut deserializer, words)?;
        deserializer.end()?;
        Ok(document)
    }

    /// Reads what any deserializer gives.
    pub(crate) fn read<'de, D: Deserializer<'de>>(deserializer: D, words: &Words) -> Result<Self, D::Error> {
        let mut twice = Vec::new();
        let value = Part { twice: &mut twice, place: None, words }.deserialize(deserializer)?;
        Ok(Self { value, twice })
    }
}

/// What is wrong with a text that is not JSON.
pub(crate) fn syntax(path: &str, error: &serde_json::Error) -> Fault {
    let message = error.to_string();
    let place = format!(" at line {} column {}", error.line(), error.column());
    let what = message.strip_suffix(&place).unwrap_or(&message);
    let what = match what.strip_prefix("EOF while parsing ") {
        Some("an object") => "a closing brace is missing",
        Some("a list") => "a closing bracket is missing",
        Some("a string") => "a closing quotation mark is missing",
        Some(_) => "something is missing",
        None if what.starts_with("recursion limit") => "brackets are nested too deeply",
        None if what == "expected ident" => "expected value",
        None => what,
    };
    let reason = format!("not JSON: {} at line {}, column {}", what, error.line(), error.column());
    Fault::new(Kind::Syntax, path, reason).remedy("mend the text there or just before")
}

/// Where a part of the document is: a list linked from the inside out, so that it costs nothing until a path
/// is wanted.
#[derive(Clone, Copy)]
struct Place<'a> {
    depth: usize,
    step: Step<'a>,
    outer: Option<&'a Place<'a>>,
}

#[derive(Clone, Copy)]
enum Step<'a> {
    Key(&'a str),
    Index(usize),
}

impl Place<'_> {
    fn path(&self) -> String {
        let outer = self.outer.map(Self::path).unwrap_or_default();
        match self.step {
            Step::Key(key) if outer.is_empty() => shortened(key),
            Step::Key(key) => outer + "." + &shortened(key),
            Step::Index(index) => format!("{outer}[{index}]"),
        }
    }
}

/// Reads one part of the document.
struct Part<'a> {
    twice: &'a mut Vec<String>,
    place: Option<&'a Place<'a>>,
    words: &'a Words,
}

impl Part<'_> {
    fn depth(&self) -> usize {
        self.place.map_or(0, |place| place.depth)
    }

    fn inner<'b>(&'b mut self, place: &'b Place<'b>) -> Part<'b> {
        Part { twice: &mut *self.twice, place: Some(place), words: self.words }
    }
}

impl<'de> DeserializeSeed<'de> for Part<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Part<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a {}", self.words.name)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_f64<E: serde::de::Error>(self, value: f64) -> Result<Value, E> {
        Number::from_f64(value)
            .map(Value::Number)
            .ok_or_else(|| E::custom(format!("{value} is not a finite number")))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(Value::String(value.to_owned()))
    }

    fn visit_string<E>(self, value: String) -> Result<Value, E> {
        Ok(Value::String(value))
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_none<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }

    fn visit_seq<A: SeqAccess<'de>>(mut self, mut entries: A) -> Result<Value, A::Error> {
        let depth = self.depth();
        let mut list = Vec::new();
        loop {
            let place = Place { depth: depth + 1, step: Step::Index(list.len()), outer: self.place };
            match entries.next_element_seed(self.inner(&place))? {
                Some(value) if depth < DEEPEST => list.push(value),
                Some(_) => {}
                None => return Ok(Value::Array(list)),
            }
        }
    }

    fn visit_map<A: MapAccess<'de>>(mut self, mut entries: A) -> Result<Value, A::Error> {
        let depth = self.depth();
        let mut map = Map::new();
        while let Some(key) = entries.next_key::<String>()? {
            let place = Place { depth: depth + 1, step: Step::Key(&key), outer: self.place };
            let value = entries.next_value_seed(self.inner(&place))?;
            if depth >= DEEPEST {
                continue;
            }
            if map.contains_key(&key) && self.twice.len() <= MAX_FAULTS {
                self.twice.push(place.path());
            }
            map.insert(key, value);
        }
        Ok(Value::Object(map))
    }
}
