//! Documents as they are given: a mapping, JSON text, or a file.

use crate::errors::{call_free, wrong_type};
use crate::value::json;
use neckwright::measure::Error;
use pyo3::intern;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyMapping, PyString};
use serde_json::{Map, Value};

/// A document before the library has read it.
#[derive(Clone)]
pub(crate) enum Document {
    Text(String),
    Value(Value),
}

impl Document {
    /// A mapping; JSON text; a path to a file, which is a path object or a text that ends in `.json`.
    pub fn of(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<Self> {
        if let Ok(text) = given.cast::<PyString>() {
            let text = text.to_cow()?;
            // No JSON text ends so.
            return if text.trim_end().to_ascii_lowercase().ends_with(".json") {
                file(given)
            } else {
                Ok(Self::Text(text.into_owned()))
            };
        }
        if given.cast::<PyMapping>().is_ok() {
            return json(given).map(Self::Value);
        }
        if given.hasattr("__fspath__")? {
            return file(given);
        }
        Err(wrong_type(argument, "a mapping, JSON text or a path", given))
    }

    /// What is given, changed by keywords (RFC 7396): groups are put together key by key, anything else takes the place of
    /// what was there, and `None` takes it away.
    pub fn changed(self, keywords: Option<&Bound<'_, PyDict>>) -> PyResult<Self> {
        let Some(keywords) = keywords.filter(|all| !all.is_empty()) else { return Ok(self) };
        let mut value = match self {
            Self::Value(value) => value,
            // A text that can't be read is told as such by whoever reads the document.
            Self::Text(text) => match serde_json::from_str(text.trim_start_matches('\u{feff}')) {
                Ok(value) => value,
                Err(_) => return Ok(Self::Text(text)),
            },
        };
        merge(&mut value, json(keywords)?);
        Ok(Self::Value(value))
    }

    /// Reads it, and makes something of what was read.
    pub fn read<D, T: Send>(
        &self,
        py: Python<'_>,
        from_json: impl FnOnce(&str) -> Result<D, Error> + Send,
        from_value: impl FnOnce(&Value) -> Result<D, Error> + Send,
        make: impl FnOnce(D) -> Result<T, Error> + Send,
    ) -> PyResult<T> {
        call_free(py, || {
            make(match self {
                Self::Text(text) => from_json(text)?,
                Self::Value(value) => from_value(value)?,
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
pub(crate) fn text_of_file<'py>(path: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyString>> {
    let py = path.py();
    let options = PyDict::new(py);
    options.set_item("encoding", "utf-8-sig")?;
    options.set_item("newline", "")?;
    let file = py.import("io")?.call_method("open", (path,), Some(&options))?;
    let text = file.call_method0(intern!(py, "read"));
    file.call_method0(intern!(py, "close"))?;
    Ok(text?.cast_into::<PyString>()?)
}

fn file(path: &Bound<'_, PyAny>) -> PyResult<Document> {
    Ok(Document::Text(text_of_file(path)?.to_cow()?.into_owned()))
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
