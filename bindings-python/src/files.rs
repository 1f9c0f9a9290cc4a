//! Files for other programs.

use crate::choice::choice;
use crate::errors::{call_free, fault, typed};
use crate::given::{Argument, Given, Several, Wrong, word};
use crate::mesh::Mesh;
use crate::solid::Solid;
use neckwright::exchange::{Coloured, ColouredMesh, StepOptions, StepProtocol};
use neckwright::measure::{Error, Fault, Kind};
use neckwright::solid::{Mesh as CoreMesh, Solid as CoreSolid};
use pyo3::prelude::*;
use pyo3::types::PyBytes;
use std::sync::Arc;

/// What is shown where nobody asks for another: a light and a dark wood by turns.
const USUAL: [[f64; 3]; 2] = [[0.72, 0.45, 0.28], [0.25, 0.16, 0.11]];

/// Red, green and blue of several parts.
pub(crate) struct Colours(Vec<[f64; 3]>);

impl<'py> Argument<'py> for Colours {
    fn take(given: &Bound<'py, PyAny>) -> Result<Self, Wrong> {
        let needed = "a sequence of (red, green, blue)";
        given.extract().map(Self).map_err(|_| Wrong::Type(needed.to_owned(), typed(given)))
    }
}

/// One colour for each of so many parts.
fn colours(py: Python<'_>, given: Option<Given<Colours>>, needed: usize) -> PyResult<Vec<[f64; 3]>> {
    let given = given.map(|given| given.named(py, "colours")).transpose()?;
    let Some(Colours(given)) = given else { return Ok(USUAL.into_iter().cycle().take(needed).collect()) };
    if given.len() == needed {
        return Ok(given);
    }
    let wrong = Fault::new(Kind::Buffer, "colours", "needs one colour for each part");
    let wrong = wrong.value(given.len(), "colours").range(needed as f64, needed as f64);
    Err(fault(py, wrong.remedy("give one for each, or none for the usual ones")))
}

/// Solids as a STEP file (ISO 10303-21): named products in one assembly, millimetres, the same bytes every time.
///
/// Parameters
/// ----------
/// solids : sequence of Solid
///     The solids.
/// name : str
///     What the assembly is called.
/// protocol : {"ap242", "ap214"}
///     AP242 (ISO 10303-242), or AP214 for programs that read nothing newer.
/// colours : sequence of (float, float, float), optional
///     Red, green and blue from 0 to 1 of each solid; without it woods.
///
/// Returns
/// -------
/// bytes
///
/// Raises
/// ------
/// NeckwrightError
///     Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.
///
/// Examples
/// --------
/// >>> from neckwright import Neck, step
/// >>> step(Neck().solids(slots=False))[:13]
/// b'ISO-10303-21;'
///
/// Notes
/// -----
/// Rust: ``exchange::step``. C: ``nw_solids_step``.
#[pyfunction]
#[pyo3(
    signature = (solids, *, name = word("neck"), protocol = word("ap242"), colours = None),
    text_signature = "(solids, *, name=\"neck\", protocol=\"ap242\", colours=None)"
)]
pub(crate) fn step<'py>(
    py: Python<'py>,
    solids: Given<Several<'py, Solid>>,
    name: Given<String>,
    protocol: Given<String>,
    colours: Option<Given<Colours>>,
) -> PyResult<Bound<'py, PyBytes>> {
    let all = [("ap242", StepProtocol::Ap242), ("ap214", StepProtocol::Ap214)];
    let options = StepOptions { protocol: choice(py, protocol, "protocol", &all)? };
    let (Several(solids), name) = (solids.named(py, "solids")?, name.named(py, "name")?);
    let colours = self::colours(py, colours, solids.len())?;
    let solids: Vec<Arc<CoreSolid>> = solids.iter().map(|solid| solid.get().core.clone()).collect();
    let text = call_free(py, || {
        let coloured: Vec<Coloured<'_>> = solids.iter().map(|solid| &**solid).zip(colours).collect();
        neckwright::exchange::step(&name, &coloured, &options)
    })?;
    Ok(PyBytes::new(py, text.as_bytes()))
}

fn of_meshes<'py>(
    py: Python<'py>,
    meshes: Given<Several<'py, Mesh>>,
    name: Given<String>,
    colours: Option<Given<Colours>>,
    write: impl FnOnce(&str, &[ColouredMesh<'_>]) -> Result<Vec<u8>, Error> + Send,
) -> PyResult<Bound<'py, PyBytes>> {
    let (Several(meshes), name) = (meshes.named(py, "meshes")?, name.named(py, "name")?);
    let colours = self::colours(py, colours, meshes.len())?;
    let meshes: Vec<Arc<CoreMesh>> = meshes.iter().map(|mesh| mesh.get().core.clone()).collect();
    let bytes = call_free(py, || {
        let coloured: Vec<ColouredMesh<'_>> = meshes.iter().map(|mesh| &**mesh).zip(colours).collect();
        write(&name, &coloured)
    })?;
    Ok(PyBytes::new(py, &bytes))
}

/// Meshes as one binary STL file, mm; colours of facets as some programs read them.
///
/// Parameters
/// ----------
/// meshes : sequence of Mesh
///     The meshes.
/// name : str
///     What it is called in the file.
/// colours : sequence of (float, float, float), optional
///     Red, green and blue from 0 to 1 of each mesh; without it woods.
///
/// Returns
/// -------
/// bytes
///
/// Raises
/// ------
/// NeckwrightError
///     Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.
///
/// Notes
/// -----
/// Rust: ``exchange::stl``. C: ``nw_meshes_stl``.
#[pyfunction]
#[pyo3(
    signature = (meshes, *, name = word("neck"), colours = None),
    text_signature = "(meshes, *, name=\"neck\", colours=None)"
)]
pub(crate) fn stl<'py>(
    py: Python<'py>,
    meshes: Given<Several<'py, Mesh>>,
    name: Given<String>,
    colours: Option<Given<Colours>>,
) -> PyResult<Bound<'py, PyBytes>> {
    of_meshes(py, meshes, name, colours, neckwright::exchange::stl)
}

/// Meshes as one 3MF file, mm, each an object of its own.
///
/// Parameters
/// ----------
/// meshes : sequence of Mesh
///     The meshes.
/// name : str
///     What it is called in the file.
/// colours : sequence of (float, float, float), optional
///     Red, green and blue from 0 to 1 of each mesh; without it woods.
///
/// Returns
/// -------
/// bytes
///
/// Raises
/// ------
/// NeckwrightError
///     Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.
///
/// Notes
/// -----
/// Rust: ``exchange::threemf``. C: ``nw_meshes_threemf``.
#[pyfunction]
#[pyo3(
    signature = (meshes, *, name = word("neck"), colours = None),
    text_signature = "(meshes, *, name=\"neck\", colours=None)"
)]
pub(crate) fn threemf<'py>(
    py: Python<'py>,
    meshes: Given<Several<'py, Mesh>>,
    name: Given<String>,
    colours: Option<Given<Colours>>,
) -> PyResult<Bound<'py, PyBytes>> {
    of_meshes(py, meshes, name, colours, neckwright::exchange::threemf)
}

/// Meshes as one binary glTF file, metres as that format has it, with normals.
///
/// Parameters
/// ----------
/// meshes : sequence of Mesh
///     The meshes.
/// name : str
///     What it is called in the file.
/// colours : sequence of (float, float, float), optional
///     Red, green and blue from 0 to 1 of each mesh; without it woods.
///
/// Returns
/// -------
/// bytes
///
/// Raises
/// ------
/// NeckwrightError
///     Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.
///
/// Notes
/// -----
/// Rust: ``exchange::gltf``. C: ``nw_meshes_gltf``.
#[pyfunction]
#[pyo3(
    signature = (meshes, *, name = word("neck"), colours = None),
    text_signature = "(meshes, *, name=\"neck\", colours=None)"
)]
pub(crate) fn gltf<'py>(
    py: Python<'py>,
    meshes: Given<Several<'py, Mesh>>,
    name: Given<String>,
    colours: Option<Given<Colours>>,
) -> PyResult<Bound<'py, PyBytes>> {
    of_meshes(py, meshes, name, colours, neckwright::exchange::gltf)
}
