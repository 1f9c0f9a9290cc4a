//! One cut along the neck, and what it leaves in a section.

use alloc::sync::Arc;

use super::fence::Straight;
use super::limit::Limit;
use crate::law::{Bernstein, Law};
use crate::shape::{Back, Point, Side, Sides, cubic_at};

/// One cut along the neck, over the stations `zone`. It takes nothing elsewhere.
#[derive(Clone, Debug)]
pub(super) struct Pass {
    pub zone: [f64; 2],
    pub cut: Cut,
}

/// What sort of cut.
#[derive(Clone, Debug)]
pub(super) enum Cut {
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
pub(super) fn support(points: &[Point; 4], side: Side, way: [f64; 2]) -> (f64, f64) {
    let reach: Bernstein = points.iter().map(|p| way[0] * side.sign() * p[0] - way[1] * p[1]).collect();
    let turns = reach.derivative().roots();
    let places = [0.0, 1.0].into_iter().chain(turns);
    places.map(|u| (reach.eval(u), u)).fold((f64::NEG_INFINITY, 0.0), |a, b| if b.0 > a.0 { b } else { a })
}

/// The direction square to a side of a section at a place around it, `[outward, down]`, away from the wood.
pub(super) fn normal(points: &[Point; 4], side: Side, around: f64) -> [f64; 2] {
    let way = [0, 1].map(|k| points.iter().map(|p| p[k]).collect::<Bernstein>().derivative());
    let at = |u: f64| {
        let (out, down) = (side.sign() * way[0].eval(u), -way[1].eval(u));
        let length = libm::hypot(out, down);
        (length > 0.0).then(|| [down / length, -out / length])
    };
    // A handle of no length has no direction: a hair's breadth further on there is one.
    at(around).or_else(|| at(around.clamp(1e-6, 1.0 - 1e-6))).unwrap_or([0.0, 1.0])
}

impl Pass {
    /// What it leaves in the section at a station; `None` where it takes nothing.
    pub fn limit(&self, x: f64) -> Option<Limit> {
        let [from, to] = self.zone;
        (x >= from && x <= to).then(|| self.cut.limit(x))
    }
}

impl Cut {
    pub fn limit(&self, x: f64) -> Limit {
        match self {
            Self::Plane { across, down, height } => {
                Limit::Line { across: *across, down: *down, height: height.at_mm(x) }
            }
            Self::Following { side, way, out_mm, back } => {
                let height = support(&back.control_points(*side, x), *side, *way).0 + out_mm;
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
                let points = back.control_points(*side, x);
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
pub(super) struct Faces {
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
