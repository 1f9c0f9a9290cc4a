//! Documents as they are given: a mapping, JSON text, or a file.

use crate::errors::{call_free, wrong_type};
use crate::subject::Subject;
use crate::value::json;
use neckwright::measure::Error;
use neckwright::spec::{Specification, Stock};
use pyo3::intern;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyMapping, PyString};
use serde_json::{Map, Value};

/// A document that is given as a text too.
pub(crate) trait Written: Subject {
    fn from_json(text: &str) -> Result<Self, Error>;
    fn value_of_json(text: &str) -> Result<Value, Error>;
}

macro_rules! written {
    ($($of:ident),+) => {
        $(impl Written for $of {
            fn from_json(text: &str) -> Result<Self, Error> {
                Self::from_json(text)
            }

            fn value_of_json(text: &str) -> Result<Value, Error> {
                Self::value_of_json(text)
            }
        })+
    };
}

written!(Specification, Stock);

/// A document before the library has read it.
#[derive(Clone)]
pub(crate) enum Document {
    Text(String),
    Value(Value),
}

impl Document {
    /// A mapping; JSON text; a path to a file, which is a path object or a text that ends in `.json`.
    pub fn of<D: Written>(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<Self> {
        if given.cast::<PyMapping>().is_ok() {
            return json(given, D::bounds).map(Self::Value);
        }
        match text_of(given, ".json")? {
            Some(text) => Ok(Self::Text(text)),
            None => Err(wrong_type(argument, "a mapping, JSON text or a path", given)),
        }
    }

    /// What is given, changed by keywords (RFC 7396): groups are put together key by key, anything else takes the place of
    /// what was there, and `None` takes it away.
    ///
    /// # Errors
    /// - `NeckwrightError`: a text that is no document, or gives a key twice: a change would hide that.
    pub fn changed<D: Written>(self, keywords: Option<&Bound<'_, PyDict>>) -> PyResult<Self> {
        let Some(keywords) = keywords.filter(|all| !all.is_empty()) else { return Ok(self) };
        let mut value = match self {
            Self::Value(value) => value,
            Self::Text(text) => call_free(keywords.py(), || D::value_of_json(&text))?,
        };
        // What is no document is left as it is, to be refused.
        if !value.is_object() {
            return Ok(Self::Value(value));
        }
        merge(&mut value, json(keywords, D::bounds)?);
        Ok(Self::Value(value))
    }

    /// Reads it, and makes something of what was read.
    pub fn read<D: Written, T: Send>(
        &self,
        py: Python<'_>,
        make: impl FnOnce(D) -> Result<T, Error> + Send,
    ) -> PyResult<T> {
        call_free(py, || {
            make(match self {
                Self::Text(text) => D::from_json(text)?,
                Self::Value(value) => D::from_value(value)?,
            })
        })
    }

    /// As JSON text, just as it was given.
    pub fn text(&self) -> String {
        match self {
            Self::Text(text) => text.clone(),
            Self::Value(value) => value.to_string(),
        }
    }
}

impl Default for Document {
    fn default() -> Self {
        Self::Value(Value::Object(Map::new()))
    }
}

/// The text of a file; what is wrong with it is told by Python's own `open`.
fn text_of_file<'py>(path: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyString>> {
    let py = path.py();
    let options = PyDict::new(py);
    options.set_item("encoding", "utf-8-sig")?;
    options.set_item("newline", "")?;
    let file = py.import("io")?.call_method("open", (path,), Some(&options))?;
    let text = file.call_method0(intern!(py, "read"));
    file.call_method0(intern!(py, "close"))?;
    Ok(text?.cast_into::<PyString>()?)
}

/// A text itself, or that of a file: by a path object, or by a text that ends as the file's name does, which no document of
/// that sort does. Nothing of anything else.
pub(crate) fn text_of(given: &Bound<'_, PyAny>, ending: &str) -> PyResult<Option<String>> {
    let text = if let Ok(text) = given.cast::<PyString>() {
        let whole = text.to_cow()?;
        let named = whole.trim_end().to_ascii_lowercase().ends_with(ending) && !whole.contains(['\n', '\r']);
        if named { text_of_file(given)? } else { text.clone() }
    } else if given.hasattr("__fspath__")? {
        text_of_file(given)?
    } else {
        return Ok(None);
    };
    Ok(Some(text.to_cow()?.into_owned()))
}

fn merge(into: &mut Value, patch: Value) {
    let Value::Object(patch) = patch else {
        *into = patch;
        return;
    };
    if !into.is_object() {
        *into = Value::Object(Map::new());
    }
    if let Value::Object(into) = into {
        for (key, value) in patch {
            if value.is_null() {
                into.shift_remove(&key);
            } else {
                merge(into.entry(key).or_insert(Value::Null), value);
            }
        }
    }
}
