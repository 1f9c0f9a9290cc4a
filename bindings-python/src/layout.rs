//! A neck's layout: what of it is neither a fret nor a string, and what is asked of strings.

use crate::answers::all;
use crate::errors::{ask, call, call_free};
use crate::given::Given;
use crate::neck::Neck;
use crate::origin::{Origin, by_origin};
use crate::record::record;
use crate::stations::{Meant, Numbers, unravelled};
use neckwright::layout::{Board, Layout as Core};
use neckwright::shape::Neck as CoreNeck;
use numpy::{IntoPyArray, PyArrayMethods};
use pyo3::prelude::*;
use std::sync::Arc;

/// Scale, fretboard and strings of a neck, as if it were right-handed: lengths, angles and stations are the same, ``y`` changes its
/// sign on a left-handed neck. :meth:`Neck.frets` and :meth:`Neck.strings` have it right already.
///
/// Notes
/// -----
/// Rust: ``layout::Layout``. C: ``nw_neck_layout`` and its like.
#[pyclass(frozen, module = "neckwright", name = "Layout")]
pub(crate) struct Layout {
    pub neck: Arc<CoreNeck>,
    origin: Origin,
}

by_origin!(Layout);

#[pymethods]
impl Neck {
    /// The neck's layout: scale, fretboard and strings.
    ///
    /// Returns
    /// -------
    /// Layout
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::layout``. C: ``nw_neck_layout``.
    fn layout(slf: &Bound<'_, Self>) -> PyResult<Layout> {
        let origin = Origin::new(slf.as_any(), "layout", [], String::new())?;
        Ok(Layout { neck: slf.get().core.clone(), origin })
    }
}

#[derive(serde::Serialize)]
#[serde(rename = "Board")]
struct BoardFacts<'a> {
    start_mm: f64,
    end_mm: f64,
    nut_ends_mm: [f64; 2],
    thickness_mm: f64,
    binding_mm: f64,
    widths_mm: &'a [(f64, f64)],
    radius_at_nut_mm: Option<f64>,
    radius_growth: Option<f64>,
    least_edge_thickness_mm: f64,
    least_edge_thickness_at_mm: f64,
}

impl<'a> From<&'a Board> for BoardFacts<'a> {
    fn from(board: &'a Board) -> Self {
        let (radius, least) = (board.crown().law(), board.least_edge_thickness_mm());
        Self {
            start_mm: board.start_mm(),
            end_mm: board.end_mm(),
            nut_ends_mm: board.nut_ends_mm(),
            thickness_mm: board.thickness_mm(),
            binding_mm: board.binding_mm(),
            widths_mm: board.widths_mm(),
            radius_at_nut_mm: radius.map(|r| r.0),
            radius_growth: radius.map(|r| r.1),
            least_edge_thickness_mm: least.0,
            least_edge_thickness_at_mm: least.1,
        }
    }
}

impl Layout {
    pub fn core(&self) -> &Core {
        self.neck.layout()
    }
}

#[pymethods]
impl Layout {
    /// The fretboard's numbers.
    ///
    /// Returns
    /// -------
    /// records.Board
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::board``, ``layout::Board``. C: ``nw_neck_layout``.
    fn board<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || BoardFacts::from(self.core().board()))?)
    }

    /// Scale length on the centreline, mm.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::scale_mm``. C: ``nw_neck_layout``.
    fn scale_mm(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core().scale_mm())
    }

    /// The line of the nut.
    ///
    /// Returns
    /// -------
    /// records.FretLine
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::nut_line``. C: ``nw_neck_layout``.
    fn nut_line<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core().nut_line())?)
    }

    /// The line of the bridge.
    ///
    /// Returns
    /// -------
    /// records.FretLine
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::bridge_line``. C: ``nw_neck_layout``.
    fn bridge_line<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core().bridge_line())?)
    }

    /// Length of wire that all frets take, mm.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::total_wire_mm``. C: ``nw_neck_layout``.
    fn total_wire_mm(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core().total_wire_mm())
    }

    /// How much sharp (above 0) or flat each fret stops each string by its length alone, against the temperament.
    ///
    /// Returns
    /// -------
    /// ndarray
    ///     Cents, of shape ``(strings, frets)``, bass string first.
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::string_departures_cents``. C: ``nw_neck_layout``.
    fn string_departures_cents<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let all = ask(py, || self.core().string_departures_cents())?;
        let shape = [all.len(), all.first().map_or(0, Vec::len)];
        Ok(all.concat().into_pyarray(py).reshape(shape)?.into_any())
    }

    /// How the board stands off a straight edge that is laid along a string's line from one station to another.
    ///
    /// Parameters
    /// ----------
    /// string : int
    ///     Which string, from 0, the bass string.
    /// from_mm, to_mm : float, str or quantity
    ///     The stations, mm from the nut, the nearer one first; a text such as ``"fret 5"``.
    ///
    /// Returns
    /// -------
    /// records.Hump
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A string that is not there; stations off the board, or not in order.
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::hump``. C: ``nw_neck_hump``.
    fn hump<'py>(
        &self,
        py: Python<'py>,
        string: Given<u32>,
        from_mm: &Bound<'py, PyAny>,
        to_mm: &Bound<'py, PyAny>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let string = string.named(py, "string")? as usize;
        let text = |text: &str| crate::along::station_of_text(&self.neck, text);
        let station = |given, name| Numbers::one(given, &Meant { name, text: &text, lengths: true });
        let (from_mm, to_mm) = (station(from_mm, "from_mm")?, station(to_mm, "to_mm")?);
        record(py, &call(py, || self.core().hump(string, from_mm, to_mm))?)
    }

    /// The hump under each string from the nut to the board's end.
    ///
    /// Returns
    /// -------
    /// tuple of records.Hump
    ///     Bass string first.
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::humps``. C: ``nw_neck_layout``.
    fn humps<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core().humps())?)
    }

    /// Where a string comes nearest to the board's edge.
    ///
    /// Returns
    /// -------
    /// records.LeastMargin
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::least_margin``. C: ``nw_neck_least_margin``.
    fn least_margin<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core().least_margin())?)
    }

    /// From the outer strings' outer sides to the board's edges at stations.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    ///
    /// Returns
    /// -------
    /// ndarray
    ///     mm, of the shape of ``x_mm`` and one more axis of 2: bass and treble.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A station that is not on the board.
    /// TypeError
    ///     Something that is no number, text or quantity.
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::try_margins_mm``. C: ``nw_neck_margins_mm``.
    fn margins_mm<'py>(&self, x_mm: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let (py, neck) = (x_mm.py(), &*self.neck);
        let text = |text: &str| crate::along::station_of_text(neck, text);
        let meant = Meant { name: "x_mm", text: &text, lengths: true };
        let (x, mut shape) = Numbers::of(x_mm, &meant)?.listed()?;
        let margins = |x| neck.layout().try_margins_mm(x).map(<[f64; 2]>::from);
        let margins =
            call_free(py, || all("x_mm", &x, margins).map_err(|error| unravelled(error, "x_mm", &shape)))?;
        shape.push(2);
        Ok(margins.concat().into_pyarray(py).reshape(shape)?.into_any())
    }

    fn __repr__(&self) -> String {
        let layout = self.core();
        let (frets, strings) = (layout.frets().len(), layout.strings().len());
        format!("<Layout: scale {} mm, {frets} frets, {strings} strings>", layout.scale_mm())
    }
}
