//! Edges of solids.

use crate::errors::{call, wrong_type};
use crate::given::Given;
use crate::origin::{Origin, by_origin};
use crate::points::fixed;
use crate::spline::{counts, numbers, on};
use neckwright::solid::{Curve, Edge as CoreEdge, Solid as Core};
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;
use std::sync::Arc;

/// An edge of a solid, which two faces share.
///
/// What its curve does not have is ``None``.
///
/// Notes
/// -----
/// Rust: ``solid::Edge``, ``solid::Curve``, ``solid::SplineCurve``. C: ``nw_solid_edge``, ``nw_solid_edge_spline``.
#[pyclass(frozen, module = "neckwright", name = "Edge")]
pub(crate) struct Edge {
    solid: Arc<Core>,
    index: usize,
    origin: Origin,
}

by_origin!(Edge);

/// `(x, y, z)`.
type Point = (f64, f64, f64);

impl Edge {
    pub fn of(solid: Arc<Core>, index: usize, origin: Origin) -> Self {
        Self { solid, index, origin }
    }

    fn core(&self) -> &CoreEdge {
        &self.solid.edges[self.index]
    }

    fn spline(&self) -> Option<&neckwright::solid::SplineCurve> {
        if let Curve::Spline(spline) = &self.core().curve { Some(spline) } else { None }
    }
}

#[pymethods]
impl Edge {
    /// The vertices where it starts and ends.
    #[getter]
    fn ends(&self) -> (usize, usize) {
        self.core().ends.into()
    }

    /// Its curve: ``"line"``, ``"arc"`` or ``"spline"``.
    #[getter]
    fn curve(&self) -> &'static str {
        match self.core().curve {
            Curve::Line => "line",
            Curve::Arc { .. } => "arc",
            Curve::Spline(_) => "spline",
        }
    }

    /// How far it may lie off either of its faces' surfaces, mm: 0 where it lies on both but for rounding.
    #[getter]
    fn within_mm(&self) -> f64 {
        self.core().within_mm
    }

    /// Of an arc: the circle's centre, mm. The arc goes counter-clockwise about the axis from start to end.
    #[getter]
    fn centre_mm(&self) -> Option<Point> {
        if let Curve::Arc { centre, .. } = self.core().curve { Some(centre.into()) } else { None }
    }

    /// Of an arc: the axis, of length 1.
    #[getter]
    fn axis(&self) -> Option<Point> {
        if let Curve::Arc { axis, .. } = self.core().curve { Some(axis.into()) } else { None }
    }

    /// Of an arc: the radius, mm.
    #[getter]
    fn radius_mm(&self) -> Option<f64> {
        if let Curve::Arc { radius_mm, .. } = self.core().curve { Some(radius_mm) } else { None }
    }

    /// Of a spline: the degree.
    #[getter]
    fn degree(&self) -> Option<usize> {
        Some(self.spline()?.knots.degree)
    }

    /// Of a spline: the knots, rising, each once.
    #[getter]
    fn knots<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray1<f64>>>> {
        self.spline().map(|spline| numbers(py, &spline.knots.values)).transpose()
    }

    /// Of a spline: how often each knot counts.
    #[getter]
    fn multiplicities<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray1<i64>>>> {
        self.spline().map(|spline| counts(py, &spline.knots.multiplicities)).transpose()
    }

    /// Of a spline: the poles, mm, of shape ``(n, 3)``; read-only.
    #[getter]
    fn poles_mm<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        self.spline().map(|spline| fixed(py, &spline.poles)).transpose()
    }

    /// Of a rational spline: the weights of its poles, of shape ``(n,)``; read-only.
    #[getter]
    fn weights<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray1<f64>>>> {
        let weights = self.spline().and_then(|spline| spline.weights.as_ref());
        weights.map(|weights| numbers(py, weights)).transpose()
    }

    /// The point of a spline at a parameter.
    ///
    /// Parameters
    /// ----------
    /// t : float
    ///     The parameter, from the first knot to the last.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///     ``(x, y, z)``, mm.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``out_of_range`` for a parameter before the first knot or beyond the last.
    /// TypeError
    ///     The edge is no spline, or the parameter is no number.
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::SplineCurve::at``. C: ``nw_solid_edge_spline``.
    fn at(slf: &Bound<'_, Self>, t: Given<f64>) -> PyResult<Point> {
        let py = slf.py();
        let spline = slf.get().spline().ok_or_else(|| wrong_type("edge", "a spline", slf.as_any()))?;
        let t = on(py, &spline.knots, t, "t")?;
        call(py, || Ok(spline.at(t).into()))
    }

    fn __repr__(&self) -> String {
        format!("<Edge {} of {}: {}>", self.index, self.solid.name, self.curve())
    }
}
