//! What results are made from: by it they are compared, hashed and pickled, instead of by all that is in them.

use pyo3::prelude::*;
use pyo3::types::{PyString, PyTuple};

/// What pickle makes something by: a function, and its arguments.
pub(crate) type Reduced<'py> = (Bound<'py, PyAny>, Bound<'py, PyTuple>);

/// A call that makes the same again: a method of an object, its arguments, and its options as the JSON text of all of them.
pub(crate) struct Origin {
    of: Py<PyAny>,
    method: &'static str,
    arguments: Py<PyTuple>,
    options: String,
    /// Which of several results.
    index: Option<usize>,
}

impl Origin {
    pub fn new<'py>(
        of: &Bound<'py, PyAny>,
        method: &'static str,
        arguments: impl IntoIterator<Item = Bound<'py, PyAny>>,
        options: String,
    ) -> PyResult<Self> {
        let arguments: Vec<Bound<'py, PyAny>> = arguments.into_iter().collect();
        let arguments = PyTuple::new(of.py(), arguments)?.unbind();
        Ok(Self { of: of.clone().unbind(), method, arguments, options, index: None })
    }

    /// One of the results of the same call.
    pub fn at(&self, py: Python<'_>, index: usize) -> Self {
        let (of, arguments) = (self.of.clone_ref(py), self.arguments.clone_ref(py));
        Self { of, method: self.method, arguments, options: self.options.clone(), index: Some(index) }
    }

    fn told<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let (of, arguments) = (self.of.bind(py).clone(), self.arguments.bind(py).clone().into_any());
        let [method, options] = [self.method, &self.options].map(|text| PyString::new(py, text).into_any());
        let index = self.index.into_pyobject(py)?;
        PyTuple::new(py, [of, method, arguments, options, index])
    }

    pub fn equals(&self, py: Python<'_>, other: &Self) -> PyResult<bool> {
        self.told(py)?.eq(other.told(py)?)
    }

    pub fn hash(&self, py: Python<'_>) -> PyResult<isize> {
        self.told(py)?.hash()
    }

    /// What pickle makes it by.
    pub fn reduced<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        Ok((py.import("neckwright._made")?.getattr("again")?, self.told(py)?))
    }
}

/// Copies of what never changes: itself.
macro_rules! copied {
    ($name:ident) => {
        #[pyo3::pymethods]
        impl $name {
            fn __copy__(slf: Py<Self>) -> Py<Self> {
                slf
            }

            #[pyo3(signature = (_memo, /))]
            fn __deepcopy__(slf: Py<Self>, _memo: &Bound<'_, PyAny>) -> Py<Self> {
                slf
            }
        }
    };
}

/// Pickling by the field `origin`.
macro_rules! made_again {
    ($name:ident) => {
        #[pyo3::pymethods]
        impl $name {
            fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<crate::origin::Reduced<'py>> {
                self.origin.reduced(py)
            }
        }
    };
}

/// Comparing, hashing, pickling and copying by the field `origin`.
macro_rules! by_origin {
    ($name:ident) => {
        #[pyo3::pymethods]
        impl $name {
            fn __eq__(&self, py: Python<'_>, other: &Bound<'_, PyAny>) -> PyResult<bool> {
                match other.cast::<Self>() {
                    Ok(other) => self.origin.equals(py, &other.get().origin),
                    Err(_) => Ok(false),
                }
            }

            fn __hash__(&self, py: Python<'_>) -> PyResult<isize> {
                self.origin.hash(py)
            }
        }

        crate::origin::copied!($name);
        crate::origin::made_again!($name);
    };
}

pub(crate) use {by_origin, copied, made_again};
