//! Words as DXF has them.

use alloc::format;
use alloc::string::String;

/// A text as the entity TEXT holds it: ASCII, other letters by their number in Unicode, those beyond four digits as the
/// two halves that UTF-16 has them in. Signs that a reader would take for an instruction are written by number too.
pub(super) fn encoded(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    let mut last = ' ';
    for c in words.chars() {
        match c {
            // `^` begins a control character, unless a space follows.
            '^' => out.push_str("^ "),
            '\\' => out.push_str("\\U+005C"),
            // `%%` begins a sign.
            '%' if last == '%' => out.push_str("\\U+0025"),
            ' '..='~' => out.push(c),
            '\u{0}'..='\u{1f}' | '\u{7f}' => out.push('?'),
            c => c.encode_utf16(&mut [0; 2]).iter().for_each(|u| out.push_str(&format!("\\U+{u:04X}"))),
        }
        last = c;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_hold_nothing_that_is_taken_for_an_instruction() {
        assert_eq!(encoded("2″ é"), "2\\U+2033 \\U+00E9");
        assert_eq!(encoded("🎸"), "\\U+D83C\\U+DFB8");
        assert_eq!(encoded("100 %%d ^J \\P"), "100 %\\U+0025d ^ J \\U+005CP");
    }
}
