//! Readings of instruments.

use crate::document::text_of_file;
use crate::errors::{call_free, wrong_type};
use crate::neck::Neck;
use crate::origin::{Origin, by_origin};
use crate::record::record;
use crate::value::json;
use neckwright::inspect::{BadReadings, Readings as Core};
use pyo3::prelude::*;
use pyo3::types::{PyList, PyMapping, PyString, PyType};
use std::sync::Arc;

/// Readings of instruments, in the order in which they were given.
///
/// Parameters
/// ----------
/// document : mapping, list or str
///     Readings as their JSON document has them: a mapping with ``readings``, a list of readings alone, or JSON text. A reading is a
///     mapping of ``at``, ``quantity``, ``value`` and, where it has them, ``side``, ``across``, ``uncertainty``, ``instrument``.
///     :func:`schema` tells all of it; :meth:`from_csv` reads tables.
/// good : bool
///     Whether readings that are wrong are left out, instead of refusing all.
///
/// Raises
/// ------
/// NeckwrightError
///     Everything that is wrong with them, each fault with the line or the number of its reading.
/// TypeError
///     Something that no document can hold.
///
/// Examples
/// --------
/// >>> from neckwright import Readings
/// >>> readings = Readings([{"at": "fret 5", "quantity": "thickness", "value": 22.3}])
/// >>> readings.readings()[0].uncertainty
/// 0.05
///
/// Notes
/// -----
/// Rust: ``inspect::Readings``, ``inspect::Readings::from_json``, ``inspect::Readings::new``. C: ``nw_readings_from_json``, ``nw_readings_from_json_good``.
#[pyclass(frozen, sequence, module = "neckwright", name = "Readings")]
pub(crate) struct Readings {
    pub core: Arc<Core>,
    origin: Origin,
}

by_origin!(Readings);

impl Readings {
    pub fn made(core: Core, origin: Origin) -> Self {
        Self { core: Arc::new(core), origin }
    }

    /// Readings that the library made: they come back from their own document.
    pub fn told(py: Python<'_>, core: Core) -> PyResult<Self> {
        let text = PyString::new(py, &core.to_json()).into_any();
        let origin = Origin::new(py.get_type::<Self>().as_any(), "from_json", [text], String::new())?;
        Ok(Self::made(core, origin))
    }

    fn read(
        of: &Bound<'_, PyType>,
        text: &str,
        good: bool,
        method: &'static str,
        read: impl FnOnce(&str) -> Result<Core, BadReadings> + Send,
    ) -> PyResult<Self> {
        let py = of.py();
        let core =
            call_free(py, || read(text).or_else(|bad| if good { Ok(bad.good) } else { Err(bad.error) }))?;
        let given = PyString::new(py, text).into_any();
        let options = if good { "{\"good\": true}".to_owned() } else { String::new() };
        Ok(Self::made(core, Origin::new(of.as_any(), method, [given], options)?))
    }
}

/// A text, or that of a file whose path is given.
fn text(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<String> {
    let text = if let Ok(text) = given.cast::<PyString>() {
        text.clone()
    } else if given.hasattr("__fspath__")? {
        text_of_file(given)?
    } else {
        return Err(wrong_type(argument, "a text or a path", given));
    };
    Ok(text.to_cow()?.into_owned())
}

#[pymethods]
impl Readings {
    #[new]
    #[pyo3(signature = (document, *, good = false))]
    fn new(document: &Bound<'_, PyAny>, good: bool) -> PyResult<Self> {
        let py = document.py();
        let of = py.get_type::<Self>();
        let given = if document.cast::<PyMapping>().is_ok() {
            json(document)?.to_string()
        } else if document.is_instance_of::<PyList>() || document.is_instance_of::<pyo3::types::PyTuple>() {
            format!("{{\"readings\": {}}}", json(document)?)
        } else {
            text(document, "document")?
        };
        Self::read(&of, &given, good, "from_json", Core::from_json)
    }

    /// Reads a table of comma-separated values: a header that names the columns, then a reading a line.
    ///
    /// Parameters
    /// ----------
    /// text : str or path object
    ///     The table, or the file that it is in. Columns: ``at``, ``quantity``, ``value``, and where wanted ``side``, ``across``,
    ///     ``uncertainty``, ``instrument``, ``note``.
    /// good : bool
    ///     Whether readings that are wrong are left out, instead of refusing all.
    ///
    /// Returns
    /// -------
    /// Readings
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Everything that is wrong with them, each fault with its line.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Readings
    /// >>> len(Readings.from_csv("at,quantity,value\nfret 5,thickness,22.3\n"))
    /// 1
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::from_csv``. C: ``nw_readings_from_csv``, ``nw_readings_from_csv_good``.
    #[classmethod]
    #[pyo3(signature = (text, *, good = false))]
    fn from_csv(cls: &Bound<'_, PyType>, text: &Bound<'_, PyAny>, good: bool) -> PyResult<Self> {
        Self::read(cls, &self::text(text, "text")?, good, "from_csv", Core::from_csv)
    }

    /// Reads a JSON document of readings.
    ///
    /// Parameters
    /// ----------
    /// text : str or path object
    ///     The document, or the file that it is in.
    /// good : bool
    ///     Whether readings that are wrong are left out, instead of refusing all.
    ///
    /// Returns
    /// -------
    /// Readings
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Everything that is wrong with them, each fault with its line.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::from_json``. C: ``nw_readings_from_json``, ``nw_readings_from_json_good``.
    #[classmethod]
    #[pyo3(signature = (text, *, good = false))]
    fn from_json(cls: &Bound<'_, PyType>, text: &Bound<'_, PyAny>, good: bool) -> PyResult<Self> {
        Self::read(cls, &self::text(text, "text")?, good, "from_json", Core::from_json)
    }

    /// All of them.
    ///
    /// Returns
    /// -------
    /// tuple of records.Reading
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::readings``, ``inspect::Readings::iter``, ``inspect::Readings::into_vec``. C: ``nw_readings_json``.
    fn readings<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &self.core.readings())
    }

    /// What they are called; empty without a name.
    ///
    /// Returns
    /// -------
    /// str
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::name``. C: ``nw_readings_json``.
    fn name(&self) -> &str {
        self.core.name()
    }

    /// The place of one of them in the list that they were picked from.
    ///
    /// Parameters
    /// ----------
    /// place : int
    ///     Its place among these, from 0.
    ///
    /// Returns
    /// -------
    /// int
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::number``.
    fn number(&self, place: usize) -> usize {
        self.core.number(place)
    }

    /// As a table of comma-separated values.
    ///
    /// Returns
    /// -------
    /// str
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::to_csv``. C: ``nw_readings_csv``.
    fn to_csv(&self, py: Python<'_>) -> PyResult<String> {
        crate::errors::ask(py, || self.core.to_csv())
    }

    /// As JSON text.
    ///
    /// Returns
    /// -------
    /// str
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::to_json``. C: ``nw_readings_json``.
    fn to_json(&self, py: Python<'_>) -> PyResult<String> {
        crate::errors::ask(py, || self.core.to_json())
    }

    /// Checks that they can be of a neck.
    ///
    /// Parameters
    /// ----------
    /// neck : Neck
    ///     The neck.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Readings that can't be of it, each with its line.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::check_on``. C: ``nw_readings_check_on``.
    fn check_on(&self, py: Python<'_>, neck: &Neck) -> PyResult<()> {
        let (readings, neck) = (&self.core, &neck.core);
        call_free(py, || readings.check_on(neck).map_err(|bad| bad.error))
    }

    fn __len__(&self) -> usize {
        self.core.len()
    }

    fn __getitem__<'py>(&self, py: Python<'py>, index: isize) -> PyResult<Bound<'py, PyAny>> {
        let place = if index < 0 { index + self.core.len() as isize } else { index };
        let reading = usize::try_from(place).ok().and_then(|place| self.core.readings().get(place));
        match reading {
            Some(reading) => record(py, reading),
            None => Err(pyo3::exceptions::PyIndexError::new_err("there is no such reading")),
        }
    }

    fn __repr__(&self) -> String {
        let name = self.core.name();
        if name.is_empty() {
            format!("<Readings: {}>", self.core.len())
        } else {
            format!("<Readings {name:?}: {}>", self.core.len())
        }
    }
}
