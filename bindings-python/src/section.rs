//! Sections: what a cut square to the centreline shows.

use crate::answers::all;
use crate::choice::{part, side};
use crate::errors::{ask, call, call_free};
use crate::given::{Given, Mm, word};
use crate::neck::Neck;
use crate::origin::{Origin, by_origin};
use crate::points::array;
use crate::record::record;
use crate::stations::{Meant, Numbers, unravelled};
use neckwright::shape::Section as Core;
use numpy::{PyArray2, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::PyFloat;

/// A section of a neck, in the plane square to the centreline at one station.
///
/// Points are ``(y, z)`` in mm in the frame of the neck: ``y`` toward the treble side of a right-handed neck, ``z`` out of the
/// fretboard, the crown of the board at ``z = 0``. Made by :meth:`Neck.section`.
///
/// Notes
/// -----
/// Rust: ``shape::Section``. C: ``nw_neck_section_outline`` and its like.
#[pyclass(frozen, module = "neckwright", name = "Section")]
pub(crate) struct Section {
    core: Core,
    origin: Origin,
}

by_origin!(Section);

#[pymethods]
impl Neck {
    /// The section at a station.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str or quantity
    ///     The station, mm from the nut; a text such as ``"fret 5"``.
    ///
    /// Returns
    /// -------
    /// Section
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     ``outside_neck`` for a station that is not on the neck.
    /// TypeError
    ///     Something that is no station, or several.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck().section("fret 5").polyline_mm(0.1).shape[1]
    /// 2
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::section``. C: ``nw_neck_section_outline``.
    fn section(slf: &Bound<'_, Self>, x_mm: &Bound<'_, PyAny>) -> PyResult<Section> {
        let (py, neck) = (slf.py(), &slf.get().core);
        let text = |text: &str| crate::along::station_of_text(neck, text);
        let x = Numbers::one(x_mm, &Meant { name: "x_mm", text: &text, lengths: true })?;
        let core = call(py, || neck.section(x))?;
        let origin = Origin::new(slf.as_any(), "section", [PyFloat::new(py, x).into_any()], String::new())?;
        Ok(Section { core, origin })
    }

    /// Area, centroid and second moments of the sections at many stations.
    ///
    /// Parameters
    /// ----------
    /// x_mm : float, str, quantity or array of them
    ///     Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
    /// part : {"whole", "fretboard", "neck_wood", "channel"}
    ///     What of them: all of the neck with the rod's channel filled, or a part.
    ///
    /// Returns
    /// -------
    /// ndarray
    ///     Of the shape of ``x_mm`` and one more axis of 6: area in mm², the centroid's ``y`` and ``z`` in mm, then
    ///     ``∫(z-z₀)²``, ``∫(y-y₀)²`` and ``∫(y-y₀)(z-z₀)`` about it in mm⁴. Where there is nothing of the part, 0 and NaN for the
    ///     centroid.
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
    /// >>> Neck().section_moments([0, 100, 200]).shape
    /// (3, 6)
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::moments``, ``shape::Section::part_moments``. C: ``nw_neck_section_moments``.
    #[pyo3(
        signature = (x_mm, *, part = word("whole")),
        text_signature = "($self, x_mm, *, part=\"whole\")"
    )]
    fn section_moments<'py>(
        &self,
        x_mm: &Bound<'py, PyAny>,
        part: Given<String>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let (py, neck) = (x_mm.py(), &*self.core);
        let of = self::part(py, part)?;
        let text = |text: &str| crate::along::station_of_text(neck, text);
        let meant = Meant { name: "x_mm", text: &text, lengths: true };
        let (x, mut shape) = Numbers::of(x_mm, &meant)?.listed()?;
        let moments = call_free(py, || {
            let at = |x| {
                let section = neck.section(x)?;
                let m = of.map_or_else(|| section.moments(), |of| section.part_moments(of));
                let nothing = m.area_mm2 == 0.0;
                let [y, z] = if nothing { [f64::NAN; 2] } else { m.centroid_mm() };
                let [zz, yy, yz] = if nothing { [0.0; 3] } else { m.central_mm4() };
                Ok([m.area_mm2, y, z, zz, yy, yz])
            };
            all("x_mm", &x, at).map_err(|error| unravelled(error, "x_mm", &shape))
        })?;
        shape.push(6);
        Ok(array(py, &moments)?.reshape(shape)?.into_any())
    }
}

#[pymethods]
impl Section {
    /// Its station, mm from the nut.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::x_mm``.
    fn x_mm(&self) -> f64 {
        self.core.x_mm()
    }

    /// Its area, the rod's channel filled, mm².
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::area_mm2``. C: ``nw_neck_section_moments``.
    fn area_mm2(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core.area_mm2())
    }

    /// Its centroid ``(y, z)``, mm.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::centroid_mm``. C: ``nw_neck_section_moments``.
    fn centroid_mm(&self, py: Python<'_>) -> PyResult<(f64, f64)> {
        ask(py, || self.core.centroid_mm().into())
    }

    /// Its second moments of area about the centroid: ``∫(z-z₀)²``, which resists bending along the neck, ``∫(y-y₀)²`` and
    /// ``∫(y-y₀)(z-z₀)``, mm⁴.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::second_moment_mm4``. C: ``nw_neck_section_moments``.
    fn second_moment_mm4(&self, py: Python<'_>) -> PyResult<(f64, f64, f64)> {
        ask(py, || self.core.second_moment_mm4().into())
    }

    /// Area, first and second moments about the frame's own axes.
    ///
    /// Parameters
    /// ----------
    /// part : {"whole", "fretboard", "neck_wood", "channel"}
    ///     What of it.
    ///
    /// Returns
    /// -------
    /// records.Moments
    ///     Zeros where there is nothing of the part.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::moments``, ``shape::Section::part_moments``. C: ``nw_neck_section_moments``.
    #[pyo3(signature = (*, part = word("whole")), text_signature = "($self, *, part=\"whole\")")]
    fn moments<'py>(&self, py: Python<'py>, part: Given<String>) -> PyResult<Bound<'py, PyAny>> {
        let of = self::part(py, part)?;
        let core = &self.core;
        record(py, &ask(py, || of.map_or_else(|| core.moments(), |of| core.part_moments(of)))?)
    }

    /// Its outline as exact segments: straight lines, cubic Béziers and the crown's arc.
    ///
    /// Parameters
    /// ----------
    /// part : {"whole", "fretboard", "neck_wood", "channel"}
    ///     What of it.
    ///
    /// Returns
    /// -------
    /// records.Outline or None
    ///     ``None`` where there is nothing of the part.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::outline``, ``shape::Section::part_outline``. C: ``nw_neck_section_outline``.
    #[pyo3(signature = (*, part = word("whole")), text_signature = "($self, *, part=\"whole\")")]
    fn outline<'py>(&self, py: Python<'py>, part: Given<String>) -> PyResult<Bound<'py, PyAny>> {
        let of = self::part(py, part)?;
        let core = &self.core;
        record(py, &ask(py, || of.map_or_else(|| Some(core.outline()), |of| core.part_outline(of)))?)
    }

    /// Its outline as a polyline, no further from it than a chord's height.
    ///
    /// Parameters
    /// ----------
    /// chord_mm : float, str or quantity
    ///     How far it may lie off, mm; above 0.
    /// part : {"whole", "fretboard", "neck_wood", "channel"}
    ///     What of it.
    ///
    /// Returns
    /// -------
    /// ndarray
    ///     Corners ``(y, z)``, mm, of shape ``(n, 2)``; the last is joined to the first. No corner where there is nothing of the
    ///     part.
    ///
    /// Raises
    /// ------
    /// NeckwrightError
    ///     A chord that is out of its range.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::polyline_mm``, ``shape::Outline::polyline``. C: ``nw_neck_section_polyline``.
    #[pyo3(
        signature = (chord_mm = Given::of(Mm(0.05)), *, part = word("whole")),
        text_signature = "($self, chord_mm=0.05, *, part=\"whole\")"
    )]
    fn polyline_mm<'py>(
        &self,
        py: Python<'py>,
        chord_mm: Given<Mm>,
        part: Given<String>,
    ) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let (Mm(chord_mm), of) = (chord_mm.named(py, "chord_mm")?, self::part(py, part)?);
        let core = &self.core;
        let corners =
            call_free(py, || match of.map_or_else(|| Some(core.outline()), |of| core.part_outline(of)) {
                Some(outline) => outline.polyline(chord_mm),
                None => Ok(Vec::new()),
            })?;
        array(py, &corners)
    }

    /// The four control points of one side of the back, a cubic Bézier from the carve line to the spine.
    ///
    /// Parameters
    /// ----------
    /// side : {"bass", "treble"}
    ///     On which side.
    ///
    /// Returns
    /// -------
    /// ndarray or None
    ///     ``(y, z)`` of each, mm, of shape ``(4, 2)``; ``None`` beyond the end of the neck wood.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::control_points_mm``. C: ``nw_neck_section_control_points``.
    #[pyo3(signature = (*, side))]
    fn control_points_mm<'py>(
        &self,
        py: Python<'py>,
        side: Given<String>,
    ) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let side = self::side(py, side)?;
        let points = ask(py, || self.core.control_points_mm(side))?;
        points.map(|points| array(py, &points)).transpose()
    }

    /// A tape laid around the back from one top edge of the board to the other, mm.
    ///
    /// Returns
    /// -------
    /// float
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::girth_mm``. C: ``nw_neck_girth_mm``.
    fn girth_mm(&self, py: Python<'_>) -> PyResult<f64> {
        ask(py, || self.core.girth_mm())
    }

    /// The place on the back that is bent most.
    ///
    /// Returns
    /// -------
    /// records.Bend or None
    ///     ``None`` beyond the end of the neck wood.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::sharpest``. C: ``nw_neck_section_bends``.
    fn sharpest<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.sharpest())?)
    }

    /// The place on the back that is bent least.
    ///
    /// Returns
    /// -------
    /// records.Bend or None
    ///     ``None`` beyond the end of the neck wood.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Section::flattest``. C: ``nw_neck_section_bends``.
    fn flattest<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.flattest())?)
    }

    fn __repr__(&self) -> String {
        format!("<Section at {} mm>", self.core.x_mm())
    }
}
