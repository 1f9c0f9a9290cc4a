//! Handles: what the library owns and the caller holds.

use crate::error::Failure;
use std::ptr::NonNull;

/// What a handle points to. The tag is its first field, so that a handle of one sort is told from another's.
#[repr(C)]
struct Tagged<T> {
    tag: u64,
    inner: T,
}

/// A sort of handle: an opaque type of the header.
pub(crate) trait Handle: Sized {
    /// What it keeps: any number of threads may read it at once, and any one of them may free it.
    type Inner: Send + Sync + 'static;
    /// No other sort has it.
    const TAG: u64;
    /// Its name in the header.
    const NAME: &'static str;
}

/// Says what a handle of the header keeps. Its tag is made of its name.
macro_rules! handle {
    ($name:ident keeps $inner:ty) => {
        impl $crate::handle::Handle for $name {
            type Inner = $inner;
            const TAG: u64 = $crate::handle::tag(stringify!($name));
            const NAME: &'static str = stringify!($name);
        }
    };
}

pub(crate) use handle;

/// A number for a name: FNV-1a of 64 bits.
pub(crate) const fn tag(name: &str) -> u64 {
    let (bytes, mut hash, mut i) = (name.as_bytes(), 0xcbf2_9ce4_8422_2325_u64, 0);
    while i < bytes.len() {
        hash = (hash ^ bytes[i] as u64).wrapping_mul(0x0000_0100_0000_01b3);
        i += 1;
    }
    hash
}

/// A new handle, which the caller frees by [`free`].
pub(crate) fn new<H: Handle>(inner: H::Inner) -> *mut H {
    crate::hook::place();
    Box::into_raw(Box::new(Tagged { tag: H::TAG, inner })).cast()
}

/// What the handle keeps.
///
/// # Errors
/// - `NW_NULL_POINTER`, `NW_WRONG_HANDLE`.
///
/// # Safety
/// `handle` is null or a handle of this library, of whatever sort, that is not freed yet and stays so for `'a`.
#[inline]
pub(crate) unsafe fn read<'a, H: Handle>(handle: *const H, argument: &str) -> Result<&'a H::Inner, Failure> {
    let tagged = handle.cast::<Tagged<H::Inner>>();
    if tagged.is_null() {
        return Err(Failure::null_pointer(argument));
    }
    // SAFETY: every handle of this library begins with its tag, and this one is not freed, by this function's own condition.
    if !tagged.is_aligned() || unsafe { tagged.cast::<u64>().read() } != H::TAG {
        return Err(Failure::wrong_handle(argument, H::NAME));
    }
    // SAFETY: by its tag it was made by `new::<H>`, is not freed, and nothing changes what a handle keeps.
    Ok(unsafe { &(*tagged).inner })
}

/// Frees a handle; null and a handle of another sort are left alone.
///
/// # Safety
/// As [`read`], and nothing uses the handle any more.
pub(crate) unsafe fn free<H: Handle>(handle: *mut H) {
    // SAFETY: by this function's own condition.
    if unsafe { read(handle, "") }.is_err() {
        return;
    }
    let tagged = handle.cast::<Tagged<H::Inner>>();
    // SAFETY: made by `new::<H>`, as `read` found, and not freed yet. The tag goes first, so that a use after this is likelier
    // found; it is written so that it is not left out as useless.
    unsafe {
        (&raw mut (*tagged).tag).write_volatile(0);
        drop(Box::from_raw(tagged));
    }
}

/// A place that the caller gave for one result.
pub(crate) struct Place<T>(NonNull<T>);

impl<T> Place<T> {
    /// # Errors
    /// - `NW_NULL_POINTER`.
    pub fn of(pointer: *mut T, argument: &str) -> Result<Self, Failure> {
        NonNull::new(pointer).map(Self).ok_or_else(|| Failure::null_pointer(argument))
    }

    /// # Safety
    /// The pointer is valid for writing.
    pub unsafe fn write(self, value: T) {
        // SAFETY: by this function's own condition. C has no unaligned pointers of a type.
        unsafe { self.0.as_ptr().write(value) };
    }
}
