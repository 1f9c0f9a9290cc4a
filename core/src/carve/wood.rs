//! The wood that is there after a stage.

use alloc::sync::Arc;
use alloc::vec::Vec;

use super::blank::{Blank, BoardBlank};
use super::limit::Contour;
use super::pass::{Faces, Pass, Reading};
use super::taper::Taper;
use crate::law::{Bernstein, gauss16};
use crate::layout::sagitta_mm;
use crate::measure::{Bound, Error, Fault, Kind};
use crate::shape::{Back, Neck, Point, Side};

/// From where to where across a whole section reaches.
const EVERYWHERE: [f64; 2] = [f64::NEG_INFINITY, f64::INFINITY];
/// What lies deeper on one side of a station than on the other by more than this, so far from it, is a step, mm.
const STEP_MM: f64 = 0.01;
const BESIDE_MM: f64 = 1e-6;

/// What there is of the fretboard.
#[derive(Clone, Debug)]
pub(crate) enum Board {
    /// A blank beside the bench or on the neck.
    Blank(BoardBlank),
    /// Glued on, radiused and cut to length; as wide as its blank still.
    Made(BoardBlank),
}

/// How wide the wood is.
#[derive(Clone, Debug)]
pub(crate) enum Width {
    Blank,
    Sawn(Arc<Taper>),
    True,
}

/// A stretch of the neck whose back has been brought to a shape.
#[derive(Clone, Debug)]
pub(crate) struct Shaped {
    pub zone: [f64; 2],
    pub back: Arc<Back>,
}

/// The wood that is there after a stage: the envelope of the finished neck at that time.
///
/// The frame is the neck's own; a left-handed neck's wood is the mirror image.
#[derive(Clone, Debug)]
pub struct Wood {
    pub(crate) neck: Arc<Neck>,
    pub(crate) faces: Arc<Faces>,
    pub(crate) blank: Blank,
    pub(crate) board: Board,
    pub(crate) width: Width,
    /// Whether the headstock's face is finished.
    pub(crate) faced: bool,
    /// What the rod's channel and the tuner holes have taken, mm³.
    pub(crate) bored_mm3: f64,
    pub(crate) passes: Vec<Pass>,
    pub(crate) shaped: Vec<Shaped>,
}

/// The crown of a made board: round over the finished width, level beyond it, where the wood is still to be sawn off.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Crown {
    pub radius: f64,
    pub half: f64,
}

impl Crown {
    pub fn depth(&self, y: f64) -> f64 {
        sagitta_mm(self.radius, y.clamp(-self.half, self.half))
    }

    /// `∫depth dy`.
    fn area(&self, [from, to]: [f64; 2]) -> f64 {
        let (a, b) = (from.max(-self.half), to.min(self.half));
        let round = if a < b { gauss16(a, b, |y| sagitta_mm(self.radius, y)) } else { 0.0 };
        let beyond = (to - self.half).max(0.0).min(to - from) + (-self.half - from).max(0.0).min(to - from);
        round + beyond * sagitta_mm(self.radius, self.half)
    }
}

/// What there is of one of the two parts in a section.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slice {
    /// From where to where across, right-handed.
    pub y: [f64; 2],
    /// Depth of its top face.
    pub top: f64,
}

impl Wood {
    /// Whether it is the wood of this neck, whatever that is called.
    pub(crate) fn is_of(&self, neck: &Neck) -> bool {
        let [own, other] = [self.neck.normalised(), neck.normalised()];
        *own == crate::spec::Specification { name: own.name.clone(), ..other.clone() }
    }

    fn finished_reach(&self) -> [f64; 2] {
        self.neck.wood_reach_mm()
    }

    /// First and last station of the neck wood.
    pub(crate) fn wood_reach(&self) -> [f64; 2] {
        let [tip, end] = self.finished_reach();
        let [from, to] = self.blank.x;
        match &self.width {
            Width::Blank => [from, to],
            Width::Sawn(taper) => [from.max(tip - taper.out), to.min(end + taper.out)],
            Width::True => [tip, end],
        }
    }

    pub(crate) fn board_reach(&self) -> [f64; 2] {
        match &self.board {
            Board::Blank(blank) => blank.x,
            Board::Made(_) => {
                let board = self.neck.layout().board();
                [board.start_mm(), board.end_mm()]
            }
        }
    }

    /// First and last station of the wood, mm from the nut.
    #[must_use]
    pub fn reach_mm(&self) -> [f64; 2] {
        let (wood, board) = (self.wood_reach(), self.board_reach());
        [wood[0].min(board[0]), wood[1].max(board[1])]
    }

    pub(crate) fn half(&self, side: Side, x: f64) -> f64 {
        match &self.width {
            Width::Blank => self.blank.half,
            Width::Sawn(taper) => taper.sides.of(side).half(x).min(self.blank.half),
            Width::True => self.faces.half(side, x),
        }
    }

    pub(crate) fn board_half(&self, x: f64) -> f64 {
        let (Board::Blank(blank) | Board::Made(blank)) = &self.board;
        // Where the wood is as wide as the board they are cut in one, and both have the same bits.
        let one = !self.neck.built().own_block && x <= self.finished_reach()[1];
        match &self.width {
            Width::Sawn(_) | Width::True if one => self.half(Side::Treble, x).min(blank.half),
            Width::Blank => blank.half,
            Width::Sawn(taper) => taper.board.at_mm(x).min(blank.half),
            Width::True => self.faces.board_half(x),
        }
    }

    pub(crate) fn wood_slice(&self, x: f64) -> Option<Slice> {
        let [from, to] = self.wood_reach();
        let glue = self.neck.layout().board().thickness_mm();
        (from..=to).contains(&x).then(|| Slice {
            y: [-self.half(Side::Bass, x), self.half(Side::Treble, x)],
            top: if self.faced { self.neck.wood_top(x) } else { glue },
        })
    }

    /// The board's slice and its crown.
    pub(crate) fn board_slice(&self, x: f64) -> Option<(Slice, Option<Crown>)> {
        let [from, to] = self.board_reach();
        if !(from..=to).contains(&x) {
            return None;
        }
        let half = self.board_half(x);
        match &self.board {
            Board::Blank(blank) => Some((Slice { y: [-half, half], top: blank.top }, None)),
            Board::Made(_) => {
                let cut = self.neck.board_cut(x, half)?;
                let finished = self.faces.board.value(x);
                let crown = cut.radius.map(|radius| Crown { radius, half: finished.min(half) });
                Some((Slice { y: cut.y, top: 0.0 }, crown))
            }
        }
    }

    /// Depth of the board's top edge at a station, once it is radiused.
    pub(crate) fn edge_depth(&self, x: f64) -> Option<f64> {
        let (slice, crown) = self.board_slice(x)?;
        Some(crown.map_or(0.0, |c| c.depth(slice.y[1])))
    }

    pub(crate) fn shaped_at(&self, x: f64) -> Option<&Shaped> {
        self.shaped.iter().rev().find(|s| x >= s.zone[0] && x <= s.zone[1])
    }

    /// The lower contour of the section, over wood and board.
    pub(crate) fn contour(&self, x: f64) -> Option<Contour> {
        self.contour_of(x, EVERYWHERE, self.passes.iter())
    }

    /// The same between two places across, by some of the cuts.
    pub(crate) fn contour_of<'a>(
        &'a self,
        x: f64,
        within: [f64; 2],
        passes: impl Iterator<Item = &'a Pass>,
    ) -> Option<Contour> {
        let (wood, board) = (self.wood_slice(x), self.board_slice(x).map(|b| b.0));
        let over = |k: usize, least: fn(f64, f64) -> f64| {
            let ends = [wood.map(|s| s.y[k]), board.map(|s| s.y[k])];
            ends.into_iter().flatten().reduce(least)
        };
        let y = [over(0, f64::min)?.max(within[0]), over(1, f64::max)?.min(within[1])];
        if y[0] >= y[1] {
            return None;
        }
        let mut contour = self.blank.contour(x, y);
        let mut at = Reading::new(x);
        passes.filter_map(|p| p.limit_of(&mut at)).for_each(|l| contour.lower(l));
        Some(contour)
    }

    /// Area of board and neck wood together in the section at a station, mm², the rod's channel filled; 0 off the
    /// wood. Exact but for rounding.
    #[must_use]
    pub fn area_mm2(&self, x_mm: f64) -> f64 {
        if let Some(shaped) = self.shaped_at(x_mm) {
            return self.neck.section_over(&shaped.back, x_mm).area_mm2();
        }
        self.contour(x_mm).map_or(0.0, |contour| self.area_within(x_mm, &contour, EVERYWHERE))
    }

    /// Area of the part of a section between two places across, under a contour that covers it.
    pub(crate) fn area_within(&self, x: f64, contour: &Contour, [from, to]: [f64; 2]) -> f64 {
        let within =
            |s: Slice| Some(Slice { y: [s.y[0].max(from), s.y[1].min(to)], ..s }).filter(|s| s.y[0] < s.y[1]);
        let glue = self.neck.layout().board().thickness_mm();
        let (whole, board) = (self.wood_slice(x), self.board_slice(x));
        let wood = whole.and_then(within);
        let crown = board.and_then(|(s, crown)| Some(crown?.area(within(s)?.y))).unwrap_or(0.0);
        let area = match (wood, board.and_then(|b| within(b.0))) {
            (Some(wood), Some(board)) if wood.top == glue && wood.y == board.y => {
                contour.below(board.top, board.y)
            }
            // Beyond the end of the neck wood nothing but the board is left.
            (_, Some(board)) if whole.is_none() => (glue - board.top) * (board.y[1] - board.y[0]),
            (wood, board) => {
                wood.map_or(0.0, |s| contour.below(s.top, s.y))
                    + board.map_or(0.0, |s| contour.below(s.top, s.y) - contour.below(glue, s.y))
            }
        };
        area - crown
    }

    /// Where a slanted nut comes to the board's edges, as wide as the board still is.
    pub(crate) fn nut_ends(&self) -> Vec<f64> {
        let slope = self.neck.layout().nut_line().slope;
        if slope == 0.0 {
            return Vec::new();
        }
        [-1.0, 1.0]
            .map(|sign: f64| {
                // Short of the edge the nut lies over the board, beyond it beside.
                let over = |x: f64| libm::fabs(x / slope) < self.board_half(x);
                let (mut near, mut far) = (0.0, 2.0 * sign * slope * self.board_half(0.0));
                for _ in 0..60 {
                    let mid = 0.5 * (near + far);
                    if over(mid) { near = mid } else { far = mid }
                }
                0.5 * (near + far)
            })
            .into()
    }

    /// Stations where the section's formula may change.
    pub(crate) fn joints(&self) -> Vec<f64> {
        let built = self.neck.built();
        let mut at: Vec<f64> = built.back.spine.breaks().to_vec();
        at.extend(built.board_half.breaks());
        at.extend(self.neck.layout().board().nut_ends_mm());
        at.extend(self.nut_ends());
        at.extend(self.wood_reach());
        at.extend(self.board_reach());
        at.extend([0.0, built.head.root]);
        for (i, pass) in self.passes.iter().enumerate() {
            if i.checked_sub(1).is_none_or(|before| !pass.joins_like(&self.passes[before])) {
                at.extend(pass.joints());
            }
        }
        for shaped in &self.shaped {
            let inside = |x: &f64| *x >= shaped.zone[0] && *x <= shaped.zone[1];
            at.extend(self.neck.section_joints(&shaped.back).into_iter().filter(inside));
            at.extend(shaped.zone);
        }
        if let Some(scarf) = &self.blank.scarf {
            at.push(scarf.x_mm[1]);
        }
        if let Some(block) = &self.blank.block {
            at.extend(block.x);
        }
        if let Width::Sawn(taper) = &self.width {
            at.extend(taper.sides.bass.turns().chain(taper.sides.treble.turns()));
        }
        let [from, to] = self.reach_mm();
        at.retain(|x| *x >= from && *x <= to);
        at.sort_by(f64::total_cmp);
        at.dedup_by(|b, a| *b - *a < 1e-12);
        at
    }

    /// Where the underside steps on the centreline, as where a cut ends: the first station beyond each step.
    pub(crate) fn steps_mm(&self) -> Vec<f64> {
        let depth = |x: f64| self.depth_mm(x).ok();
        let apart = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => libm::fabs(a - b),
            (None, None) => 0.0,
            _ => f64::INFINITY,
        };
        self.joints()
            .into_iter()
            .filter_map(|x| {
                let (before, at, after) = (depth(x - BESIDE_MM), depth(x), depth(x + BESIDE_MM));
                let beyond = if apart(before, at) < apart(at, after) { x.next_up() } else { x };
                (apart(before, after) > STEP_MM).then_some(beyond)
            })
            .collect()
    }

    /// Whether a point `[x, y, z]` in the neck's frame, mm, lies in the wood or no further than `within_mm` outside
    /// it, measured across or down in its section. The rod's channel and the tuner holes count as wood.
    #[must_use]
    pub fn contains_mm(&self, [x, y, z]: [f64; 3], within_mm: f64) -> bool {
        let (y, depth) = (self.neck.hand_sign() * y, -z);
        let slices = [self.wood_slice(x), self.board_slice(x).map(|b| b.0)];
        let beside = |s: &Slice| y >= s.y[0] - within_mm && y <= s.y[1] + within_mm;
        let glue = self.neck.layout().board().thickness_mm();
        let crown = self.board_slice(x).and_then(|b| b.1).map_or(0.0, |c| c.depth(y));
        let under = match slices {
            [Some(wood), _] if beside(&wood) && depth >= wood.top - within_mm => true,
            [_, Some(board)] if beside(&board) => {
                depth >= board.top + crown - within_mm && (depth <= glue + within_mm || slices[0].is_none())
            }
            _ => false,
        };
        if !under {
            return false;
        }
        if let Some(shaped) = self.shaped_at(x) {
            return inside(&shaped.back, x, [y, depth], within_mm);
        }
        if self.wood_slice(x).is_none() {
            return depth <= glue + within_mm;
        }
        // Down or across, whichever brings it in.
        let above = |bound: &dyn Fn(f64) -> f64| {
            [-within_mm, 0.0, within_mm].iter().any(|dy| depth <= bound(y + dy) + within_mm)
        };
        above(&|y| self.blank.depth(x, y))
            && self.passes.iter().filter_map(|p| p.limit(x)).all(|l| above(&|y| l.depth(y)))
    }

    /// Corners `[y, z]` of the section of board and wood at a station, mm, counter-clockwise with the bass side first
    /// on a right-handed neck, curves cut to within `chord_mm`; empty off the wood.
    ///
    /// # Errors
    /// - a chord error outside 1e-6 to 10 mm.
    pub fn polyline_mm(&self, x_mm: f64, chord_mm: f64) -> Result<Vec<Point>, Error> {
        const CHORD: Bound = Bound {
            lowest: 1e-6,
            highest: 10.0,
            why: "a finer polyline is longer than it is useful and a coarser one is no section",
        };
        if let Some(fault) = CHORD.fault("chord_mm", chord_mm, "mm") {
            return Err(fault.into());
        }
        if let Some(shaped) = self.shaped_at(x_mm) {
            return self.neck.section_over(&shaped.back, x_mm).polyline_mm(chord_mm);
        }
        let Some(contour) = self.contour(x_mm) else { return Ok(Vec::new()) };
        let (wood, board) = (self.wood_slice(x_mm), self.board_slice(x_mm));
        let glue = self.neck.layout().board().thickness_mm();
        let mut corners: Vec<[f64; 2]> = Vec::new();
        if let Some(wood) = wood {
            corners.extend(contour.corners(chord_mm, wood.y));
            if board.is_none() {
                corners.extend([[wood.y[1], wood.top], [wood.y[0], wood.top]]);
            }
        }
        if let Some((slice, crown)) = board {
            // Faces that are one differ by rounding at most.
            let apart = |k: usize| wood.filter(|w| libm::fabs(w.y[k] - slice.y[k]) > 1e-9);
            if let Some(w) = apart(1) {
                corners.extend([[w.y[1], glue], [slice.y[1], glue]]);
            } else if wood.is_none() {
                corners.extend([[slice.y[0], glue], [slice.y[1], glue]]);
            }
            let n = crown.map_or(1, |c| {
                let width = slice.y[1] - slice.y[0];
                libm::ceil(libm::sqrt(width * width / (4.0 * c.radius * chord_mm))).clamp(1.0, 4096.0)
                    as usize
            });
            for i in 0..=n {
                let y = slice.y[1] + (slice.y[0] - slice.y[1]) * i as f64 / n as f64;
                corners.push([y, slice.top + crown.map_or(0.0, |c| c.depth(y))]);
            }
            if let Some(w) = apart(0) {
                corners.extend([[slice.y[0], glue], [w.y[0], glue]]);
            }
        }
        corners.extend(corners.first().copied());
        corners.dedup();
        let mut points: Vec<Point> =
            corners.into_iter().map(|[y, d]| [self.neck.hand_sign() * y, -d]).collect();
        if self.neck.hand_sign() < 0.0 {
            points.reverse();
        }
        Ok(points)
    }

    /// Depth of the wood's underside below the crown plane on the centreline, mm.
    ///
    /// # Errors
    /// - a station that is not on the wood.
    pub fn depth_mm(&self, x_mm: f64) -> Result<f64, Error> {
        let shaped = self.shaped_at(x_mm).map(|s| s.back.spine.value(x_mm));
        shaped.or_else(|| Some(self.contour(x_mm)?.depth(0.0))).ok_or_else(|| {
            let [from, to] = self.reach_mm();
            Fault::new(Kind::OutsideNeck, "x_mm", "there is no wood at this station")
                .value(x_mm, "mm")
                .range(from, to)
                .into()
        })
    }
}

/// Whether a point `[y, depth]` lies inside a back's section or no further than `within` outside it, across or down.
fn inside(back: &Back, x: f64, [y, depth]: [f64; 2], within: f64) -> bool {
    let ridge = back.control_points(Side::Bass, x)[3][0];
    let side = if y < ridge { Side::Bass } else { Side::Treble };
    let p = back.control_points(side, x);
    let out = side.sign() * y;
    if depth <= -p[0][1] {
        return out <= side.sign() * p[0][0] + within;
    }
    let below: Bernstein = p.iter().map(|p| -p[1] - depth).collect();
    let beyond: Bernstein = p.iter().map(|p| side.sign() * p[0] - out).collect();
    // Across from the point the contour lies further out, or below it further down.
    below.roots().into_iter().any(|u| beyond.eval(u) + within >= 0.0)
        || beyond.roots().into_iter().any(|u| below.eval(u) + within >= 0.0)
        || (libm::hypot(y - p[3][0], depth + p[3][1]) <= within)
}
