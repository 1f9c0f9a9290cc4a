//! Facts of a neck: what is told of the whole of it.

use crate::errors::ask;
use crate::neck::Neck;
use crate::record::record;
use pyo3::prelude::*;

#[pymethods]
impl Neck {
    /// What the caliper should read at the nut and at every fret that lies on the neck.
    ///
    /// Returns
    /// -------
    /// tuple of records.CaliperRow
    ///     A row for each.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> [row.fret for row in Neck(frets={"count": 3}).caliper_card()]
    /// [0, 1, 2, 3]
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::caliper_card``. C: ``nw_neck_caliper_card``.
    fn caliper_card<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.caliper_card())?)
    }

    /// The frets in order from the nut on, on the neck's own hand.
    ///
    /// Returns
    /// -------
    /// tuple of records.Fret
    ///     A record for each.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> len(Neck(frets={"count": 22}).frets())
    /// 22
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::frets``. C: ``nw_neck_frets``.
    fn frets<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.frets())?)
    }

    /// The strings, bass to treble, on the neck's own hand.
    ///
    /// Returns
    /// -------
    /// tuple of records.StringLine
    ///     A record for each.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> len(Neck().strings())
    /// 6
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::strings``. C: ``nw_neck_strings``.
    fn strings<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.strings())?)
    }

    /// The strings' paths from the nut to their posts.
    ///
    /// Returns
    /// -------
    /// tuple of records.StringPath
    ///     A record for each.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::string_paths``. C: ``nw_neck_string_paths``.
    fn string_paths<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.string_paths())?)
    }

    /// The markers in the board's face.
    ///
    /// Returns
    /// -------
    /// tuple of records.FaceMarker
    ///     A record for each; they are symmetric.
    ///
    /// Notes
    /// -----
    /// Rust: ``layout::Layout::face_markers``. C: ``nw_neck_markers``.
    fn face_markers<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.layout().face_markers())?)
    }

    /// The markers in the board's bass side, on the neck's own hand.
    ///
    /// Returns
    /// -------
    /// tuple of records.SideMarker
    ///     A record for each.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::side_markers``. C: ``nw_neck_markers``.
    fn side_markers<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.side_markers())?)
    }

    /// First and last station: the headstock's tip, and the end of the board or the heel, whichever is further.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///     mm.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::reach_mm``. C: ``nw_neck_reach``.
    fn reach_mm<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.reach_mm())?)
    }

    /// First and last station of the neck wood: the headstock's tip and the heel's end.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///     mm.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::wood_reach_mm``. C: ``nw_neck_reach``.
    fn wood_reach_mm<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.wood_reach_mm())?)
    }

    /// First and last station of the shaft proper: from the volute's end to where the heel begins.
    ///
    /// Returns
    /// -------
    /// tuple of float
    ///     mm.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::shaft_reach_mm``. C: ``nw_neck_reach``.
    fn shaft_reach_mm<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.shaft_reach_mm())?)
    }

    /// 1 for a right-handed neck, -1 for a left-handed one: what ``y`` of a right-handed neck is multiplied by.
    ///
    /// Returns
    /// -------
    /// float
    ///     1 or -1.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck(hand="left").hand_sign()
    /// -1.0
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::hand_sign``. C: ``nw_neck_specification``.
    fn hand_sign<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.hand_sign())?)
    }

    /// The headstock's numbers, its tuner posts among them.
    ///
    /// Returns
    /// -------
    /// records.HeadstockFacts
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::headstock``. C: ``nw_neck_headstock``.
    fn headstock<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.headstock())?)
    }

    /// The volute's numbers.
    ///
    /// Returns
    /// -------
    /// records.VoluteFacts
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::volute``. C: ``nw_neck_volute``.
    fn volute<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.volute())?)
    }

    /// The heel's numbers.
    ///
    /// Returns
    /// -------
    /// records.HeelFacts
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::heel``. C: ``nw_neck_heel``.
    fn heel<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.heel())?)
    }

    /// What is cut out of the neck wood for the rod: the channel first, then the access pocket.
    ///
    /// Returns
    /// -------
    /// tuple of records.Cut
    ///     Empty where no rod is fitted.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::rod_cuts``. C: ``nw_neck_rod_cuts``.
    fn rod_cuts<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.rod_cuts())?)
    }

    /// Volumes of the woods and of what is cut out of them.
    ///
    /// Areas of sections are integrated exactly where they are polynomials; only the board's crown and the split between the two
    /// woods are integrated numerically, to 1e-13 of the volume.
    ///
    /// Returns
    /// -------
    /// records.Volumes
    ///     mm³.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::volume_mm3``. C: ``nw_neck_volume``.
    fn volume_mm3<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.volume_mm3())?)
    }

    /// Masses: estimates, by the woods' usual densities where none is given.
    ///
    /// Returns
    /// -------
    /// records.Masses
    ///     kg.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::mass_kg``. C: ``nw_neck_mass``.
    fn mass_kg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.mass_kg())?)
    }

    /// The box around the neck.
    ///
    /// Returns
    /// -------
    /// records.Bounds
    ///     mm.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::bounds``. C: ``nw_neck_bounds``.
    fn bounds<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.bounds())?)
    }

    /// The joints that a headstock glued on would have, and the stock that they need.
    ///
    /// Returns
    /// -------
    /// records.Joints
    ///     mm.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::joints``. C: ``nw_neck_joints``.
    fn joints<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.joints())?)
    }

    /// The least thickness of board and neck wood together, proven over all stations where both are.
    ///
    /// Returns
    /// -------
    /// records.LeastValue
    ///     mm.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> least = Neck().least_thickness()
    /// >>> bool(least.proven <= least.value)
    /// True
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::least_thickness``. C: ``nw_neck_least_thickness``.
    fn least_thickness<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.least_thickness())?)
    }

    /// The least wood between the rod's channel and the outside of the neck, in space, proven over its whole length.
    ///
    /// Returns
    /// -------
    /// records.LeastValue or None
    ///     mm; ``None`` where no rod is fitted.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::least_rod_wall``. C: ``nw_neck_least_rod_wall``.
    fn least_rod_wall<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.least_rod_wall())?)
    }

    /// The least curvature of the back across the neck, proven over the shaft proper from the carve line to the spine.
    ///
    /// Returns
    /// -------
    /// records.LeastValue
    ///     1/mm; above zero there is no flat and no hollow anywhere.
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::least_curvature``. C: ``nw_neck_least_curvature``.
    fn least_curvature<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.least_curvature())?)
    }

    /// What is possible but unusual about the neck.
    ///
    /// Returns
    /// -------
    /// tuple of records.Warning
    ///     Empty where there is nothing to say.
    ///
    /// Examples
    /// --------
    /// >>> from neckwright import Neck
    /// >>> Neck().warnings()
    /// ()
    ///
    /// Notes
    /// -----
    /// Rust: ``shape::Neck::warnings``. C: ``nw_neck_warnings``.
    fn warnings<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record(py, &ask(py, || self.core.warnings())?)
    }
}
