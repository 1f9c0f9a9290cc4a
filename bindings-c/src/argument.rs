//! What comes in through pointers: texts, arrays, and buffers for results.

use crate::error::Failure;
use neckwright::measure::{Error, Fault, Kind, Length};
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
    let most = isize::MAX as usize / size_of::<T>();
    if count > most { Err(too_long(count, most, argument)) } else { Ok(()) }
}

#[cold]
fn too_long(count: usize, most: usize, argument: &str) -> Failure {
    let fault = Fault::new(Kind::TooLarge, argument, "no array is so long");
    Error::from(fault.value(count, "elements").range(0.0, most as f64)).into()
}

/// The elements of a caller's buffer that a result is written to. They need not be initialised, so that no reference to them is ever
/// made: what is written is copied there.
pub(crate) struct Out<T> {
    first: *mut T,
    count: usize,
}

impl<T: Copy> Out<T> {
    /// Writes all of them; there are as many values as were asked for.
    #[inline]
    pub fn write(self, values: &[T]) {
        assert_eq!(values.len(), self.count, "a result is as long as the room that was made for it");
        // SAFETY: by the condition of `buffer` or `along`, `first` is valid for writing `count` elements, which nothing else uses;
        // values that Rust owns or borrows do not lie there, and there are `count` of them, as was just seen.
        unsafe { std::ptr::copy_nonoverlapping(values.as_ptr(), self.first, self.count) };
    }

    /// The same of values that are made one by one.
    pub fn write_each(self, values: impl ExactSizeIterator<Item = T>) {
        assert_eq!(values.len(), self.count, "a result is as long as the room that was made for it");
        for (i, value) in values.take(self.count).enumerate() {
            // SAFETY: as above; `i` is less than `count`.
            unsafe { self.first.add(i).write(value) };
        }
    }
}

/// The first `needed` elements of a caller's buffer.
///
/// # Errors
/// - `NW_NULL_POINTER`: the pointer is null and the capacity is not 0.
/// - `NW_BUFFER`: the capacity is less than needed.
///
/// # Safety
/// `pointer` is null or valid for writing `capacity` elements, which nothing else uses during the call.
pub(crate) unsafe fn buffer<T>(
    pointer: *mut T,
    capacity: usize,
    needed: usize,
    argument: &str,
) -> Result<Out<T>, Failure> {
    crate::hook::place();
    fits::<T>(pointer.is_null(), capacity, argument)?;
    if capacity < needed {
        let fault = Fault::new(Kind::Buffer, argument, "the buffer has too few elements");
        return Err(Error::from(fault.value(capacity, "elements").range(needed as f64, None)).into());
    }
    // Null where nothing is needed; nothing is copied there then.
    let first = if needed == 0 { std::ptr::dangling_mut() } else { pointer };
    Ok(Out { first, count: needed })
}

/// A length of the caller, which has to be one: what has an answer for every number has none for what is no number.
///
/// # Errors
/// - those of [`Length::try_from_mm`], of the argument by its name.
pub(crate) fn length(mm: f64, argument: &str) -> Result<f64, Failure> {
    let named = |error: Error| {
        let mut fault = error.faults()[0].clone();
        argument.clone_into(&mut fault.path);
        Failure::from(Error::from(fault))
    };
    Ok(Length::try_from_mm(mm).map_err(named)?.mm())
}

/// The same of many; the fault names the first that is none by its index.
///
/// # Errors
/// - as [`length`].
pub(crate) fn lengths(all: &[f64], argument: &str) -> Result<(), Failure> {
    match all.iter().position(|mm| Length::try_from_mm(*mm).is_err()) {
        None => Ok(()),
        Some(i) => length(all[i], &format!("{argument}[{i}]")).map(drop),
    }
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
) -> Result<(&'a [f64], Out<f64>), Failure> {
    crate::hook::place();
    fits::<f64>(given.is_null(), count, names[0])?;
    fits::<f64>(out.is_null(), count, names[1])?;
    if span(given, count, names[0]).meets(&span(out, count, names[1])) {
        return Err(Failure::overlap(names[1], names[0]));
    }
    if count == 0 {
        return Ok((&[], Out { first: std::ptr::dangling_mut(), count }));
    }
    // SAFETY: not null, because the count is not 0; valid for `count` elements by this function's own condition, and apart from what is
    // written, as was just seen; it is only used for numbers, of which every pattern of bits is one.
    Ok((unsafe { std::slice::from_raw_parts(given, count) }, Out { first: out, count }))
}

/// Answers for many stations at once, each to its own place, where all of them have one.
///
/// # Errors
/// - those of `read`.
#[inline]
pub(crate) fn filled<E: Into<Failure>>(
    x: &[f64],
    out: Out<f64>,
    read: impl FnOnce(&[f64], &mut [f64]) -> Result<(), E>,
) -> Result<(), Failure> {
    // One station, the usual case, needs no room of its own.
    if x.len() == 1 {
        let mut one = [0.0];
        read(x, &mut one).map_err(Into::into)?;
        out.write(&one);
        return Ok(());
    }
    let mut all = vec![0.0; x.len()];
    read(x, &mut all).map_err(Into::into)?;
    out.write(&all);
    Ok(())
}

/// One answer after the other.
///
/// # Errors
/// - those of `f`, of the first station that has one.
#[inline]
pub(crate) fn each(x: &[f64], out: &mut [f64], f: impl Fn(f64) -> Result<f64, Error>) -> Result<(), Error> {
    x.iter().zip(out).try_for_each(|(x, out)| f(*x).map(|answer| *out = answer))
}
