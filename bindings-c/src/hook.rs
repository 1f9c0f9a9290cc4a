//! Where a test makes the library panic. Without the feature `test-panics`, which no released library has, there is nothing here.

/// A place where a panic may come.
#[cfg(not(feature = "test-panics"))]
#[inline(always)]
pub(crate) fn place() {}

#[cfg(feature = "test-panics")]
pub(crate) use armed::place;

#[cfg(feature = "test-panics")]
mod armed {
    use std::cell::Cell;

    thread_local! {
        /// How many places are passed before the panic comes, counting it; 0 for none.
        static LEFT: Cell<u32> = const { Cell::new(0) };
    }

    pub(crate) fn place() {
        let left = LEFT.get();
        LEFT.set(left.saturating_sub(1));
        assert!(left != 1, "a test asked for this");
    }

    /// Lets the calls of this thread panic at the place number `at` from now on, counted from 1; 0 lets them be. Gives back how
    /// many of those asked for before are left.
    ///
    /// cbindgen:ignore
    #[unsafe(no_mangle)]
    pub extern "C" fn nw_test_panic(at: u32) -> u32 {
        LEFT.replace(at)
    }
}
