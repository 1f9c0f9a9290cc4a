//! Words on a sheet.

use alloc::string::String;
use alloc::vec::Vec;

use super::path::{Point, moved};

/// Height of the capitals of ordinary words, mm: to be read at arm's length.
pub const TEXT_MM: f64 = 2.5;

/// Height of a capital as a part of the font's size, in the common sans-serif faces 0.71 to 0.73.
pub(super) const CAPITAL: f64 = 0.72;

/// Which point of the words lies at their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// Their beginning.
    Start,
    /// Their middle.
    Middle,
    /// Their end.
    End,
}

/// One line of words, level.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Its place on the line that the letters stand on.
    pub at: Point,
    /// Height of its capitals, mm.
    pub height_mm: f64,
    /// Which point of it lies there.
    pub anchor: Anchor,
    /// The words.
    pub words: String,
}

impl Text {
    /// Words of the ordinary height.
    #[must_use]
    pub fn new(at: Point, anchor: Anchor, words: impl Into<String>) -> Self {
        Self { at, height_mm: TEXT_MM, anchor, words: words.into() }
    }

    /// The same words in another height.
    #[must_use]
    pub fn high(mut self, height_mm: f64) -> Self {
        self.height_mm = height_mm;
        self
    }

    /// Size of the font, mm.
    #[must_use]
    pub fn font_size_mm(&self) -> f64 {
        self.height_mm / CAPITAL
    }

    /// Width to keep free for the words, mm: what they take in the widest of the common sans-serif faces.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        width_mm(&self.words, self.height_mm)
    }

    /// The room they need, as its lower left and its upper right corner; letters that reach below the line
    /// are in it.
    #[must_use]
    pub fn room(&self) -> [Point; 2] {
        let width = self.width_mm();
        let left = self.at[0]
            - match self.anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => 0.5 * width,
                Anchor::End => width,
            };
        let (down, up) = (0.32 * self.height_mm, 1.05 * self.height_mm);
        [[left, self.at[1] - down], [left + width, self.at[1] + up]]
    }

    pub(super) fn moved(mut self, by: Point) -> Self {
        self.at = moved(self.at, by);
        self
    }
}

/// Widths in thousandths of the font's size, rounded up, of a wide sans-serif face.
const fn width_of(c: char) -> u32 {
    match c {
        'i' | 'j' | 'l' | '\'' => 285,
        ' ' | ',' | '.' | ';' | ':' | '|' | 'I' => 340,
        'f' | 't' | 'r' | '-' | '(' | ')' | '/' | '!' => 420,
        's' | 'c' | 'z' | '"' | 'J' => 550,
        '@' => 1020,
        'm' | '%' | 'æ' | '—' => 1000,
        'w' | '+' | '=' | '<' | '>' | '×' => 840,
        'M' | 'W' => 990,
        'A'..='Z' => 790,
        'a'..='z' | '0'..='9' | '–' | '°' | 'ß'..='ÿ' => 640,
        '!'..='~' => 840,
        _ => 1000,
    }
}

pub(super) fn width_mm(words: &str, height_mm: f64) -> f64 {
    let thousandths: f64 = words.chars().map(|c| f64::from(width_of(c))).sum();
    thousandths * 1e-3 * height_mm / CAPITAL
}

/// Breaks words into lines no wider than `width_mm`; a single word that is wider is broken anywhere.
pub(super) fn wrapped(words: &str, height_mm: f64, width: f64) -> Vec<String> {
    let fits = |line: &str| width_mm(line, height_mm) <= width;
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        let space = if line.is_empty() { "" } else { " " };
        let longer = alloc::format!("{line}{space}{word}");
        if fits(&longer) {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(core::mem::take(&mut line));
        }
        for c in word.chars() {
            line.push(c);
            if !fits(&line) && line.chars().count() > 1 {
                line.pop();
                lines.push(core::mem::take(&mut line));
                line.push(c);
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_no_wider_than_asked_and_lose_nothing() {
        let words = "Evening-class six-string in cherry, WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW and more";
        let lines = wrapped(words, 2.5, 40.0);
        assert!(lines.iter().all(|l| width_mm(l, 2.5) <= 40.0), "{lines:?}");
        let letters = |s: &str| s.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(words));
        assert!(wrapped("", 2.5, 40.0).is_empty());
        assert_eq!(wrapped("W", 2.5, 0.1), ["W"]);
    }
}
