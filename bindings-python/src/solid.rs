//! Closed solids: their faces and edges as numpy arrays, for any CAD kernel's own constructors.

use crate::errors::{call_free, wrong_type};
use crate::mesh::Mesh;
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::{Origin, by_origin};
use crate::points::fixed;
use neckwright::shape::Neck as CoreNeck;
use neckwright::solid::{Curve, Edge as CoreEdge, Face as CoreFace, Knots, Solid as Core, Surface};
use neckwright::spec::{MeshOptions, SolidOptions};
use numpy::{IntoPyArray, PyArray1, PyArray2, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use std::sync::Arc;

/// One closed solid: faces that share their edges, exact.
///
/// Made by :meth:`Neck.solids` and :meth:`Wood.solids`. Faces, edges and vertices are numbered from 0.
///
/// Notes
/// -----
/// Rust: ``solid::Solid``. C: ``nw_solid_counts`` and its like.
#[pyclass(frozen, module = "neckwright", name = "Solid")]
pub(crate) struct Solid {
    pub core: Arc<Core>,
    origin: Origin,
}

by_origin!(Solid);

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

#[pymethods]
impl Neck {
    /// The neck as closed solids: the neck wood and the fretboard.
    ///
    /// The rod's channel, its pocket and the tuner holes are cut, and the fret slots where they are asked for. Edges lie within 1e-9 mm
    /// of both of their faces.
    ///
    /// Parameters
    /// ----------
    /// **options
    ///     ``slots``: whether the fret slots are sawn into the board. ``cubic_within``: how far surfaces may lie off the neck for them
    ///     to be of degree 3 along. ``bounds("solid_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// tuple of Solid
    ///     Neck wood, fretboard.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A slot that comes out of the wood, options out of their bounds.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> [solid.name for solid in Neck().solids(slots=False)]
    /// ['neck wood', 'fretboard']
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::solids``. C: ``nw_neck_solids``.
    #[pyo3(signature = (**options))]
    fn solids<'py>(
        slf: &Bound<'py, Self>,
        options: Option<&Bound<'py, PyDict>>,
    ) -> PyResult<Bound<'py, PyTuple>> {
        let py = slf.py();
        let options: SolidOptions = self::options(py, options)?;
        let neck: &CoreNeck = &slf.get().core;
        let made = call_free(py, || neck.solids(&options))?;
        let origin = Origin::new(slf.as_any(), "solids", [], options.text())?;
        Solid::all(py, vec![made.neck_wood, made.fretboard], &origin)
    }
}

impl Solid {
    /// Several of one call.
    pub fn all<'py>(py: Python<'py>, made: Vec<Core>, origin: &Origin) -> PyResult<Bound<'py, PyTuple>> {
        let one = |(i, core)| Self { core: Arc::new(core), origin: origin.at(py, i) };
        PyTuple::new(py, made.into_iter().enumerate().map(one).collect::<Vec<Self>>())
    }
}

#[pymethods]
impl Solid {
    /// What it is of the neck.
    #[getter]
    fn name(&self) -> &str {
        &self.core.name
    }

    /// Whether it is of a left-handed neck: its bass side lies at positive ``y``.
    #[getter]
    fn left_handed(&self) -> bool {
        self.core.left_handed
    }

    /// Its vertices, mm, of shape ``(n, 3)``; read-only.
    #[getter]
    fn vertices_mm<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        fixed(py, &self.core.vertices)
    }

    /// Its edges: a tuple of :class:`Edge`.
    #[getter]
    fn edges<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        let (py, solid) = (slf.py(), &slf.get().core);
        let one = |index| {
            let origin = Origin::new(slf.as_any(), "edges", [], String::new())?.at(py, index);
            Ok(Edge { solid: solid.clone(), index, origin })
        };
        PyTuple::new(py, (0..solid.edges.len()).map(one).collect::<PyResult<Vec<Edge>>>()?)
    }

    /// Its faces: a tuple of :class:`Face`.
    #[getter]
    fn faces<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        let (py, solid) = (slf.py(), &slf.get().core);
        let one = |index| {
            let origin = Origin::new(slf.as_any(), "faces", [], String::new())?.at(py, index);
            Ok(Face { solid: solid.clone(), index, origin })
        };
        PyTuple::new(py, (0..solid.faces.len()).map(one).collect::<PyResult<Vec<Face>>>()?)
    }

    /// Whether every edge is gone along once each way; every solid that the library makes is.
    ///
    /// Returns
    /// -------
    /// bool
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::Solid::is_closed``.
    fn is_closed(&self) -> bool {
        self.core.is_closed()
    }

    /// The solid as triangles, none of them further from it than a tolerance that is proven.
    ///
    /// Parameters
    /// ----------
    /// **options
    ///     ``chord``: how far the triangles may lie off the surface. ``bounds("mesh_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// Mesh
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Options out of their bounds.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> board = Neck().solids(slots=False)[1].mesh(chord=0.1)
    /// >>> bool(board.chord_mm <= 0.1)
    /// True
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::Solid::mesh``. C: ``nw_solid_mesh``.
    #[pyo3(signature = (**options))]
    fn mesh(slf: &Bound<'_, Self>, options: Option<&Bound<'_, PyDict>>) -> PyResult<Mesh> {
        let py = slf.py();
        let options: MeshOptions = self::options(py, options)?;
        let solid = &slf.get().core;
        let core = call_free(py, || solid.mesh(&options))?;
        Ok(Mesh::made(core, Origin::new(slf.as_any(), "mesh", [], options.text())?))
    }

    fn __repr__(&self) -> String {
        let (faces, edges, vertices) =
            (self.core.faces.len(), self.core.edges.len(), self.core.vertices.len());
        format!("<Solid {}: {faces} faces, {edges} edges, {vertices} vertices>", self.core.name)
    }
}

impl Edge {
    fn core(&self) -> &CoreEdge {
        &self.solid.edges[self.index]
    }

    fn spline(&self) -> Option<&neckwright::solid::SplineCurve> {
        if let Curve::Spline(spline) = &self.core().curve { Some(spline) } else { None }
    }
}

/// An array that can't be written to.
fn numbers<'py>(py: Python<'py>, all: &[f64]) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let made = all.to_vec().into_pyarray(py);
    made.call_method1("setflags", (false,))?;
    Ok(made)
}

fn counts<'py>(py: Python<'py>, all: &[usize]) -> PyResult<Bound<'py, PyArray1<i64>>> {
    let made = all.iter().map(|n| *n as i64).collect::<Vec<i64>>().into_pyarray(py);
    made.call_method1("setflags", (false,))?;
    Ok(made)
}

type Point = (f64, f64, f64);

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
    /// TypeError
    ///     The edge is no spline.
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::SplineCurve::at``. C: ``nw_solid_edge_spline``.
    fn at(slf: &Bound<'_, Self>, t: f64) -> PyResult<Point> {
        let spline = slf.get().spline().ok_or_else(|| wrong_type("edge", "a spline", slf.as_any()))?;
        crate::errors::call(slf.py(), || Ok(spline.at(t).into()))
    }

    fn __repr__(&self) -> String {
        format!("<Edge {} of {}: {}>", self.index, self.solid.name, self.curve())
    }
}

impl Face {
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
    fn poles_mm<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let made = self.spline().map(|spline| {
            let shape = [spline.poles.len(), spline.poles.first().map_or(0, Vec::len), 3];
            let made = spline.poles.concat().as_flattened().to_vec().into_pyarray(py).reshape(shape)?;
            made.call_method1("setflags", (false,))?;
            Ok(made.into_any())
        });
        made.transpose()
    }

    /// Of a rational spline: the weights of its poles, of shape ``(along, around)``; read-only.
    #[getter]
    fn weights<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let made = self.spline().and_then(|spline| spline.weights.as_ref()).map(|weights| {
            let shape = [weights.len(), weights.first().map_or(0, Vec::len)];
            let made = weights.concat().into_pyarray(py).reshape(shape)?;
            made.call_method1("setflags", (false,))?;
            Ok(made.into_any())
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
    /// TypeError
    ///     The face is no spline.
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::SplineSurface::at``. C: ``nw_solid_face_poles``.
    fn at(slf: &Bound<'_, Self>, s: f64, u: f64) -> PyResult<Point> {
        let spline = slf.get().spline().ok_or_else(|| wrong_type("face", "a spline", slf.as_any()))?;
        crate::errors::call(slf.py(), || Ok(spline.at(s, u).into()))
    }

    fn __repr__(&self) -> String {
        format!("<Face {} of {}: {}>", self.index, self.solid.name, self.surface())
    }
}
