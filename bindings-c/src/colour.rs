//! Colours of solids and meshes.

use crate::argument::array;
use crate::error::Failure;
use neckwright::measure::{Error, Fault, Kind};

/// What is shown where nobody asks for another: a light and a dark wood by turns.
const USUAL: [[f64; 3]; 2] = [[0.72, 0.45, 0.28], [0.25, 0.16, 0.11]];

/// One colour for each of `needed` things; null for the usual ones.
///
/// # Errors
/// - `NW_BUFFER`: another number of colours;
/// - `NW_NULL_POINTER`, `NW_TOO_LARGE`.
///
/// # Safety
/// `colours` is null or valid for three times `count` elements.
pub(crate) unsafe fn colours(
    colours: *const f64,
    count: usize,
    needed: usize,
) -> Result<Vec<[f64; 3]>, Failure> {
    // SAFETY: by this function's own condition.
    let given = unsafe { array(colours.cast::<[f64; 3]>(), count, "colours") }?;
    if colours.is_null() {
        return Ok(USUAL.into_iter().cycle().take(needed).collect());
    }
    if count != needed {
        let fault = Fault::new(Kind::Buffer, "colours", "needs one colour for each part");
        let fault = fault.value(count, "colours").range(needed as f64, needed as f64);
        return Err(Error::from(fault.remedy("give one for each, or null for the usual ones")).into());
    }
    Ok(given.to_vec())
}
