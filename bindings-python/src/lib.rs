//! The private native module of the Python package: it translates and holds no computation.
#![deny(unsafe_code)]

mod along;
mod choice;
mod count;
mod document;
mod errors;
mod layout;
mod neck;
mod quantity;
mod record;
mod stations;
mod value;

use pyo3::prelude::*;

/// The module `neckwright._native`.
#[pymodule]
mod _native {
    use super::{Bound, PyModule, PyModuleMethods, PyResult};

    #[pymodule_export]
    use crate::layout::fret_positions_mm;
    #[pymodule_export]
    use crate::neck::Neck;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))?;
        module.add("core_version", neckwright::VERSION)
    }
}
