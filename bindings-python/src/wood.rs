//! The wood after a stage of the carving plan.

use crate::answers::{answered, each};
use crate::errors::{ask, call_free, fault};
use crate::given::{Given, Mm};
use crate::origin::{Origin, Reduced, copied};
use crate::points::{array, of_space};
use crate::stations::Meant;
use neckwright::carve::{CarvingPlan as Core, Wood as CoreWood};
use neckwright::measure::{Fault, Kind, Length};
use numpy::{IntoPyArray, PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::{PyString, PyTuple};
use std::sync::Arc;

/// The wood after a stage of a carving plan: the blanks less the cuts so far.
///
/// That after a stage is :attr:`Stage.wood`, that before the first one :meth:`CarvingPlan.start`.
///
/// Notes
/// -----
/// Rust: ``carve::Wood``. C: ``nw_plan_wood_volume_mm3`` and its like.
#[pyclass(frozen, module = "neckwright", name = "Wood")]
pub(crate) struct Wood {
    plan: Arc<Core>,
    stage: Option<usize>,
    of: Py<PyAny>,
    name: &'static str,
}

copied!(Wood);

impl Wood {
    pub fn of(
        of: &Bound<'_, PyAny>,
        plan: Arc<Core>,
        stage: Option<usize>,
        name: &'static str,
    ) -> PyResult<Self> {
        Ok(Self { plan, stage, of: of.clone().unbind(), name })
    }

    pub fn core(&self) -> &CoreWood {
        self.stage.map_or_else(|| self.plan.start(), |stage| &self.plan.stages()[stage].wood)
    }
}

/// Stations of the wood are lengths; frets are the neck's, whose `station_mm` tells where they lie.
const MEANT: Meant<'_> =
    Meant { name: "x_mm", text: &|text| Length::parse(text).map(Length::mm), lengths: true };

#[pymethods]
impl Wood {
    /// Area of board and neck wood together in the sections at stations, the rod's channel filled; 0 off the wood.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut; a text such as ``"4 3/4 in"``. Where a fret lies tells :meth:`Neck.station_mm`.
    /// out : ndarray of float64, optional
    ///     Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
    ///     threads run meanwhile: none may write to ``x_mm`` or touch ``out``.
    ///
    /// Returns
    /// -------
    /// float or ndarray
    ///     mm², of the shape of ``x_mm``.
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::area_mm2``. C: ``nw_plan_wood_area_mm2``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn area_mm2<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let wood = self.core();
        let one = |x| Ok(wood.area_mm2(x));
        answered(x_mm, &MEANT, out, one, |x, out| each("x_mm", x, out, one))
    }

    /// Depth of its underside below the crown plane on the centreline at stations.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut; a text such as ``"4 3/4 in"``. Where a fret lies tells :meth:`Neck.station_mm`.
    /// out : ndarray of float64, optional
    ///     Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
    ///     threads run meanwhile: none may write to ``x_mm`` or touch ``out``.
    ///
    /// Returns
    /// -------
    /// float or ndarray
    ///     mm; a float for one station, an array of the shape of ``x_mm`` for an array.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A station where there is no wood.
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::depth_mm``. C: ``nw_plan_wood_depth_mm``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn depth_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let wood = self.core();
        let one = |x| wood.depth_mm(x);
        answered(x_mm, &MEANT, out, one, |x, out| each("x_mm", x, out, one))
    }

    /// Its section at a station as a polyline, no further from it than a chord's height.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str or quantity
    ///     The station, mm from the nut; a text such as ``"4 3/4 in"``.
    /// chord_mm : float, str or quantity
    ///     How far it may lie off, mm; above 0.
    ///
    /// Returns
    /// -------
    /// ndarray
    ///     Corners ``(y, z)``, mm, of shape ``(n, 2)``; the last is joined to the first.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A station where there is no wood, or a chord that is out of its range.
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::polyline_mm``. C: ``nw_plan_wood_polyline``.
    #[pyo3(
        signature = (x_mm, chord_mm = Given::of(Mm(0.05))),
        text_signature = "($self, x_mm, chord_mm=0.05)"
    )]
    fn polyline_mm<'py>(
        &self,
        py: Python<'py>,
        x_mm: Given<Mm>,
        chord_mm: Given<Mm>,
    ) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let (Mm(x_mm), Mm(chord_mm)) = (x_mm.named(py, "x_mm")?, chord_mm.named(py, "chord_mm")?);
        array(py, &call_free(py, || self.core().polyline_mm(x_mm, chord_mm))?)
    }

    /// Whether points lie in it.
    ///
    /// Parameters
    /// ----------
    /// points_mm : array or quantity
    ///     Points ``(x, y, z)``, mm, of shape ``(n, 3)``.
    /// within_mm : float, str or quantity
    ///     How far outside a point may lie and still count, mm; below 0, how far inside it has to lie.
    ///
    /// Returns
    /// -------
    /// ndarray of bool
    ///     Of shape ``(n,)``. A point with a NaN lies in nothing.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``out_of_range`` for a ``within_mm`` that is no finite number; ``buffer`` for points of another shape.
    /// TypeError
    ///     What is no array of points.
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::contains_mm``. C: ``nw_plan_wood_contains``.
    #[pyo3(
        signature = (points_mm, *, within_mm = Given::of(Mm(0.0))),
        text_signature = "($self, points_mm, *, within_mm=0.0)"
    )]
    fn contains_mm<'py>(
        &self,
        py: Python<'py>,
        points_mm: &Bound<'py, PyAny>,
        within_mm: Given<Mm>,
    ) -> PyResult<Bound<'py, PyArray1<bool>>> {
        let Mm(within_mm) = within_mm.named(py, "within_mm")?;
        let points = of_space(points_mm, "points_mm")?;
        if !within_mm.is_finite() {
            let wrong =
                Fault::new(Kind::OutOfRange, "within_mm", "not a finite number").value(within_mm, "mm");
            return Err(fault(py, wrong.remedy("give 0 for points in the wood alone")));
        }
        let wood = self.core();
        let inside =
            ask(py, || points.iter().map(|p| wood.contains_mm(*p, within_mm)).collect::<Vec<bool>>())?;
        Ok(inside.into_pyarray(py))
    }

    /// Its volume, mm³, less the rod's channel and the tuner holes once they are cut.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::volume_mm3``. C: ``nw_plan_wood_volume_mm3``.
    fn volume_mm3(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core().volume_mm3())
    }

    /// What the channel and the tuner holes have taken of it so far, mm³.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::bored_mm3``. C: ``nw_neck_volume``.
    fn bored_mm3(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core().bored_mm3())
    }

    /// First and last station of it, mm.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::reach_mm``. C: ``nw_plan_wood_reach_mm``.
    fn reach_mm(&self, py: Python<'_>) -> PyResult<(f64, f64)> {
        ask(py, || self.core().reach_mm().into())
    }

    /// It as closed solids: one, named ``wood``, up to the transitions; from then on two, ``neck wood`` and ``fretboard``.
    ///
    /// Channel and tuner holes count as wood here, unlike in :meth:`volume_mm3`.
    ///
    /// Returns
    /// -------
    /// tuple of Solid
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Wood whose faces can't be put together; the fault says which cut is the reason.
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::Wood::solids``. C: ``nw_plan_wood_solids``.
    #[pyo3(signature = ())]
    fn solids<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        let py = slf.py();
        let wood = slf.get().core();
        let made = call_free(py, || wood.solids())?;
        let origin = Origin::new(slf.as_any(), "solids", [], String::new())?;
        crate::solid::Solid::all(py, made, &origin)
    }

    fn __eq__(&self, py: Python<'_>, other: &Bound<'_, PyAny>) -> PyResult<bool> {
        match other.cast::<Self>() {
            Ok(other) => self.of.bind(py).eq(other.get().of.bind(py)),
            Err(_) => Ok(false),
        }
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<isize> {
        self.of.bind(py).hash()
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let (of, name) = (self.of.bind(py).clone(), PyString::new(py, self.name).into_any());
        Ok((py.import("neckwright._made")?.getattr("of")?, PyTuple::new(py, [of, name])?))
    }

    fn __repr__(&self) -> String {
        match self.stage {
            None => "<Wood: the blanks>".to_owned(),
            Some(stage) => format!("<Wood after {}>", self.plan.stages()[stage].name.name()),
        }
    }
}
