//! What comes in through pointers: texts, arrays, and buffers for results.

use crate::error::Failure;
use neckwright::measure::{Error, Fault, Kind};
use std::ffi::{CStr, c_char};

/// The one of a number; `what` they are.
///
/// # Errors
/// - `NW_NOTHING_THERE`.
pub(crate) fn at<'a, T>(all: &'a [T], i: usize, argument: &str, what: &str) -> Result<&'a T, Failure> {
    all.get(i).ok_or_else(|| Failure::no_such(argument, i, all.len(), what))
}

/// A text of the caller.
///
/// # Errors
/// - `NW_NULL_POINTER`, `NW_NOT_UTF8`.
///
/// # Safety
/// `text` is null or ends in a zero byte, and is left alone during the call.
pub(crate) unsafe fn text<'a>(text: *const c_char, argument: &str) -> Result<&'a str, Failure> {
    if text.is_null() {
        return Err(Failure::null_pointer(argument));
    }
    crate::hook::place();
    // SAFETY: not null; ends in a zero byte by this function's own condition.
    let bytes = unsafe { CStr::from_ptr(text) };
    bytes.to_str().map_err(|e| Failure::not_utf8(argument, e.valid_up_to()))
}

/// A small document of options; null for those of an empty one.
///
/// # Errors
/// - as [`text`], and what the document's reader finds.
///
/// # Safety
/// As [`text`].
pub(crate) unsafe fn options<T: Default>(
    json: *const c_char,
    argument: &str,
    read: impl FnOnce(&str) -> Result<T, Error>,
) -> Result<T, Failure> {
    if json.is_null() {
        return Ok(T::default());
    }
    // SAFETY: by this function's own condition.
    Ok(read(unsafe { text(json, argument) }?)?)
}

/// An array of the caller; null is an empty one.
///
/// # Errors
/// - `NW_NULL_POINTER`: null and a count that is not 0;
/// - `NW_TOO_LARGE`: more bytes than there can be.
///
/// # Safety
/// `pointer` is null or valid for reading `count` elements, which nothing changes during the call.
pub(crate) unsafe fn array<'a, T>(
    pointer: *const T,
    count: usize,
    argument: &str,
) -> Result<&'a [T], Failure> {
    fits::<T>(pointer.is_null(), count, argument)?;
    if count == 0 {
        return Ok(&[]);
    }
    // SAFETY: not null, because the count is not 0; valid for `count` elements and not changed, by this function's own
    // condition; it is only used for numbers, of which every pattern of bits is one.
    Ok(unsafe { std::slice::from_raw_parts(pointer, count) })
}

#[inline]
fn fits<T>(null: bool, count: usize, argument: &str) -> Result<(), Failure> {
    if null && count > 0 {
        return Err(Failure::null_pointer(argument));
    }
    // No object is larger than this.
    if count > isize::MAX as usize / size_of::<T>() {
        let most = (isize::MAX as usize / size_of::<T>()) as f64;
        let fault = Fault::new(Kind::TooLarge, argument, "no array is so long");
        return Err(Error::from(fault.value(count, "elements").range(0.0, most)).into());
    }
    Ok(())
}

/// The first `needed` elements of a caller's buffer.
///
/// # Errors
/// - `NW_NULL_POINTER`: the pointer is null and the capacity is not 0.
/// - `NW_BUFFER`: the capacity is less than needed.
///
/// # Safety
/// `pointer` is null or valid for reading and writing `capacity` elements, which nothing else uses during the call.
pub(crate) unsafe fn buffer<'a, T>(
    pointer: *mut T,
    capacity: usize,
    needed: usize,
    argument: &str,
) -> Result<&'a mut [T], Failure> {
    crate::hook::place();
    fits::<T>(pointer.is_null(), capacity, argument)?;
    if capacity < needed {
        let fault = Fault::new(Kind::Buffer, argument, "the buffer has too few elements");
        return Err(Error::from(fault.value(capacity, "elements").range(needed as f64, None)).into());
    }
    if needed == 0 {
        return Ok(&mut []);
    }
    // SAFETY: not null, because the capacity is not 0; valid for `capacity` elements, which are no fewer, and not
    // shared, by this function's own condition; it is only used for numbers, of which every pattern of bits is one.
    Ok(unsafe { std::slice::from_raw_parts_mut(pointer, needed) })
}

/// Where an array or a buffer of the caller lies.
pub(crate) struct Span<'a> {
    from: usize,
    bytes: usize,
    argument: &'a str,
}

impl Span<'_> {
    fn meets(&self, other: &Self) -> bool {
        let [end, other_end] = [self, other].map(|s| s.from.saturating_add(s.bytes));
        self.bytes > 0 && other.bytes > 0 && self.from < other_end && other.from < end
    }
}

/// The place of `count` elements from a pointer on; null has none.
pub(crate) fn span<T>(pointer: *const T, count: usize, argument: &str) -> Span<'_> {
    let count = if pointer.is_null() { 0 } else { count };
    Span { from: pointer.addr(), bytes: count.saturating_mul(size_of::<T>()), argument }
}

/// Whether buffers lie apart from arrays of arguments and from each other.
///
/// # Errors
/// - `NW_OVERLAP`, of the first of `buffers` that overlaps one of `arrays` or an earlier one.
pub(crate) fn apart(arrays: &[Span<'_>], buffers: &[Span<'_>]) -> Result<(), Failure> {
    for (i, a) in buffers.iter().enumerate() {
        for b in arrays.iter().chain(&buffers[..i]) {
            if a.meets(b) {
                return Err(Failure::overlap(a.argument, b.argument));
            }
        }
    }
    Ok(())
}

/// Arguments and results of the same length; `names` are theirs.
///
/// # Errors
/// - as [`array`] and [`buffer`], and `NW_OVERLAP`.
///
/// # Safety
/// As [`array`] and [`buffer`] with `count` elements each, but that they may overlap.
#[inline]
pub(crate) unsafe fn along<'a>(
    given: *const f64,
    count: usize,
    out: *mut f64,
    names: [&str; 2],
) -> Result<(&'a [f64], &'a mut [f64]), Failure> {
    crate::hook::place();
    fits::<f64>(given.is_null(), count, names[0])?;
    fits::<f64>(out.is_null(), count, names[1])?;
    if span(given, count, names[0]).meets(&span(out, count, names[1])) {
        return Err(Failure::overlap(names[1], names[0]));
    }
    if count == 0 {
        return Ok((&[], &mut []));
    }
    // SAFETY: neither is null, because the count is not 0; both are valid for `count` elements by this function's own condition, and
    // apart, as was just seen; they are only used for numbers, of which every pattern of bits is one.
    Ok(unsafe { (std::slice::from_raw_parts(given, count), std::slice::from_raw_parts_mut(out, count)) })
}
