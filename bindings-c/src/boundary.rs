//! The one way out of every function that can fail.

use crate::{NW_OK, NwError};
use neckwright::measure::{Error, Fault, Kind};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Runs the body of a function, turns a fault or a panic into a code and hands the error to `error_out`.
///
/// # Safety
/// `error_out` is null or valid for writing a pointer.
pub(crate) unsafe fn boundary(
    error_out: *mut *mut NwError,
    body: impl FnOnce() -> Result<(), NwError>,
) -> u32 {
    // Nothing that a panic could leave half done is used again: the arguments are the caller's own.
    let outcome = catch_unwind(AssertUnwindSafe(body)).unwrap_or_else(|payload| {
        let text = payload.downcast_ref::<&str>().copied();
        let text = text.or_else(|| payload.downcast_ref::<String>().map(String::as_str));
        Err(NwError::panic(text.unwrap_or("no message")))
    });
    let (code, handle) = match outcome {
        Ok(()) => (NW_OK, std::ptr::null_mut()),
        Err(error) if error_out.is_null() => (error.code(), std::ptr::null_mut()),
        Err(error) => (error.code(), Box::into_raw(Box::new(error))),
    };
    if !error_out.is_null() {
        // SAFETY: not null, and valid for writing by this function's own condition.
        unsafe { error_out.write(handle) };
    }
    code
}

/// The first `needed` elements of a caller's buffer.
///
/// # Errors
/// - `NW_NULL_POINTER`: the pointer is null and the capacity is not 0.
/// - `NW_BUFFER`: the capacity is less than needed.
///
/// # Safety
/// `pointer` is null or valid for reading and writing `capacity` elements, which nothing else uses during the call.
pub(crate) unsafe fn buffer<'a>(
    pointer: *mut f64,
    capacity: usize,
    needed: usize,
    argument: &str,
) -> Result<&'a mut [f64], NwError> {
    if pointer.is_null() && capacity > 0 {
        return Err(NwError::null_pointer(argument));
    }
    if capacity < needed {
        let fault = Fault::new(Kind::Buffer, argument, "the buffer has too few elements");
        return Err(Error::from(fault.value(capacity, "elements").range(needed as f64, None)).into());
    }
    if needed == 0 {
        return Ok(&mut []);
    }
    // SAFETY: not null, because the capacity is not 0; valid for `capacity` elements, which are no fewer, and not
    // shared, by this function's own condition; every pattern of bits is an f64.
    Ok(unsafe { std::slice::from_raw_parts_mut(pointer, needed) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{NW_PANIC, nw_error_free, nw_error_text};
    use std::ffi::CStr;

    #[test]
    fn a_panic_becomes_a_code() {
        let mut error = std::ptr::null_mut();
        // SAFETY: `error` is a local variable.
        let code = unsafe { boundary(&raw mut error, || panic!("seven frets too many")) };
        assert_eq!(code, NW_PANIC);
        // SAFETY: the handle was just made and is freed once.
        unsafe {
            let text = CStr::from_ptr(nw_error_text(error)).to_string_lossy().into_owned();
            assert!(text.ends_with("seven frets too many"), "{text}");
            nw_error_free(error);
        }
        // SAFETY: a null handle is allowed.
        assert_eq!(unsafe { boundary(std::ptr::null_mut(), || panic!("no handle")) }, NW_PANIC);
    }
}
