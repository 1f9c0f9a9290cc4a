//! The letters of a PDF: which it has, how wide they are, and how those that it lacks are spelled.
//!
//! Every reader of PDF has Helvetica in the encoding WinAnsi (ISO 32000-1, 9.6.2.2 and annex D.2).

use alloc::borrow::Cow;
use alloc::format;

/// Widths of the letters from code 32 on, in thousandths of the font's size; 0 where there is none. They are those of
/// the published metrics of Helvetica, read off a free face of the same metrics.
const WIDTHS: [u16; 224] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
    500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
    556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
    278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584, 0, 556, 0, 222, 556, 333, 1000, 556, 556, 333,
    1000, 667, 333, 1000, 0, 611, 0, 0, 222, 222, 333, 333, 350, 556, 1000, 333, 1000, 500, 333, 944, 0, 500,
    667, 278, 333, 556, 556, 556, 556, 260, 556, 333, 737, 370, 556, 584, 333, 737, 333, 400, 584, 333, 333,
    333, 556, 537, 278, 333, 333, 365, 556, 834, 834, 834, 611, 667, 667, 667, 667, 667, 667, 1000, 722, 667,
    667, 667, 667, 278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667,
    667, 611, 556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556, 278, 278, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 584, 611, 556, 556, 556, 556, 500, 556, 500,
];

/// The letters of the codes 128 to 159, as Unicode has them.
const HIGH: [char; 32] = [
    '\u{20ac}', '\0', '\u{201a}', '\u{192}', '\u{201e}', '\u{2026}', '\u{2020}', '\u{2021}', '\u{2c6}',
    '\u{2030}', '\u{160}', '\u{2039}', '\u{152}', '\0', '\u{17d}', '\0', '\0', '\u{2018}', '\u{2019}',
    '\u{201c}', '\u{201d}', '\u{2022}', '\u{2013}', '\u{2014}', '\u{2dc}', '\u{2122}', '\u{161}', '\u{203a}',
    '\u{153}', '\0', '\u{17e}', '\u{178}',
];

/// The code of a letter that the encoding has.
pub(super) fn code(c: char) -> Option<u8> {
    match c {
        ' '..='~' | '\u{a0}'..='\u{ff}' => u8::try_from(u32::from(c)).ok(),
        '\0' => None,
        _ => HIGH.iter().position(|h| *h == c).map(|i| 128 + i as u8),
    }
}

/// How a letter is spelled that the encoding lacks: by signs that builders know, where there are some, otherwise by its
/// number in Unicode, so that nothing is lost and two names never look the same.
pub(super) fn spelled(c: char) -> Cow<'static, str> {
    let known = match c {
        '\u{2033}' => "\"",
        '\u{2032}' => "'",
        '\u{2212}' => "\u{2013}",
        '\u{2010}' | '\u{2011}' => "-",
        '\u{2264}' => "<=",
        '\u{2265}' => ">=",
        '\u{2248}' => "~",
        '\u{2260}' => "not =",
        '\u{2300}' => "\u{d8}",
        '\u{2190}' => "<-",
        '\u{2192}' => "->",
        '\u{221a}' => "root ",
        '\u{215b}' => "1/8",
        '\u{215c}' => "3/8",
        '\u{215d}' => "5/8",
        '\u{215e}' => "7/8",
        '\u{2009}' | '\u{202f}' | '\u{2002}' | '\u{2003}' => " ",
        '\u{3bc}' => "\u{b5}",
        _ => return Cow::Owned(format!("[U+{:04X}]", u32::from(c))),
    };
    Cow::Borrowed(known)
}

/// The width of words in Helvetica, mm, letters that it lacks being spelled.
pub(super) fn width_mm(words: &str, font_size_mm: f64) -> f64 {
    let known = |c: char| code(c).map_or(0, |code| u32::from(WIDTHS[usize::from(code) - 32]));
    let width = |c: char| match code(c) {
        Some(_) => known(c),
        None => spelled(c).chars().map(known).sum(),
    };
    1e-3 * font_size_mm * f64::from(words.chars().map(width).sum::<u32>())
}

#[cfg(test)]
mod tests {
    use super::super::text::{Anchor, Text};
    use super::*;

    #[test]
    fn no_letter_of_helvetica_is_wider_than_the_room_kept_for_it() {
        for c in (32..=255).filter_map(char::from_u32).chain(HIGH) {
            if code(c).is_some() {
                let text = Text::new([0.0; 2], Anchor::Start, c);
                assert!(width_mm(&text.words, text.font_size_mm()) <= text.width_mm(), "{c:?}");
            }
        }
    }

    #[test]
    fn every_letter_has_a_code_or_is_spelled_in_letters_that_have() {
        for c in (32..0x30_000).filter_map(char::from_u32) {
            assert!(code(c).is_some() || spelled(c).chars().all(|s| code(s).is_some()), "{c:?}");
        }
        assert_eq!(spelled('木'), "[U+6728]");
        assert_eq!(code('é'), Some(0xe9));
        assert_eq!(code('€'), Some(0x80));
    }
}
