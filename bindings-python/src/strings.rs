//! A layout's strings along the neck.

use crate::answers::{answered, each};
use crate::given::Given;
use crate::layout::Layout;
use crate::stations::Meant;
use neckwright::layout::Layout as Core;
use neckwright::measure::Error;
use pyo3::prelude::*;

impl Layout {
    /// Answers at stations for one string.
    fn along_string<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
        string: Given<u32>,
        one: impl Fn(&Core, usize, f64) -> Result<f64, Error> + Sync,
    ) -> PyResult<Bound<'py, PyAny>> {
        let string = string.named(x_mm.py(), "string")? as usize;
        let (neck, layout) = (&*self.neck, self.core());
        let text = |text: &str| crate::along::station_of_text(neck, text);
        let one = |x| one(layout, string, x);
        let meant = Meant { name: "x_mm", text: &text, lengths: true };
        answered(x_mm, &meant, out, one, |x, out| each("x_mm", x, out, one))
    }
}

#[pymethods]
impl Layout {
    /// Distance between the centres of a string and of the next one toward the treble side at stations.
    ///
    /// Strings are straight lines: behind the nut and beyond the bridge the answer is that of the line carried on.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// string : int
    ///     Which string, from 0, the bass string.
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
    ///     ``out_of_range`` where there are no such two strings; ``outside_neck`` for a station that is no finite number.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> neck = Neck(nut={"width": 43, "string_spread": 36}, strings={"spacing": "even_centres"})
    /// >>> round(neck.layout().spacing_mm(0, string=0), 9)
    /// 7.2
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::spacing_mm``. C: ``nw_neck_string_spacing_mm``.
    #[pyo3(signature = (x_mm, *, string, out = None))]
    fn spacing_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        string: Given<u32>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.along_string(x_mm, out, string, Core::spacing_mm)
    }

    /// Clear gap between a string and the next one toward the treble side at stations.
    ///
    /// Strings are straight lines: behind the nut and beyond the bridge the answer is that of the line carried on.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// string : int
    ///     Which string, from 0, the bass string.
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
    ///     ``out_of_range`` where there are no such two strings; ``outside_neck`` for a station that is no finite number.
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::gap_mm``. C: ``nw_neck_string_gap_mm``.
    #[pyo3(signature = (x_mm, *, string, out = None))]
    fn gap_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        string: Given<u32>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.along_string(x_mm, out, string, Core::gap_mm)
    }

    /// Distance of a string's centre from the centreline at stations, above 0 on the treble side.
    ///
    /// Strings are straight lines: behind the nut and beyond the bridge the answer is that of the line carried on.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// string : int
    ///     Which string, from 0, the bass string.
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
    ///     ``out_of_range`` where there is no such string; ``outside_neck`` for a station that is no finite number.
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::string_y_mm``. C: ``nw_neck_strings``.
    #[pyo3(signature = (x_mm, *, string, out = None))]
    fn string_y_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        string: Given<u32>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.along_string(x_mm, out, string, Core::string_y_mm)
    }
}
