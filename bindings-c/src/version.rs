//! Which version is at work.

use std::ffi::c_char;

const VERSION: &std::ffi::CStr =
    match std::ffi::CStr::from_bytes_with_nul(concat!(env!("CARGO_PKG_VERSION"), "\0").as_bytes()) {
        Ok(text) => text,
        Err(_) => panic!("a version holds no zero byte"),
    };

/// The version of the library, such as "0.1.0". The library and this interface have one version.
#[unsafe(no_mangle)]
pub extern "C" fn nw_version() -> *const c_char {
    VERSION.as_ptr()
}
