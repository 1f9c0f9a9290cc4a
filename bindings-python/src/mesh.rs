//! Meshes as numpy arrays.

use crate::answers::{is_bare, memory, overlap};
use crate::errors::{call_free, fault, wrong_size, wrong_type};
use crate::given::Given;
use crate::neck::Neck;
use crate::origin::{Origin, by_origin};
use crate::points::{Plain, array, fixed, unchanging};
use crate::stations::{Meant, Numbers};
use neckwright::measure::{Error, Fault, Kind};
use neckwright::solid::{Mesh as Core, Real};
use numpy::ndarray::Ix1;
use numpy::{Element, IntoPyArray, PyArray1, PyArray2, PyArrayDyn, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use std::sync::Arc;

/// The surface of one solid as triangles, none further from it than a proven tolerance.
///
/// Made by :meth:`Solid.mesh`. A vertex belongs to one face of the solid; where faces meet in an edge, each has vertices of its own
/// there, at the same bits of the same place, so that normals do not round the edge over. Its arrays are made once and can't be
/// written to.
///
/// Notes
/// -----
/// Rust: ``solid::Mesh``. C: ``nw_mesh_counts``, ``nw_mesh_vertices``, ``nw_mesh_triangles``.
#[pyclass(frozen, module = "neckwright", name = "Mesh")]
pub(crate) struct Mesh {
    pub core: Arc<Core>,
    origin: Origin,
    positions: PyOnceLock<Py<PyArray2<f64>>>,
    normals: PyOnceLock<Py<PyArray2<f64>>>,
    station_girth: PyOnceLock<Py<PyArray2<f64>>>,
    triangles: PyOnceLock<Py<PyArray2<u32>>>,
}

by_origin!(Mesh);

impl Mesh {
    pub fn made(core: Core, origin: Origin) -> Self {
        let (positions, normals) = (PyOnceLock::new(), PyOnceLock::new());
        let (station_girth, triangles) = (PyOnceLock::new(), PyOnceLock::new());
        Self { core: Arc::new(core), origin, positions, normals, station_girth, triangles }
    }
}

/// Places, and triangles of them.
type Places<'py> = (Bound<'py, PyArray2<f64>>, Bound<'py, PyArray2<u32>>);

/// An array that is made when it is first asked for.
fn once<'py, T: Plain, const N: usize>(
    py: Python<'py>,
    kept: &PyOnceLock<Py<PyArray2<T>>>,
    rows: &[[T; N]],
) -> PyResult<Bound<'py, PyArray2<T>>> {
    let made = kept.get_or_try_init(py, || fixed(py, rows).map(Bound::unbind))?;
    Ok(made.bind(py).clone())
}

#[pymethods]
impl Mesh {
    /// What it is of the neck: the solid's name.
    #[getter]
    fn name(&self) -> &str {
        &self.core.name
    }

    /// How far at most any point of the faces lies from the triangles, and of the triangles from the faces, mm, proven.
    #[getter]
    fn chord_mm(&self) -> f64 {
        self.core.chord_mm
    }

    /// Where each vertex lies, mm, of shape ``(n, 3)``; read-only.
    #[getter]
    fn positions_mm<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        once(py, &self.positions, &self.core.positions_mm)
    }

    /// Square to the face at each vertex, out of the solid, of length 1, of shape ``(n, 3)``; read-only.
    #[getter]
    fn normals<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        once(py, &self.normals, &self.core.normals)
    }

    /// The station of each vertex, mm, and how far around it lies from 0 to 1, of shape ``(n, 2)``; read-only.
    #[getter]
    fn station_girth<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        once(py, &self.station_girth, &self.core.station_girth)
    }

    /// Triangles of three vertices each, counter-clockwise as seen from outside, of shape ``(m, 3)``; read-only.
    #[getter]
    fn triangles<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<u32>>> {
        once(py, &self.triangles, &self.core.triangles)
    }

    /// For each vertex the first one of those at the same place: what makes the mesh watertight. Of shape ``(n,)``.
    #[getter]
    fn same_place<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray1<u32>>> {
        unchanging(py, &self.core.same_place, Ix1(self.core.same_place.len()))
    }

    /// The triangles by places: the corners of the mesh, each once, and the triangles between them.
    ///
    /// Returns
    /// -------
    /// tuple of ndarray
    ///     Places, mm, of shape ``(n, 3)``, and triangles of shape ``(m, 3)``.
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::Mesh::places``. C: ``nw_mesh_same_place``.
    fn places<'py>(&self, py: Python<'py>) -> PyResult<Places<'py>> {
        let (places, triangles) = call_free(py, || self.core.places())?;
        Ok((array(py, &places)?, array(py, &triangles)?))
    }

    /// Writes the vertices into arrays that are there already, all of float64 or all of float32, in C order.
    ///
    /// Other threads run meanwhile: none may touch the arrays.
    ///
    /// Parameters
    /// ----------
    /// positions_mm, normals : ndarray
    ///     Of shape ``(n, 3)``.
    /// station_girth : ndarray
    ///     Of shape ``(n, 2)``.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``buffer`` for an array of another size; ``conflict`` for arrays that share memory.
    /// TypeError
    ///     Arrays of another type, or that can't be written to.
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::Mesh::vertices_into``. C: ``nw_mesh_vertices``, ``nw_mesh_vertices_f32``.
    fn vertices_into(
        &self,
        py: Python<'_>,
        positions_mm: &Bound<'_, PyAny>,
        normals: &Bound<'_, PyAny>,
        station_girth: &Bound<'_, PyAny>,
    ) -> PyResult<()> {
        let arrays = [("positions_mm", positions_mm), ("normals", normals), ("station_girth", station_girth)];
        let core = &*self.core;
        if positions_mm.cast::<PyArrayDyn<f32>>().is_ok() {
            written::<f32, 3>(py, arrays, |[p, n, s]| core.vertices_into(p, n, s))
        } else {
            written::<f64, 3>(py, arrays, |[p, n, s]| core.vertices_into(p, n, s))
        }
    }

    /// Writes the triangles' vertices into an array that is there already.
    ///
    /// Other threads run meanwhile: none may touch the array.
    ///
    /// Parameters
    /// ----------
    /// indices : ndarray of uint32
    ///     Of shape ``(m, 3)``, in C order.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``buffer`` for an array of another size.
    /// TypeError
    ///     An array of another type, or that can't be written to.
    ///
    /// Notes
    /// -----
    /// Rust: ``solid::Mesh::indices_into``. C: ``nw_mesh_triangles``.
    fn indices_into(&self, py: Python<'_>, indices: &Bound<'_, PyAny>) -> PyResult<()> {
        let core = &*self.core;
        written::<u32, 1>(py, [("indices", indices)], |[indices]| core.indices_into(indices))
    }

    fn __repr__(&self) -> String {
        let (vertices, triangles) = (self.core.positions_mm.len(), self.core.triangles.len());
        format!("<Mesh {}: {vertices} vertices, {triangles} triangles>", self.core.name)
    }
}

/// Numbers of a grid, 32 GB of them: no picture has more.
const MOST_OF_A_GRID: usize = 1 << 32;

/// Room for so many numbers, where there is so much.
fn zeros(size: usize) -> Option<Vec<f64>> {
    let mut all = Vec::new();
    all.try_reserve_exact(size).ok()?;
    all.resize(size, 0.0);
    Some(all)
}

/// Hands the memory of some arrays to the library.
fn written<T: Element + Clone, const N: usize>(
    py: Python<'_>,
    arrays: [(&str, &Bound<'_, PyAny>); N],
    write: impl FnOnce([&mut [T]; N]) -> Result<(), Error> + Send,
) -> PyResult<()> {
    let mut all = Vec::with_capacity(N);
    let mut taken = Vec::with_capacity(N);
    for (name, array) in arrays {
        let Some(array) = array.cast::<PyArrayDyn<T>>().ok().filter(|_| is_bare(array)) else {
            return Err(wrong_type(
                name,
                "an array of the right type of numbers, without unit and mask,",
                array,
            ));
        };
        if !array.is_c_contiguous() {
            return Err(PyTypeError::new_err(format!("{name}: an array in C order is needed")));
        }
        let bytes = memory(array);
        if let Some((other, _)) = taken.iter().find(|(_, taken)| overlap(taken, &bytes)) {
            let wrong = Fault::new(Kind::Conflict, name, format!("shares memory with {other}"));
            return Err(fault(py, wrong.remedy("give each an array of its own")));
        }
        taken.push((name, bytes));
        all.push(
            array
                .try_readwrite()
                .map_err(|error| PyTypeError::new_err(format!("{name}: it can't be written to: {error}")))?,
        );
    }
    let mut slices = Vec::with_capacity(N);
    for array in &mut all {
        slices.push(array.as_slice_mut().map_err(|_| PyTypeError::new_err("an array is not aligned"))?);
    }
    let Ok(slices) = <[&mut [T]; N]>::try_from(slices) else { return Ok(()) };
    call_free(py, || write(slices))
}

#[pymethods]
impl Neck {
    /// The carved back as a grid of points with normals, for drawing.
    ///
    /// A row for each station, in it places from the bass carve line to the treble one, even in the parameter of either side's cubic.
    ///
    /// Parameters
    /// ----------
    /// x_mm : array
    ///     Stations, mm from the nut.
    /// columns : int
    ///     Places in each row.
    /// out : tuple of two ndarrays, optional
    ///     Where positions and normals are written, both of float64 or float32, of the shape of the results, in C order, without a byte
    ///     in common. Other threads run meanwhile: none may touch them.
    ///
    /// Returns
    /// -------
    /// tuple of ndarray
    ///     Positions, mm, and normals out of the wood, of length 1, both of shape ``(stations, columns, 3)``.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``outside_neck`` for a station that is not on the neck wood, named by its index; ``buffer`` for arrays of another size, ``conflict``
    ///     for arrays that share memory; ``out_of_range`` for a number of columns that is no count.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> positions, normals = Neck().back_grid([0, 100, 200], 9)
    /// >>> positions.shape
    /// (3, 9, 3)
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::back_grid_into``. C: ``nw_neck_back_grid``, ``nw_neck_back_grid_f32``.
    #[pyo3(signature = (x_mm, columns, *, out = None))]
    fn back_grid<'py>(
        &self,
        py: Python<'py>,
        x_mm: &Bound<'py, PyAny>,
        columns: Given<u32>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyAny>)> {
        let neck = &*self.core;
        let text = |text: &str| crate::along::station_of_text(neck, text);
        let (x, _) = Numbers::of(x_mm, &Meant { name: "x_mm", text: &text, lengths: true })?.listed()?;
        let columns = columns.named(py, "columns")? as usize;
        let Some(out) = out else {
            let size = x.len().checked_mul(columns).and_then(|n| n.checked_mul(3));
            let size = size.filter(|size| *size < MOST_OF_A_GRID);
            let room = size.and_then(|size| Some((zeros(size)?, zeros(size)?)));
            let Some((mut positions, mut normals)) = room else {
                return Err(wrong_size(
                    py,
                    "columns",
                    &columns.to_string(),
                    "of a grid that fits into memory",
                ));
            };
            let (positions, normals) = call_free(py, || {
                neck.back_grid_into(&x, columns, &mut positions, &mut normals)?;
                Ok((positions, normals))
            })?;
            let shaped = |all: Vec<f64>| {
                Ok::<_, PyErr>(all.into_pyarray(py).reshape([x.len(), columns, 3])?.into_any())
            };
            return Ok((shaped(positions)?, shaped(normals)?));
        };
        let both = out.extract::<(Bound<'py, PyAny>, Bound<'py, PyAny>)>();
        let (positions, normals) = both.map_err(|_| wrong_type("out", "a tuple of two arrays", out))?;
        let arrays = [("positions_mm", &positions), ("normals", &normals)];
        if positions.cast::<PyArrayDyn<f32>>().is_ok() {
            grid::<f32>(py, arrays, |p, n| neck.back_grid_into(&x, columns, p, n))?;
        } else {
            grid::<f64>(py, arrays, |p, n| neck.back_grid_into(&x, columns, p, n))?;
        }
        Ok((positions, normals))
    }
}

fn grid<T: Element + Real>(
    py: Python<'_>,
    arrays: [(&str, &Bound<'_, PyAny>); 2],
    write: impl FnOnce(&mut [T], &mut [T]) -> Result<(), Error> + Send,
) -> PyResult<()> {
    written::<T, 2>(py, arrays, |[positions, normals]| write(positions, normals))
}
