//! What readings say about a neck.

use crate::errors::{ask, call_free};
use crate::given::Given;
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::{Origin, by_origin};
use crate::plan::Stage;
use crate::readings::Readings;
use crate::record::record;
use crate::sheets::Sheet;
use neckwright::inspect::Inspection as Core;
use neckwright::spec::InspectionOptions;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::PyDict;
use std::sync::Arc;

/// What readings say about a neck: how far each lies off it, where too much is gone, where the wood is not fair, what is left to
/// take.
///
/// Made by :meth:`Neck.inspect`.
///
/// Notes
/// -----
/// Rust: ``inspect::Inspection``. C: ``nw_inspection_document``.
#[pyclass(frozen, module = "neckwright", name = "Inspection")]
pub(crate) struct Inspection {
    core: Arc<Core>,
    neck: Py<Neck>,
    origin: Origin,
    told: PyOnceLock<Py<PyAny>>,
}

by_origin!(Inspection);

#[pymethods]
impl Neck {
    /// Inspects readings against this neck.
    ///
    /// Parameters
    /// ----------
    /// readings : Readings
    ///     The readings.
    /// stage : Stage, optional
    ///     A stage of this neck's carving plan: then they are inspected against the wood that it leaves as well.
    /// **options
    ///     ``significance`` of what is told, ``unit`` of the sentences; ``bounds("inspection_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// Inspection
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Readings that can't be of this neck, a stage of another neck's plan, options out of their bounds.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck, Readings
    /// >>> neck = Neck()
    /// >>> read = [{"at": 100, "quantity": "thickness", "value": neck.thickness_mm(100) + 0.5}]
    /// >>> round(neck.inspect(Readings(read)).rows[0].finished.mm, 6)
    /// 0.5
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::inspect``, ``shape::Neck::inspect_stage``. C: ``nw_neck_inspect``.
    #[pyo3(signature = (readings, *, stage = None, **options))]
    fn inspect(
        slf: &Bound<'_, Self>,
        readings: Given<Bound<'_, Readings>>,
        stage: Option<Given<Bound<'_, Stage>>>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Inspection> {
        let py = slf.py();
        let readings = readings.named(py, "readings")?;
        let stage = stage.map(|stage| stage.named(py, "stage")).transpose()?;
        let given: InspectionOptions = self::options(py, options)?;
        let (neck, read) = (&slf.get().core, &readings.get().core);
        let core = match &stage {
            None => call_free(py, || neck.inspect(read, &given)),
            Some(stage) => {
                let stage = stage.get().core();
                call_free(py, || neck.inspect_stage(read, stage, &given))
            }
        }?;
        let of = stage.map_or_else(|| py.None().into_bound(py), Bound::into_any);
        let arguments = [readings.clone().into_any(), of];
        let origin = Origin::new(slf.as_any(), "_inspected", arguments, given.text())?;
        Ok(Inspection { core: Arc::new(core), neck: slf.clone().unbind(), origin, told: PyOnceLock::new() })
    }

    /// As :meth:`inspect`, for what comes back from a pickle.
    #[pyo3(signature = (readings, stage, **options))]
    fn _inspected(
        slf: &Bound<'_, Self>,
        readings: Given<Bound<'_, Readings>>,
        stage: Option<Given<Bound<'_, Stage>>>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Inspection> {
        Self::inspect(slf, readings, stage, options)
    }
}

impl Inspection {
    /// All of it, told once.
    fn told<'py>(&self, py: Python<'py>, field: &str) -> PyResult<Bound<'py, PyAny>> {
        let told = self.told.get_or_try_init(py, || Ok::<_, PyErr>(record(py, &*self.core)?.unbind()))?;
        told.bind(py).getattr(field)
    }
}

#[pymethods]
impl Inspection {
    /// Every reading against the neck, in the order given.
    #[getter]
    fn rows<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "rows")
    }

    /// The stage that was asked for.
    #[getter]
    fn stage<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "stage")
    }

    /// Readings that contradict each other, in pairs.
    #[getter]
    fn doubtful<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "doubtful")
    }

    /// Readings, by their places, that lie more than 5 mm below the finished neck, of a girth more than 10 mm,
    /// and more than six of their standard uncertainties: no tool takes so much by mistake (our own choice), so
    /// that they are likelier misread, or of another neck. They are named in a sentence and, like those in doubt,
    /// set aside.
    #[getter]
    fn misread<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "misread")
    }

    /// Where the wood lies below the finished neck, the clearest first.
    #[getter]
    fn low<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "low")
    }

    /// Where the wood departs from a fair surface, the clearest first, whatever allowance is still on.
    #[getter]
    fn unfair<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "unfair")
    }

    /// What is left to take to the finished neck, from the nut to the heel; ``None`` without a thickness or a
    /// point there.
    #[getter]
    fn map<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "map")
    }

    /// What is left to take to the stage that was asked for.
    #[getter]
    fn stage_map<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "stage_map")
    }

    /// All of it in plain words for the bench, each place once: where a low patch tells, neither a hollow nor a
    /// station does. What stands behind ± is twice the standard uncertainty.
    #[getter]
    fn sentences<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "sentences")
    }

    /// The neck that was inspected.
    #[getter]
    fn neck(&self, py: Python<'_>) -> Py<Neck> {
        self.neck.clone_ref(py)
    }

    /// The readings, by their places, rising, that are set aside because they contradict another one or are likelier misread.
    ///
    /// Returns
    /// -------
    /// tuple of int
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Inspection::set_aside``. C: ``nw_inspection_document``.
    fn set_aside<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.set_aside())?)
    }

    /// The readings that low patches were found in, but those set aside: what :meth:`Neck.mend` is given.
    ///
    /// Parameters
    /// ----------
    /// readings : Readings
    ///     The readings that were inspected.
    ///
    /// Returns
    /// -------
    /// Readings
    ///     Empty where nothing is low.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``conflict`` for other readings.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Inspection::low_readings``. C: ``nw_inspection_low_readings``.
    fn low_readings(slf: &Bound<'_, Self>, readings: Given<Bound<'_, Readings>>) -> PyResult<Readings> {
        let py = slf.py();
        let readings = readings.named(py, "readings")?;
        let (core, read) = (&slf.get().core, &readings.get().core);
        let low = call_free(py, || core.low_readings(read))?;
        let origin = Origin::new(slf.as_any(), "low_readings", [readings.clone().into_any()], String::new())?;
        Ok(Readings::made(low, origin))
    }

    /// The map of what is left to take, at full size.
    ///
    /// Returns
    /// -------
    /// Sheet or None
    ///     ``None`` where there is no map.
    ///
    /// Notes
    /// -----
    /// Rust: ``paper::inspection``. C: ``nw_inspection_sheets``.
    #[pyo3(signature = ())]
    fn sheet(slf: &Bound<'_, Self>) -> PyResult<Option<Sheet>> {
        let py = slf.py();
        let (core, neck) = (&slf.get().core, slf.get().neck.get().core.clone());
        let drawn = ask(py, || neckwright::paper::inspection(&neck, core))?;
        drawn.map(|sheet| Sheet::one(slf.as_any(), "sheet", sheet)).transpose()
    }

    fn __repr__(&self) -> String {
        let (rows, low, unfair) = (self.core.rows.len(), self.core.low.len(), self.core.unfair.len());
        format!("<Inspection: {rows} readings, {low} low, {unfair} unfair>")
    }
}
