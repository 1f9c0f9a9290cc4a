//! What the instruments find on the wood after a stage, in one section.

use alloc::vec::Vec;

use super::wood::{Board, Wood};
use crate::shape::{Edge, Path, Point, Side, Sides};

/// The outside of the wood in one section, right-handed, and what can be read off it.
#[derive(Clone, Debug)]
pub(crate) struct WoodFace {
    /// The way around board and neck wood.
    pub path: Path,
    /// From the board's top to the underside, on the centreline, mm.
    pub thickness: f64,
    /// Edge to edge, of the board where there is one.
    pub width: f64,
    /// A tape around the back from one top edge to the other.
    pub girth: f64,
    /// Depth at which the flat side ends.
    pub carve: Sides<f64>,
    /// Radius of the board's face where it is made: none of a flat one.
    pub radius: Option<Option<f64>>,
}

impl Wood {
    /// The outside of the wood at a station; `None` off the wood.
    pub(crate) fn face(&self, x: f64) -> Option<WoodFace> {
        let made = matches!(self.board, Board::Made(_));
        let radius =
            self.board_slice(x).filter(|_| made).map(|_| self.neck.layout().board().crown().radius_mm(x));
        // Thickness and width count the board where it lies on the centreline, as the finished neck's do.
        let boarded = (0.0..=self.neck.layout().board().end_mm()).contains(&x);
        if let Some(shaped) = self.shaped_at(x) {
            let section = self.neck.section_over(&shaped.back, x);
            let spine = shaped.back.spine.value(x);
            let points = Sides::each(|side| shaped.back.control_points(side, x));
            return Some(WoodFace {
                path: Path::of_outline(&section.whole_outline()),
                thickness: if boarded { spine } else { spine - section.wood_top },
                width: match &section.board {
                    Some(board) if boarded => 2.0 * board.half,
                    _ => points.treble[0][0] - points.bass[0][0],
                },
                girth: section.girth_mm(),
                carve: Sides::each(|side| -points.of(side)[0][1]),
                radius,
            });
        }
        let contour = self.contour(x)?;
        let (wood, board) = (self.wood_slice(x), self.board_slice(x));
        let top = |y: f64| match (&board, &wood) {
            (Some((slice, crown)), _) => slice.top + crown.map_or(0.0, |c| c.depth(y)),
            (None, Some(wood)) => wood.top,
            (None, None) => 0.0,
        };
        let widest = board.map(|b| b.0.y).or(wood.map(|w| w.y))?;
        let glue = self.neck.layout().board().thickness_mm();
        let mut edges: Vec<Edge> = Vec::new();
        let mut at: Point = [widest[0], -top(widest[0])];
        let mut straight = |edges: &mut Vec<Edge>, to: Point| {
            edges.push(Edge::Line([at, to]));
            at = to;
        };
        if let Some(wood) = wood {
            // Where the board is wider or narrower than the wood, a ledge lies between them at the glue line.
            if libm::fabs(wood.y[0] - widest[0]) > 1e-9 {
                straight(&mut edges, [widest[0], -glue]);
                straight(&mut edges, [wood.y[0], -glue]);
            }
            let under = contour.edges(wood.y);
            let depth = |y: f64| -contour.depth(y);
            straight(&mut edges, [wood.y[0], depth(wood.y[0])]);
            edges.extend(under);
            at = [wood.y[1], depth(wood.y[1])];
            let mut straight = |edges: &mut Vec<Edge>, to: Point| {
                edges.push(Edge::Line([at, to]));
                at = to;
            };
            if libm::fabs(wood.y[1] - widest[1]) > 1e-9 {
                straight(&mut edges, [wood.y[1], -glue]);
                straight(&mut edges, [widest[1], -glue]);
            }
            straight(&mut edges, [widest[1], -top(widest[1])]);
        } else {
            straight(&mut edges, [widest[0], -glue]);
            straight(&mut edges, [widest[1], -glue]);
            straight(&mut edges, [widest[1], -top(widest[1])]);
        }
        let girth = edges.iter().map(Edge::length).sum();
        let mut at: Point = [widest[1], -top(widest[1])];
        let mut over: Vec<Edge> = Vec::new();
        if let Some((slice, Some(crown))) = board {
            let (a, b) = (slice.y[0].max(-crown.half), slice.y[1].min(crown.half));
            let end = |y: f64| [y, -slice.top - crown.depth(y)];
            over.push(Edge::Line([at, end(b)]));
            over.push(Edge::Arc {
                ends: [end(b), end(a)],
                centre: [0.0, -slice.top - crown.radius],
                radius: crown.radius,
                lower: false,
                wood_within: true,
            });
            at = end(a);
        }
        over.push(Edge::Line([at, [widest[0], -top(widest[0])]]));
        edges.extend(over);
        let spine = if wood.is_some() { contour.depth(0.0) } else { glue };
        let sides = wood.map_or(widest, |w| w.y);
        let carve = |side: Side| match (side, wood.is_some()) {
            (_, false) => glue,
            (Side::Bass, _) => contour.depth(sides[0]),
            (Side::Treble, _) => contour.depth(sides[1]),
        };
        Some(WoodFace {
            path: Path::new(edges),
            thickness: spine - if boarded { top(0.0) } else { wood.map_or(top(0.0), |w| w.top) },
            width: match wood {
                _ if boarded => 2.0 * self.board_half(x),
                Some(wood) => wood.y[1] - wood.y[0],
                None => widest[1] - widest[0],
            },
            girth,
            carve: Sides::each(carve),
            radius,
        })
    }
}
