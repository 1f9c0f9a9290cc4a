//! Numbers as SVG and PDF have them.

use alloc::format;
use alloc::string::String;

/// A number with at most four decimals, never `-0`.
pub(super) fn number(value: f64) -> String {
    // Adding 0 makes a negative zero a plain one.
    let text = format!("{:.4}", libm::round(value * 1e4) / 1e4 + 0.0);
    String::from(text.trim_end_matches('0').trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_have_no_negative_zero() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-0.00004, "0"),
            (1.5, "1.5"),
            (100.0, "100"),
            (1.0 / 3.0, "0.3333"),
            (-2.00009, "-2.0001"),
        ] {
            assert_eq!(number(value), text);
        }
    }
}
