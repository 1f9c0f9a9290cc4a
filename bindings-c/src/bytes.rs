//! Files as bytes.

use crate::NwError;
use crate::boundary::boundary;
use crate::handle::{self, Place, handle};

/// The bytes of a file: STEP, STL, 3MF, glTF, SVG, PDF, DXF or JSON. Freed by `nw_bytes_free`.
pub struct NwBytes(());

handle!(NwBytes keeps Vec<u8>);

/// The bytes. They live as long as the handle. Text formats do not end in a zero byte.
///
/// Writes the first byte's address to `data_out` (never null) and their number to `size_out`.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `bytes` is null or a handle that is not freed yet; `data_out`, `size_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_bytes_data(
    bytes: *const NwBytes,
    data_out: *mut *const u8,
    size_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let bytes = unsafe { handle::read(bytes, "bytes") }?;
        let (data, size) = (Place::of(data_out, "data_out")?, Place::of(size_out, "size_out")?);
        // SAFETY: not null, as was just seen; valid by this function's own condition.
        unsafe { data.write(bytes.as_ptr()) };
        // SAFETY: as above.
        unsafe { size.write(bytes.len()) };
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// Frees the bytes; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `bytes` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_bytes_free(bytes: *mut NwBytes) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(bytes) };
}
