//! Necks copied from readings and from scans, placed and compared.

use crate::errors::{ask, call_free};
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::{Origin, Reduced, not_pickled};
use crate::points::of_space;
use crate::readings::Readings;
use crate::record::record;
use crate::stations::{Meant, answered, each};
use neckwright::inspect::{Copied as Core, PlacedCloud, copy_cloud, copy_neck, place_cloud};
use neckwright::shape::Neck as CoreNeck;
use neckwright::spec::{CloudOptions, CopyOptions};
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
    /// None of a copy of a scan, whose points are not kept.
    origin: Option<Origin>,
    told: PyOnceLock<Py<PyAny>>,
}

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
        readings: &Bound<'_, Readings>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Copied> {
        let py = slf.py();
        let options: CopyOptions = self::options(py, options)?;
        let (base, read) = (&slf.get().core, &readings.get().core);
        let core = call_free(py, || copy_neck(base.normalised(), read, &options))?;
        let origin = Origin::new(slf.as_any(), "copy_neck", [readings.as_any().clone()], options.text())?;
        Ok(Copied::made(core, base, Some(origin)))
    }

    /// Places a scan on this neck: how it lies, how far it stands off, and the readings that its points amount to.
    ///
    /// Parameters
    /// ----------
    /// points_mm : array
    ///     Points ``(x, y, z)`` in the scanner's frame, mm, of shape ``(n, 3)``.
    /// **options
    ///     Such as ``hand``; ``bounds("cloud_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// records.PlacedCloud
    ///     Its ``readings`` are :class:`Readings`.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A scan that can't be placed, options out of their bounds.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::place_cloud``. C: ``nw_neck_place_cloud``.
    #[pyo3(signature = (points_mm, **options))]
    fn place_cloud<'py>(
        &self,
        py: Python<'py>,
        points_mm: &Bound<'py, PyAny>,
        options: Option<&Bound<'py, PyDict>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options: CloudOptions = self::options(py, options)?;
        let (points, neck) = (of_space(points_mm, "points_mm")?, &self.core);
        placed(py, &call_free(py, || place_cloud(neck, &points, &options))?)
    }

    /// Copies a neck from a scan; this one is the base, roughly such a neck.
    ///
    /// Parameters
    /// ----------
    /// points_mm : array
    ///     Points ``(x, y, z)`` in the scanner's frame, mm, of shape ``(n, 3)``.
    /// **options
    ///     Such as ``hand`` and ``copying``; ``bounds("cloud_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// records.CopiedCloud
    ///     Its ``readings`` are :class:`Readings`, its ``copied`` is :class:`Copied`.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A scan that can't be placed or copied, options out of their bounds.
    ///
    /// Notes
    /// -----
    /// Rust: ``inspect::copy_cloud``. C: ``nw_neck_copy_cloud``.
    #[pyo3(signature = (points_mm, **options))]
    fn copy_cloud<'py>(
        &self,
        py: Python<'py>,
        points_mm: &Bound<'py, PyAny>,
        options: Option<&Bound<'py, PyDict>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options: CloudOptions = self::options(py, options)?;
        let (points, base) = (of_space(points_mm, "points_mm")?, &self.core);
        let made = call_free(py, || copy_cloud(base.normalised(), &points, &options))?;
        let changes = PyDict::new(py);
        changes.set_item("placed", placed(py, &made.placed)?)?;
        changes.set_item("readings", Readings::told(py, made.readings.clone())?)?;
        let told = record(py, &made)?;
        changes.set_item("copied", Copied::made(made.copied, base, None))?;
        told.call_method("_replace", (), Some(&changes))
    }

    /// How far this neck and another are apart, part by part and fret by fret, proven.
    ///
    /// Parameters
    /// ----------
    /// other : Neck
    ///     The other one.
    ///
    /// Returns
    /// -------
    /// records.Comparison
    ///     This neck's measures less the other's.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::compare``. C: ``nw_neck_compare``.
    fn compare<'py>(&self, py: Python<'py>, other: &Self) -> PyResult<Bound<'py, PyAny>> {
        let (neck, other) = (&self.core, &other.core);
        record(py, &ask(py, || neck.compare(other))?)
    }

    /// Whether this neck and another are nowhere further apart than a tolerance, proven.
    ///
    /// Parameters
    /// ----------
    /// other : Neck
    ///     The other one.
    /// tolerance_mm : float
    ///     How far they may be apart, mm.
    ///
    /// Returns
    /// -------
    /// bool
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck().within(Neck(), tolerance_mm=0.001)
    /// True
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::within``. C: ``nw_neck_within``.
    #[pyo3(signature = (other, *, tolerance_mm))]
    fn within(&self, py: Python<'_>, other: &Self, tolerance_mm: f64) -> PyResult<bool> {
        let (neck, other) = (&self.core, &other.core);
        ask(py, || neck.within(other, tolerance_mm))
    }
}

fn placed<'py>(py: Python<'py>, placed: &PlacedCloud) -> PyResult<Bound<'py, PyAny>> {
    let changes = PyDict::new(py);
    changes.set_item("readings", Readings::told(py, placed.readings.clone())?)?;
    record(py, placed)?.call_method("_replace", (), Some(&changes))
}

impl Copied {
    fn made(core: Core, base: &Arc<CoreNeck>, origin: Option<Origin>) -> Self {
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
    /// The specification; it makes a neck.
    #[getter]
    fn specification<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "specification")
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
        Ok(Neck::made(core))
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
    fn number<'py>(&self, py: Python<'py>, path: &str) -> PyResult<Bound<'py, PyAny>> {
        record(py, &self.core.number(path))
    }

    /// Standard uncertainty of the thickness at stations.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// out : ndarray of float64, optional
    ///     Where the answers are written; of the shape of ``x_mm``, in C order.
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
        let meant = Meant { name: "x_mm", text: &|text| crate::along::station_of_text(base, text) };
        let one = |x| core.thickness_uncertainty_mm(x);
        answered(x_mm, &meant, out, one, |x, out| each(x, out, |x| core.thickness_uncertainty_mm(x)))
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
    fn sharpest_next<'py>(&self, py: Python<'py>, most: usize) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.sharpest_next(most))?)
    }

    fn __eq__(&self, py: Python<'_>, other: &Bound<'_, PyAny>) -> PyResult<bool> {
        let Ok(other) = other.cast::<Self>() else { return Ok(false) };
        match (&self.origin, &other.get().origin) {
            (Some(own), Some(other)) => own.equals(py, other),
            _ => Ok(Arc::ptr_eq(&self.core, &other.get().core)),
        }
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<isize> {
        match &self.origin {
            Some(origin) => origin.hash(py),
            None => Ok(Arc::as_ptr(&self.core) as isize),
        }
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        match &self.origin {
            Some(origin) => origin.reduced(py),
            None => Err(not_pickled("a copy of a scan")),
        }
    }

    fn __copy__(slf: Py<Self>) -> Py<Self> {
        slf
    }

    #[pyo3(signature = (_memo, /))]
    fn __deepcopy__(slf: Py<Self>, _memo: &Bound<'_, PyAny>) -> Py<Self> {
        slf
    }

    fn __repr__(&self) -> String {
        let (numbers, kept) = (self.core.numbers.len(), self.core.kept.len());
        format!("<Copied: {numbers} numbers from readings, {kept} kept>")
    }
}
