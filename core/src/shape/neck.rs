//! The neck.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::back::Back;
use super::build::{Built, build};
use super::curvature::least_curvature;
use super::defaults;
use super::rod::{Cut, least_wall, wall_in_section};
use super::section::{BoardCut, Section};
use super::sides::{Side, Sides};
use crate::law::Law;
use crate::layout::{Fret, Layout, SideMarker, StringLine};
use crate::measure::{Error, Fault, Kind};
use crate::spec::{Hand, Specification};

/// How close a proven bound comes to the value that it bounds, mm or 1/mm.
pub const PROOF_TOLERANCE: f64 = 5e-7;

/// The most pieces a proof may look at before it stops and tells the bound it has reached.
const PROOF_BUDGET: usize = 20_000;

/// A neck: every number of it, at every station, from one specification.
///
/// Stations are millimetres along the centreline from the nut's fretboard side, positive toward the bridge;
/// `y` is positive toward the treble side of a right-handed neck, `z` out of the fretboard, and the crown of
/// the board lies at `z = 0`. A left-handed neck is the mirror image in `y`, to the last bit.
///
/// It is immutable and may be used from any number of threads.
#[derive(Clone, Debug)]
pub struct Neck {
    pub(super) spec: Specification,
    pub(super) layout: Layout,
    pub(super) built: Built,
}

/// A least value over the whole neck, where it is taken, and the bound it is proven to.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct LeastValue {
    /// A value that is really taken, in mm (a curvature in 1/mm).
    pub value: f64,
    /// Station where it is taken, mm from the nut.
    pub x_mm: f64,
    /// Proven: nowhere is there less than this. Within 1e-6 of [`value`](Self::value), unless the search was given
    /// up after 20,000 steps, which no specification tried so far has needed.
    pub proven: f64,
    /// The unit of both: `mm`, or `1/mm` of a curvature.
    pub unit: &'static str,
}

impl LeastValue {
    /// Of a length.
    pub(crate) const fn mm(value: f64, x_mm: f64, proven: f64) -> Self {
        Self { value, x_mm, proven, unit: "mm" }
    }

    /// Of a curvature.
    const fn per_mm(value: f64, x_mm: f64, proven: f64) -> Self {
        Self { value, x_mm, proven, unit: "1/mm" }
    }
}

impl Neck {
    /// Builds a neck.
    ///
    /// # Errors
    /// - every number of the specification that is out of its bounds;
    /// - where all are in bounds, everything in which they make no neck together: stations out of order, a
    ///   heel that begins in the volute, a hollow back, a rod channel that comes out of the back, ….
    pub fn new(spec: &Specification) -> Result<Self, Error> {
        spec.check()?;
        Self::of_checked(spec.clone())
    }

    fn of_checked(mut spec: Specification) -> Result<Self, Error> {
        let layout = Layout::of_checked(&spec)?;
        defaults::fill(&mut spec, &layout);
        // A default that was derived has the bounds of one that was given.
        spec.check()?;
        let built = build(&spec, &layout)?;
        Ok(Self { spec, layout, built })
    }

    /// Builds a neck from a JSON document.
    ///
    /// # Errors
    /// - as [`Specification::from_json`] and [`new`](Self::new).
    pub fn from_json(text: &str) -> Result<Self, Error> {
        // Reading has checked it.
        Self::of_checked(Specification::from_json(text)?)
    }

    /// The specification with every default filled in. It makes the same neck, bit for bit.
    #[must_use]
    pub fn normalised(&self) -> &Specification {
        &self.spec
    }

    /// Station of a fret on the centreline, mm from the nut; any real fret number.
    ///
    /// # Errors
    /// - a fret below 0, or beyond what the temperament tells.
    pub fn station_mm(&self, fret: f64) -> Result<f64, Error> {
        self.layout.station_of_fret_mm(fret)
    }

    /// The fret, a real number, whose line crosses the centreline at a station.
    ///
    /// # Errors
    /// - as [`Layout::fret_at`].
    pub fn fret_at(&self, x_mm: f64) -> Result<f64, Error> {
        self.layout.fret_at(x_mm)
    }

    /// The frets in order from the nut on, on this neck's own hand.
    #[must_use]
    pub fn frets(&self) -> Vec<Fret> {
        self.handed(self.layout.frets(), Fret::mirrored)
    }

    /// The strings, bass to treble, on this neck's own hand.
    #[must_use]
    pub fn strings(&self) -> Vec<StringLine> {
        self.handed(self.layout.strings(), StringLine::mirrored)
    }

    /// The markers in the board's side, on this neck's own hand. (Those in the face are symmetric: see
    /// [`Layout::face_markers`].)
    #[must_use]
    pub fn side_markers(&self) -> Vec<SideMarker> {
        self.handed(self.layout.side_markers(), SideMarker::mirrored)
    }

    fn handed<T: Clone>(&self, all: &[T], mirrored: fn(&T) -> T) -> Vec<T> {
        if self.hand_sign() < 0.0 { all.iter().map(mirrored).collect() } else { all.to_vec() }
    }

    /// Frets, strings and board as if the neck were right-handed, whatever its hand: lengths, angles and
    /// stations are the same, `y` changes its sign on a left-handed neck. [`frets`](Self::frets) and
    /// [`strings`](Self::strings) have it right already.
    #[must_use]
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// 1 for a right-handed neck, −1 for a left-handed one: what `y` of a right-handed neck is multiplied by.
    #[must_use]
    pub fn hand_sign(&self) -> f64 {
        if self.spec.hand == Hand::Left { -1.0 } else { 1.0 }
    }

    /// First and last station, mm: the headstock's tip, and the end of the board or the heel, whichever is
    /// further.
    #[must_use]
    pub fn reach_mm(&self) -> [f64; 2] {
        [self.built.head.tip(), self.layout.board().end_mm().max(self.built.end)]
    }

    /// First and last station of the neck wood, mm: the headstock's tip and the heel's end.
    #[must_use]
    pub fn wood_reach_mm(&self) -> [f64; 2] {
        [self.built.head.tip(), self.built.end]
    }

    /// First and last station of the shaft proper, mm: from the volute's end to where the heel begins.
    #[must_use]
    pub fn shaft_reach_mm(&self) -> [f64; 2] {
        [self.built.volute.end(), self.built.sweep.start]
    }

    fn outside(&self, path: String, x: f64, [from, to]: [f64; 2]) -> Error {
        Fault::new(Kind::OutsideNeck, path, "this station is not on the neck")
            .value(x, "mm")
            .range(from, to)
            .into()
    }

    fn on_neck(&self, x: f64) -> Result<(), Error> {
        let reach = self.reach_mm();
        if x >= reach[0] && x <= reach[1] { Ok(()) } else { Err(self.outside("x_mm".into(), x, reach)) }
    }

    /// Answers for many stations; the fault names the first station that is off the neck.
    fn each(&self, x_mm: &[f64], out: &mut [f64], f: impl Fn(f64) -> f64) -> Result<(), Error> {
        if let Some((x, out)) = self.one_on_neck(x_mm, out) {
            *out = f(x);
            return Ok(());
        }
        self.all_on_neck(x_mm, out)?;
        for (x, out) in x_mm.iter().zip(out) {
            *out = f(*x);
        }
        Ok(())
    }

    /// The one station of the usual call, and its place, where it is on the neck: with neither slices to go over nor faults.
    fn one_on_neck<'a>(&self, x_mm: &[f64], out: &'a mut [f64]) -> Option<(f64, &'a mut f64)> {
        let [from, to] = self.reach_mm();
        match (x_mm, out) {
            ([x], [out]) if *x >= from && *x <= to => Some((*x, out)),
            _ => None,
        }
    }

    fn all_on_neck(&self, x_mm: &[f64], out: &[f64]) -> Result<(), Error> {
        if x_mm.len() != out.len() {
            return Err(Fault::new(Kind::Buffer, "out", "needs one place for each station")
                .value(out.len(), "places")
                .range(x_mm.len() as f64, x_mm.len() as f64)
                .into());
        }
        self.all_within(x_mm, self.reach_mm())
    }

    /// Refuses stations outside of a reach; the fault names the first one.
    pub(crate) fn all_within(&self, x_mm: &[f64], [from, to]: [f64; 2]) -> Result<(), Error> {
        match x_mm.iter().position(|x| !(from..=to).contains(x)) {
            None => Ok(()),
            Some(i) => Err(self.outside(format!("x_mm[{i}]"), x_mm[i], [from, to])),
        }
    }

    pub(crate) fn built(&self) -> &Built {
        &self.built
    }

    /// The back with an allowance along its spine that runs out to nothing at the carve line.
    pub(crate) fn thickened(&self, allowance_mm: f64) -> Option<Back> {
        self.built.form.thicker(&self.built.back, allowance_mm)
    }

    /// Depth of the neck wood's top face below the crown plane at a station.
    pub(crate) fn wood_top(&self, x: f64) -> f64 {
        if x < self.built.head.root { self.built.face.value(x) } else { self.built.head.glue }
    }

    /// Whether a fretboard lies on the centreline at a station.
    fn boarded(&self, x: f64) -> bool {
        (0.0..=self.layout.board().end_mm()).contains(&x)
    }

    pub(crate) fn thickness(&self, x: f64) -> f64 {
        let spine = if x <= self.built.end { self.built.back.spine.value(x) } else { self.built.head.glue };
        if self.boarded(x) { spine } else { spine - self.wood_top(x) }
    }

    /// Thickness at a station, mm: on the centreline from the board's crown (frets not counted) to the spine;
    /// on the headstock and beyond the board's end from the neck wood's top face. Measured square to the
    /// crown line, which on an angled headstock is not square to its face: see
    /// [`headstock`](Self::headstock) for the caliper's reading there.
    ///
    /// # Errors
    /// - a station that is not on the neck.
    pub fn thickness_mm(&self, x_mm: f64) -> Result<f64, Error> {
        self.on_neck(x_mm)?;
        Ok(self.thickness(x_mm))
    }

    /// Thickness at many stations, mm, the same bits as [`thickness_mm`](Self::thickness_mm).
    ///
    /// # Errors
    /// - a station that is not on the neck, named by its index;
    /// - `out` of another length than `x_mm`.
    ///
    /// Nothing is written then.
    pub fn thickness_mm_into(&self, x_mm: &[f64], out: &mut [f64]) -> Result<(), Error> {
        if let Some((x, out)) = self.one_on_neck(x_mm, out) {
            *out = self.thickness(x);
            return Ok(());
        }
        self.all_on_neck(x_mm, out)?;
        self.built.back.spine.values_into(x_mm, out);
        let plain = 0.0..=self.layout.board().end_mm().min(self.built.end);
        for (x, out) in x_mm.iter().zip(out) {
            if !plain.contains(x) {
                *out = self.thickness(*x);
            }
        }
        Ok(())
    }

    fn half(&self, side: Side, x: f64) -> f64 {
        self.built.back.flanks.of(side).out[0].value(x)
    }

    pub(crate) fn width(&self, x: f64) -> f64 {
        let board = self.layout.board();
        if x >= 0.0 && x <= board.end_mm() {
            board.width_mm(x)
        } else {
            self.wood_width(x.min(self.built.end))
        }
    }

    /// Width of the neck wood, without the board.
    pub(super) fn wood_width(&self, x: f64) -> f64 {
        self.half(Side::Bass, x) + self.half(Side::Treble, x)
    }

    /// Width at a station, mm: board edge to board edge; on the headstock and beyond the board's end the
    /// neck wood's own width.
    ///
    /// # Errors
    /// - a station that is not on the neck.
    pub fn width_mm(&self, x_mm: f64) -> Result<f64, Error> {
        self.on_neck(x_mm)?;
        Ok(self.width(x_mm))
    }

    /// Width at many stations, mm.
    ///
    /// # Errors
    /// - as [`thickness_mm_into`](Self::thickness_mm_into).
    pub fn width_mm_into(&self, x_mm: &[f64], out: &mut [f64]) -> Result<(), Error> {
        self.each(x_mm, out, |x| self.width(x))
    }

    /// Length of a tape laid around the back from one top edge of the board to the other, mm; on the
    /// headstock from one edge of its face to the other, beyond the heel 0.
    ///
    /// # Errors
    /// - a station that is not on the neck.
    pub fn girth_mm(&self, x_mm: f64) -> Result<f64, Error> {
        Ok(self.section(x_mm)?.girth_mm())
    }

    /// Girth at many stations, mm.
    ///
    /// # Errors
    /// - as [`thickness_mm_into`](Self::thickness_mm_into).
    pub fn girth_mm_into(&self, x_mm: &[f64], out: &mut [f64]) -> Result<(), Error> {
        self.each(x_mm, out, |x| self.section_at(x).girth_mm())
    }

    pub(crate) fn carve_line(&self, side: Side, x: f64) -> f64 {
        if x > self.built.end {
            self.built.head.glue
        } else {
            self.built.back.flanks.of(side).depth[0].value(x)
        }
    }

    /// Depth of the carve line below the crown plane on one side, mm: where the flat side ends and the carve
    /// begins. On the headstock's slab and the heel block it is the whole depth of the back; beyond the end of
    /// the neck wood the board's underside.
    ///
    /// # Errors
    /// - a station that is not on the neck.
    pub fn carve_line_mm(&self, x_mm: f64, side: Side) -> Result<f64, Error> {
        self.on_neck(x_mm)?;
        Ok(self.carve_line(side, x_mm))
    }

    /// Carve line at many stations, mm.
    ///
    /// # Errors
    /// - as [`thickness_mm_into`](Self::thickness_mm_into).
    pub fn carve_line_mm_into(&self, x_mm: &[f64], side: Side, out: &mut [f64]) -> Result<(), Error> {
        self.each(x_mm, out, |x| self.carve_line(side, x))
    }

    pub(super) fn wall(&self, x: f64) -> Option<f64> {
        let walls = self.built.cuts.iter().filter_map(|cut| cut.at(x)).flat_map(|[half, floor]| {
            Side::BOTH
                .map(|side| wall_in_section(&self.built.back.control_points(side, x), side, half, floor))
        });
        walls.min_by(f64::total_cmp)
    }

    /// Least wood between the rod's channel (or its pocket) and the outside of the neck in the section at a
    /// station, mm: the distance from its floor, its corners and its sides to the back and the flat sides, in
    /// the plane of the section. `None` where nothing is cut. In space the outside can be nearer, past an end of
    /// the channel or square to a sloping floor: that is what [`least_rod_wall`](Self::least_rod_wall) counts.
    ///
    /// # Errors
    /// - a station that is not on the neck.
    pub fn rod_wall_mm(&self, x_mm: f64) -> Result<Option<f64>, Error> {
        self.on_neck(x_mm)?;
        Ok(self.wall(x_mm))
    }

    /// Rod wall at many stations, mm; NaN where nothing is cut.
    ///
    /// # Errors
    /// - as [`thickness_mm_into`](Self::thickness_mm_into).
    pub fn rod_wall_mm_into(&self, x_mm: &[f64], out: &mut [f64]) -> Result<(), Error> {
        self.each(x_mm, out, |x| self.wall(x).unwrap_or(f64::NAN))
    }

    /// The section at a station.
    ///
    /// # Errors
    /// - a station that is not on the neck.
    pub fn section(&self, x_mm: f64) -> Result<Section, Error> {
        self.on_neck(x_mm)?;
        Ok(self.section_at(x_mm))
    }

    pub(crate) fn section_at(&self, x: f64) -> Section {
        self.section_over(&self.built.back, x)
    }

    /// The section with another back: this neck's own with an allowance still on it.
    pub(crate) fn section_over(&self, back: &Back, x: f64) -> Section {
        let built = &self.built;
        let back = (x <= built.end).then(|| Sides::each(|side| back.control_points(side, x)));
        // Where the wood is as wide as the board, both have the same bits.
        let half = match &back {
            Some(_) if !built.own_block || x <= built.sweep.start => self.half(Side::Treble, x),
            _ => built.board_half.value(x),
        };
        Section {
            x_mm: x,
            hand: self.hand_sign(),
            board: self.board_cut(x, half),
            wood_top: self.wood_top(x),
            back,
            channel: built.cuts.iter().find_map(|cut| cut.at(x)),
        }
    }

    /// The part of the board that a cut at `x` meets: all of it, or what lies beyond a slanted nut.
    pub(crate) fn board_cut(&self, x: f64, half: f64) -> Option<BoardCut> {
        let board = self.layout.board();
        if x < board.start_mm() || x > board.end_mm() {
            return None;
        }
        let slope = self.layout.nut_line().slope;
        let at_nut = x / slope;
        let y = if slope > 0.0 {
            [-half, half.min(at_nut)]
        } else if slope < 0.0 {
            [(-half).max(at_nut), half]
        } else {
            [-half, half]
        };
        let reaches = y[0] < y[1] && (slope != 0.0 || x >= 0.0);
        reaches.then(|| BoardCut { y, half, radius: board.crown().radius_mm(x) })
    }

    /// What is cut out of the neck wood for the rod: its channel first, then the access pocket; nothing where
    /// no rod is fitted.
    #[must_use]
    pub fn rod_cuts(&self) -> &[Cut] {
        &self.built.cuts
    }

    /// The least thickness of board and neck wood together, proven over all stations where both are, not sampled.
    #[must_use]
    pub fn least_thickness(&self) -> LeastValue {
        let to = self.layout.board().end_mm().min(self.built.end);
        let spine = self.built.back.spine.restricted(0.0, to);
        let least = spine.as_ref().unwrap_or(&self.built.back.spine).least(PROOF_TOLERANCE);
        LeastValue::mm(least.value, least.x_mm, least.bound)
    }

    /// The least wood between the rod's channel (and its pocket) and the outside of the neck, in space, proven
    /// over its whole length: floor, corners, sides and end walls against the back and the flat sides, past
    /// its ends too. `None` where no rod is fitted. Distances below the floor are counted square to it; near
    /// the ends of a floor that slopes, or on one that bends, that may be a little less than there is.
    #[must_use]
    pub fn least_rod_wall(&self) -> Option<LeastValue> {
        let proof = least_wall(&self.built.back, &self.built.cuts, PROOF_TOLERANCE, PROOF_BUDGET)?;
        Some(LeastValue::mm(proof.least.value, proof.least.x_mm, proof.bound))
    }

    /// The least curvature of the back across the neck, 1/mm, proven over the shaft proper
    /// ([`shaft_reach_mm`](Self::shaft_reach_mm)) from the carve line to the spine: above zero there is no
    /// flat and no hollow anywhere. On volute and heel the back goes flat by design.
    #[must_use]
    pub fn least_curvature(&self) -> LeastValue {
        self.least_curvature_over(self.shaft_reach_mm())
    }

    /// [`least_curvature`](Self::least_curvature) over a part of the shaft.
    pub(crate) fn least_curvature_over(&self, reach: [f64; 2]) -> LeastValue {
        match least_curvature(&self.built.back, reach, PROOF_TOLERANCE, PROOF_BUDGET) {
            Some(proof) => LeastValue::per_mm(proof.least.value, proof.least.x_mm, proof.bound),
            None => LeastValue::per_mm(0.0, reach[0], 0.0),
        }
    }

    /// The laws that the whole neck is read off: spine depth, then for either side carve line depth and half
    /// width, over the neck wood's stations, right-handed.
    #[must_use]
    pub fn laws(&self) -> Laws<'_> {
        let back = &self.built.back;
        Laws {
            spine_depth: &back.spine,
            face_depth: &self.built.face,
            carve_line: Sides::each(|s| &back.flanks.of(s).depth[0]),
            half_width: Sides::each(|s| &back.flanks.of(s).out[0]),
            control_out: Sides::each(|s| &back.flanks.of(s).out),
            control_depth: Sides::each(|s| &back.flanks.of(s).depth),
        }
    }
}

/// The laws of a neck, in mm, right-handed; distances from the centreline are positive outward.
#[derive(Clone, Copy, Debug)]
pub struct Laws<'a> {
    /// Depth of the spine below the crown plane.
    pub spine_depth: &'a Law,
    /// Depth of the headstock's face, over the headstock's stations.
    pub face_depth: &'a Law,
    /// Depth of the carve line.
    pub carve_line: Sides<&'a Law>,
    /// Half width of the neck wood.
    pub half_width: Sides<&'a Law>,
    /// Distance of the back's four control points from the centreline, from the carve line to the spine.
    pub control_out: Sides<&'a [Law; 4]>,
    /// Their depth.
    pub control_depth: Sides<&'a [Law; 4]>,
}
