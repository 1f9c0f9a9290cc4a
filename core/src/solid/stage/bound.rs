//! The bounds of a stage's wood, with laws for what moves along the neck.

use alloc::rc::Rc;
use alloc::vec::Vec;

use super::follow::{ball, following};
use super::why::Why;
use crate::carve::{Blank, Cut, Limit, Pass, Straight, Wood};
use crate::law::Law;

/// The blank's underside among the bounds, and that of the block under it.
pub(super) const BLANK: usize = 0;
pub(super) const BLOCK: usize = 1;
/// The first of the passes.
pub(super) const FIRST: usize = 2;

/// What sort of bound.
#[derive(Clone, Debug)]
pub(super) enum Shape {
    Line {
        across: f64,
        down: f64,
        height: Rc<Law>,
    },
    /// A rounded corner: place across and depth of its centre, right-handed.
    Round {
        sign: f64,
        centre: [Rc<Law>; 2],
        radius: f64,
    },
    Hollow {
        centre: [Rc<Law>; 2],
        radius: f64,
    },
}

/// One bound, over its stations.
#[derive(Clone, Debug)]
pub(super) struct Bound {
    pub reach: [f64; 2],
    pub shape: Shape,
    /// Place across and depth of the carve line along which a ball touches its back: it goes through that whatever rounding says.
    pub touch: Option<[Rc<Law>; 2]>,
}

impl Bound {
    pub fn laws(&self) -> Vec<&Law> {
        match &self.shape {
            Shape::Line { height, .. } => [&**height].into(),
            Shape::Round { centre, .. } | Shape::Hollow { centre, .. } => {
                centre.iter().map(|law| &**law).collect()
            }
        }
    }

    pub fn covers(&self, x: f64) -> bool {
        x >= self.reach[0] && x <= self.reach[1]
    }

    pub fn limit(&self, x: f64) -> Limit {
        match &self.shape {
            Shape::Line { across, down, height } => {
                Limit::Line { across: *across, down: *down, height: height.value(x) }
            }
            Shape::Round { sign, centre: [y, depth], radius } => {
                Limit::Round { sign: *sign, centre: [sign * y.value(x), depth.value(x)], radius: *radius }
            }
            Shape::Hollow { centre: [y, depth], radius } => {
                Limit::Hollow { centre: [y.value(x), depth.value(x)], radius: *radius }
            }
        }
    }
}

fn straight(line: &Straight, [from, to]: [f64; 2]) -> Option<Law> {
    Law::polyline(&[(from, line.at_mm(from)), (to, line.at_mm(to))])
}

/// The blank's underside, that of a scarfed headstock included.
fn blank(blank: &Blank) -> Option<Bound> {
    let [from, to] = blank.x;
    let mut at = alloc::vec![from];
    if let Some(scarf) = &blank.scarf {
        let [a, b] = [from, to].map(|x| scarf.at_mm(x) - blank.bottom);
        if a * b < 0.0 {
            at.push(from + (to - from) * a / (a - b));
        }
    }
    at.push(to);
    let points: Vec<(f64, f64)> = at.into_iter().map(|x| (x, blank.bottom_at(x))).collect();
    let height = Rc::new(Law::polyline(&points)?);
    Some(Bound { reach: blank.x, shape: Shape::Line { across: 0.0, down: 1.0, height }, touch: None })
}

/// The bound of a pass over its stations.
fn of_pass(pass: &Pass, zone: [f64; 2]) -> Option<Bound> {
    let corner = |edge: &Law, base: &Straight, out: f64| {
        Some((edge.restricted(zone[0], zone[1])?.plus_number(out), straight(base, zone)?))
    };
    let line = |across: f64, down: f64, height: Law| Shape::Line { across, down, height: Rc::new(height) };
    let mut touch = None;
    let shape = match &pass.cut {
        Cut::Plane { across, down, height } => line(*across, *down, straight(height, zone)?),
        Cut::Following { side, way, out_mm, back } => {
            let height = following(back.flanks.of(*side), *way, zone)?.plus_number(*out_mm);
            line(side.sign() * way[0], way[1], height)
        }
        Cut::Chamfer { side, width, edge, base } => {
            let (out, depth) = corner(edge, base, 0.0)?;
            line(side.sign(), 1.0, out.plus(&depth)?.plus_number(-width))
        }
        Cut::Round { side, radius, edge, base } => {
            let (out, depth) = corner(edge, base, -radius)?;
            let centre = [Rc::new(out.times_number(side.sign())), Rc::new(depth.plus_number(-radius))];
            Shape::Round { sign: side.sign(), centre, radius: *radius }
        }
        Cut::Cove { side, radius, edge, base } => {
            let (out, depth) = corner(edge, base, 0.0)?;
            let centre = [Rc::new(out.times_number(side.sign())), Rc::new(depth)];
            Shape::Hollow { centre, radius: *radius }
        }
        Cut::Ball { side, radius, around, back } => {
            let flank = back.flanks.of(*side);
            if *around == 0.0 {
                let [out, depth] =
                    [&flank.out[0], &flank.depth[0]].map(|law| law.restricted(zone[0], zone[1]));
                touch = Some([Rc::new(out?.times_number(side.sign())), Rc::new(depth?)]);
            }
            let [out, depth] = ball(flank, *around, *radius, zone)?;
            Shape::Hollow {
                centre: [Rc::new(out.times_number(side.sign())), Rc::new(depth)],
                radius: *radius,
            }
        }
    };
    Some(Bound { reach: zone, shape, touch })
}

/// All bounds of the wood: the blank's, its block's, then those of its passes, in their order.
pub(super) fn bounds(wood: &Wood) -> Result<Vec<Option<Bound>>, Why> {
    let block = match &wood.blank.block {
        Some(block) => {
            let height = Rc::new(Law::constant(block.bottom, block.x[0], block.x[1]).ok_or(Why::Blank)?);
            Some(Bound { reach: block.x, shape: Shape::Line { across: 0.0, down: 1.0, height }, touch: None })
        }
        None => None,
    };
    let mut all = alloc::vec![Some(blank(&wood.blank).ok_or(Why::Blank)?), block];
    let reach = wood.wood_reach();
    for (k, pass) in wood.passes.iter().enumerate() {
        let zone = [pass.zone[0].max(reach[0]), pass.zone[1].min(reach[1])];
        all.push(if zone[0] < zone[1] { Some(of_pass(pass, zone).ok_or(Why::Cut(k))?) } else { None });
    }
    Ok(all)
}
