//! The private native module of the Python package: it translates and holds no computation.
#![deny(unsafe_code)]

mod along;
mod answers;
mod choice;
mod cloud;
mod comparison;
mod copied;
mod document;
mod edge;
mod errors;
mod face;
mod facts;
mod files;
mod given;
mod inspection;
mod layout;
mod measure;
mod mending;
mod mesh;
mod neck;
mod number;
mod options;
mod origin;
#[cfg(feature = "test-panics")]
mod panics;
mod plan;
mod points;
mod positions;
mod quantity;
mod readings;
mod record;
mod section;
mod sheets;
mod solid;
mod spline;
mod stations;
mod strings;
mod subject;
mod value;
mod wood;

use pyo3::prelude::*;
use pyo3::types::PyDict;

/// The module `neckwright._native`.
// Tried with the interpreter's lock only: a free-threaded interpreter takes no module of the stable interface.
#[pymodule(gil_used = true)]
mod _native {
    use super::{Bound, PyAnyMethods, PyDict, PyDictMethods, PyModule, PyModuleMethods, PyResult};

    #[pymodule_export]
    use crate::copied::Copied;
    #[pymodule_export]
    use crate::edge::Edge;
    #[pymodule_export]
    use crate::face::Face;
    #[pymodule_export]
    use crate::files::{gltf, step, stl, threemf};
    #[pymodule_export]
    use crate::inspection::Inspection;
    #[pymodule_export]
    use crate::layout::Layout;
    #[pymodule_export]
    use crate::measure::{angle_deg, known_shapes, known_woods, length_mm, sagitta_mm, scarf, sixtyfourths};
    #[pymodule_export]
    use crate::mending::Mending;
    #[pymodule_export]
    use crate::mesh::Mesh;
    #[pymodule_export]
    use crate::neck::Neck;
    #[pymodule_export]
    use crate::plan::{CarvingPlan, Stage};
    #[pymodule_export]
    use crate::positions::{
        fret_positions_mm, fret_positions_of_cents_mm, fret_positions_of_ratios_mm, rounded_positions,
        usual_gauges_mm,
    };
    #[pymodule_export]
    use crate::readings::Readings;
    #[pymodule_export]
    use crate::section::Section;
    #[pymodule_export]
    use crate::sheets::{Sheet, dxf, pdf};
    #[pymodule_export]
    use crate::solid::Solid;
    #[pymodule_export]
    use crate::subject::{bounds, schema};
    #[pymodule_export]
    use crate::wood::Wood;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        #[cfg(feature = "test-panics")]
        module.add_function(pyo3::wrap_pyfunction!(crate::panics::panic, module)?)?;
        module.add("__version__", env!("CARGO_PKG_VERSION"))?;
        module.add("core_version", neckwright::VERSION)?;
        // For what is refused in Python: names and numbers stand in one place.
        let kinds = PyDict::new(module.py());
        for kind in neckwright::measure::Kind::ALL {
            kinds.set_item(kind.name(), kind.code())?;
        }
        module.setattr("_kinds", kinds)
    }
}
