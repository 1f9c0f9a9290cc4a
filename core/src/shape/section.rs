//! A section: what a saw cut square to the centreline shows.

use alloc::vec::Vec;

use super::cubic::cubic_at;
use super::outline::{Moments, Outline, Point, Segment};
use super::sides::{Side, Sides};
use crate::law::Bernstein;
use crate::layout::sagitta_mm;
use crate::measure::Error;

/// The board's part of a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BoardCut {
    /// Where the board reaches from and to; less than its edges only where a slanted nut crosses the cut.
    pub y: [f64; 2],
    /// Half the board's width.
    pub half: f64,
    /// Radius of the crown; `None` for a flat board.
    pub radius: Option<f64>,
}

impl BoardCut {
    /// Whether the board reaches its edge on this side.
    fn reaches(&self, side: Side) -> bool {
        match side {
            Side::Bass => self.y[0] <= -self.half,
            Side::Treble => self.y[1] >= self.half,
        }
    }

    /// Depth of the board's top at a place across.
    fn depth(&self, y: f64) -> f64 {
        self.radius.map_or(0.0, |r| sagitta_mm(r, y))
    }

    fn crown(&self, path: &mut Outline, to_y: f64) {
        match self.radius {
            Some(radius) => path.segments.push(Segment::Crown { radius, to_y }),
            None => path.line([to_y, 0.0]),
        }
    }
}

/// A part of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// The fretboard.
    Fretboard,
    /// The neck wood below it.
    NeckWood,
    /// What is cut out of the neck wood for the rod.
    Channel,
}

/// A section of the neck, in the plane `x = x_mm`.
///
/// Points are `[y, z]` in mm in the frame of the neck: `y` toward the treble side of a right-handed neck,
/// `z` out of the fretboard, the crown of the board at `z = 0`.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    pub(super) x_mm: f64,
    /// 1 for a right-handed neck, −1 for its mirror image.
    pub(super) hand: f64,
    pub(crate) board: Option<BoardCut>,
    /// Depth of the board's underside, where there is one, and of the neck wood's top face.
    pub(crate) wood_top: f64,
    /// The back, from the carve line to the spine on either side; `None` where only the board is left.
    pub(crate) back: Option<Sides<[Point; 4]>>,
    /// Half width and floor depth of what is cut out of the wood from its top face.
    pub(super) channel: Option<[f64; 2]>,
}

/// The place on a section's back that is bent most or least.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Bend {
    /// Curvature there, in 1/mm; positive where the back is rounded outward.
    pub curvature_per_mm: f64,
    /// Which side of the spine it is on.
    pub side: Side,
    /// The place, `[y, z]` in mm.
    pub at_mm: Point,
}

impl Bend {
    /// Radius of curvature, mm; infinite on a flat.
    #[must_use]
    pub fn radius_mm(&self) -> f64 {
        1.0 / self.curvature_per_mm
    }
}

/// Both parts of a cubic cut at `u`.
pub(super) fn split(p: [Point; 4], u: f64) -> ([Point; 4], [Point; 4]) {
    let mix = |a: Point, b: Point| [0, 1].map(|k| (1.0 - u) * a[k] + u * b[k]);
    let (a, b, c) = (mix(p[0], p[1]), mix(p[1], p[2]), mix(p[2], p[3]));
    let (d, e) = (mix(a, b), mix(b, c));
    let f = mix(d, e);
    ([p[0], a, d, f], [f, e, c, p[3]])
}

/// The first `u` at which a coordinate of the cubic has the given value.
fn crossing(p: &[Point; 4], k: usize, value: f64) -> Option<f64> {
    p.iter().map(|p| p[k] - value).collect::<Bernstein>().roots().first().copied()
}

impl Section {
    /// Station of the section, mm from the nut.
    #[must_use]
    pub fn x_mm(&self) -> f64 {
        self.x_mm
    }

    fn y(&self, p: Point) -> Point {
        [self.hand * p[0], p[1]]
    }

    /// The four control points of one side of the back, `[y, z]` in mm from the carve line to the spine, in the neck's frame: on
    /// a left-handed neck the treble side has negative `y`, while places across of readings and findings are positive there;
    /// `None` beyond the end of the neck wood.
    #[must_use]
    pub fn control_points_mm(&self, side: Side) -> Option<[Point; 4]> {
        Some(self.back.as_ref()?.of(side).map(|p| self.y(p)))
    }

    /// The part of one side's contour from one depth down to another, or to the spine.
    fn side_path(p: &[Point; 4], from: f64, to: Option<f64>) -> Outline {
        let (wall, carve) = (p[0][0], -p[0][1]);
        let mut rest = *p;
        let mut path = Outline::from([wall, -from]);
        if let Some(to) = to.filter(|to| *to <= carve) {
            path.line([wall, -to]);
            return path;
        }
        if from <= carve {
            path.line(p[0]);
        } else {
            if let Some(u) = crossing(p, 1, -from) {
                rest = split(*p, u).1;
            }
            path.start = rest[0];
        }
        if let Some(u) = to.and_then(|to| crossing(&rest, 1, -to)) {
            rest = split(rest, u).0;
        }
        path.segments.push(Segment::Cubic(rest[1], rest[2], rest[3]));
        path
    }

    /// From the left contour at one depth down and round to the right contour at another.
    fn around_the_back(back: &Sides<[Point; 4]>, tops: Sides<f64>) -> Outline {
        let mut path = Self::side_path(&back.bass, tops.bass, None);
        path.go_back_along(&Self::side_path(&back.treble, tops.treble, None));
        path
    }

    /// Distance from the centreline to one side's contour at the depth of the wood's top.
    pub(super) fn foot_mm(&self, side: Side) -> Option<f64> {
        let p = self.back.as_ref()?.of(side);
        Some(side.sign() * Self::side_path(p, (-p[0][1]).min(self.wood_top), Some(self.wood_top)).end()[0])
    }

    /// One end of the board from its top, at `y`, down to the glue line: along the side's contour where the
    /// board reaches its edge, and straight down where a slanted nut ends it.
    fn board_side(&self, side: Side, board: &BoardCut, y: f64) -> Outline {
        let top = board.depth(y);
        // The contour that the end meets; a slanted nut may come out through the carved part of either side.
        let near = match (board.reaches(side), y < 0.0) {
            (true, _) => side,
            (false, true) => Side::Bass,
            (false, false) => Side::Treble,
        };
        let contour = self.back.as_ref().map(|b| b.of(near)).filter(|p| -p[0][1] < self.wood_top);
        let mut path = Outline::from([y, -top]);
        if let Some(p) = contour {
            if board.reaches(side) {
                return Self::side_path(p, top, Some(self.wood_top));
            }
            if self.foot_mm(near).is_some_and(|foot| libm::fabs(y) > foot)
                && let Some(u) = crossing(p, 0, y)
            {
                let below = Self::side_path(p, -cubic_at(*p, u)[1], Some(self.wood_top));
                path.line(below.start);
                path.segments.extend(below.segments);
                return path;
            }
        }
        path.line([y, -self.wood_top]);
        path
    }

    /// Where a slanted nut leaves of the board only a corner that hangs over the back beside the wood's top: on which side, and
    /// the contour from the carve line to the place that the nut's face comes down on.
    fn corner_beside_the_wood(&self, board: &BoardCut) -> Option<(Side, [Point; 4])> {
        let (side, y) =
            if board.reaches(Side::Bass) { (Side::Bass, board.y[1]) } else { (Side::Treble, board.y[0]) };
        let p = self.back.as_ref()?.of(side);
        let beside = -p[0][1] < self.wood_top && self.foot_mm(side)? < side.sign() * y;
        let u = crossing(p, 0, y).filter(|_| beside)?;
        Some((side, split(*p, u).0))
    }

    /// The board's outline, counter-clockwise with the treble side of a right-handed neck on the right.
    fn board_outline(&self) -> Option<Outline> {
        let board = self.board.as_ref()?;
        if let Some((side, contour)) = self.corner_beside_the_wood(board) {
            let edge = if side == Side::Bass { board.y[0] } else { board.y[1] };
            let below = Self::side_path(&contour, board.depth(edge), None);
            let inner = board.y[usize::from(side == Side::Bass)];
            let end = Outline::from([inner, -board.depth(inner)]);
            let (mut path, other) = if side == Side::Bass { (below, end) } else { (end, below) };
            path.go_back_along(&other);
            board.crown(&mut path, board.y[0]);
            return Some(path);
        }
        let mut path = self.board_side(Side::Bass, board, board.y[0]);
        path.go_back_along(&self.board_side(Side::Treble, board, board.y[1]));
        board.crown(&mut path, board.y[0]);
        Some(path)
    }

    /// The neck wood's outline, its channel filled.
    fn wood_outline(&self) -> Option<Outline> {
        let top = self.wood_top;
        let mut path = Self::around_the_back(self.back.as_ref()?, Sides { bass: top, treble: top });
        path.line(path.start);
        Some(path)
    }

    /// The outline of board and neck wood together, counter-clockwise, its channel filled.
    pub(crate) fn whole_outline(&self) -> Outline {
        let (Some(back), Some(board)) = (&self.back, &self.board) else {
            let only = self.wood_outline().or_else(|| self.board_outline());
            return only.unwrap_or_else(|| Outline::from([0.0; 2]));
        };
        let edge = |side: Side| [side.sign() * board.half, -board.depth(board.half)];
        // Where the heel block is wider or narrower than the board, a ledge lies between them.
        let flush = |side: Side| back.of(side)[0][0] == edge(side)[0];
        let top = |side: Side| {
            if board.reaches(side) && flush(side) { -edge(side)[1] } else { self.wood_top }
        };
        let lower = Self::around_the_back(back, Sides::each(top));
        let step = |side: Side| {
            if !board.reaches(side) {
                return self.board_side(side, board, board.y[usize::from(side == Side::Treble)]);
            }
            let mut path = Outline::from(edge(side));
            if !flush(side) {
                path.line([edge(side)[0], -self.wood_top]);
            }
            path
        };
        let mut path = step(Side::Bass);
        path.line(lower.start);
        path.segments.extend(lower.segments);
        path.go_back_along(&step(Side::Treble));
        board.crown(&mut path, board.y[0]);
        path
    }

    fn seen(&self, mut outline: Outline) -> Outline {
        if self.hand < 0.0 {
            outline.mirror();
        }
        outline
    }

    /// The outline of board and neck wood together, the channel filled, as lines, cubics and the crown.
    #[must_use]
    pub fn outline(&self) -> Outline {
        self.seen(self.whole_outline())
    }

    /// The outline of one part; `None` where the section does not meet it.
    #[must_use]
    pub fn part_outline(&self, part: Part) -> Option<Outline> {
        let outline = match part {
            Part::Fretboard => self.board_outline(),
            Part::NeckWood => self.wood_outline(),
            Part::Channel => self.channel.map(|[half, floor]| {
                let mut path = Outline::from([-half, -self.wood_top]);
                path.line([-half, -floor]);
                path.line([half, -floor]);
                path.line([half, -self.wood_top]);
                path.line(path.start);
                path
            }),
        };
        outline.map(|o| self.seen(o))
    }

    /// Area and moments of one part, the neck wood with its channel filled; zero where the section does not
    /// meet it. Exact but for rounding.
    #[must_use]
    pub fn part_moments(&self, part: Part) -> Moments {
        let moments = match part {
            Part::Fretboard => self.board_outline().map(|o| o.moments()),
            Part::NeckWood => self.wood_outline().map(|o| o.moments()),
            Part::Channel => {
                self.channel.map(|[half, floor]| Moments::rectangle([-half, half], [-floor, -self.wood_top]))
            }
        };
        let moments = moments.unwrap_or_default();
        if self.hand < 0.0 { moments.mirrored() } else { moments }
    }

    /// Area and moments of board and neck wood together, the channel filled. Exact but for rounding.
    #[must_use]
    pub fn moments(&self) -> Moments {
        let moments = self.whole_outline().moments();
        if self.hand < 0.0 { moments.mirrored() } else { moments }
    }

    /// Area of board and neck wood together, mm², the channel filled.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.whole_outline().moments().area_mm2
    }

    /// Centroid `[y, z]` of board and neck wood together, mm, the channel filled.
    #[must_use]
    pub fn centroid_mm(&self) -> Point {
        self.moments().centroid_mm()
    }

    /// Second moments about the centroid, `[∫(z−z̄)², ∫(y−ȳ)², ∫(y−ȳ)(z−z̄)]` in mm⁴, of board and neck
    /// wood together, the channel filled. Take the channel off with [`part_moments`](Self::part_moments).
    #[must_use]
    pub fn second_moment_mm4(&self) -> [f64; 3] {
        self.moments().central_mm4()
    }

    /// Corners of a polyline around the section, `[y, z]` in mm, that comes no further from the outline
    /// than `chord_mm`. In the neck's frame, in which a left-handed neck's treble side has negative `y`.
    ///
    /// # Errors
    /// - a chord error outside 1e-6 to 10 mm.
    pub fn polyline_mm(&self, chord_mm: f64) -> Result<Vec<Point>, Error> {
        self.outline().polyline(chord_mm)
    }

    /// Length of a tape laid around the back from one top edge to the other, mm; 0 beyond the end of the
    /// neck wood. Where a slanted nut crosses the section the tape reaches the board's edges if the board
    /// lies on the centreline, and the wood's if not.
    #[must_use]
    pub fn girth_mm(&self) -> f64 {
        self.ways_up_mm(Side::Bass)[0] + self.ways_up_mm(Side::Treble)[0]
    }

    /// How far a tape around the back goes from the spine up to one side's top edge, and to its carve line, mm; 0 beyond
    /// the end of the neck wood.
    pub(crate) fn ways_up_mm(&self, side: Side) -> [f64; 2] {
        let Some(back) = &self.back else { return [0.0; 2] };
        let top = match &self.board {
            Some(board) if (board.y[0]..=board.y[1]).contains(&0.0) => board.depth(board.half),
            _ => self.wood_top,
        };
        let p = back.of(side);
        let length = |from: f64| {
            Self::side_path(p, from, None).walk().map(|(start, s)| s.length_mm(start)).sum::<f64>()
        };
        [length(top), length((-p[0][1]).max(top))]
    }

    /// Where the back is bent most: the least radius of curvature. `None` without a back.
    #[must_use]
    pub fn sharpest(&self) -> Option<Bend> {
        self.bends().max_by(|a, b| a.curvature_per_mm.total_cmp(&b.curvature_per_mm))
    }

    /// Where the back is bent least; a negative curvature is a hollow. `None` without a back.
    #[must_use]
    pub fn flattest(&self) -> Option<Bend> {
        self.bends().min_by(|a, b| a.curvature_per_mm.total_cmp(&b.curvature_per_mm))
    }

    /// Every place where the curvature can be greatest or least: the ends of both sides and the roots of
    /// `N'S − (3/2)·N·S'`, with the curvature `N/S^(3/2)`.
    fn bends(&self) -> impl Iterator<Item = Bend> {
        let sides = self.back.iter().flat_map(|b| Side::BOTH.map(|side| (side, *b.of(side))));
        sides.flat_map(move |(side, p)| {
            let [y, z] = [0, 1].map(|k| p.iter().map(|p| p[k]).collect::<Bernstein>());
            let (dy, dz) = (y.derivative(), z.derivative());
            let turn =
                dz.derivative().times(&dy).minus(&dy.derivative().times(&dz)).times_number(side.sign());
            let turn = turn.times_number(-1.0);
            let speed = dy.times(&dy).plus(&dz.times(&dz));
            let extreme =
                turn.derivative().times(&speed).minus(&turn.times(&speed.derivative()).times_number(1.5));
            let places = [0.0, 1.0].into_iter().chain(extreme.roots());
            let bends: Vec<Bend> = places
                .filter_map(|u| {
                    let (n, v) = (turn.eval(u), speed.eval(u));
                    // What rounding leaves of a back that is flat by design is not a curvature.
                    let n = if libm::fabs(n) <= 1e-12 * speed.hull().1 { 0.0 } else { n };
                    (v > 1e-12 * speed.hull().1).then(|| Bend {
                        curvature_per_mm: n / (v * libm::sqrt(v)),
                        side,
                        at_mm: self.y(cubic_at(p, u)),
                    })
                })
                .collect();
            bends
        })
    }
}
