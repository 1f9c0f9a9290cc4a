//! Copied necks.

use crate::answers::{answered, each};
use crate::errors::{ask, call_free};
use crate::given::Given;
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::{Origin, by_origin};
use crate::readings::Readings;
use crate::record::record;
use crate::stations::Meant;
use neckwright::inspect::{Copied as Core, copy_neck};
use neckwright::shape::Neck as CoreNeck;
use neckwright::spec::CopyOptions;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::PyDict;
use std::sync::Arc;

/// A neck copied from readings, and how surely each of its numbers is known.
///
/// Made by :meth:`Neck.copy_neck`, and part of what :meth:`Neck.copy_cloud` makes.
///
/// Notes
/// -----
/// Rust: ``inspect::Copied``. C: ``nw_copied_document``.
#[pyclass(frozen, module = "neckwright", name = "Copied")]
pub(crate) struct Copied {
    core: Arc<Core>,
    base: Arc<CoreNeck>,
    origin: Origin,
    told: PyOnceLock<Py<PyAny>>,
}

by_origin!(Copied);

#[pymethods]
impl Neck {
    /// Copies a neck from readings; this one is the base, which has all that no reading tells.
    ///
    /// Parameters
    /// ----------
    /// readings : Readings
    ///     The readings of the neck to copy.
    /// **options
    ///     How it is copied, such as ``robust``; ``bounds("copy_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// Copied
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Readings that can't be of such a neck or make none, options out of their bounds.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::copy_neck``. C: ``nw_neck_copy``.
    #[pyo3(signature = (readings, **options))]
    fn copy_neck(
        slf: &Bound<'_, Self>,
        readings: Given<Bound<'_, Readings>>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Copied> {
        let py = slf.py();
        let readings = readings.named(py, "readings")?;
        let options: CopyOptions = self::options(py, options)?;
        let (base, read) = (&slf.get().core, &readings.get().core);
        let core = call_free(py, || copy_neck(base.normalised(), read, &options))?;
        let origin = Origin::new(slf.as_any(), "copy_neck", [readings.clone().into_any()], options.text())?;
        Ok(Copied::made(core, base, origin))
    }
}

impl Copied {
    pub fn made(core: Core, base: &Arc<CoreNeck>, origin: Origin) -> Self {
        Self { core: Arc::new(core), base: base.clone(), origin, told: PyOnceLock::new() }
    }

    /// All of it, told once.
    fn told<'py>(&self, py: Python<'py>, field: &str) -> PyResult<Bound<'py, PyAny>> {
        let told = self.told.get_or_try_init(py, || Ok::<_, PyErr>(record(py, &*self.core)?.unbind()))?;
        told.bind(py).getattr(field)
    }
}

#[pymethods]
impl Copied {
    /// The specification; it makes a neck. A new one each time.
    #[getter]
    fn specification<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &self.core.specification)
    }

    /// Every number of which the readings tell something, in the order of the document.
    #[getter]
    fn numbers<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "numbers")
    }

    /// The numbers of the same fields that no reading tells.
    #[getter]
    fn kept<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "kept")
    }

    /// The thicknesses of the base that went along with the one or two that the readings tell, as they are now,
    /// and how far off that line the neck's may be: as much as necks differ, but no more than readings around
    /// them leave. How far off the line itself may be is not in it; see ``thickness_uncertainty_mm``.
    #[getter]
    fn moved<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "moved")
    }

    /// Covariance of ``numbers``, row by row, in their units.
    #[getter]
    fn covariance<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "covariance")
    }

    /// What is left of every reading that was used, in the order given.
    #[getter]
    fn residuals<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "residuals")
    }

    /// The readings that were of no use, in the order given.
    #[getter]
    fn unused<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "unused")
    }

    /// Sum of the squares of what is left, each over its reading's uncertainty, and of how far the numbers that
    /// the base has a say in are off the base's, each over how much necks differ in it.
    #[getter]
    fn chi2<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "chi2")
    }

    /// Readings used less numbers that they alone tell.
    #[getter]
    fn degrees_of_freedom<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "degrees_of_freedom")
    }

    /// The chance that readings of these uncertainties scatter as much or more: a small one says that they
    /// scatter more than their uncertainties say, or that the neck is not one of this sort. ``None`` where
    /// nothing is left over, or where far-off readings counted less: then see ``misfit``. Too small rather than
    /// too great where there was a ``pull`` of more than 1, as the sum of squares then is not the least there is.
    #[getter]
    fn p_value<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "p_value")
    }

    /// How far the readings scatter, in their uncertainties: the median size of what is left of them,
    /// ``standardised``, over that of a standard normal number; of those that others check
    /// (``Residual::unchecked``), ``None`` where none is. About 1 where readings and neck are as they are said to
    /// be; far-off readings hardly change it. Of a robust fit, which has no chance to tell, look here: 2 or more
    /// says that the neck is not one of this sort, or that the uncertainties are too small, and then the
    /// uncertainties told do not hold.
    #[getter]
    fn misfit<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "misfit")
    }

    /// Where numbers that make no neck were nearest to the readings: how many times as sharp the base's values
    /// counted as they are, in every number, so that there was a neck, 1 to 8. ``None``: they had no more say
    /// than they should. The uncertainties told are those of the fit that was made so.
    #[getter]
    fn pull<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "pull")
    }

    /// Steps that the fit took.
    #[getter]
    fn steps<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "steps")
    }

    /// The copied neck.
    ///
    /// Returns
    /// -------
    /// Neck
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::new``. C: ``nw_document_part``, ``nw_neck_from_json``.
    fn neck(&self, py: Python<'_>) -> PyResult<Neck> {
        let core = call_free(py, || CoreNeck::new(&self.core.specification))?;
        Neck::made(py, core)
    }

    /// The number of a field by its path.
    ///
    /// Parameters
    /// ----------
    /// path : str
    ///     Such as ``"shaft.thickness[0].thickness"``.
    ///
    /// Returns
    /// -------
    /// records.Number or None
    ///     ``None`` where readings tell nothing of it.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Copied::number``. C: ``nw_copied_document``.
    fn number<'py>(&self, py: Python<'py>, path: Given<String>) -> PyResult<Bound<'py, PyAny>> {
        let path = path.named(py, "path")?;
        record(py, &ask(py, || self.core.number(&path))?)
    }

    /// Standard uncertainty of the thickness at stations.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// out : ndarray of float64, optional
    ///     Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
    ///     threads run meanwhile: none may write to ``x_mm`` or touch ``out``.
    ///
    /// Returns
    /// -------
    /// float or ndarray
    ///     mm; a float for one station, an array of the shape of ``x_mm`` for an array.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``outside_neck`` for a station that is not on the shaft.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Copied::thickness_uncertainty_mm``. C: ``nw_copied_thickness_uncertainty_mm``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn thickness_uncertainty_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let (core, base) = (&*self.core, &*self.base);
        let meant =
            Meant { name: "x_mm", text: &|text| crate::along::station_of_text(base, text), lengths: true };
        let one = |x| core.thickness_uncertainty_mm(x);
        answered(x_mm, &meant, out, one, |x, out| each("x_mm", x, out, one))
    }

    /// Root mean square of the standard uncertainty of thickness and surface over the shaft, mm.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Copied::mean_uncertainty_mm``. C: ``nw_copied_sharpest_next``.
    fn mean_uncertainty_mm(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core.mean_uncertainty_mm())
    }

    /// The readings worth taking next, the one that tells most first.
    ///
    /// Parameters
    /// ----------
    /// most : int
    ///     How many at most.
    ///
    /// Returns
    /// -------
    /// tuple of records.Suggestion
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::Copied::sharpest_next``. C: ``nw_copied_sharpest_next``.
    fn sharpest_next<'py>(&self, py: Python<'py>, most: Given<u32>) -> PyResult<Bound<'py, PyAny>> {
        let most = most.named(py, "most")? as usize;
        record(py, &ask(py, || self.core.sharpest_next(most))?)
    }

    fn __repr__(&self) -> String {
        let (numbers, kept) = (self.core.numbers.len(), self.core.kept.len());
        format!("<Copied: {numbers} numbers from readings, {kept} kept>")
    }
}
