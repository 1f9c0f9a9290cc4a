//! Scans placed and copied.

use crate::copied::Copied;
use crate::errors::call_free;
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::Origin;
use crate::points::of_space;
use crate::readings::Readings;
use crate::record::record;
use neckwright::inspect::{PlacedCloud, copy_cloud, place_cloud};
use neckwright::spec::CloudOptions;
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyDict};

#[pymethods]
impl Neck {
    /// Places a scan on this neck: how it lies, how far it stands off, and the readings that its points amount to.
    ///
    /// Parameters
    /// ----------
    /// points_mm : array or quantity
    ///     Points ``(x, y, z)`` in the scanner's frame, mm, of shape ``(n, 3)``; a quantity is told in mm.
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
    /// points_mm : array or quantity
    ///     Points ``(x, y, z)`` in the scanner's frame, mm, of shape ``(n, 3)``; a quantity is told in mm.
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
        slf: &Bound<'py, Self>,
        points_mm: &Bound<'py, PyAny>,
        options: Option<&Bound<'py, PyDict>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let options: CloudOptions = self::options(py, options)?;
        let points = of_space(points_mm, "points_mm")?;
        let base = &slf.get().core;
        let made = call_free(py, || copy_cloud(base.normalised(), &points, &options))?;
        let origin = Origin::new(slf.as_any(), "_copied_cloud", [kept(py, &points)?], options.text())?;
        let changes = PyDict::new(py);
        changes.set_item("placed", placed(py, &made.placed)?)?;
        changes.set_item("readings", Readings::told(py, made.readings.clone())?)?;
        let told = record(py, &made)?;
        changes.set_item("copied", Copied::made(made.copied, base, origin))?;
        told.call_method("_replace", (), Some(&changes))
    }

    /// As :meth:`copy_cloud`, for what comes back from a pickle: the copy alone, from the bytes of the points.
    #[pyo3(signature = (points, **options))]
    fn _copied_cloud(
        slf: &Bound<'_, Self>,
        points: &Bound<'_, PyBytes>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Copied> {
        let py = slf.py();
        let options: CloudOptions = self::options(py, options)?;
        let (numbers, _) = points.as_bytes().as_chunks::<8>();
        let numbers: Vec<f64> = numbers.iter().map(|bytes| f64::from_le_bytes(*bytes)).collect();
        let (read, _) = numbers.as_chunks::<3>();
        let base = &slf.get().core;
        let made = call_free(py, || copy_cloud(base.normalised(), read, &options))?;
        let origin = Origin::new(slf.as_any(), "_copied_cloud", [points.clone().into_any()], options.text())?;
        Ok(Copied::made(made.copied, base, origin))
    }
}

/// Points as something of Python's that compares, hashes and pickles, the same on every machine.
fn kept<'py>(py: Python<'py>, points: &[[f64; 3]]) -> PyResult<Bound<'py, PyAny>> {
    let numbers = points.as_flattened();
    let bytes = PyBytes::new_with(py, size_of_val(numbers), |memory| {
        for (place, number) in memory.chunks_exact_mut(8).zip(numbers) {
            place.copy_from_slice(&number.to_le_bytes());
        }
        Ok(())
    })?;
    Ok(bytes.into_any())
}

fn placed<'py>(py: Python<'py>, placed: &PlacedCloud) -> PyResult<Bound<'py, PyAny>> {
    let changes = PyDict::new(py);
    changes.set_item("readings", Readings::told(py, placed.readings.clone())?)?;
    record(py, placed)?.call_method("_replace", (), Some(&changes))
}
