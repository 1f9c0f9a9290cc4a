//! Results of the library as Python's own records: what serde tells of them, taken straight to Python's values.

use crate::errors::caught;
use pyo3::exceptions::PyRuntimeError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBool, PyDict, PyFloat, PyString, PyTuple, PyType};
use serde::Serialize;
use serde::ser::{self, Serializer};
use std::collections::HashMap;
use std::fmt::Display;

/// A result as Python has it: a record where it has fields, a tuple where it is a list, a dict where it is a document.
pub(crate) fn record<'py>(py: Python<'py>, result: &impl Serialize) -> PyResult<Bound<'py, PyAny>> {
    let classes = Classes::get(py)?;
    // A document is only written here, by the library.
    caught(|| result.serialize(Writer { py, classes }).map_err(|wrong| wrong.0))
}

/// A class of records, and the names of its fields as serde tells them.
struct Class {
    class: Py<PyType>,
    fields: Vec<String>,
}

/// All classes, by the name that serde tells, then by the first field.
struct Classes(HashMap<String, Vec<Class>>);

impl Classes {
    fn get(py: Python<'_>) -> PyResult<&Self> {
        static CLASSES: PyOnceLock<Classes> = PyOnceLock::new();
        CLASSES.get_or_try_init(py, || Self::read(py))
    }

    fn read(py: Python<'_>) -> PyResult<Self> {
        let mut all = HashMap::<String, Vec<Class>>::new();
        for entry in py.import("neckwright.records")?.getattr("_CLASSES")?.try_iter()? {
            let (name, fields, class) = entry?.extract::<(String, Vec<String>, Bound<'_, PyType>)>()?;
            all.entry(name).or_default().push(Class { class: class.unbind(), fields });
        }
        Ok(Self(all))
    }

    fn find(&self, name: &str, first: &str) -> Option<&Class> {
        self.0.get(name)?.iter().find(|class| class.fields.first().is_some_and(|field| field == first))
    }
}

/// Whatever Python said.
#[derive(Debug)]
struct Wrong(PyErr);

impl Display for Wrong {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}

impl std::error::Error for Wrong {}

impl ser::Error for Wrong {
    fn custom<T: Display>(message: T) -> Self {
        Self(PyRuntimeError::new_err(message.to_string()))
    }
}

impl From<PyErr> for Wrong {
    fn from(error: PyErr) -> Self {
        Self(error)
    }
}

impl From<std::convert::Infallible> for Wrong {
    fn from(never: std::convert::Infallible) -> Self {
        match never {}
    }
}

type Made<'py> = Result<Bound<'py, PyAny>, Wrong>;

#[derive(Clone, Copy)]
struct Writer<'py, 'a> {
    py: Python<'py>,
    classes: &'a Classes,
}

impl<'py, 'a> Serializer for Writer<'py, 'a> {
    type Ok = Bound<'py, PyAny>;
    type Error = Wrong;
    type SerializeSeq = List<'py, 'a>;
    type SerializeTuple = List<'py, 'a>;
    type SerializeTupleStruct = List<'py, 'a>;
    type SerializeTupleVariant = List<'py, 'a>;
    type SerializeMap = Mapping<'py, 'a>;
    type SerializeStruct = Fields<'py, 'a>;
    type SerializeStructVariant = Fields<'py, 'a>;

    fn serialize_bool(self, value: bool) -> Made<'py> {
        Ok(PyBool::new(self.py, value).to_owned().into_any())
    }

    fn serialize_i8(self, value: i8) -> Made<'py> {
        self.serialize_i64(value.into())
    }

    fn serialize_i16(self, value: i16) -> Made<'py> {
        self.serialize_i64(value.into())
    }

    fn serialize_i32(self, value: i32) -> Made<'py> {
        self.serialize_i64(value.into())
    }

    fn serialize_i64(self, value: i64) -> Made<'py> {
        Ok(value.into_pyobject(self.py)?.into_any())
    }

    fn serialize_u8(self, value: u8) -> Made<'py> {
        self.serialize_u64(value.into())
    }

    fn serialize_u16(self, value: u16) -> Made<'py> {
        self.serialize_u64(value.into())
    }

    fn serialize_u32(self, value: u32) -> Made<'py> {
        self.serialize_u64(value.into())
    }

    fn serialize_u64(self, value: u64) -> Made<'py> {
        Ok(value.into_pyobject(self.py)?.into_any())
    }

    fn serialize_f32(self, value: f32) -> Made<'py> {
        self.serialize_f64(value.into())
    }

    fn serialize_f64(self, value: f64) -> Made<'py> {
        Ok(PyFloat::new(self.py, value).into_any())
    }

    fn serialize_char(self, value: char) -> Made<'py> {
        self.serialize_str(value.encode_utf8(&mut [0; 4]))
    }

    fn serialize_str(self, value: &str) -> Made<'py> {
        Ok(PyString::new(self.py, value).into_any())
    }

    fn serialize_bytes(self, value: &[u8]) -> Made<'py> {
        Ok(pyo3::types::PyBytes::new(self.py, value).into_any())
    }

    fn serialize_none(self) -> Made<'py> {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Made<'py> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Made<'py> {
        Ok(self.py.None().into_bound(self.py))
    }

    fn serialize_unit_struct(self, _: &'static str) -> Made<'py> {
        self.serialize_unit()
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, variant: &'static str) -> Made<'py> {
        self.serialize_str(variant)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Made<'py> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        name: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Made<'py> {
        Err(ser::Error::custom(format!("{name} has no record")))
    }

    fn serialize_seq(self, length: Option<usize>) -> Result<List<'py, 'a>, Wrong> {
        Ok(List { writer: self, items: Vec::with_capacity(length.unwrap_or(0)) })
    }

    fn serialize_tuple(self, length: usize) -> Result<List<'py, 'a>, Wrong> {
        self.serialize_seq(Some(length))
    }

    fn serialize_tuple_struct(self, _: &'static str, length: usize) -> Result<List<'py, 'a>, Wrong> {
        self.serialize_seq(Some(length))
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        length: usize,
    ) -> Result<List<'py, 'a>, Wrong> {
        self.serialize_seq(Some(length))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Mapping<'py, 'a>, Wrong> {
        Ok(Mapping { writer: self, made: PyDict::new(self.py), key: None })
    }

    fn serialize_struct(self, name: &'static str, _: usize) -> Result<Fields<'py, 'a>, Wrong> {
        Ok(Fields { writer: self, name, class: None, values: Vec::new(), next: 0 })
    }

    fn serialize_struct_variant(
        self,
        name: &'static str,
        _: u32,
        _: &'static str,
        length: usize,
    ) -> Result<Fields<'py, 'a>, Wrong> {
        self.serialize_struct(name, length)
    }
}

/// A list, which becomes a tuple.
struct List<'py, 'a> {
    writer: Writer<'py, 'a>,
    items: Vec<Bound<'py, PyAny>>,
}

impl<'py> List<'py, '_> {
    fn add<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Wrong> {
        self.items.push(value.serialize(self.writer)?);
        Ok(())
    }

    fn made(self) -> Made<'py> {
        Ok(PyTuple::new(self.writer.py, self.items)?.into_any())
    }
}

macro_rules! list {
    ($trait:ident, $add:ident) => {
        impl<'py> ser::$trait for List<'py, '_> {
            type Ok = Bound<'py, PyAny>;
            type Error = Wrong;

            fn $add<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Wrong> {
                self.add(value)
            }

            fn end(self) -> Made<'py> {
                self.made()
            }
        }
    };
}

list!(SerializeSeq, serialize_element);
list!(SerializeTuple, serialize_element);
list!(SerializeTupleStruct, serialize_field);
list!(SerializeTupleVariant, serialize_field);

/// A document.
struct Mapping<'py, 'a> {
    writer: Writer<'py, 'a>,
    made: Bound<'py, PyDict>,
    key: Option<Bound<'py, PyAny>>,
}

impl<'py> ser::SerializeMap for Mapping<'py, '_> {
    type Ok = Bound<'py, PyAny>;
    type Error = Wrong;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), Wrong> {
        self.key = Some(key.serialize(self.writer)?);
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Wrong> {
        // Lists of documents are lists in Python too, as `json` has them.
        let value = listed(&value.serialize(self.writer)?)?;
        Ok(self.made.set_item(self.key.take(), value)?)
    }

    fn end(self) -> Made<'py> {
        Ok(self.made.into_any())
    }
}

/// Tuples of a document as lists.
fn listed<'py>(value: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    match value.cast_exact::<PyTuple>() {
        Ok(tuple) => {
            let all = tuple.iter().map(|item| listed(&item)).collect::<PyResult<Vec<_>>>()?;
            Ok(pyo3::types::PyList::new(value.py(), all)?.into_any())
        }
        Err(_) => Ok(value.clone()),
    }
}

/// A record; fields that are not told are `None`.
struct Fields<'py, 'a> {
    writer: Writer<'py, 'a>,
    name: &'static str,
    class: Option<&'a Class>,
    values: Vec<Bound<'py, PyAny>>,
    next: usize,
}

impl<'py> Fields<'py, '_> {
    fn add<T: Serialize + ?Sized>(&mut self, field: &str, value: &T) -> Result<(), Wrong> {
        let py = self.writer.py;
        let class = match self.class {
            Some(class) => class,
            None => {
                let class = self.writer.classes.find(self.name, field).ok_or_else(|| self.unknown(field))?;
                self.values = vec![py.None().into_bound(py); class.fields.len()];
                self.class.insert(class)
            }
        };
        // They come in order.
        let after = class.fields[self.next..].iter().position(|f| f == field);
        let place = self.next + after.ok_or_else(|| self.unknown(field))?;
        self.values[place] = value.serialize(self.writer)?;
        self.next = place + 1;
        Ok(())
    }

    fn unknown(&self, field: &str) -> Wrong {
        ser::Error::custom(format!("no record {} has a field {field} here", self.name))
    }

    fn made(self) -> Made<'py> {
        let class = self.class.ok_or_else(|| self.unknown("at all"))?;
        let values = PyTuple::new(self.writer.py, self.values)?;
        Ok(class.class.bind(self.writer.py).call1(values)?)
    }
}

macro_rules! fields {
    ($trait:ident) => {
        impl<'py> ser::$trait for Fields<'py, '_> {
            type Ok = Bound<'py, PyAny>;
            type Error = Wrong;

            fn serialize_field<T: Serialize + ?Sized>(
                &mut self,
                field: &'static str,
                value: &T,
            ) -> Result<(), Wrong> {
                self.add(field, value)
            }

            fn end(self) -> Made<'py> {
                self.made()
            }
        }
    };
}

fields!(SerializeStruct);
fields!(SerializeStructVariant);
