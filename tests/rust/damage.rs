//! Damages documents: the hand of the fuzzer.

/// A xorshift generator: the same documents from the same seed, everywhere.
pub struct Dice(u64);

impl Dice {
    /// A generator from a seed; 0 stands for another one.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(if seed == 0 { 0x9e37_79b9_7f4a_7c15 } else { seed })
    }

    /// The next 64 bits.
    pub fn roll(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }

    /// A number below `n`; 0 where `n` is 0.
    pub fn below(&mut self, n: usize) -> usize {
        if n == 0 { 0 } else { (self.roll() >> 11) as usize % n }
    }

    /// A number from 0 up to 1.
    pub fn share(&mut self) -> f64 {
        (self.roll() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn one_of<'a>(&mut self, texts: &[&'a str]) -> &'a str {
        texts[self.below(texts.len())]
    }
}

/// Values that have broken readers of JSON and of lengths before.
const NASTY: &[&str] = &[
    "0",
    "-0.0",
    "-1",
    "1",
    "61",
    "1e308",
    "-1e308",
    "1e-308",
    "5e-324",
    "1e400",
    "-1e400",
    "1e-400",
    "NaN",
    "Infinity",
    "-Infinity",
    "9007199254740993",
    "18446744073709551616",
    "-9223372036854775809",
    "4294967296",
    "0.1e",
    "01",
    "1.",
    "null",
    "true",
    "\"\"",
    "[]",
    "{}",
    "[[]]",
    "[0]",
    "{\"\":0}",
    "\"nut\"",
    "\"fret 0\"",
    "\"fret 60\"",
    "\"fret -1\"",
    "\"fret 1e9\"",
    "\"fret NaN\"",
    "\"fret 7.5\"",
    "\"1/0 in\"",
    "\"1 1/64 in\"",
    "\"99999999999999999999 in\"",
    "\"1/18446744073709551616 in\"",
    "\"0.86 in\"",
    "\"-5 mm\"",
    "\"1e308 cm\"",
    "\"43 mm mm\"",
    "\"4 3/0\\\"\"",
    "\"inf mm\"",
    "\"\\u0000\"",
    "\"\\ud800\"",
    "\"\u{2044}\"",
    "\"1 in 0\"",
    "\"10\u{b0}\"",
    "\"18/17\"",
    "\"1/0\"",
    "\"3:2\"",
    "\"C\"",
    "\"left\"",
    "\"flat\"",
    "\"table\"",
    "\"eighteen\"",
    "\"scarf\"",
    "\"glued on\"",
    "\"ball\"",
    "\"CAMI\"",
    "\"back\"",
];

/// Where the values of a document are, as ranges of bytes: numbers, texts and words. Keys are among them.
fn values(text: &str) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let (mut found, mut i) = (Vec::new(), 0);
    while i < bytes.len() {
        let begin = i;
        if bytes[i] == b'"' {
            i += 1;
            while i < bytes.len() && bytes[i] != b'"' {
                i += if bytes[i] == b'\\' { 2 } else { 1 };
            }
            i = (i + 1).min(bytes.len());
        } else {
            while i < bytes.len() && (bytes[i].is_ascii_alphanumeric() || b"+-.".contains(&bytes[i])) {
                i += 1;
            }
        }
        if i > begin {
            found.push((begin, i));
        } else {
            i += 1;
        }
    }
    found
}

/// The nearest border between two characters that is not above `at`.
fn border(text: &str, at: usize) -> usize {
    (0..=at.min(text.len())).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0)
}

fn any_range(text: &str, dice: &mut Dice) -> (usize, usize) {
    let a = border(text, dice.below(text.len() + 1));
    let b = border(text, a + dice.below(40));
    (a, b.max(a))
}

fn any_value(text: &str, dice: &mut Dice) -> Option<(usize, usize)> {
    let values = values(text);
    let (a, b) = *values.get(dice.below(values.len()))?;
    Some((border(text, a), border(text, b)))
}

/// A number near the one given, in the same form: what slips through where nonsense does not.
fn nearby(number: f64, dice: &mut Dice) -> String {
    match dice.below(6) {
        0 => format!("{}", number * 2.0),
        1 => format!("{}", number / 2.0),
        2 => format!("{}", -number),
        3 => format!("{}", number + 1.0),
        4 => format!("{:e}", number * (0.9 + dice.below(2000) as f64 * 1e-4)),
        _ => format!("{}", f64::from_bits(number.to_bits() ^ 1)),
    }
}

/// One act of damage.
pub fn damage(text: &mut String, dice: &mut Dice) {
    match dice.below(12) {
        0 => text.truncate(border(text, dice.below(text.len() + 1))),
        1 => {
            let (a, b) = any_range(text, dice);
            text.replace_range(a..b, "");
        }
        2 => {
            let (a, b) = any_range(text, dice);
            let copy = text[a..b].to_owned();
            text.insert_str(b, &copy);
        }
        3 => {
            let at = border(text, dice.below(text.len() + 1));
            text.insert_str(
                at,
                dice.one_of(&["{", "}", "[", "]", ",", ":", "\"", "\\", "-", "e", "\u{0}", "\u{fc}"]),
            );
        }
        4 => {
            let depth = [8, 127, 128, 129, 5000][dice.below(5)];
            let nest = format!("{}0{}", "[".repeat(depth), "]".repeat(depth));
            match any_value(text, dice) {
                Some((a, b)) => text.replace_range(a..b, &nest),
                None => *text = nest,
            }
        }
        5 => {
            let long = match dice.below(3) {
                0 => format!("\"{}\"", "x".repeat(dice.below(100_000))),
                1 => format!("[{}0]", "0,".repeat(dice.below(20_000))),
                _ => "9".repeat(dice.below(5000) + 1),
            };
            if let Some((a, b)) = any_value(text, dice) {
                text.replace_range(a..b, &long);
            }
        }
        6..=8 => {
            let nasty = dice.one_of(NASTY);
            if let Some((a, b)) = any_value(text, dice) {
                text.replace_range(a..b, nasty);
            }
        }
        _ => {
            let Some((a, b)) = any_value(text, dice) else { return };
            if let Ok(number) = text[a..b].parse::<f64>() {
                let near = nearby(number, dice);
                text.replace_range(a..b, &near);
            }
        }
    }
}
