//! Counts the memory that a test uses.
#![allow(missing_docs)]

use std::alloc::{GlobalAlloc, Layout, System};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Bytes in use.
pub static USED: AtomicUsize = AtomicUsize::new(0);
/// The most that were.
pub static MOST: AtomicUsize = AtomicUsize::new(0);

struct Counting;

// SAFETY: everything is passed on to the system's allocator.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        let used = USED.fetch_add(layout.size(), Ordering::Relaxed) + layout.size();
        MOST.fetch_max(used, Ordering::Relaxed);
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, pointer: *mut u8, layout: Layout) {
        USED.fetch_sub(layout.size(), Ordering::Relaxed);
        unsafe { System.dealloc(pointer, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;
