//! The error handle and its readers.

use crate::handle::{self, handle};
use crate::{
    NW_NOT_UTF8, NW_NOTHING_THERE, NW_NULL_POINTER, NW_OVERLAP, NW_PANIC, NW_UNKNOWN_CHOICE, NW_WRONG_HANDLE,
};
use neckwright::measure::{Error, Fault};
use std::ffi::{CString, c_char};

/// All the faults found in one call. Made by the call that failed; freed by `nw_error_free`.
pub struct NwError(());

handle!(NwError keeps Failure);

/// Why a call fails: what an error handle keeps. One address long, so that a call that succeeds moves nothing larger.
pub(crate) struct Failure(Box<Faults>);

struct Faults {
    faults: Vec<FaultTexts>,
    more: usize,
    text: CString,
}

struct FaultTexts {
    code: u32,
    path: CString,
    value: CString,
    unit: CString,
    lowest: f64,
    highest: f64,
    reason: CString,
    remedy: CString,
    message: CString,
}

/// A text for C: what comes after a zero byte would be lost, so zero bytes are shown as U+FFFD.
pub(crate) fn c_text(text: &str) -> CString {
    CString::new(text.replace('\0', "\u{fffd}")).unwrap_or_default()
}

impl FaultTexts {
    fn new(code: u32, fault: &Fault) -> Self {
        Self {
            code,
            path: c_text(&fault.path),
            value: c_text(&fault.value),
            unit: c_text(fault.unit),
            lowest: fault.lowest.unwrap_or(f64::NEG_INFINITY),
            highest: fault.highest.unwrap_or(f64::INFINITY),
            reason: c_text(&fault.reason),
            remedy: c_text(&fault.remedy),
            message: c_text(&fault.to_string()),
        }
    }
}

impl From<Error> for Failure {
    #[cold]
    fn from(error: Error) -> Self {
        Self(Box::new(Faults {
            faults: error.faults().iter().map(|f| FaultTexts::new(f.kind.code(), f)).collect(),
            more: error.more(),
            text: c_text(&error.to_string()),
        }))
    }
}

impl Failure {
    #[cold]
    fn of_boundary(code: u32, path: &str, reason: &str) -> Self {
        let message = c_text(&if path.is_empty() { reason.to_owned() } else { format!("{path}: {reason}") });
        let fault = FaultTexts {
            code,
            path: c_text(path),
            value: CString::default(),
            unit: CString::default(),
            lowest: f64::NEG_INFINITY,
            highest: f64::INFINITY,
            reason: c_text(reason),
            remedy: CString::default(),
            message: message.clone(),
        };
        Self(Box::new(Faults { faults: vec![fault], more: 0, text: message }))
    }

    fn value(mut self, value: &str) -> Self {
        self.0.faults.iter_mut().for_each(|fault| fault.value = c_text(value));
        self
    }

    fn remedy(mut self, remedy: &str) -> Self {
        let Faults { faults, text, .. } = &mut *self.0;
        for fault in faults {
            fault.remedy = c_text(remedy);
            fault.message = c_text(&format!("{}; {remedy}", fault.message.to_string_lossy()));
            text.clone_from(&fault.message);
        }
        self
    }

    /// Nothing has this number: there are `count` of them, counted from 0.
    pub(crate) fn no_such(argument: &str, index: usize, count: usize, what: &str) -> Self {
        let reason = format!("there are {count} {what}, counted from 0");
        let mut failure = Self::nothing_there(argument, &index.to_string(), &reason);
        for fault in &mut failure.0.faults {
            (fault.lowest, fault.highest) = (0.0, count as f64 - 1.0);
        }
        failure
    }

    pub(crate) fn null_pointer(argument: &str) -> Self {
        Self::of_boundary(NW_NULL_POINTER, argument, "the pointer is null")
    }

    pub(crate) fn wrong_handle(argument: &str, wanted: &str) -> Self {
        Self::of_boundary(NW_WRONG_HANDLE, argument, &format!("this is not a handle of type {wanted}"))
    }

    pub(crate) fn not_utf8(argument: &str, at: usize) -> Self {
        Self::of_boundary(NW_NOT_UTF8, argument, &format!("the text is not UTF-8 from byte {at} on"))
    }

    pub(crate) fn overlap(argument: &str, other: &str) -> Self {
        Self::of_boundary(NW_OVERLAP, argument, &format!("the buffer overlaps {other}"))
            .remedy("give one of its own")
    }

    pub(crate) fn unknown_choice(argument: &str, value: u32, choices: &str) -> Self {
        Self::of_boundary(NW_UNKNOWN_CHOICE, argument, &format!("{value} is none of {choices}"))
            .value(&value.to_string())
    }

    pub(crate) fn nothing_there(argument: &str, value: &str, reason: &str) -> Self {
        // A caller's text is as long as it likes; its beginning tells which it was.
        let mut shown: String = value.chars().take(80).collect();
        if shown.len() < value.len() {
            shown.push('…');
        }
        Self::of_boundary(NW_NOTHING_THERE, argument, &format!("{shown}: {reason}")).value(&shown)
    }

    pub(crate) fn panic(what: &str) -> Self {
        Self::of_boundary(NW_PANIC, "", &format!("an error of the library, please report it: {what}"))
    }

    pub(crate) fn code(&self) -> u32 {
        self.0.faults.first().map_or(NW_PANIC, |f| f.code)
    }
}

/// Reads something of one fault; `otherwise` for a null handle and for a number that no fault has.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
unsafe fn read<'a, T>(error: *const NwError, i: usize, f: fn(&'a FaultTexts) -> T, otherwise: T) -> T {
    // SAFETY: null or valid by this function's own condition, which each caller passes on to its C caller.
    unsafe { handle::read(error, "error") }.ok().and_then(|e| e.0.faults.get(i)).map_or(otherwise, f)
}

/// How many faults the handle keeps; 0 for a null handle.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_count(error: *const NwError) -> usize {
    // SAFETY: null or valid by the contract.
    unsafe { handle::read(error, "error") }.map_or(0, |e| e.0.faults.len())
}

/// How many more faults were found than the handle keeps.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_more(error: *const NwError) -> usize {
    // SAFETY: null or valid by the contract.
    unsafe { handle::read(error, "error") }.map_or(0, |e| e.0.more)
}

/// All the messages, one fault a line; an empty text for a null handle.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_text(error: *const NwError) -> *const c_char {
    // SAFETY: null or valid by the contract.
    unsafe { handle::read(error, "error") }.map_or(c"", |e| e.0.text.as_c_str()).as_ptr()
}

/// The code of fault number `i`, counted from 0; `NW_OK` where there is no such fault.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_code(error: *const NwError, i: usize) -> u32 {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.code, crate::NW_OK) }
}

/// The lowest value allowed; minus infinity where there is none.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_lowest(error: *const NwError, i: usize) -> f64 {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.lowest, f64::NEG_INFINITY) }
}

/// The highest value allowed; infinity where there is none.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_highest(error: *const NwError, i: usize) -> f64 {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.highest, f64::INFINITY) }
}

/// The field's path in the specification (`shaft.thickness[2].at`) or the argument's name; may be empty.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_path(error: *const NwError, i: usize) -> *const c_char {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.path.as_c_str(), c"") }.as_ptr()
}

/// The value given, as text; empty where nothing was given.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_value(error: *const NwError, i: usize) -> *const c_char {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.value.as_c_str(), c"") }.as_ptr()
}

/// The unit of the value and of the bounds; may be empty.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_unit(error: *const NwError, i: usize) -> *const c_char {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.unit.as_c_str(), c"") }.as_ptr()
}

/// What is wrong, or why the bound is where it is.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_reason(error: *const NwError, i: usize) -> *const c_char {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.reason.as_c_str(), c"") }.as_ptr()
}

/// What to do about it; may be empty.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_remedy(error: *const NwError, i: usize) -> *const c_char {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.remedy.as_c_str(), c"") }.as_ptr()
}

/// The whole message of one fault: path, value, reason, range and remedy.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_message(error: *const NwError, i: usize) -> *const c_char {
    // SAFETY: null or valid by the contract.
    unsafe { read(error, i, |f| f.message.as_c_str(), c"") }.as_ptr()
}

/// Frees the handle and every text read from it; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `error` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_error_free(error: *mut NwError) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(error) };
}

#[cfg(test)]
mod tests {
    use super::*;
    use neckwright::measure::Kind;

    #[test]
    fn a_zero_byte_does_not_cut_a_text() {
        let fault = Fault::new(Kind::UnknownKey, "na\0me", "no such key").value("a\0b", "");
        let error = Failure::from(Error::from(fault));
        assert_eq!(error.0.faults[0].path.to_str(), Ok("na\u{fffd}me"));
        assert_eq!(error.0.text.to_str(), Ok("na\u{fffd}me = a\u{fffd}b: no such key"));
    }
}
