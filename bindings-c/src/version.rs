//! Which versions are at work.

use std::ffi::{CStr, c_char};

/// A text and the zero byte that ends it.
const fn ended<const SIZE: usize>(text: &str) -> [u8; SIZE] {
    assert!(SIZE == text.len() + 1, "the zero byte is the last one");
    let mut bytes = [0; SIZE];
    let mut i = 0;
    while i < text.len() {
        bytes[i] = text.as_bytes()[i];
        i += 1;
    }
    bytes
}

const fn c_str(bytes: &[u8]) -> &CStr {
    match CStr::from_bytes_with_nul(bytes) {
        Ok(text) => text,
        Err(_) => panic!("a version holds no zero byte"),
    }
}

const OWN: &str = env!("CARGO_PKG_VERSION");
static OWN_BYTES: [u8; OWN.len() + 1] = ended(OWN);
static CORE_BYTES: [u8; neckwright::VERSION.len() + 1] = ended(neckwright::VERSION);
static VERSION: &CStr = c_str(&OWN_BYTES);
static CORE_VERSION: &CStr = c_str(&CORE_BYTES);

/// The version of this header: its first number.
pub const NW_VERSION_MAJOR: u32 = 0;
/// The version of this header: its second number.
pub const NW_VERSION_MINOR: u32 = 1;
/// The version of this header: its third number.
pub const NW_VERSION_PATCH: u32 = 0;

/// The version of this interface, such as "0.1.0": that of the library that is loaded, beside `NW_VERSION_MAJOR` and its like, those of the
/// header that was compiled.
///
/// Since 0.1.
#[unsafe(no_mangle)]
pub extern "C" fn nw_version() -> *const c_char {
    VERSION.as_ptr()
}

/// The version of the library that this interface translates, such as "0.1.0".
///
/// Since 0.1.
#[unsafe(no_mangle)]
pub extern "C" fn nw_core_version() -> *const c_char {
    CORE_VERSION.as_ptr()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_versions_are_told() {
        assert_eq!(VERSION.to_str(), Ok(OWN));
        assert_eq!(format!("{NW_VERSION_MAJOR}.{NW_VERSION_MINOR}.{NW_VERSION_PATCH}"), OWN);
        assert_eq!(CORE_VERSION.to_str(), Ok(neckwright::VERSION));
    }
}
