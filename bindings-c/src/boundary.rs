//! The one way out of every function that can fail.

use crate::error::Failure;
use crate::handle::Place;
use crate::{NW_OK, NW_PANIC, NwError, handle};
use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Runs the body of a function, turns a fault or a panic into a code and hands the error to `error_out`.
///
/// # Safety
/// `error_out` is null or valid for writing a pointer.
#[inline]
pub(crate) unsafe fn boundary(
    error_out: *mut *mut NwError,
    body: impl FnOnce() -> Result<(), Failure>,
) -> u32 {
    let body = || {
        crate::hook::place();
        body()
    };
    // Nothing that a panic could leave half done is used again: handles can't be changed, and what is made is dropped.
    match catch_unwind(AssertUnwindSafe(body)) {
        Ok(Ok(())) => {
            if !error_out.is_null() {
                // SAFETY: not null, and valid for writing by this function's own condition.
                unsafe { error_out.write(std::ptr::null_mut()) };
            }
            NW_OK
        }
        // SAFETY: by this function's own condition.
        other => unsafe { failed(other, error_out) },
    }
}

/// What is left to do where a body fails or panics; apart, so that success does not carry it along.
///
/// # Safety
/// As [`boundary`].
#[cold]
#[inline(never)]
unsafe fn failed(outcome: std::thread::Result<Result<(), Failure>>, error_out: *mut *mut NwError) -> u32 {
    let failure = match outcome {
        Ok(Ok(())) => return NW_OK,
        Ok(Err(failure)) => failure,
        Err(payload) => panicked(&*payload),
    };
    let code = failure.code();
    if error_out.is_null() {
        return code;
    }
    // What is left to do is to put the failure somewhere; should even that panic, there is a code and no handle.
    let (code, error) = catch_unwind(AssertUnwindSafe(|| (code, handle::new::<NwError>(failure))))
        .unwrap_or((NW_PANIC, std::ptr::null_mut()));
    // SAFETY: not null, as was just seen, and valid for writing by this function's own condition.
    unsafe { error_out.write(error) };
    code
}

fn panicked(payload: &(dyn Any + Send)) -> Failure {
    let text = payload.downcast_ref::<&str>().copied();
    let text = text.or_else(|| payload.downcast_ref::<String>().map(String::as_str));
    Failure::panic(text.unwrap_or("no message"))
}

/// Runs a body that makes one result, which is written to `out` on success.
///
/// # Safety
/// `out` and `error_out` are null or valid for writing.
#[inline]
pub(crate) unsafe fn give<T>(
    out: *mut T,
    argument: &str,
    error_out: *mut *mut NwError,
    body: impl FnOnce() -> Result<T, Failure>,
) -> u32 {
    let body = || {
        let place = Place::of(out, argument)?;
        let made = body()?;
        // SAFETY: not null, as was just seen; valid by this function's own condition.
        unsafe { place.write(made) };
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{nw_error_free, nw_error_text};
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
