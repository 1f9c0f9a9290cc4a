//! Readings of instruments.

use crate::document::text_of;
use crate::errors::{ask, call_free, fault, wrong_type};
use crate::given::Given;
use crate::neck::Neck;
use crate::origin::{Origin, copied, made_again};
use crate::record::record;
use crate::value::json;
use neckwright::inspect::{BadReadings, Reading, Readings as Core};
use neckwright::measure::{Fault, Kind};
use neckwright::spec::BoundRow;
use pyo3::prelude::*;
use pyo3::types::{PyList, PyMapping, PyString, PyType};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

/// Readings of instruments, in the order in which they were given.
///
/// Two are equal where all that is made of them is: what they are called, the readings, and the lines and numbers by which
/// sentences name them. The text that they were read from does not count.
///
/// Parameters
/// ----------
/// document : mapping, list, str or path
///     Readings as their JSON document has them: a mapping with ``readings``, a list of readings alone, JSON text, or a file (a path
///     object, or a text that ends in ``.json``). A reading is a
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

copied!(Readings);
made_again!(Readings);

impl Readings {
    pub fn made(core: Core, origin: Origin) -> Self {
        Self { core: Arc::new(core), origin }
    }

    /// Readings that the library made: they come back from their own document, whose lines nobody wrote.
    pub fn told(py: Python<'_>, core: Core) -> PyResult<Self> {
        let text = PyString::new(py, &ask(py, || core.to_json())?).into_any();
        let origin = Origin::new(py.get_type::<Self>().as_any(), "_told", [text], String::new())?;
        Ok(Self::made(core, origin))
    }

    /// Whether both are the same to all that is made of them: the readings, what they are called, and by which lines and
    /// numbers sentences name them.
    fn same(&self, other: &Self) -> bool {
        let (own, other) = (&self.core, &other.core);
        Arc::ptr_eq(own, other)
            || (own == other && (0..own.len()).all(|place| own.number(place) == other.number(place)))
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
fn text(given: &Bound<'_, PyAny>, argument: &str, ending: &str) -> PyResult<String> {
    text_of(given, ending)?.ok_or_else(|| wrong_type(argument, "a text or a path", given))
}

/// Readings are told of by their records; no table of bounds has their fields.
fn no_bounds() -> Vec<BoundRow> {
    Vec::new()
}

#[pymethods]
impl Readings {
    #[new]
    #[pyo3(signature = (document, *, good = Given::of(false)), text_signature = "(document, *, good=False)")]
    fn new(document: &Bound<'_, PyAny>, good: Given<bool>) -> PyResult<Self> {
        let py = document.py();
        let good = good.named(py, "good")?;
        let of = py.get_type::<Self>();
        let given = if document.cast::<PyMapping>().is_ok() {
            json(document, no_bounds)?.to_string()
        } else if document.is_instance_of::<PyList>() || document.is_instance_of::<pyo3::types::PyTuple>() {
            format!("{{\"readings\": {}}}", json(document, no_bounds)?)
        } else {
            let text = text(document, "document", ".json")?;
            if document.str()?.to_cow()?.to_ascii_lowercase().trim_end().ends_with(".csv") {
                let wrong =
                    Fault::new(Kind::Syntax, "document", "this is a table, or the name of one's file");
                let remedy = "give it to Readings.from_csv";
                return Err(fault(py, wrong.remedy(remedy)));
            }
            text
        };
        Self::read(&of, &given, good, "from_json", Core::from_json)
    }

    /// Reads a table of comma-separated values: a header that names the columns, then a reading a line.
    ///
    /// Parameters
    /// ----------
    /// text : str or path object
    ///     The table, or the file that it is in: a path object, or a text that ends in ``.csv``. Columns: ``at``, ``quantity``, ``value``, and where wanted ``side``, ``across``,
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
    #[pyo3(signature = (text, *, good = Given::of(false)), text_signature = "($cls, text, *, good=False)")]
    fn from_csv(cls: &Bound<'_, PyType>, text: &Bound<'_, PyAny>, good: Given<bool>) -> PyResult<Self> {
        let good = good.named(cls.py(), "good")?;
        let text = self::text(text, "text", ".csv")?;
        if !text.trim().is_empty() && !text.contains([',', ';', '\t', '\n', '\r']) {
            let wrong = Fault::new(Kind::Syntax, "text", "one word is no table of readings");
            let shown: String = text.chars().take(40).flat_map(char::escape_debug).collect();
            let remedy = "give the table itself, or the file that it is in as a pathlib.Path";
            return Err(fault(cls.py(), wrong.value(format!("\"{shown}\""), "").remedy(remedy)));
        }
        Self::read(cls, &text, good, "from_csv", Core::from_csv)
    }

    /// Reads a JSON document of readings.
    ///
    /// Parameters
    /// ----------
    /// text : str or path object
    ///     The document, or the file that it is in: a path object, or a text that ends in ``.json``.
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
    #[pyo3(signature = (text, *, good = Given::of(false)), text_signature = "($cls, text, *, good=False)")]
    fn from_json(cls: &Bound<'_, PyType>, text: &Bound<'_, PyAny>, good: Given<bool>) -> PyResult<Self> {
        let good = good.named(cls.py(), "good")?;
        Self::read(cls, &self::text(text, "text", ".json")?, good, "from_json", Core::from_json)
    }

    /// As :meth:`from_json`, for what comes back from a pickle and was not read from any line.
    #[classmethod]
    fn _told(cls: &Bound<'_, PyType>, text: &str) -> PyResult<Self> {
        let py = cls.py();
        let core = call_free(py, || {
            let read = Core::from_json(text).map_err(|bad| bad.error)?;
            let of_no_line = read.iter().map(|reading| Reading { line: 0, ..*reading }).collect();
            Core::new(of_no_line).map_err(|bad| bad.error)
        })?;
        Self::told(py, core)
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
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A place that there is none at.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Readings::number``.
    fn number(&self, py: Python<'_>, place: Given<u32>) -> PyResult<usize> {
        let place = place.named(py, "place")? as usize;
        if place < self.core.len() {
            return Ok(self.core.number(place));
        }
        let wrong = Fault::new(Kind::OutOfRange, "place", "there is no such reading").value(place, "");
        Err(fault(py, wrong.range(0.0, self.core.len().checked_sub(1).map(|last| last as f64))))
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
        ask(py, || self.core.to_csv())
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
        ask(py, || self.core.to_json())
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
    fn check_on<'py>(&self, py: Python<'py>, neck: Given<Bound<'py, Neck>>) -> PyResult<()> {
        let neck = neck.named(py, "neck")?;
        let (readings, neck) = (&self.core, &neck.get().core);
        call_free(py, || readings.check_on(neck).map_err(|bad| bad.error))
    }

    fn __eq__(&self, py: Python<'_>, other: &Bound<'_, PyAny>) -> PyResult<bool> {
        let Ok(other) = other.cast::<Self>() else { return Ok(false) };
        let other = other.get();
        ask(py, || self.same(other))
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<u64> {
        ask(py, || {
            let mut hasher = DefaultHasher::new();
            (self.core.name(), self.core.len()).hash(&mut hasher);
            for reading in self.core.iter() {
                // Adding 0 makes 0 of -0, which is equal to it.
                let [value, sure] = [reading.value_mm, reading.uncertainty_mm].map(|mm| (mm + 0.0).to_bits());
                (reading.line, value, sure).hash(&mut hasher);
            }
            hasher.finish()
        })
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
