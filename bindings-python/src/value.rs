//! Documents made of Python's own values.

use crate::errors::raised;
use crate::quantity::{is_quantity, written};
use neckwright::measure::{Error, Fault, Kind};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyMapping, PyString, PyTuple};
use serde_json::{Map, Number, Value};

/// How deep values may hold each other. No document is half as deep; what holds itself has no end.
const DEEPEST: usize = 24;

/// A value as JSON has it.
///
/// # Errors
/// - `TypeError`: something that no document can hold, named by its path;
/// - `NeckwrightError`: numbers that are none, quantities of another sort, values that hold themselves.
pub(crate) fn json(value: &Bound<'_, PyAny>) -> PyResult<Value> {
    let mut reader = Reader { faults: Vec::new(), path: String::new(), depth: 0 };
    let read = reader.value(value)?;
    Error::unless_none(reader.faults).map_err(|error| raised(value.py(), &error))?;
    Ok(read)
}

/// Keyword arguments as one document; what is `None` is not given.
pub(crate) fn keywords(given: Option<&Bound<'_, PyDict>>) -> PyResult<Value> {
    let Some(given) = given else { return Ok(Value::Object(Map::new())) };
    let mut all = json(given)?;
    if let Value::Object(map) = &mut all {
        map.retain(|_, value| !value.is_null());
    }
    Ok(all)
}

struct Reader {
    faults: Vec<Fault>,
    path: String,
    depth: usize,
}

impl Reader {
    /// Reads what is below a key or an index.
    fn below(&mut self, step: &str, value: &Bound<'_, PyAny>) -> PyResult<Value> {
        let length = self.path.len();
        self.path.push_str(step);
        self.depth += 1;
        let read = if self.depth > DEEPEST {
            let reason = "values are nested too deeply, or one holds itself";
            self.fault(Fault::new(Kind::TooLarge, &self.path, reason));
            Ok(Value::Null)
        } else {
            self.value(value)
        };
        self.depth -= 1;
        self.path.truncate(length);
        read
    }

    fn fault(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    fn value(&mut self, value: &Bound<'_, PyAny>) -> PyResult<Value> {
        if value.is_none() {
            return Ok(Value::Null);
        }
        if let Ok(yes) = value.cast::<PyBool>() {
            return Ok(Value::Bool(yes.is_true()));
        }
        if let Ok(text) = value.cast::<PyString>() {
            return Ok(Value::String(text.to_cow()?.into_owned()));
        }
        if value.is_instance_of::<PyFloat>() {
            let number = value.extract::<f64>()?;
            return Ok(self.number(number));
        }
        if value.is_instance_of::<PyInt>() {
            return self.whole(value);
        }
        if let Ok(map) = value.cast::<PyMapping>() {
            return self.map(map);
        }
        if value.is_instance_of::<PyList>() || value.is_instance_of::<PyTuple>() {
            return self.list(value);
        }
        if is_quantity(value) {
            let text = written(value, &self.path);
            return Ok(text.map_or_else(
                |fault| {
                    self.fault(fault);
                    Value::Null
                },
                Value::String,
            ));
        }
        // Arrays and numbers of numpy.
        if let Ok(plain) = value.call_method0("tolist") {
            return self.plain(&plain, value);
        }
        if value.hasattr("__index__")? {
            return self.whole(&value.call_method0("__index__")?);
        }
        if value.hasattr("__float__")? {
            let number = value.extract::<f64>()?;
            return Ok(self.number(number));
        }
        Err(self.wrong(value))
    }

    /// What `tolist` gave; of an odd one it may be of the same odd type.
    fn plain(&mut self, plain: &Bound<'_, PyAny>, of: &Bound<'_, PyAny>) -> PyResult<Value> {
        if plain.get_type().is(of.get_type()) { Err(self.wrong(of)) } else { self.value(plain) }
    }

    fn wrong(&self, value: &Bound<'_, PyAny>) -> PyErr {
        let of = value.get_type();
        let name = of.name().map_or_else(|_| "such a value".to_owned(), |name| name.to_string());
        let place = if self.path.is_empty() { "the document" } else { &self.path };
        PyTypeError::new_err(format!("{place}: a document can't hold {name}"))
    }

    fn number(&mut self, number: f64) -> Value {
        Number::from_f64(number).map_or_else(
            || {
                let fault = Fault::new(Kind::OutOfRange, &self.path, "not a finite number");
                self.fault(fault.value(number, ""));
                Value::Null
            },
            Value::Number,
        )
    }

    fn whole(&mut self, whole: &Bound<'_, PyAny>) -> PyResult<Value> {
        if let Ok(whole) = whole.extract::<i64>() {
            return Ok(Value::Number(whole.into()));
        }
        match whole.extract::<f64>() {
            Ok(number) => Ok(self.number(number)),
            // More digits than any number has here.
            Err(_) => {
                let sign = if whole.lt(0)? { f64::NEG_INFINITY } else { f64::INFINITY };
                Ok(self.number(sign))
            }
        }
    }

    fn map(&mut self, map: &Bound<'_, PyMapping>) -> PyResult<Value> {
        let mut read = Map::new();
        for entry in map.items()?.iter() {
            let (key, value) = entry.extract::<(Bound<'_, PyAny>, Bound<'_, PyAny>)>()?;
            let Ok(key) = key.cast::<PyString>() else { return Err(self.wrong_key(&key)) };
            let key = key.to_cow()?.into_owned();
            let step = if self.path.is_empty() { key.clone() } else { format!(".{key}") };
            let value = self.below(&step, &value)?;
            read.insert(key, value);
        }
        Ok(Value::Object(read))
    }

    fn wrong_key(&self, key: &Bound<'_, PyAny>) -> PyErr {
        let place = if self.path.is_empty() { "the document" } else { &self.path };
        PyTypeError::new_err(format!("{place}: keys are texts, not {key}"))
    }

    fn list(&mut self, list: &Bound<'_, PyAny>) -> PyResult<Value> {
        let mut read = Vec::new();
        for (i, value) in list.try_iter()?.enumerate() {
            read.push(self.below(&format!("[{i}]"), &value?)?);
        }
        Ok(Value::Array(read))
    }
}
