//! The codes that functions return.

use std::ffi::{CStr, c_char};

/// Success.
pub const NW_OK: u32 = 0;
/// The text is not JSON.
pub const NW_SYNTAX: u32 = 1;
/// A key that no specification has.
pub const NW_UNKNOWN_KEY: u32 = 2;
/// A value of another type than the field takes.
pub const NW_WRONG_TYPE: u32 = 3;
/// A text that can't be read as a length, an angle, a station or a ratio.
pub const NW_UNREADABLE: u32 = 4;
/// A number outside its bounds.
pub const NW_OUT_OF_RANGE: u32 = 5;
/// A field that has to be given here and is not.
pub const NW_MISSING: u32 = 6;
/// Two fields that can't both hold.
pub const NW_CONFLICT: u32 = 7;
/// A document, text or list that is too large.
pub const NW_TOO_LARGE: u32 = 8;
/// A document written for a later format than this library reads.
pub const NW_NEWER_FORMAT: u32 = 9;
/// Numbers that are each in bounds but make no neck together.
pub const NW_GEOMETRY: u32 = 10;
/// A station that is not on the neck.
pub const NW_OUTSIDE_NECK: u32 = 11;
/// A buffer of the wrong size.
pub const NW_BUFFER: u32 = 12;
/// A cut that comes nearer to the finished neck than its allowance.
pub const NW_TOO_DEEP: u32 = 13;
/// A piece of timber that does not hold the neck.
pub const NW_TOO_SMALL: u32 = 14;
/// A pointer is null that may not be.
pub const NW_NULL_POINTER: u32 = 1000;
/// A text is not UTF-8.
pub const NW_NOT_UTF8: u32 = 1001;
/// An error of this library; please report it.
pub const NW_PANIC: u32 = 1002;
/// A handle of another type than the function takes.
pub const NW_WRONG_HANDLE: u32 = 1003;
/// A buffer for results that overlaps an array of arguments.
pub const NW_OVERLAP: u32 = 1004;
/// A number that is none of a function's choices.
pub const NW_UNKNOWN_CHOICE: u32 = 1005;
/// An index or a path that leads to nothing.
pub const NW_NOTHING_THERE: u32 = 1006;

/// Every code with its name, in the order of the codes.
const NAMES: &[(u32, &CStr)] = &[
    (NW_OK, c"ok"),
    (NW_SYNTAX, c"syntax"),
    (NW_UNKNOWN_KEY, c"unknown_key"),
    (NW_WRONG_TYPE, c"wrong_type"),
    (NW_UNREADABLE, c"unreadable"),
    (NW_OUT_OF_RANGE, c"out_of_range"),
    (NW_MISSING, c"missing"),
    (NW_CONFLICT, c"conflict"),
    (NW_TOO_LARGE, c"too_large"),
    (NW_NEWER_FORMAT, c"newer_format"),
    (NW_GEOMETRY, c"geometry"),
    (NW_OUTSIDE_NECK, c"outside_neck"),
    (NW_BUFFER, c"buffer"),
    (NW_TOO_DEEP, c"too_deep"),
    (NW_TOO_SMALL, c"too_small"),
    (NW_NULL_POINTER, c"null_pointer"),
    (NW_NOT_UTF8, c"not_utf8"),
    (NW_PANIC, c"panic"),
    (NW_WRONG_HANDLE, c"wrong_handle"),
    (NW_OVERLAP, c"overlap"),
    (NW_UNKNOWN_CHOICE, c"unknown_choice"),
    (NW_NOTHING_THERE, c"nothing_there"),
];

/// The short stable name of a code, "unknown" for a number that is none.
///
/// Since 0.1.
#[unsafe(no_mangle)]
pub extern "C" fn nw_code_name(code: u32) -> *const c_char {
    NAMES.iter().find(|(c, _)| *c == code).map_or(c"unknown", |(_, name)| name).as_ptr()
}

#[cfg(test)]
mod tests {
    use super::*;
    use neckwright::measure::Kind;

    #[test]
    fn every_kind_has_its_code_and_name() {
        for kind in Kind::ALL {
            let named = NAMES.iter().find(|(_, name)| name.to_str() == Ok(kind.name()));
            assert_eq!(named.map(|(code, _)| *code), Some(kind.code()), "{kind:?}");
        }
        assert_eq!(Kind::ALL.len(), NAMES.iter().filter(|(c, _)| (1..1000).contains(c)).count());
    }
}
