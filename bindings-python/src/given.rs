//! Arguments: whatever is given is taken in, and what is wrong with it is told under the argument's own name.

use crate::errors::{named, raised, typed};
use crate::number::{is_truth, number, plain};
use crate::quantity::Quantity;
use neckwright::measure::{Angle, Error, Fault, Kind, Length};
use pyo3::PyClass;
use pyo3::prelude::*;
use pyo3::types::{PySequence, PyString};

/// An argument. Python tells a function nothing of the names of its arguments where they are taken in.
pub(crate) struct Given<T>(Result<T, Wrong>);

/// What is wrong with an argument.
pub(crate) enum Wrong {
    /// Another type than is needed: what is needed, and what was given.
    Type(String, String),
    /// What the library says.
    Faults(Error),
    /// What Python said.
    Raised(PyErr),
}

impl From<PyErr> for Wrong {
    fn from(error: PyErr) -> Self {
        Self::Raised(error)
    }
}

impl From<Fault> for Wrong {
    fn from(fault: Fault) -> Self {
        Self::Faults(fault.into())
    }
}

/// Something of another type than is needed.
fn other(needed: &str, given: &Bound<'_, PyAny>) -> Wrong {
    Wrong::Type(needed.to_owned(), typed(given))
}

/// What an argument is taken in as.
pub(crate) trait Argument<'py>: Sized {
    fn take(given: &Bound<'py, PyAny>) -> Result<Self, Wrong>;
}

impl<T> Given<T> {
    /// What an argument is where it is not given.
    pub const fn of(value: T) -> Self {
        Self(Ok(value))
    }

    /// # Errors
    /// - all that is wrong with it, under this name.
    pub fn named(self, py: Python<'_>, argument: &str) -> PyResult<T> {
        self.0.map_err(|wrong| match wrong {
            Wrong::Type(needed, given) => {
                pyo3::exceptions::PyTypeError::new_err(format!("{argument}: {needed} is needed, not {given}"))
            }
            Wrong::Faults(error) => raised(py, &named(error, argument)),
            Wrong::Raised(error) => error,
        })
    }
}

impl<'py, T: Argument<'py>> FromPyObject<'_, 'py> for Given<T> {
    type Error = PyErr;

    fn extract(given: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
        Ok(Self(T::take(&given)))
    }
}

/// A count. Whole numbers know no bounds in Python; the library's own bounds are its own affair.
impl Argument<'_> for u32 {
    fn take(given: &Bound<'_, PyAny>) -> Result<Self, Wrong> {
        let needed = || other("a whole number", given);
        if is_truth(given) {
            return Err(needed());
        }
        let whole = given.call_method0("__index__").map_err(|_| needed())?;
        whole.extract::<Self>().map_err(|_| {
            // Python does not write out numbers of thousands of digits.
            let shown = whole
                .str()
                .map_or_else(|_| String::from("a number of thousands of digits"), |text| text.to_string());
            let short: String = shown.chars().take(40).collect();
            let shown = if short.len() < shown.len() { short + "…" } else { short };
            let wrong = Fault::new(Kind::OutOfRange, "", "not a count").value(shown, "");
            wrong.range(0.0, f64::from(Self::MAX)).into()
        })
    }
}

/// A number without a unit.
impl Argument<'_> for f64 {
    fn take(given: &Bound<'_, PyAny>) -> Result<Self, Wrong> {
        if let Some(number) = plain(given) {
            return Ok(number);
        }
        converted(given).ok_or_else(|| other("a number", given))
    }
}

/// The number of what says of itself that it can be made one.
pub(crate) fn converted(given: &Bound<'_, PyAny>) -> Option<f64> {
    let can = |name| given.hasattr(name).unwrap_or(false);
    // An array of one number is one; of one that is no real number there is only a part.
    let sort = given.getattr("dtype").and_then(|sort| sort.getattr("kind")?.extract::<String>());
    let is_real = sort.map_or(true, |kind| ["f", "i", "u"].contains(&kind.as_str()));
    if is_truth(given) || !is_real || !(can("__float__") || can("__index__")) {
        None
    } else {
        number(given).ok()
    }
}

/// A length, mm: a number, a text or a quantity.
#[derive(Clone, Copy)]
pub(crate) struct Mm(pub f64);

impl Argument<'_> for Mm {
    fn take(given: &Bound<'_, PyAny>) -> Result<Self, Wrong> {
        let read = |text: &str| Length::parse(text).map(Length::mm);
        let told =
            |quantity: &Quantity<'_, '_>| Ok(quantity.one("mm")?.ok_or_else(|| quantity.no_length("")));
        measured(given, read, told, "a length (mm, a text like \"4 3/4 in\", or a quantity)").map(Self)
    }
}

/// An angle, degrees: a number, a text or a quantity.
#[derive(Clone, Copy)]
pub(crate) struct Degrees(pub f64);

impl Argument<'_> for Degrees {
    fn take(given: &Bound<'_, PyAny>) -> Result<Self, Wrong> {
        let read = |text: &str| Angle::parse(text).map(Angle::deg);
        let told = |quantity: &Quantity<'_, '_>| {
            Ok(quantity.degrees()?.ok_or_else(|| {
                Fault::new(Kind::WrongType, "", "this quantity is no angle")
                    .value(quantity.shown(), "")
                    .remedy("give degrees as a number, a text like \"10 deg\" or a quantity of angle")
            }))
        };
        measured(given, read, told, "an angle (degrees, a text like \"10 deg\", or a quantity)").map(Self)
    }
}

fn measured<'py>(
    given: &Bound<'py, PyAny>,
    read: impl FnOnce(&str) -> Result<f64, Error>,
    told: impl FnOnce(&Quantity<'_, 'py>) -> PyResult<Result<f64, Fault>>,
    needed: &str,
) -> Result<f64, Wrong> {
    if let Some(number) = plain(given) {
        return Ok(number);
    }
    if let Ok(text) = given.cast::<PyString>() {
        return read(&text.to_cow()?).map_err(Wrong::Faults);
    }
    if let Some(quantity) = Quantity::of(given) {
        return Ok(told(&quantity)??);
    }
    converted(given).ok_or_else(|| other(needed, given))
}

/// A text.
impl Argument<'_> for String {
    fn take(given: &Bound<'_, PyAny>) -> Result<Self, Wrong> {
        let text = given.cast::<PyString>().map_err(|_| other("a text", given))?;
        Ok(text.to_cow()?.into_owned())
    }
}

/// Yes or no.
impl Argument<'_> for bool {
    fn take(given: &Bound<'_, PyAny>) -> Result<Self, Wrong> {
        if is_truth(given) { Ok(given.is_truthy()?) } else { Err(other("True or False", given)) }
    }
}

/// What a word is where it is not given.
pub(crate) fn word(usual: &str) -> Given<String> {
    Given::of(usual.to_owned())
}

/// An object of one of this module's classes.
impl<'py, T: PyClass> Argument<'py> for Bound<'py, T> {
    fn take(given: &Bound<'py, PyAny>) -> Result<Self, Wrong> {
        given.cast::<T>().cloned().map_err(|_| other(&format!("a {}", T::NAME), given))
    }
}

/// Several objects, at least one.
pub(crate) struct Several<'py, T>(pub Vec<Bound<'py, T>>);

impl<'py, T: PyClass> Argument<'py> for Several<'py, T> {
    fn take(given: &Bound<'py, PyAny>) -> Result<Self, Wrong> {
        let listed = given.cast::<PySequence>().is_ok() && !given.is_instance_of::<PyString>();
        if !listed {
            return Err(other(&format!("a sequence of {}", T::NAME), given));
        }
        let mut all = Vec::new();
        for (i, one) in given.try_iter()?.enumerate() {
            let one = one?;
            let Ok(good) = one.cast::<T>() else {
                return Err(Wrong::Type(format!("a {} at [{i}]", T::NAME), typed(&one)));
            };
            all.push(good.clone());
        }
        if all.is_empty() {
            let none = Fault::new(Kind::Missing, "", format!("there is no {} to write", T::NAME));
            return Err(none.remedy("give at least one").into());
        }
        Ok(Self(all))
    }
}
