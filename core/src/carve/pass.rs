//! One cut along the neck, and what it leaves in a section.

use alloc::sync::Arc;
use alloc::vec::Vec;

use super::fence::Straight;
use super::limit::Limit;
use crate::law::Law;
use crate::shape::{Back, Point, Side, Sides, cubic_at};

/// One cut along the neck, over the stations `zone`. It takes nothing elsewhere.
#[derive(Clone, Debug)]
pub(crate) struct Pass {
    pub zone: [f64; 2],
    pub cut: Cut,
}

/// What sort of cut.
#[derive(Clone, Debug)]
pub(crate) enum Cut {
    /// A plane: `across·y + down·depth ≤ height`, the height straight along the neck.
    Plane { across: f64, down: f64, height: Straight },
    /// A facet that follows the back: in every section the tangent of this direction, moved outward.
    Following { side: Side, way: [f64; 2], out_mm: f64, back: Arc<Back> },
    /// A rounded corner, tangent to the side face and to the sawn back.
    Round { side: Side, radius: f64, edge: Law, base: Straight },
    /// A flat at 45 degrees that takes so much off the side face and off the sawn back.
    Chamfer { side: Side, width: f64, edge: Law, base: Straight },
    /// A hollow about the corner between the side face and the sawn back.
    Cove { side: Side, radius: f64, edge: Law, base: Straight },
    /// A ball that touches a back at one place around it.
    Ball { side: Side, radius: f64, around: f64, back: Arc<Back> },
}

/// How far a side of a section reaches in a direction `[outward, down]`, and the place around it that does: 0 at the
/// carve line, 1 at the spine. The greatest of a cubic, at its ends or where it turns.
pub(crate) fn support(points: &[Point; 4], side: Side, way: [f64; 2]) -> (f64, f64) {
    let reach = points.map(|p| way[0] * side.sign() * p[0] - way[1] * p[1]);
    let at = |u: f64| {
        let s = 1.0 - u;
        s * s * (s * reach[0] + 3.0 * u * reach[1]) + u * u * (3.0 * s * reach[2] + u * reach[3])
    };
    let mut best = if reach[3] > reach[0] { (reach[3], 1.0) } else { (reach[0], 0.0) };
    // The slope is a·(1 − u)² + 2b·(1 − u)·u + c·u², and falls through nothing where it is greatest.
    let [a, b, c] = [0, 1, 2].map(|i| reach[i + 1] - reach[i]);
    let root = b * b - a * c;
    if root >= 0.0 {
        let root = libm::sqrt(root);
        // Of the two quotients of one root the one without cancellation.
        let u = if b < 0.0 { a / (a - b + root) } else { (b + root) / (b + root - c) };
        if u > 0.0 && u < 1.0 && at(u) > best.0 {
            best = (at(u), u);
        }
    }
    best
}

/// The direction square to a side of a section at a place around it, `[outward, down]`, away from the wood.
pub(crate) fn normal(points: &[Point; 4], side: Side, around: f64) -> [f64; 2] {
    let at = |u: f64| {
        let s = 1.0 - u;
        let weights = [s * s, 2.0 * s * u, u * u];
        let way = |k: usize| (0..3).map(|i| weights[i] * (points[i + 1][k] - points[i][k])).sum::<f64>();
        let (out, down) = (side.sign() * way(0), -way(1));
        let length = libm::hypot(out, down);
        (length > 0.0).then(|| [down / length, -out / length])
    };
    // A handle of no length has no direction: a hair's breadth further on there is one.
    at(around).or_else(|| at(around.clamp(1e-6, 1.0 - 1e-6))).unwrap_or([0.0, 1.0])
}

/// A station and the section that was last read there: many cuts follow one side of one back.
pub(crate) struct Reading<'a> {
    x: f64,
    last: Option<(&'a Arc<Back>, Side, [Point; 4])>,
}

impl<'a> Reading<'a> {
    pub const fn new(x: f64) -> Self {
        Self { x, last: None }
    }

    fn points(&mut self, back: &'a Arc<Back>, side: Side) -> [Point; 4] {
        match self.last {
            Some((last, s, points)) if s == side && Arc::ptr_eq(last, back) => points,
            _ => {
                let points = back.control_points(side, self.x);
                self.last = Some((back, side, points));
                points
            }
        }
    }
}

impl Pass {
    /// What it leaves in the section at a station; `None` where it takes nothing.
    pub fn limit(&self, x: f64) -> Option<Limit> {
        self.limit_of(&mut Reading::new(x))
    }

    /// The same for one of many at a station.
    pub fn limit_of<'a>(&'a self, at: &mut Reading<'a>) -> Option<Limit> {
        self.covers(at.x).then(|| self.cut.limit_of(at))
    }

    pub fn covers(&self, x: f64) -> bool {
        x >= self.zone[0] && x <= self.zone[1]
    }

    /// Stations where what it leaves may change its formula.
    pub fn joints(&self) -> Vec<f64> {
        let [from, to] = self.zone;
        let mut at = alloc::vec![from, to];
        match &self.cut {
            Cut::Plane { .. } => {}
            Cut::Round { edge, .. } | Cut::Chamfer { edge, .. } | Cut::Cove { edge, .. } => {
                at.extend(edge.breaks());
            }
            Cut::Following { side, back, .. } | Cut::Ball { side, back, .. } => {
                let flank = back.flanks.of(*side);
                at.extend(flank.out.iter().chain(&flank.depth).flat_map(|law| law.breaks()));
            }
        }
        at.retain(|x| *x >= from && *x <= to);
        at
    }

    /// Whether its joints are those of another.
    pub fn joins_like(&self, other: &Self) -> bool {
        self.zone == other.zone
            && match (&self.cut, &other.cut) {
                (Cut::Plane { .. }, Cut::Plane { .. }) => true,
                (
                    Cut::Following { side, back, .. } | Cut::Ball { side, back, .. },
                    Cut::Following { side: s, back: b, .. } | Cut::Ball { side: s, back: b, .. },
                ) => side == s && Arc::ptr_eq(back, b),
                _ => false,
            }
    }
}

impl Cut {
    pub fn limit(&self, x: f64) -> Limit {
        self.limit_of(&mut Reading::new(x))
    }

    fn limit_of<'a>(&'a self, at: &mut Reading<'a>) -> Limit {
        let x = at.x;
        match self {
            Self::Plane { across, down, height } => {
                Limit::Line { across: *across, down: *down, height: height.at_mm(x) }
            }
            Self::Following { side, way, out_mm, back } => {
                let height = support(&at.points(back, *side), *side, *way).0 + out_mm;
                Limit::Line { across: side.sign() * way[0], down: way[1], height }
            }
            Self::Round { side, radius, edge, base } => Limit::Round {
                sign: side.sign(),
                centre: [edge.value(x) - radius, base.at_mm(x) - radius],
                radius: *radius,
            },
            Self::Chamfer { side, width, edge, base } => {
                Limit::Line { across: side.sign(), down: 1.0, height: edge.value(x) + base.at_mm(x) - width }
            }
            Self::Cove { side, radius, edge, base } => {
                Limit::Hollow { centre: [side.sign() * edge.value(x), base.at_mm(x)], radius: *radius }
            }
            Self::Ball { side, radius, around, back } => {
                let points = at.points(back, *side);
                let [y, z] = cubic_at(points, *around);
                let [out, down] = normal(&points, *side, *around);
                Limit::Hollow { centre: [y + side.sign() * radius * out, radius * down - z], radius: *radius }
            }
        }
    }
}

/// The side faces of wood and board once they are true: the finished edges. No side of a finished section reaches beyond
/// its edge.
#[derive(Clone, Debug)]
pub(crate) struct Faces {
    pub wood: Sides<Law>,
    pub board: Law,
}

impl Faces {
    /// From the centreline to a side face of the wood.
    pub fn half(&self, side: Side, x: f64) -> f64 {
        self.wood.of(side).value(x)
    }

    /// From the centreline to a side face of the board.
    pub fn board_half(&self, x: f64) -> f64 {
        self.board.value(x)
    }
}
