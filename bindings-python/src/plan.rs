//! The carving plan and its stages.

use crate::document::Document;
use crate::errors::{ask, fault};
use crate::given::Given;
use crate::neck::Neck;
use crate::origin::{Origin, by_origin};
use crate::record::record;
use crate::wood::Wood;
use neckwright::carve::{CarvingPlan as Core, Stage as CoreStage};
use neckwright::measure::{Fault, Kind};
use neckwright::spec::Stock;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyString};
use std::sync::Arc;

/// A carving plan: every stage from the blank to the last grit.
///
/// Made by :meth:`Neck.carving_plan`. It never changes, and may be used from any number of threads.
///
/// Every stage carries its cautions, of blade, cutter, dust, chip-out and breaking into the rod's channel. The machines' manuals,
/// local rules and qualified practice come first.
///
/// Notes
/// -----
/// Rust: ``carve::CarvingPlan``. C: ``nw_plan_document``.
#[pyclass(frozen, module = "neckwright", name = "CarvingPlan")]
pub(crate) struct CarvingPlan {
    pub core: Arc<Core>,
    origin: Origin,
}

by_origin!(CarvingPlan);

/// One stage of a carving plan: what to mark, what to cut, what to check, and the wood after it.
///
/// Made by :meth:`CarvingPlan.stages`.
///
/// Notes
/// -----
/// Rust: ``carve::Stage``. C: ``nw_plan_document``.
#[pyclass(frozen, module = "neckwright", name = "Stage")]
pub(crate) struct Stage {
    plan: Py<CarvingPlan>,
    index: usize,
    origin: Origin,
    told: PyOnceLock<Py<PyAny>>,
}

by_origin!(Stage);

#[pymethods]
impl Neck {
    /// The carving plan from a piece of timber to the finished neck.
    ///
    /// Parameters
    /// ----------
    /// stock : mapping, str or path, optional
    ///     The timber, the tools and the order of the stages: a mapping, JSON text, or a file. What it leaves out has its default.
    ///     ``bounds("stock")`` tells every field.
    /// **groups
    ///     Groups of the stock, which change the document as :meth:`with_` does.
    ///
    /// Returns
    /// -------
    /// CarvingPlan
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     Everything that is wrong with the stock; ``too_small`` for timber that does not hold the neck, ``too_deep`` for a cut
    ///     that comes nearer to it than its allowance.
    /// TypeError
    ///     Something that no document can hold.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> plan = Neck().carving_plan(thickness="45 mm")
    /// >>> plan.stages()[0].name
    /// 'blank'
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::carving_plan``, ``spec::Stock::from_json``. C: ``nw_neck_carving_plan``.
    #[pyo3(signature = (stock = None, /, **groups), text_signature = "($self, stock=None, /, **groups)")]
    fn carving_plan(
        slf: &Bound<'_, Self>,
        stock: Option<&Bound<'_, PyAny>>,
        groups: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<CarvingPlan> {
        let (py, neck) = (slf.py(), &slf.get().core);
        let given =
            stock.map_or_else(|| Ok(Document::default()), |given| Document::of::<Stock>(given, "stock"))?;
        let given = given.changed::<Stock>(groups)?;
        let make = |stock: Stock| neck.carving_plan(&stock);
        let core = given.read(py, make)?;
        let stock = PyString::new(py, &ask(py, || core.stock().to_json())?).into_any();
        let origin = Origin::new(slf.as_any(), "carving_plan", [stock], String::new())?;
        Ok(CarvingPlan { core: Arc::new(core), origin })
    }
}

#[pymethods]
impl CarvingPlan {
    /// The stages in their order.
    ///
    /// Returns
    /// -------
    /// tuple of Stage
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::stages``. C: ``nw_plan_document``, ``nw_plan_stage_count``.
    #[pyo3(signature = ())]
    fn stages<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, pyo3::types::PyTuple>> {
        let stages = (0..slf.get().core.stages().len()).map(|index| Stage::of(slf, index));
        pyo3::types::PyTuple::new(slf.py(), stages.collect::<PyResult<Vec<Stage>>>()?)
    }

    /// The stage of a name.
    ///
    /// Parameters
    /// ----------
    /// name : str
    ///     Such as ``"contour"``; :data:`neckwright.records.StageName` has all of them.
    ///
    /// Returns
    /// -------
    /// Stage
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     The plan has no such stage; those that it has are named.
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::stage``. C: ``nw_plan_document``.
    fn stage(slf: &Bound<'_, Self>, name: Given<String>) -> PyResult<Stage> {
        let name = name.named(slf.py(), "name")?;
        let stages = slf.get().core.stages();
        match stages.iter().position(|stage| stage.name.name() == name) {
            Some(index) => Stage::of(slf, index),
            None => {
                let names: Vec<String> =
                    stages.iter().map(|stage| format!("\"{}\"", stage.name.name())).collect();
                let wrong = Fault::new(Kind::Missing, "name", "the plan has no such stage");
                let given: String = name.chars().take(40).flat_map(char::escape_debug).collect();
                let remedy = format!("it has {}", names.join(", "));
                Err(fault(slf.py(), wrong.value(format!("\"{given}\""), "").remedy(remedy)))
            }
        }
    }

    /// The wood before the first stage: the blanks.
    ///
    /// Returns
    /// -------
    /// Wood
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::start``. C: ``nw_plan_wood_volume_mm3``.
    fn start(slf: &Bound<'_, Self>) -> PyResult<Wood> {
        Wood::of(slf.as_any(), slf.get().core.clone(), None, "start")
    }

    /// The stock that the plan was made for, with every default filled in.
    ///
    /// Returns
    /// -------
    /// dict
    ///     A new one each time.
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::stock``, ``spec::Stock::to_json``. C: ``nw_plan_document``.
    fn stock<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, self.core.stock())
    }

    /// Volume of the blanks, mm³.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::stock_mm3``. C: ``nw_plan_document``.
    fn stock_mm3(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core.stock_mm3())
    }

    /// Volume of the finished neck, mm³.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::finished_mm3``. C: ``nw_plan_document``.
    fn finished_mm3(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core.finished_mm3())
    }

    /// The stop lines: first and last station of what is carved between headstock and heel, mm.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::stops_mm``. C: ``nw_plan_document``.
    fn stops_mm(&self, py: Python<'_>) -> PyResult<(f64, f64)> {
        ask(py, || self.core.stops_mm().into())
    }

    /// The station from which the heel is glued or bolted, and nothing may touch it, mm.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``carve::CarvingPlan::glued_from_mm``. C: ``nw_plan_document``.
    fn glued_from_mm(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core.glued_from_mm())
    }

    fn __repr__(&self) -> String {
        format!("<CarvingPlan: {} stages>", self.core.stages().len())
    }
}

impl Stage {
    fn of(plan: &Bound<'_, CarvingPlan>, index: usize) -> PyResult<Self> {
        let origin = Origin::new(plan.as_any(), "stages", [], String::new())?.at(plan.py(), index);
        Ok(Self { plan: plan.clone().unbind(), index, origin, told: PyOnceLock::new() })
    }

    pub fn of_plan(&self) -> &Core {
        &self.plan.get().core
    }

    pub fn whole<'py>(&self, py: Python<'py>) -> &Bound<'py, CarvingPlan> {
        self.plan.bind(py)
    }

    pub fn number(&self) -> usize {
        self.index
    }

    pub fn core(&self) -> &CoreStage {
        &self.plan.get().core.stages()[self.index]
    }

    /// All of it, told once.
    fn told<'py>(&self, py: Python<'py>, field: &str) -> PyResult<Bound<'py, PyAny>> {
        let told = self.told.get_or_try_init(py, || Ok::<_, PyErr>(record(py, self.core())?.unbind()))?;
        told.bind(py).getattr(field)
    }
}

#[pymethods]
impl Stage {
    /// Which one.
    #[getter]
    fn name<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "name")
    }

    /// What is done.
    #[getter]
    fn action<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "action")
    }

    /// With what kind of tool.
    #[getter]
    fn tool<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "tool")
    }

    /// The lines to mark before it.
    #[getter]
    fn lines<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "lines")
    }

    /// What to check after it, before going on.
    #[getter]
    fn checks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "checks")
    }

    /// Cautions.
    #[getter]
    fn cautions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "cautions")
    }

    /// Wood that this stage takes off, mm³.
    #[getter]
    fn removed_mm3<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "removed_mm3")
    }

    /// Wood that is left after it, board and neck together, mm³.
    #[getter]
    fn left_mm3<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "left_mm3")
    }

    /// The least wood between this stage's cut and the finished neck (or, where an allowance runs out at the
    /// carve line, the neck with that allowance still on), proven; of contouring and the transitions, whose
    /// allowance runs out at the carve line, straight down along the spine. ``None`` for a stage that takes
    /// nothing, or that cuts faces to their finished place.
    #[getter]
    fn clearance<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "clearance")
    }

    /// What only this stage has.
    #[getter]
    fn details<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.told(py, "details")
    }

    /// The wood after it.
    #[getter]
    fn wood(slf: &Bound<'_, Self>) -> PyResult<Wood> {
        let stage = slf.get();
        Wood::of(slf.as_any(), stage.plan.get().core.clone(), Some(stage.index), "wood")
    }

    /// Its place among the stages of its plan, from 0.
    #[getter]
    fn index(&self) -> usize {
        self.index
    }

    /// The plan that it is of.
    #[getter]
    fn plan(&self, py: Python<'_>) -> Py<CarvingPlan> {
        self.plan.clone_ref(py)
    }

    fn __repr__(&self) -> String {
        let stage = self.core();
        format!("<Stage {}: {}, {:.0} mm³ left>", self.index, stage.name.name(), stage.left_mm3)
    }
}
