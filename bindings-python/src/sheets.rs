//! Drawings on paper.

use crate::choice::choice;
use crate::errors::{ask, call_free, fault};
use crate::given::{Given, Several};
use crate::neck::Neck;
use crate::options::{Options, options};
use crate::origin::{Origin, by_origin};
use crate::plan::{CarvingPlan, Stage};
use crate::stations::{Meant, Numbers};
use neckwright::measure::{Error, Fault, Kind, Station};
use neckwright::paper::{self, Gauge, Sheet as Core};
use neckwright::spec::{DxfOptions, PaperOptions, TemplateOptions};
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyDict, PyTuple};
use std::sync::Arc;

/// A drawing at full size.
///
/// Made by :meth:`Neck.sheet`, :meth:`Neck.templates`, :meth:`Neck.section_sheet`, :meth:`CarvingPlan.sheets` and
/// :meth:`Inspection.sheet`.
///
/// Notes
/// -----
/// Rust: ``paper::Sheet``. C: ``nw_sheets_svg`` and its like.
#[pyclass(frozen, module = "neckwright", name = "Sheet")]
pub(crate) struct Sheet {
    core: Arc<Core>,
    origin: Origin,
}

by_origin!(Sheet);

impl Sheet {
    /// What one call without arguments made.
    pub fn one(of: &Bound<'_, PyAny>, method: &'static str, core: Core) -> PyResult<Self> {
        Ok(Self { core: Arc::new(core), origin: Origin::new(of, method, [], String::new())? })
    }

    fn all<'py>(py: Python<'py>, made: Vec<Core>, origin: &Origin) -> PyResult<Bound<'py, PyTuple>> {
        let one = |(i, core)| Self { core: Arc::new(core), origin: origin.at(py, i) };
        PyTuple::new(py, made.into_iter().enumerate().map(one).collect::<Vec<Self>>())
    }
}

#[pymethods]
impl Sheet {
    /// What is drawn, in a few words.
    #[getter]
    fn title(&self) -> &str {
        &self.core.title
    }

    /// Width and height of the paper, mm.
    #[getter]
    fn size_mm(&self) -> (f64, f64) {
        self.core.size_mm.into()
    }

    /// Where the neck's own origin lies on the sheet, from its lower left corner, mm; ``None`` where several places of the neck are
    /// drawn side by side.
    #[getter]
    fn origin_mm(&self) -> Option<(f64, f64)> {
        self.core.origin_mm.map(Into::into)
    }

    /// As an SVG drawing at full size.
    ///
    /// Returns
    /// -------
    /// str
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> "<svg" in Neck().sheet("side").to_svg()
    /// True
    ///
    /// Notes
    /// -----
    /// Rust: ``paper::Sheet::to_svg``. C: ``nw_sheets_svg``.
    fn to_svg(&self, py: Python<'_>) -> PyResult<String> {
        call_free(py, || self.core.to_svg())
    }

    fn __repr__(&self) -> String {
        let [wide, high] = self.core.size_mm;
        format!("<Sheet {:?}: {wide:.0} by {high:.0} mm>", self.core.title)
    }
}

#[derive(Clone, Copy)]
enum Drawn {
    Plan,
    Side,
    FretStrip,
    Board,
    Headstock,
    Gauges(Gauge),
    Transitions,
    RadiusGauges,
}

#[pymethods]
impl Neck {
    /// A drawing of the neck at full size.
    ///
    /// Parameters
    /// ----------
    /// what : {"plan", "side", "fret_strip", "board", "headstock", "positive_gauges", "negative_gauges", "transitions", "radius_gauges"}
    ///     The neck from above or from its side; a strip with the frets; the fretboard; the headstock with its tuner holes; section
    ///     gauges with the shape of the neck, or to hold against it; templates of volute and heel; radius gauges of the board.
    /// **options
    ///     Options of templates, such as ``offset`` for a bearing; ``bounds("template_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// Sheet or None
    ///     ``None`` for the radius gauges of a flat board.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A word for none of them, options out of their bounds.
    ///
    /// Notes
    /// -----
    /// Rust: ``paper::plan``, ``paper::side``, ``paper::fret_strip``, ``paper::board``, ``paper::headstock``, ``paper::gauges``, ``paper::transitions``, ``paper::radius_gauges``. C: ``nw_neck_sheet``.
    #[pyo3(signature = (what, **options))]
    fn sheet(
        slf: &Bound<'_, Self>,
        what: Given<String>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Option<Sheet>> {
        let py = slf.py();
        let all = [
            ("plan", Drawn::Plan),
            ("side", Drawn::Side),
            ("fret_strip", Drawn::FretStrip),
            ("board", Drawn::Board),
            ("headstock", Drawn::Headstock),
            ("positive_gauges", Drawn::Gauges(Gauge::Positive)),
            ("negative_gauges", Drawn::Gauges(Gauge::Negative)),
            ("transitions", Drawn::Transitions),
            ("radius_gauges", Drawn::RadiusGauges),
        ];
        let what = what.named(py, "what")?;
        let drawn = choice(py, Given::of(what.clone()), "what", &all)?;
        let options: TemplateOptions = self::options(py, options)?;
        let neck = &slf.get().core;
        let made = call_free(py, || {
            Ok::<_, Error>(Some(match drawn {
                Drawn::Plan => paper::plan(neck),
                Drawn::Side => paper::side(neck),
                Drawn::FretStrip => paper::fret_strip(neck, &options)?,
                Drawn::Board => paper::board(neck, &options)?,
                Drawn::Headstock => paper::headstock(neck, &options)?,
                Drawn::Gauges(kind) => paper::gauges(neck, kind, &options)?,
                Drawn::Transitions => paper::transitions(neck, &options)?,
                Drawn::RadiusGauges => return paper::radius_gauges(neck, &options),
            }))
        })?;
        let what = pyo3::types::PyString::new(py, &what).into_any();
        let origin = Origin::new(slf.as_any(), "sheet", [what], options.text())?;
        Ok(made.map(|core| Sheet { core: Arc::new(core), origin }))
    }

    /// All sheets to work from, in the order in which they are needed.
    ///
    /// Parameters
    /// ----------
    /// plan : CarvingPlan, optional
    ///     This neck's carving plan: then the blank and the saw's lines are with them.
    /// **options
    ///     Options of templates; ``bounds("template_options")`` tells them.
    ///
    /// Returns
    /// -------
    /// tuple of Sheet
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``conflict`` for the plan of another neck; options out of their bounds.
    ///
    /// Notes
    /// -----
    /// Rust: ``paper::templates``, ``paper::side_with_stock``. C: ``nw_neck_templates``.
    #[pyo3(signature = (plan = None, **options))]
    fn templates<'py>(
        slf: &Bound<'py, Self>,
        plan: Option<Given<Bound<'py, CarvingPlan>>>,
        options: Option<&Bound<'py, PyDict>>,
    ) -> PyResult<Bound<'py, PyTuple>> {
        let py = slf.py();
        let options: TemplateOptions = self::options(py, options)?;
        let plan = plan.map(|plan| plan.named(py, "plan")).transpose()?;
        let (neck, core) = (&slf.get().core, plan.as_ref().map(|plan| plan.get().core.clone()));
        let made = call_free(py, || paper::templates(neck, core.as_deref(), &options))?;
        let given = plan.map(Bound::into_any);
        Sheet::all(py, made, &Origin::new(slf.as_any(), "templates", given, options.text())?)
    }

    /// Sections at stations on one sheet.
    ///
    /// Parameters
    /// ----------
    /// x_mm : array, or sequence of float, str or quantity
    ///     Stations, mm from the nut; texts such as ``"fret 5"``.
    ///
    /// Returns
    /// -------
    /// Sheet
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``outside_neck`` for a station that is not on the neck.
    ///
    /// Notes
    /// -----
    /// Rust: ``paper::sections``. C: ``nw_neck_section_sheet``.
    fn section_sheet(slf: &Bound<'_, Self>, x_mm: &Bound<'_, PyAny>) -> PyResult<Sheet> {
        let (py, neck) = (slf.py(), &slf.get().core);
        let text = |text: &str| crate::along::station_of_text(neck, text);
        let (x, _) = Numbers::of(x_mm, &Meant { name: "x_mm", text: &text, lengths: true })?.listed()?;
        if x.is_empty() {
            let none = Fault::new(Kind::Missing, "x_mm", "there is no station to draw");
            return Err(fault(py, none.remedy("give at least one")));
        }
        let stations: Vec<Station> = x.iter().map(|x| Station::Mm(*x)).collect();
        let core = call_free(py, || paper::sections(neck, &stations))?;
        let given = pyo3::types::PyTuple::new(py, x)?.into_any();
        let origin = Origin::new(slf.as_any(), "section_sheet", [given], String::new())?;
        Ok(Sheet { core: Arc::new(core), origin })
    }
}

#[pymethods]
impl CarvingPlan {
    /// The pages of the plan, one for each stage, in their order.
    ///
    /// Returns
    /// -------
    /// tuple of Sheet
    ///
    /// Notes
    /// -----
    /// Rust: ``paper::carving_pages``. C: ``nw_plan_sheets``.
    #[pyo3(signature = ())]
    fn sheets<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        let (py, plan) = (slf.py(), &slf.get().core);
        let made = ask(py, || paper::carving_pages(plan))?;
        Sheet::all(py, made, &Origin::new(slf.as_any(), "sheets", [], String::new())?)
    }
}

#[pymethods]
impl Stage {
    /// Its page of the plan: what to do, the lines to mark, the wood before and after, the readings to check and the cautions.
    ///
    /// Returns
    /// -------
    /// Sheet
    ///
    /// Notes
    /// -----
    /// Rust: ``paper::carving_page``. C: ``nw_plan_sheets``, by the stage's number.
    #[pyo3(signature = ())]
    fn sheet(slf: &Bound<'_, Self>) -> PyResult<Sheet> {
        let (py, stage) = (slf.py(), slf.get());
        let made = ask(py, || paper::carving_page(stage.of_plan(), stage.number()))?;
        let none = || Fault::new(Kind::Missing, "index", "the plan has no such stage");
        // The very sheet that the plan has.
        let origin = Origin::new(stage.whole(py).as_any(), "sheets", [], String::new())?;
        let core = Arc::new(made.ok_or_else(|| fault(py, none()))?);
        Ok(Sheet { core, origin: origin.at(py, stage.number()) })
    }
}

fn together(sheets: &[Bound<'_, Sheet>]) -> Vec<Core> {
    sheets.iter().map(|sheet| Core::clone(&sheet.get().core)).collect()
}

/// Sheets as one DXF drawing, in order.
///
/// Parameters
/// ----------
/// sheets : sequence of Sheet
///     The sheets.
/// **options
///     ``unit``; ``bounds("dxf_options")`` tells them.
///
/// Returns
/// -------
/// bytes
///
/// Raises
/// ------
/// NeckwrightError
///     Options out of their bounds.
///
/// Notes
/// -----
/// Rust: ``paper::dxf``. C: ``nw_sheets_dxf``.
#[pyfunction]
#[pyo3(signature = (sheets, **options))]
pub(crate) fn dxf<'py>(
    py: Python<'py>,
    sheets: Given<Several<'py, Sheet>>,
    options: Option<&Bound<'py, PyDict>>,
) -> PyResult<Bound<'py, PyBytes>> {
    let options: DxfOptions = self::options(py, options)?;
    let sheets = together(&sheets.named(py, "sheets")?.0);
    Ok(PyBytes::new(py, call_free(py, || paper::dxf(&sheets, &options))?.as_bytes()))
}

/// Sheets as one PDF document, in order; on paper that is smaller than a sheet it goes over several pages with marks.
///
/// Parameters
/// ----------
/// sheets : sequence of Sheet
///     The sheets.
/// **options
///     ``paper``, ``margin``, ``overlap``; ``bounds("paper_options")`` tells them.
///
/// Returns
/// -------
/// bytes
///
/// Raises
/// ------
/// NeckwrightError
///     Options out of their bounds; a sheet that takes too many pages.
///
/// Examples
/// --------
/// >>> from neckwright import Neck, pdf
/// >>> pdf([Neck().sheet("side")], paper="letter")[:5]
/// b'%PDF-'
///
/// Notes
/// -----
/// Rust: ``paper::pdf``, ``paper::tile``. C: ``nw_sheets_pdf``.
#[pyfunction]
#[pyo3(signature = (sheets, **options))]
pub(crate) fn pdf<'py>(
    py: Python<'py>,
    sheets: Given<Several<'py, Sheet>>,
    options: Option<&Bound<'py, PyDict>>,
) -> PyResult<Bound<'py, PyBytes>> {
    let options: PaperOptions = self::options(py, options)?;
    let sheets = together(&sheets.named(py, "sheets")?.0);
    Ok(PyBytes::new(py, &call_free(py, || paper::pdf(&sheets, &options))?))
}
