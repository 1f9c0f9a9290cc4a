//! Necks: made of a specification, compared by it, kept by it.

use crate::document::Document;
use crate::errors::ask;
use crate::origin::copied;
use crate::record::record;
use neckwright::shape::Neck as Core;
use neckwright::spec::Specification;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString, PyTuple, PyType};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, OnceLock};

/// A neck: every number of it, at every station, from one specification.
///
/// Stations are millimetres along the centreline from the nut's fretboard side, positive toward the bridge; ``y`` is
/// positive toward the treble side of a right-handed neck, ``z`` out of the fretboard, and the crown of the board lies at
/// ``z = 0``. A neck never changes and may be used from any number of threads.
///
/// Two are equal, and hash alike, where their specifications are with every default filled in: then every answer of both has the
/// same bits. How much of it was given and how much left to its default does not count; only :meth:`with_` makes a difference of
/// it, and a pickle keeps it.
///
/// Parameters
/// ----------
/// document : mapping, str or path, optional
///     The specification: a mapping, JSON text, or a file (a path object, or a text that ends in ``.json``). What it leaves out
///     has its default; without it there is a whole neck of defaults. Lengths are numbers in mm, texts such as
///     ``"1 11/16 in"``, or quantities with a unit, as pint has them. ``bounds("specification")`` tells every field.
/// **groups
///     Groups of the specification, which change the document as :meth:`with_` does.
///
/// Raises
/// ------
/// NeckwrightError
///     Everything that is wrong with it, each fault with its path.
/// TypeError
///     Something that no document can hold.
/// OSError
///     A file that can't be read.
///
/// Examples
/// --------
/// >>> from neckwright import Neck
/// >>> neck = Neck(scale={"length": 640}, nut={"width": "1 11/16 in"})
/// >>> neck.width_mm(0)
/// 42.8625
///
/// Notes
/// -----
/// Rust: ``shape::Neck::from_json``, ``shape::Neck::new``. C: ``nw_neck_from_json``.
#[pyclass(frozen, module = "neckwright", name = "Neck")]
pub(crate) struct Neck {
    pub core: Arc<Core>,
    /// What was given, so that a variation leaves the defaults to follow from what is changed.
    given: Document,
    json: OnceLock<String>,
}

copied!(Neck);

impl Neck {
    /// Reads a document.
    fn read(py: Python<'_>, given: Document) -> PyResult<Self> {
        let core = given.read(py, |specification: Specification| Core::new(&specification))?;
        Ok(Self { core: Arc::new(core), given, json: OnceLock::new() })
    }

    /// A neck that the library made.
    pub fn made(py: Python<'_>, core: Core) -> PyResult<Self> {
        let json = ask(py, || core.normalised().to_json())?;
        let given = Document::Text(json.clone());
        Ok(Self { core: Arc::new(core), given, json: OnceLock::from(json) })
    }

    /// The specification with every default filled in, as text: what necks are compared by.
    pub fn json(&self) -> &str {
        self.json.get_or_init(|| self.core.normalised().to_json())
    }
}

#[pymethods]
impl Neck {
    #[new]
    #[pyo3(signature = (document = None, /, **groups), text_signature = "(document=None, /, **groups)")]
    fn new(
        py: Python<'_>,
        document: Option<&Bound<'_, PyAny>>,
        groups: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Self> {
        let given = document.map_or_else(
            || Ok(Document::default()),
            |given| Document::of::<Specification>(given, "document"),
        )?;
        Self::read(py, given.changed::<Specification>(groups)?)
    }

    /// Another neck, by what is changed of this one's specification.
    ///
    /// Groups are put together key by key, anything else takes the place of what was there, and ``None`` takes it away (RFC
    /// 7396). What this neck's specification left to its default is left to it again, and follows what is changed. So equal necks may
    /// have other variations: ``Neck(neck.to_json())`` was given all of its numbers, and keeps all that are not changed. Start from
    /// ``Neck(neck.to_json())`` for that.
    ///
    /// Parameters
    /// ----------
    /// **groups
    ///     Groups of the specification.
    ///
    /// Returns
    /// -------
    /// Neck
    ///
    /// Raises
    /// ------
    /// NeckwrightError, TypeError
    ///     As :class:`Neck`.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck().with_(nut={"width": 44}).width_mm(0)
    /// 44.0
    #[pyo3(signature = (**groups), text_signature = "($self, **groups)")]
    fn with_(&self, py: Python<'_>, groups: Option<&Bound<'_, PyDict>>) -> PyResult<Self> {
        Self::read(py, self.given.clone().changed::<Specification>(groups)?)
    }

    /// The specification with every default filled in; it makes the same neck, bit for bit.
    ///
    /// Returns
    /// -------
    /// dict
    ///     A new one each time.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck(nut={"width": "1 11/16 in"}).specification()["nut"]["width"]
    /// 42.8625
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::normalised``. C: ``nw_neck_specification``.
    fn specification<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, self.core.normalised())
    }

    /// The specification with every default filled in, as JSON text.
    ///
    /// Returns
    /// -------
    /// str
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck(Neck().to_json()) == Neck()
    /// True
    ///
    /// Notes
    /// -----
    /// Rust: ``spec::Specification::to_json``. C: ``nw_neck_specification``, ``nw_document_json``.
    fn to_json(&self, py: Python<'_>) -> PyResult<&str> {
        ask(py, || self.json())
    }

    fn __eq__(&self, py: Python<'_>, other: &Bound<'_, PyAny>) -> PyResult<bool> {
        let Ok(other) = other.cast::<Self>() else { return Ok(false) };
        let other = other.get();
        ask(py, || Arc::ptr_eq(&self.core, &other.core) || self.json() == other.json())
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<u64> {
        ask(py, || {
            let mut hasher = DefaultHasher::new();
            self.json().hash(&mut hasher);
            hasher.finish()
        })
    }

    fn __repr__(&self) -> String {
        let (spec, fan) = (self.core.normalised(), self.core.layout().fan());
        let scale = if fan.is_fanned() {
            format!("{} to {} mm", fan.treble_mm(), fan.bass_mm())
        } else {
            format!("{} mm", fan.centre_mm())
        };
        let (frets, strings) = (spec.frets.count, self.core.layout().strings().len());
        format!("<Neck: scale {scale}, {frets} frets, {strings} strings, {}-handed>", spec.hand.name())
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyType>, Bound<'py, PyTuple>)> {
        let py = slf.py();
        let given = PyString::new(py, &slf.get().given.text());
        Ok((slf.get_type(), PyTuple::new(py, [given])?))
    }
}
