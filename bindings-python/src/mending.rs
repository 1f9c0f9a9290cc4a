//! Low patches mended.

use crate::errors::call_free;
use crate::given::Given;
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::{Origin, by_origin};
use crate::readings::Readings;
use crate::record::record;
use neckwright::inspect::Mending as Core;
use neckwright::spec::MendLimits;
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// What comes of mending: the nearest fair neck that lies within the wood that is still there, or what forbids it.
///
/// Made by :meth:`Neck.mend`.
///
/// Notes
/// -----
/// Rust: ``inspect::Mending``. C: ``nw_mending_document``.
#[pyclass(frozen, module = "neckwright", name = "Mending")]
pub(crate) struct Mending {
    core: Core,
    origin: Origin,
}

by_origin!(Mending);

#[pymethods]
impl Neck {
    /// The nearest fair neck that lies within the wood that is still there.
    ///
    /// Parameters
    /// ----------
    /// low : Readings
    ///     The readings of the low places: :meth:`Inspection.low_readings`.
    /// **limits
    ///     Limits of mending, such as ``least_thickness``; ``bounds("mend_limits")`` tells them.
    ///
    /// Returns
    /// -------
    /// Mending
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Readings that can't be of this neck, limits out of their bounds.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::mend``. C: ``nw_neck_mend``.
    #[pyo3(signature = (low, **limits))]
    fn mend(
        slf: &Bound<'_, Self>,
        low: Given<Bound<'_, Readings>>,
        limits: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Mending> {
        let py = slf.py();
        let (low, limits) = (low.named(py, "low")?, options::<MendLimits>(py, limits)?);
        let (neck, read) = (&slf.get().core, &low.get().core);
        let core = call_free(py, || neck.mend(read, &limits))?;
        let origin = Origin::new(slf.as_any(), "mend", [low.clone().into_any()], limits.text())?;
        Ok(Mending { core, origin })
    }
}

#[pymethods]
impl Mending {
    /// Whether it can be mended: ``"mended"`` or ``"impossible"``.
    #[getter]
    fn outcome<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &self.core)?.getattr("outcome")
    }

    /// What comes off where (:class:`records.Mended`), or what forbids it (a tuple of :class:`records.Forbidden`). A new one each
    /// time, as a specification that can be changed is in it.
    #[getter]
    fn result<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &self.core)?.getattr("result")
    }

    /// The mended neck; ``None`` where it is impossible.
    #[getter]
    fn neck(&self, py: Python<'_>) -> PyResult<Option<Neck>> {
        match &self.core {
            Core::Mended(mended) => Neck::made(py, mended.neck.clone()).map(Some),
            Core::Impossible(_) => Ok(None),
        }
    }

    fn __repr__(&self) -> String {
        match &self.core {
            Core::Mended(mended) => format!("<Mending: mended, {:.0} mm³ come off>", mended.removed_mm3),
            Core::Impossible(why) => format!("<Mending: impossible, {} limits forbid it>", why.len()),
        }
    }
}
