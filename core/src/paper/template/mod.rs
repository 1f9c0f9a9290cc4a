//! Templates at full size, to cut out and to hold against the wood.

mod board;
mod frame;
mod gauge;
mod headstock;
mod hump;
mod radius;
mod strip;

use alloc::vec;
use alloc::vec::Vec;

use super::sheet::Sheet;
use super::{plan, side, side_with_stock};
use crate::carve::CarvingPlan;
use crate::measure::{Error, Fault, Kind};
use crate::shape::Neck;
use crate::spec::TemplateOptions;

pub use board::board;
pub use gauge::{Gauge, gauges};
pub use headstock::headstock;
pub use hump::transitions;
pub use radius::radius_gauges;
pub use strip::fret_strip;

/// All sheets to work from, in the order in which they are needed: fret strip, board, plan, side (with the blank and the saw's
/// lines where there is a carving plan), headstock, section gauges of both kinds, templates of volute and heel, and radius
/// gauges where the board has a radius.
///
/// # Errors
/// - [`Kind::Conflict`]: a carving plan of another neck. Necks that differ in nothing but their name are one;
/// - as [`gauges`], [`transitions`] and [`radius_gauges`]; all of them.
pub fn templates(
    neck: &Neck,
    carving: Option<&CarvingPlan>,
    options: &TemplateOptions,
) -> Result<Vec<Sheet>, Error> {
    options.check()?;
    if carving.is_some_and(|plan| !plan.start().is_of(neck)) {
        return Err(Fault::new(Kind::Conflict, "carving", "this carving plan was made for another neck")
            .remedy("give this neck's own carving plan, or none")
            .into());
    }
    let last = [
        gauges(neck, Gauge::Positive, options).map(Some),
        gauges(neck, Gauge::Negative, options).map(Some),
        transitions(neck, options).map(Some),
        radius_gauges(neck, options),
    ];
    let mut faults: Vec<Fault> = Vec::new();
    let mut sheets = vec![
        fret_strip(neck, options)?,
        board(neck, options)?,
        plan(neck),
        carving.map_or_else(|| side(neck), side_with_stock),
        headstock(neck, options)?,
    ];
    for sheet in last {
        match sheet {
            Ok(sheet) => sheets.extend(sheet),
            // Both kinds of gauges find the same faults.
            Err(error) => {
                let new: Vec<Fault> =
                    error.faults().iter().filter(|f| !faults.contains(f)).cloned().collect();
                faults.extend(new);
            }
        }
    }
    Error::unless_none(faults)?;
    Ok(sheets)
}
