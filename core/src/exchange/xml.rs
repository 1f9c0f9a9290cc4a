//! Texts in XML.

use alloc::string::String;

/// A text as an element or an attribute of XML 1.0 may hold it: its marks as entities, and U+FFFD for each character that XML
/// has no way to write, or whose meaning as a break an attribute would lose.
pub(crate) fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{0}'..='\u{1f}' | '\u{7f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_breaks_the_document() {
        assert_eq!(escaped("a<b & \"c\"\u{1}"), "a&lt;b &amp; &quot;c&quot;\u{fffd}");
    }
}
