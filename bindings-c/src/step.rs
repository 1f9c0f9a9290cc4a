//! STEP files.

use crate::argument::text;
use crate::boundary::give;
use crate::colour::colours;
use crate::error::Failure;
use crate::handle;
use crate::solid::NwSolids;
use crate::{NwBytes, NwError};
use neckwright::exchange::{StepOptions, StepProtocol, step};
use std::ffi::c_char;

/// STEP AP242 (ISO 10303-242).
pub const NW_STEP_AP242: u32 = 0;
/// STEP AP214 (ISO 10303-214), for programs that read nothing newer.
pub const NW_STEP_AP214: u32 = 1;

/// The solids as a STEP file (ISO 10303-21): named products in one assembly called `name`, millimetres, the
/// same bytes every time. `colours` are `colour_count` times red, green and blue from 0 to 1, one for each
/// solid; null and 0 for the usual ones. `protocol` is one of `NW_STEP_…`.
///
/// Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of solids, with
/// `NW_UNKNOWN_CHOICE`, `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `solids` is null or a handle that is not freed yet; `name` is null or ends in a zero byte; `colours` is
/// null or valid for three times `colour_count` elements; `bytes_out` and `error_out` are null or valid for
/// writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_solids_step(
    solids: *const NwSolids,
    name: *const c_char,
    protocol: u32,
    colours: *const f64,
    colour_count: usize,
    bytes_out: *mut *mut NwBytes,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let solids = unsafe { handle::read(solids, "solids") }?;
        // SAFETY: by this function's own condition.
        let name = unsafe { text(name, "name") }?;
        // SAFETY: by this function's own condition.
        let colours = unsafe { self::colours(colours, colour_count, solids.solids.len()) }?;
        let protocol = match protocol {
            NW_STEP_AP242 => StepProtocol::Ap242,
            NW_STEP_AP214 => StepProtocol::Ap214,
            _ => {
                return Err(Failure::unknown_choice(
                    "protocol",
                    protocol,
                    "NW_STEP_AP242 (0) and NW_STEP_AP214 (1)",
                ));
            }
        };
        let options = StepOptions { protocol };
        let coloured: Vec<_> = solids.solids.iter().zip(colours).collect();
        Ok(handle::new::<NwBytes>(step(name, &coloured, &options)?.into_bytes()))
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(bytes_out, "bytes_out", error_out, body) }
}
