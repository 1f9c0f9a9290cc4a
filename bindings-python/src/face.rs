//! Faces of solids.

use crate::errors::{call, wrong_type};
use crate::given::Given;
use crate::origin::{Origin, by_origin};
use crate::points::{fixed, unchanging};
use crate::spline::{counts, numbers, on};
use neckwright::solid::{Face as CoreFace, Knots, Solid as Core, Surface};
use numpy::ndarray::{Ix2, Ix3};
use numpy::{PyArray1, PyArray2, PyArray3};
use pyo3::prelude::*;
use pyo3::types::PyTuple;
use std::sync::Arc;

/// A face of a solid: a part of a surface within closed loops of edges.
///
/// What its surface does not have is ``None``.
///
/// Notes
/// -----
/// Rust: ``solid::Face``, ``solid::Surface``, ``solid::SplineSurface``. C: ``nw_solid_face``, ``nw_solid_face_knots``,
/// ``nw_solid_face_poles``, ``nw_solid_face_loops``.
#[pyclass(frozen, module = "neckwright", name = "Face")]
pub(crate) struct Face {
    solid: Arc<Core>,
    index: usize,
    origin: Origin,
}

by_origin!(Face);

/// `(x, y, z)`.
type Point = (f64, f64, f64);

impl Face {
    pub fn of(solid: Arc<Core>, index: usize, origin: Origin) -> Self {
        Self { solid, index, origin }
    }

    fn core(&self) -> &CoreFace {
        &self.solid.faces[self.index]
    }

    fn spline(&self) -> Option<&neckwright::solid::SplineSurface> {
        if let Surface::Spline(spline) = &self.core().surface { Some(spline) } else { None }
    }
}

type Both<'py, T> = (Bound<'py, PyArray1<T>>, Bound<'py, PyArray1<T>>);

#[pymethods]
impl Face {
    /// Its surface: ``"plane"``, ``"cylinder"`` or ``"spline"``.
    #[getter]
    fn surface(&self) -> &'static str {
        match self.core().surface {
            Surface::Plane { .. } => "plane",
            Surface::Cylinder { .. } => "cylinder",
            Surface::Spline(_) => "spline",
        }
    }

    /// Whether the surface's normal points out of the solid. A spline's is that of its first parameter's direction times its second's.
    #[getter]
    fn outward(&self) -> bool {
        self.core().outward
    }

    /// Its loops, each counter-clockwise as seen from outside, the outer one first: tuples of ``(edge, forward)``.
    #[getter]
    fn loops<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let one = |steps: &Vec<neckwright::solid::Step>| {
            PyTuple::new(py, steps.iter().map(|step| (step.edge, step.forward)).collect::<Vec<_>>())
        };
        PyTuple::new(py, self.core().loops.iter().map(one).collect::<PyResult<Vec<_>>>()?)
    }

    /// Of a plane: a point of it; of a cylinder: a point of its axis; mm.
    #[getter]
    fn point_mm(&self) -> Option<Point> {
        match self.core().surface {
            Surface::Plane { point, .. } | Surface::Cylinder { point, .. } => Some(point.into()),
            Surface::Spline(_) => None,
        }
    }

    /// Of a plane: the normal; of a cylinder: the axis; of length 1.
    #[getter]
    fn axis(&self) -> Option<Point> {
        match self.core().surface {
            Surface::Plane { normal: axis, .. } | Surface::Cylinder { axis, .. } => Some(axis.into()),
            Surface::Spline(_) => None,
        }
    }

    /// Of a plane and a cylinder: a direction square to the axis, of length 1.
    #[getter]
    fn across(&self) -> Option<Point> {
        match self.core().surface {
            Surface::Plane { along: across, .. } | Surface::Cylinder { across, .. } => Some(across.into()),
            Surface::Spline(_) => None,
        }
    }

    /// Of a cylinder: the radius, mm.
    #[getter]
    fn radius_mm(&self) -> Option<f64> {
        if let Surface::Cylinder { radius_mm, .. } = self.core().surface { Some(radius_mm) } else { None }
    }

    /// Of a spline: the degrees of both parameters, along and around.
    #[getter]
    fn degree(&self) -> Option<(usize, usize)> {
        Some(self.spline()?.knots.each_ref().map(|knots| knots.degree).into())
    }

    /// Of a spline: the knots of both parameters, along and around, rising, each once.
    #[getter]
    fn knots<'py>(&self, py: Python<'py>) -> PyResult<Option<Both<'py, f64>>> {
        let of = |knots: &Knots| numbers(py, &knots.values);
        self.spline().map(|s| Ok((of(&s.knots[0])?, of(&s.knots[1])?))).transpose()
    }

    /// Of a spline: how often each knot of both parameters counts.
    #[getter]
    fn multiplicities<'py>(&self, py: Python<'py>) -> PyResult<Option<Both<'py, i64>>> {
        let of = |knots: &Knots| counts(py, &knots.multiplicities);
        self.spline().map(|s| Ok((of(&s.knots[0])?, of(&s.knots[1])?))).transpose()
    }

    /// Of a spline: the poles, mm, of shape ``(along, around, 3)``; read-only.
    #[getter]
    fn poles_mm<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray3<f64>>>> {
        let made = self.spline().map(|spline| {
            let shape = Ix3(spline.poles.len(), spline.poles.first().map_or(0, Vec::len), 3);
            unchanging(py, spline.poles.concat().as_flattened(), shape)
        });
        made.transpose()
    }

    /// Of a rational spline: the weights of its poles, of shape ``(along, around)``; read-only.
    #[getter]
    fn weights<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let made = self.spline().and_then(|spline| spline.weights.as_ref()).map(|weights| {
            let shape = Ix2(weights.len(), weights.first().map_or(0, Vec::len));
            unchanging(py, &weights.concat(), shape)
        });
        made.transpose()
    }

    /// For the edges that have one their traces in the surface's two parameters, splines by the parameter of the edge's curve: tuples of
    /// ``(edge, degree, knots, multiplicities, poles)``, the poles of shape ``(n, 2)``. Other edges lie on isolines of the surface.
    #[getter]
    fn traces<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let one = |trace: &neckwright::solid::Trace| {
            let knots = &trace.knots;
            let (values, times) = (numbers(py, &knots.values)?, counts(py, &knots.multiplicities)?);
            (trace.edge, knots.degree, values, times, fixed(py, &trace.poles)?).into_pyobject(py)
        };
        PyTuple::new(py, self.core().traces.iter().map(one).collect::<PyResult<Vec<_>>>()?)
    }

    /// The point of a spline at two parameters.
    ///
    /// Parameters
    /// ----------
    /// s, u : float
    ///     The parameters along and around, from the first knot to the last.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///     ``(x, y, z)``, mm.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``out_of_range`` for a parameter before its first knot or beyond the last.
    /// TypeError
    ///     The face is no spline, or a parameter is no number.
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::SplineSurface::at``. C: ``nw_solid_face_poles``.
    fn at(slf: &Bound<'_, Self>, s: Given<f64>, u: Given<f64>) -> PyResult<Point> {
        let py = slf.py();
        let spline = slf.get().spline().ok_or_else(|| wrong_type("face", "a spline", slf.as_any()))?;
        let [along, around] = &spline.knots;
        let (s, u) = (on(py, along, s, "s")?, on(py, around, u, "u")?);
        call(py, || Ok(spline.at(s, u).into()))
    }

    fn __repr__(&self) -> String {
        format!("<Face {} of {}: {}>", self.index, self.solid.name, self.surface())
    }
}
