//! Two necks compared.

use crate::errors::ask;
use crate::given::{Given, Mm};
use crate::neck::Neck;
use crate::record::record;
use pyo3::prelude::*;

#[pymethods]
impl Neck {
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
    fn compare<'py>(&self, py: Python<'py>, other: Given<Bound<'py, Self>>) -> PyResult<Bound<'py, PyAny>> {
        let other = other.named(py, "other")?;
        let (neck, other) = (&self.core, &other.get().core);
        record(py, &ask(py, || neck.compare(other))?)
    }

    /// Whether this neck and another are nowhere further apart than a tolerance, proven.
    ///
    /// Parameters
    /// ----------
    /// other : Neck
    ///     The other one.
    /// tolerance_mm : float, str or quantity
    ///     How far they may be apart, mm. None are within one that is negative or NaN.
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
    fn within<'py>(
        &self,
        py: Python<'py>,
        other: Given<Bound<'py, Self>>,
        tolerance_mm: Given<Mm>,
    ) -> PyResult<bool> {
        let (other, Mm(tolerance_mm)) = (other.named(py, "other")?, tolerance_mm.named(py, "tolerance_mm")?);
        let (neck, other) = (&self.core, &other.get().core);
        ask(py, || neck.within(other, tolerance_mm))
    }
}
