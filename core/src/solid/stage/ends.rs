//! Where bounds end, and rounding would decide which of them is the lowest.

use alloc::vec::Vec;

use super::walk::Walk;
use crate::carve::Limit;

/// How near to its end a hollow is asked whether it ends in a step, mm.
const END_MM: f64 = 1e-7;
/// How near to the side face a rounded corner ends that ends in it, mm, and how little of it may be left there.
const UPRIGHT_MM: f64 = 1e-9;
const THIN_MM: f64 = 1e-9;

/// The place at which a rounded corner begins.
pub(super) fn near_end(limit: &Limit) -> Option<f64> {
    match limit {
        Limit::Round { sign, centre, .. } => Some(sign * centre[0]),
        _ => None,
    }
}

/// Whether a hollow ends at a place in a step down to another bound. Near its end its own depth tells little, that of the other
/// all.
pub(super) fn steps_down(hollow: &Limit, other: &Limit, y: f64) -> bool {
    let Limit::Hollow { centre, radius } = hollow else { return false };
    [centre[0] - radius, centre[0] + radius]
        .into_iter()
        .any(|end| libm::fabs(end - y) <= END_MM && other.depth_within(end) > centre[1])
}

/// A rounded corner ends upright in the side face, where a place across tells nothing of the depth: whether it is the lowest there
/// is told by the depth of what lies beside it.
pub(super) fn upright_ends(
    spans: &mut Vec<(usize, [f64; 2])>,
    edges: [f64; 2],
    limits: &[(usize, Limit)],
    limit_of: &impl Fn(usize) -> Option<Limit>,
) -> Option<()> {
    for (k, edge) in edges.into_iter().enumerate() {
        let way = if k == 0 { -1.0 } else { 1.0 };
        let corner = limits.iter().find_map(|(id, limit)| match limit {
            Limit::Round { sign, centre: [out, depth], radius }
                if *sign == way && libm::fabs(out + radius - way * edge) <= UPRIGHT_MM =>
            {
                Some((*id, *depth, *radius))
            }
            _ => None,
        });
        let Some((id, depth, radius)) = corner else { continue };
        let (last, beside) =
            if k == 0 { (0, 1) } else { (spans.len().checked_sub(1)?, spans.len().saturating_sub(2)) };
        let below = |other: usize| Some(limit_of(other)?.depth_within(edge) - depth);
        let (own, y) = *spans.get(last)?;
        if own == id {
            if y[1] - y[0] < THIN_MM && spans.len() > 1 && below(spans[beside].0)? <= 0.0 {
                spans[beside].1[k] = edge;
                spans.remove(last);
            }
        } else {
            let below = below(own)?;
            if below > 0.0 && 0.5 * below * below / radius < THIN_MM {
                let from = edge - way * 0.5 * below * below / radius;
                spans[last].1[k] = from;
                let span = if k == 0 { [edge, from] } else { [from, edge] };
                spans.insert(if k == 0 { 0 } else { last + 1 }, (id, span));
            }
        }
    }
    Some(())
}

impl Walk<'_> {
    /// A ball along the carve line enters the side face by so little at first that rounding decides; what it touches tells instead.
    pub fn touching_ends(
        &self,
        spans: &mut Vec<(usize, [f64; 2])>,
        (x, edges): (f64, [f64; 2]),
        limits: &[(usize, Limit)],
        limit_of: &impl Fn(usize) -> Option<Limit>,
    ) -> Option<()> {
        for (k, edge) in edges.into_iter().enumerate() {
            let way = if k == 0 { -1.0 } else { 1.0 };
            let touching = limits.iter().find_map(|(id, limit)| {
                let [out, depth] = self.bound(*id)?.touch.as_ref()?;
                let Limit::Hollow { centre, radius } = limit else { return None };
                let end = centre[0] - way * radius;
                let ends = libm::fabs(out.value(x) - edge) <= UPRIGHT_MM && way * (edge - end) < THIN_MM;
                ends.then(|| (*id, depth.value(x), way * (way * end).min(way * edge)))
            });
            let Some((id, depth, from)) = touching else { continue };
            let last = if k == 0 { 0 } else { spans.len().checked_sub(1)? };
            let own = spans.get(last)?.0;
            if own != id && limit_of(own)?.depth_within(edge) > depth {
                spans[last].1[k] = from;
                let span = if k == 0 { [edge, from] } else { [from, edge] };
                spans.insert(if k == 0 { 0 } else { last + 1 }, (id, span));
            }
        }
        Some(())
    }
}
