//! Can only be built while neither the library nor anything it depends on brings in the standard library: its panic
//! handler and its allocator would then be there twice. `tests/run` builds it; it is never run.
#![no_std]

extern crate alloc;

use core::alloc::{GlobalAlloc, Layout};

struct NoMemory;

// SAFETY: a null pointer is the answer that says there is no memory.
unsafe impl GlobalAlloc for NoMemory {
    unsafe fn alloc(&self, _: Layout) -> *mut u8 {
        core::ptr::null_mut()
    }
    unsafe fn dealloc(&self, _: *mut u8, _: Layout) {}
}

#[global_allocator]
static MEMORY: NoMemory = NoMemory;

#[panic_handler]
fn stop(_: &core::panic::PanicInfo<'_>) -> ! {
    loop {}
}

/// Uses the library, so that it is linked.
#[unsafe(no_mangle)]
pub extern "C" fn octave_mm(scale_mm: f64) -> f64 {
    neckwright::layout::fret_positions_mm(scale_mm, 12, 12).map_or(0.0, |positions| positions[11])
}
