//! A neck as it came out, against what was asked of it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::low::{Low, missed, named};
use super::pool::Pool;
use super::rows::{MISSED, SPARE};
use crate::law::Law;
use crate::measure::{Error, Fault, Kind};
use crate::shape::{Neck, Side};
use crate::spec::MendLimits;

/// A fault that should not come about.
pub(super) fn stuck(what: &str) -> Error {
    Fault::new(Kind::Geometry, "readings", format!("the mended neck could not be {what}"))
        .remedy("please report specification and readings")
        .into()
}

/// How far a law may lie outside another over a part of the neck, bounded; nothing where the part is none.
fn outside(old: &Law, new: &Law, [from, to]: [f64; 2]) -> f64 {
    let part = |law: &Law| law.restricted(from.max(law.start()), to.min(law.end()));
    let between = part(old).zip(part(new)).and_then(|(old, new)| old.minus(&new));
    between.map_or(0.0, |between| -between.least(0.1 * SPARE).bound)
}

/// Shows that a neck comes down to all low places and lies inside the design: where all control points of a section lie no
/// further out and no deeper, its back lies inside. What is to be said of the ends, where edges that came in carry on
/// beyond the board.
pub(super) fn verified(
    design: &Neck,
    mended: &Neck,
    pool: &Pool,
    lows: &[Low],
    limits: &MendLimits,
) -> Result<Vec<String>, Error> {
    let missed = missed(mended, pool, lows, limits).filter(|(_, by)| *by > MISSED);
    if let Some((index, by)) = missed {
        let which = pool.from(index).first().map(|first| named(first.number, first.line)).unwrap_or_default();
        return Err(stuck(&format!("brought down to {which}, and stays {by:.1e} mm above it")));
    }
    let (old, new) = (&design.built().back.flanks, &mended.built().back.flanks);
    let board = design.layout().board().end_mm();
    let most = |reach: [f64; 2]| {
        let mut most = 0.0_f64;
        for side in Side::BOTH {
            let (old, new) = (old.of(side), new.of(side));
            for (old, new) in old.out.iter().zip(&new.out).chain(old.depth.iter().zip(&new.depth)) {
                most = most.max(outside(old, new, reach));
            }
        }
        most
    };
    let on_board = most([0.0, board]);
    if on_board > MISSED {
        return Err(stuck(&format!("kept inside the design, and lies {on_board:.1e} mm outside of it")));
    }
    let ends =
        [([f64::NEG_INFINITY, 0.0], "behind the nut"), ([board, f64::INFINITY], "beyond the board's end")];
    let told = |(reach, place): ([f64; 2], &str)| {
        let by = most(reach);
        (by > MISSED).then(|| {
            format!(
                "{place} the edges, carried on straight, lie up to {by:.4} mm outside the old outline: leave the wood as it \
                 is there"
            )
        })
    };
    Ok(ends.into_iter().filter_map(told).collect())
}
