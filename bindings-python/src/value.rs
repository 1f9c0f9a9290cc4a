//! Documents made of Python's own values.

use crate::errors::raised;
use crate::number::is_truth;
use crate::quantity::Quantity;
use neckwright::measure::{Error, Fault, Kind};
use neckwright::spec::BoundRow;
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyMapping, PyString, PyTuple};
use serde_json::{Map, Number, Value};

/// How deep values may hold each other. No document is half as deep; what holds itself has no end.
const DEEPEST: usize = 24;

/// How many values there may be. What holds one value in many places has more of them than any memory.
const MOST: usize = 2_000_000;

/// What the fields of a document may be.
pub(crate) type Bounds = fn() -> Vec<BoundRow>;

/// A value as JSON has it.
///
/// # Errors
/// - `TypeError`: something that no document can hold, named by its path;
/// - `NeckwrightError`: numbers that are none, quantities of another sort, values that hold themselves.
pub(crate) fn json(value: &Bound<'_, PyAny>, bounds: Bounds) -> PyResult<Value> {
    let mut reader = Reader { bounds, faults: Vec::new(), path: String::new(), depth: 0, left: MOST };
    let read = reader.value(value)?;
    Error::unless_none(reader.faults).map_err(|error| raised(value.py(), &error))?;
    Ok(read)
}

/// Keyword arguments as one document; what is `None` is not given.
pub(crate) fn keywords(given: Option<&Bound<'_, PyDict>>, bounds: Bounds) -> PyResult<Value> {
    let Some(given) = given else { return Ok(Value::Object(Map::new())) };
    let mut all = json(given, bounds)?;
    if let Value::Object(map) = &mut all {
        map.retain(|_, value| !value.is_null());
    }
    Ok(all)
}

struct Reader {
    bounds: Bounds,
    faults: Vec<Fault>,
    path: String,
    depth: usize,
    /// How many values may still come.
    left: usize,
}

impl Reader {
    /// Reads what is below a key or an index.
    fn below(&mut self, step: &str, value: &Bound<'_, PyAny>) -> PyResult<Value> {
        let length = self.path.len();
        self.path.push_str(step);
        self.depth += 1;
        // At once: of what holds itself twice there is more at every step.
        if self.depth > DEEPEST || self.left == 0 {
            let reason = "values are nested too deeply or too many, or one holds itself";
            let wrong = Fault::new(Kind::TooLarge, &self.path, reason);
            return Err(raised(value.py(), &wrong.into()));
        }
        self.left -= 1;
        let read = self.value(value);
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
        if is_truth(value) {
            return Ok(Value::Bool(value.is_truthy()?));
        }
        if let Ok(map) = value.cast::<PyMapping>() {
            return self.map(map);
        }
        if value.is_instance_of::<PyList>() || value.is_instance_of::<PyTuple>() {
            return self.list(value);
        }
        if let Some(quantity) = Quantity::of(value) {
            let text = quantity.written(&self.path)?;
            return Ok(text.map_or_else(
                |fault| {
                    self.fault(fault);
                    Value::Null
                },
                Value::String,
            ));
        }
        // Arrays and numbers of numpy. What an odd one gives may be as odd, without end.
        if let Ok(plain) = value.call_method0("tolist") {
            return if plain.get_type().is(value.get_type()) {
                Err(self.wrong(value))
            } else {
                self.below("", &plain)
            };
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

    fn wrong(&self, value: &Bound<'_, PyAny>) -> PyErr {
        let of = value.get_type();
        let name = of.name().map_or_else(|_| "such a value".to_owned(), |name| name.to_string());
        let place = if self.path.is_empty() { "the document" } else { &self.path };
        PyTypeError::new_err(format!("{place}: a document can't hold {name}"))
    }

    fn number(&mut self, number: f64) -> Value {
        Number::from_f64(number).map_or_else(
            || {
                let fault = self.no_number(number);
                self.fault(fault);
                Value::Null
            },
            Value::Number,
        )
    }

    /// What JSON has no number for: told with the field's own range.
    fn no_number(&self, number: f64) -> Fault {
        let fault = Fault::new(Kind::OutOfRange, &self.path, "not a finite number");
        let row = (self.bounds)().into_iter().find(|row| is_of(&row.path, &self.path));
        let Some(row) = row else { return fault.value(number, "").remedy("give a finite number") };
        let remedy = match (row.lowest, row.highest) {
            (Some(lowest), Some(highest)) => format!("give {lowest} to {highest} {}", row.unit),
            (Some(lowest), None) => format!("give {lowest} {} or more", row.unit),
            (None, Some(highest)) => format!("give {highest} {} or less", row.unit),
            (None, None) => "give a finite number".to_owned(),
        };
        fault.value(number, row.unit).range(row.lowest, row.highest).remedy(remedy.trim_end())
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

/// Whether a row of the table is that of a field: `shaft.thickness[].at` of `shaft.thickness[2].at`.
fn is_of(row: &str, path: &str) -> bool {
    let mut within = false;
    row.chars().eq(path.chars().filter(|character| {
        let digit = within && character.is_ascii_digit();
        within = *character == '[' || digit;
        !digit
    }))
}
