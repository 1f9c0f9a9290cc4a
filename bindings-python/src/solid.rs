//! Closed solids, for any CAD kernel's own constructors.

use crate::edge::Edge;
use crate::errors::{ask, call_free};
use crate::face::Face;
use crate::mesh::Mesh;
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::{Origin, by_origin};
use crate::points::fixed;
use neckwright::shape::Neck as CoreNeck;
use neckwright::solid::Solid as Core;
use neckwright::spec::{MeshOptions, SolidOptions};
use numpy::PyArray2;
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
            Ok(Edge::of(solid.clone(), index, origin))
        };
        PyTuple::new(py, (0..solid.edges.len()).map(one).collect::<PyResult<Vec<Edge>>>()?)
    }

    /// Its faces: a tuple of :class:`Face`.
    #[getter]
    fn faces<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        let (py, solid) = (slf.py(), &slf.get().core);
        let one = |index| {
            let origin = Origin::new(slf.as_any(), "faces", [], String::new())?.at(py, index);
            Ok(Face::of(solid.clone(), index, origin))
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
    fn is_closed(&self, py: Python<'_>) -> PyResult<bool> {
        ask(py, || self.core.is_closed())
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
