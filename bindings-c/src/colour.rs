//! Colours of solids and meshes.

use crate::argument::array;
use crate::error::Failure;

/// What is shown where nobody asks for another: a light and a dark wood by turns.
const USUAL: [[f64; 3]; 2] = [[0.72, 0.45, 0.28], [0.25, 0.16, 0.11]];

/// One colour for each of `count` things; null for the usual ones.
///
/// # Errors
/// - `NW_TOO_LARGE`.
///
/// # Safety
/// `colours` is null or valid for three times `count` elements.
pub(crate) unsafe fn colours(colours: *const f64, count: usize) -> Result<Vec<[f64; 3]>, Failure> {
    if colours.is_null() {
        return Ok(USUAL.into_iter().cycle().take(count).collect());
    }
    // SAFETY: by this function's own condition.
    Ok(unsafe { array(colours.cast::<[f64; 3]>(), count, "colours") }?.to_vec())
}
