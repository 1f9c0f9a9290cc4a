//! A neck copied from its scan.

use super::field::Field;
use super::motion::Vector;
use super::place::{PlacedCloud, find};
use super::skin::Skin;
use crate::inspect::Copied;
use crate::inspect::copy::copy;
use crate::measure::Error;
use crate::shape::Neck;
use crate::spec::{CloudOptions, Specification};

/// A neck copied from its scan: its specification, and how the scan lies to it and stands off it.
#[derive(Clone, Debug)]
pub struct CopiedCloud {
    /// The scan on the copied neck: what its points stand off it is what no neck of this sort explains.
    pub placed: PlacedCloud,
    /// The copy, from the readings that the points amount to.
    pub copied: Copied,
}

/// Copies a neck from a cloud of scanned points in an unknown position.
///
/// `base` is a specification of roughly such a neck: scale, board, headstock, volute and heel are taken from it;
/// thicknesses, widths, carve lines and the shape of the back are found, and may be off by millimetres. The scan has to be
/// of the outside, most of the shaft's back and both its sides; what holds the pose is said at
/// [`place_cloud`](super::place_cloud).
///
/// Pose and shape are fitted in turn: the pose by robust least squares of the distances to the surface, the shaft's shape
/// let free; then all points are gathered into the mean places of cells, which are copied as readings are; then the pose
/// again, to the copy.
///
/// # Errors
/// - as [`place_cloud`](super::place_cloud);
/// - as [`Copied::from_readings`].
pub fn copy_cloud(
    base: &Specification,
    points_mm: &[Vector],
    options: &CloudOptions,
) -> Result<CopiedCloud, Error> {
    options.check()?;
    let mut neck = Neck::new(base)?;
    let mut skin = Skin::new(&neck);
    let mut placing = find(&neck, &skin, points_mm, options)?;
    let mut spec = neck.normalised().clone();
    spec.hand = placing.hand_found();
    let mut copied = None;
    for _ in 0..options.rounds {
        let gathered = placing.gather(&neck, &skin, points_mm, options);
        let placed = placing.report(&neck, &skin, &gathered, options)?;
        let made = copy(&spec, &placed.readings, &options.copying)?;
        neck = Neck::new(&made.specification)?;
        skin = Skin::new(&neck);
        spec.clone_from(&made.specification);
        copied = Some(made);
        placing.fit.field = Field::new(&neck);
        placing.settle(&skin, points_mm, options)?;
    }
    let gathered = placing.gather(&neck, &skin, points_mm, options);
    let placed = placing.report(&neck, &skin, &gathered, options)?;
    let copied = match copied {
        Some(copied) => copied,
        None => copy(&spec, &placed.readings, &options.copying)?,
    };
    Ok(CopiedCloud { placed, copied })
}
