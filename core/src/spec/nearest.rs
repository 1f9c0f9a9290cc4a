//! The word that was probably meant.

use alloc::string::String;
use alloc::vec::Vec;

/// Words longer than this are not compared: no key is nearly so long.
const LONGEST: usize = 32;

/// The one of `known` that is nearest to `word`, where one is near enough to be meant.
///
/// Near enough: as many slips (a letter missing, added, changed, or two swapped) as a third of the known
/// word's letters, and three at most. Capitals, spaces, hyphens and underscores don't count, nor does a unit
/// at the end (`width_mm`).
pub(crate) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.len() > LONGEST {
        return None;
    }
    let bare = |text: &str| -> Vec<char> {
        text.chars().filter(|c| !matches!(c, ' ' | '-' | '_')).flat_map(char::to_lowercase).collect()
    };
    let lower: String = word.to_lowercase();
    let unitless = ["_mm", "_deg", "_in", "_cents"].iter().find_map(|unit| lower.strip_suffix(unit));
    let meant = bare(unitless.unwrap_or(word));
    known
        .into_iter()
        .map(|candidate| (slips(&meant, &bare(candidate)), candidate))
        .filter(|(slips, candidate)| {
            *slips <= (candidate.chars().count() / 3).clamp(1, 3) && *slips < meant.len()
        })
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, candidate)| candidate)
}

/// Letters missing, added, changed or swapped with their neighbour between two words (optimal string
/// alignment).
fn slips(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(b.len() + 1);
        row.push(i + 1);
        for (j, y) in b.iter().enumerate() {
            let mut least = (last[j] + usize::from(x != y)).min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                least = least.min(before[j - 1] + 1);
            }
            row.push(least);
        }
        before = core::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(a: &str, b: &str) -> usize {
        slips(&a.chars().collect::<Vec<_>>(), &b.chars().collect::<Vec<_>>())
    }

    #[test]
    fn slips_are_counted() {
        for (a, b, expected) in [
            ("", "", 0),
            ("", "abc", 3),
            ("abc", "", 3),
            ("width", "width", 0),
            ("widht", "width", 1),
            ("widt", "width", 1),
            ("widdth", "width", 1),
            ("kitten", "sitting", 3),
            ("ca", "abc", 3),
        ] {
            assert_eq!(count(a, b), expected, "{a} {b}");
            assert_eq!(count(b, a), expected, "{b} {a}");
        }
    }

    #[test]
    fn only_a_near_word_is_suggested() {
        let known = ["width", "thickness", "string_spread", "string_height", "at"];
        for (word, expected) in [
            ("widht", Some("width")),
            ("Width", Some("width")),
            ("width_mm", Some("width")),
            ("stringSpread", Some("string_spread")),
            ("string-heigth", Some("string_height")),
            ("thicknes", Some("thickness")),
            ("a", None),
            ("att", Some("at")),
            ("depth", None),
            ("", None),
            ("colour", None),
        ] {
            assert_eq!(nearest(word, known), expected, "{word}");
        }
        assert_eq!(nearest(&"width".repeat(1000), known), None);
    }
}
