//! What is read off a neck along it.

use crate::answers::{Out, answered, each};
use crate::choice::side;
use crate::errors::{call, named};
use crate::given::Given;
use crate::neck::Neck;
use crate::stations::Meant;
use neckwright::measure::{Error, Fault, Kind, Station};
use neckwright::shape::Neck as Core;
use pyo3::prelude::*;
use pyo3::types::{PyFloat, PyString};

/// A station as a builder writes it.
pub(crate) fn station_of_text(neck: &Core, text: &str) -> Result<f64, Error> {
    neck.layout().station_mm(&Station::parse(text)?)
}

impl Neck {
    /// Answers at stations of this neck.
    pub(crate) fn at_stations<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Out<'_, 'py>,
        one: impl FnOnce(&Core, f64) -> Result<f64, Error>,
        many: impl FnOnce(&Core, &[f64], &mut [f64]) -> Result<(), Error> + Send,
    ) -> PyResult<Bound<'py, PyAny>> {
        let neck = &*self.core;
        let meant = Meant { name: "x_mm", text: &|text| station_of_text(neck, text), lengths: true };
        answered(x_mm, &meant, out, |x| one(neck, x), |x, out| many(neck, x, out))
    }
}

#[pymethods]
impl Neck {
    /// Thickness at stations: from the board's crown, frets not counted, to the spine.
    ///
    /// On the headstock and beyond the board's end it is measured from the wood's own top face, square to the crown line.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
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
    ///     ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
    /// TypeError
    ///     Something that is no number, text or quantity.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> neck = Neck(shaft={"thickness": [{"at": "fret 1", "thickness": 21}, {"at": "fret 12", "thickness": 23}]})
    /// >>> neck.thickness_mm("fret 12")
    /// 23.0
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::thickness_mm``, ``shape::Neck::thickness_mm_into``. C: ``nw_neck_thickness_mm``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn thickness_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.at_stations(x_mm, out, Core::thickness_mm, Core::thickness_mm_into)
    }

    /// Width at stations: board edge to board edge; on the headstock and beyond the board's end the wood's own.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
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
    ///     ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
    /// TypeError
    ///     Something that is no number, text or quantity.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck(nut={"width": 43}).width_mm(0)
    /// 43.0
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::width_mm``, ``shape::Neck::width_mm_into``. C: ``nw_neck_width_mm``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn width_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.at_stations(x_mm, out, Core::width_mm, Core::width_mm_into)
    }

    /// Girth at stations: a tape laid around the back from one top edge of the board to the other.
    ///
    /// On the headstock it goes from one edge of its face to the other, beyond the heel it is 0.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
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
    ///     ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
    /// TypeError
    ///     Something that is no number, text or quantity.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> neck = Neck()
    /// >>> bool(neck.girth_mm(100) > neck.width_mm(100))
    /// True
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::girth_mm``, ``shape::Neck::girth_mm_into``. C: ``nw_neck_girth_mm``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn girth_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.at_stations(x_mm, out, Core::girth_mm, Core::girth_mm_into)
    }

    /// Depth of the carve line below the crown plane at stations: where the flat side ends and the carve begins.
    ///
    /// On the headstock's slab and the heel block it is the whole depth of the back; beyond the end of the neck wood the
    /// board's underside.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// side : {"bass", "treble"}
    ///     On which side.
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
    ///     ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
    /// TypeError
    ///     Something that is no number, text or quantity.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> neck = Neck(shaft={"carve_line": [{"at": 0, "depth": 6.5}, {"at": 400, "depth": 7.5}]})
    /// >>> neck.carve_line_mm(200, side="bass")
    /// 7.0
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::carve_line_mm``, ``shape::Neck::carve_line_mm_into``. C: ``nw_neck_carve_line_mm``.
    #[pyo3(signature = (x_mm, *, side, out = None))]
    fn carve_line_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        side: Given<String>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let side = self::side(x_mm.py(), side)?;
        let one = |neck: &Core, x| neck.carve_line_mm(x, side);
        self.at_stations(x_mm, out, one, |neck, x, out| neck.carve_line_mm_into(x, side, out))
    }

    /// Least wood between the rod's channel and the outside in the sections at stations; NaN where nothing is cut.
    ///
    /// In space there can be less, past an end of the channel or square to a sloping floor: that is what
    /// :meth:`least_rod_wall` counts.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
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
    ///     ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
    /// TypeError
    ///     Something that is no number, text or quantity.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> bool(Neck().rod_wall_mm(200) > 3)
    /// True
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::rod_wall_mm``, ``shape::Neck::rod_wall_mm_into``. C: ``nw_neck_rod_wall_mm``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn rod_wall_mm<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let one = |neck: &Core, x| Ok(neck.rod_wall_mm(x)?.unwrap_or(f64::NAN));
        self.at_stations(x_mm, out, one, Core::rod_wall_mm_into)
    }

    /// Stations of frets on the centreline, mm from the nut.
    ///
    /// Parameters
    /// ----------
    /// fret : float, array of them, or str
    ///     Any real fret number from 0, the nut, on; or one station as builders write it: ``"fret 5"``, ``"nut"``,
    ///     ``"4 3/4 in"``.
    /// out : ndarray of float64, optional
    ///     Where the answers are written; of the shape of ``fret``, in C order; it may be ``fret`` or share memory with it. Other
    ///     threads run meanwhile: none may write to ``fret`` or touch ``out``.
    ///
    /// Returns
    /// -------
    /// float or ndarray
    ///     mm; a float for one fret, an array of the shape of ``fret`` for an array.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``out_of_range`` for a fret below 0 or beyond the temperament; ``unreadable`` for a text that is no station.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck(scale={"length": 640}).station_mm(12)
    /// 320.0
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::station_mm``, ``layout::Layout::station_mm``, ``measure::Station::parse``. C: ``nw_neck_station_mm``, ``nw_neck_station_of_text_mm``.
    #[pyo3(signature = (fret, *, out = None))]
    fn station_mm<'py>(
        &self,
        fret: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let (py, neck) = (fret.py(), &*self.core);
        if let (Ok(text), None) = (fret.cast::<PyString>(), out) {
            let text = text.to_cow()?;
            let station = call(py, || station_of_text(neck, &text).map_err(|error| named(error, "fret")))?;
            return Ok(PyFloat::new(py, station).into_any());
        }
        let no_text = |text: &str| {
            let fault = Fault::new(Kind::WrongType, "fret", "a fret of an array is a number");
            Err(fault
                .value(format!("{text:?}"), "")
                .remedy("ask for one station by its text at a time")
                .into())
        };
        let meant = Meant { name: "fret", text: &no_text, lengths: false };
        let many = |fret: &[f64], out: &mut [f64]| each("fret", fret, out, |fret| neck.station_mm(fret));
        answered(fret, &meant, out, |fret| neck.station_mm(fret), many)
    }

    /// Real fret numbers whose lines cross the centreline at stations.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// out : ndarray of float64, optional
    ///     Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
    ///     threads run meanwhile: none may write to ``x_mm`` or touch ``out``.
    ///
    /// Returns
    /// -------
    /// float or ndarray
    ///     Fret numbers, of the shape of ``x_mm``.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``outside_neck`` or ``out_of_range`` for a station without one.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> round(Neck(scale={"length": 640}).fret_at(320), 9)
    /// 12.0
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::fret_at``. C: ``nw_neck_fret_at``.
    #[pyo3(signature = (x_mm, *, out = None))]
    fn fret_at<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let many = |neck: &Core, x: &[f64], out: &mut [f64]| each("x_mm", x, out, |x| neck.fret_at(x));
        self.at_stations(x_mm, out, Core::fret_at, many)
    }
}
