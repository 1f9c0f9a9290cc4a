//! Numbers read exactly: whole fractions all the way, and one rounding at the end.
//!
//! 25 1/2 in is 51·127/(2·5) mm, and that is divided once. Multiplying 25.5 by 25.4 would round twice and
//! miss 647.7.

use core::fmt;

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;

use super::{Fault, Kind};

/// The longest text that is read as a measure, in bytes.
pub const MAX_MEASURE_BYTES: usize = 100;

/// Integers up to here are exact as `f64`.
const EXACT_F64: u128 = 1 << 53;

/// A non-negative fraction and its sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Exact {
    negative: bool,
    numerator: u128,
    denominator: u128,
}

/// Why a text is not a number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Trouble {
    Empty,
    NoNumber,
    DecimalComma,
    ZeroBelow,
    TooManyDigits,
    TooLong,
    UnitMissing,
    Rest,
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Empty => "the text is empty",
            Self::NoNumber => "it does not begin with a number",
            Self::DecimalComma => "a decimal comma can't be told from a list",
            Self::ZeroBelow => "the number below the fraction's bar is 0",
            Self::TooManyDigits => "it has more digits than can be read exactly",
            Self::TooLong => "it is too long for a measure",
            Self::UnitMissing => "a fraction without a unit could be inches or millimetres",
            Self::Rest => "what follows the number has no meaning here",
        })
    }
}

impl Trouble {
    /// The fault of a `text` that should have been `what`, such as "a length".
    pub(super) fn fault(self, text: &str, what: &str, remedy: &str) -> Box<Fault> {
        let (kind, remedy) = match self {
            Self::TooLong => {
                (Kind::TooLarge, format!("write {what} in at most {MAX_MEASURE_BYTES} characters"))
            }
            Self::DecimalComma => (Kind::Unreadable, String::from("write a decimal point")),
            Self::TooManyDigits => (Kind::Unreadable, String::from("give fewer digits")),
            Self::UnitMissing => (Kind::Unreadable, String::from("add the unit, as in \"11/16 in\"")),
            _ => (Kind::Unreadable, String::from(remedy)),
        };
        Box::new(
            Fault::new(kind, "", format!("not {what}: {self}"))
                .value(super::fault::quoted(text), "")
                .remedy(remedy),
        )
    }
}

impl Exact {
    /// `sign` · (`whole` + `numerator`/`denominator`), where that can be held.
    pub(super) fn mixed(
        negative: bool,
        whole: u128,
        numerator: u128,
        denominator: u128,
    ) -> Result<Self, Trouble> {
        if denominator == 0 {
            return Err(Trouble::ZeroBelow);
        }
        let numerator = whole.checked_mul(denominator).and_then(|n| n.checked_add(numerator));
        Self::held(negative, numerator, Some(denominator))
    }

    /// Both below 2^127, so that a remainder can be doubled in [`Self::to_f64`].
    fn held(negative: bool, numerator: Option<u128>, denominator: Option<u128>) -> Result<Self, Trouble> {
        match (numerator, denominator) {
            (Some(numerator), Some(denominator)) if numerator < 1 << 127 && denominator < 1 << 127 => {
                Ok(Self { negative, numerator, denominator })
            }
            _ => Err(Trouble::TooManyDigits),
        }
    }

    /// This times `above`/`below`; `below` must not be 0.
    pub(super) fn times(self, above: u128, below: u128) -> Result<Self, Trouble> {
        Self::held(self.negative, self.numerator.checked_mul(above), self.denominator.checked_mul(below))
    }

    /// This over `other`.
    pub(super) fn over(self, other: Self) -> Result<Self, Trouble> {
        if other.numerator == 0 {
            return Err(Trouble::ZeroBelow);
        }
        let quotient = self.times(other.denominator, other.numerator)?;
        Ok(Self { negative: self.negative != other.negative, ..quotient })
    }

    /// The nearest `f64`, ties to even.
    ///
    /// Where both numbers are exact as `f64`, the one division is correctly rounded by IEEE 754. Otherwise
    /// the quotient is made bit by bit until it has 55 of them, the last one sticky: two more than an `f64`
    /// has, which is what rounding needs. The result lies between 2^-127 and 2^127, so it is never subnormal.
    pub(super) fn to_f64(self) -> f64 {
        let size = if self.numerator <= EXACT_F64 && self.denominator <= EXACT_F64 {
            self.numerator as f64 / self.denominator as f64
        } else {
            let mut quotient = self.numerator / self.denominator;
            let mut remainder = self.numerator % self.denominator;
            let mut scale = 1.0;
            while quotient < 1 << 54 && (quotient | remainder) != 0 {
                remainder *= 2;
                quotient *= 2;
                scale *= 0.5;
                if remainder >= self.denominator {
                    remainder -= self.denominator;
                    quotient += 1;
                }
            }
            (quotient | u128::from(remainder != 0)) as f64 * scale
        };
        if self.negative { -size } else { size }
    }
}

/// A number at the beginning of a text, and what follows it.
pub(super) struct Quantity<'a> {
    pub(super) value: Exact,
    /// Whether it was written as a fraction.
    pub(super) fraction: bool,
    /// What follows, trimmed.
    pub(super) rest: &'a str,
}

/// Reads a decimal, a fraction or a mixed number from the beginning of `text`.
///
/// `43`, `-4.3`, `.5`, `11/16`, `1 11/16`, `1-11/16`.
pub(super) fn quantity(text: &str) -> Result<Quantity<'_>, Trouble> {
    if text.len() > MAX_MEASURE_BYTES {
        return Err(Trouble::TooLong);
    }
    let text = text.trim();
    if text.is_empty() {
        return Err(Trouble::Empty);
    }
    let (negative, text) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let (first, rest) = digits(text);
    if first.is_empty() && !rest.strip_prefix('.').is_some_and(starts_with_digit) {
        return Err(Trouble::NoNumber);
    }
    if rest.strip_prefix(',').is_some_and(starts_with_digit) {
        return Err(Trouble::DecimalComma);
    }
    if let Some(rest) = rest.strip_prefix('.') {
        let (decimals, rest) = digits(rest);
        let decimals = decimals.trim_end_matches('0');
        let power = u32::try_from(decimals.len()).ok().and_then(|n| 10_u128.checked_pow(n));
        let power = power.ok_or(Trouble::TooManyDigits)?;
        let value = Exact::mixed(negative, number(first)?, number(decimals)?, power)?;
        return Ok(Quantity { value, fraction: false, rest: rest.trim_start() });
    }
    if let Some((below, rest)) = under_bar(rest) {
        let value = Exact::mixed(negative, 0, number(first)?, number(below)?)?;
        return Ok(Quantity { value, fraction: true, rest: rest.trim_start() });
    }
    if let Some((above, below, rest)) = joined_fraction(rest) {
        let value = Exact::mixed(negative, number(first)?, number(above)?, number(below)?)?;
        return Ok(Quantity { value, fraction: true, rest: rest.trim_start() });
    }
    Ok(Quantity {
        value: Exact::mixed(negative, number(first)?, 0, 1)?,
        fraction: false,
        rest: rest.trim_start(),
    })
}

/// ` 11/16 in` gives `11`, `16` and ` in`: spaces or one hyphen join a whole number and a fraction.
fn joined_fraction(text: &str) -> Option<(&str, &str, &str)> {
    let joined = text.strip_prefix('-').unwrap_or_else(|| text.trim_start());
    let (above, rest) = digits(joined);
    if joined.len() == text.len() || above.is_empty() {
        return None;
    }
    under_bar(rest).map(|(below, rest)| (above, below, rest))
}

/// `/16 in` gives `16` and ` in`.
fn under_bar(text: &str) -> Option<(&str, &str)> {
    let (below, rest) = digits(text.strip_prefix('/')?);
    if below.is_empty() { None } else { Some((below, rest)) }
}

fn starts_with_digit(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
}

/// The digits at the beginning of `text`, and the rest.
fn digits(text: &str) -> (&str, &str) {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    text.split_at(end)
}

/// The number that `digits` writes; none is 0.
fn number(digits: &str) -> Result<u128, Trouble> {
    if digits.is_empty() {
        return Ok(0);
    }
    digits.parse().map_err(|_| Trouble::TooManyDigits)
}

/// Reads a ratio of two numbers, `18/17` or `3:2`, or a single number.
pub(crate) fn read_ratio(text: &str) -> Result<f64, Box<Fault>> {
    let ratio = || {
        let above = quantity(text)?;
        match above.rest.strip_prefix(':') {
            None if above.rest.is_empty() => Ok(above.value.to_f64()),
            None => Err(Trouble::Rest),
            Some(below) => {
                let below = quantity(below)?;
                if below.rest.is_empty() {
                    Ok(above.value.over(below.value)?.to_f64())
                } else {
                    Err(Trouble::Rest)
                }
            }
        }
    };
    ratio().map_err(|trouble| trouble.fault(text, "a ratio", "write it like 1.5, \"3:2\" or \"18/17\""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use proptest::prelude::*;

    /// The nearest `f64` found by comparing, in integers only: `value` is the nearest to `n/d` exactly where
    /// the midpoints to both its neighbours lie on the other sides. Works for 2^-64 < n/d < 2^64 and n, d
    /// below 2^60 or so; an independent way round from the division above.
    fn is_nearest(n: u128, d: u128, value: f64) -> bool {
        // value = mantissa · 2^power
        let bits = value.to_bits();
        let mantissa = u128::from(bits & ((1 << 52) - 1)) | 1 << 52;
        let power = i32::try_from(bits >> 52).unwrap() - 1075;
        // |2n - (2m±1)·2^p·d| compared through n·2 against (2m ± 1)·d·2^p
        let below = compare(2 * n, (2 * mantissa - 1) * d, power);
        let above = compare(2 * n, (2 * mantissa + 1) * d, power);
        let even = mantissa % 2 == 0;
        // Below a power of two the neighbour is nearer than assumed; then it is only harder to be right.
        (below == core::cmp::Ordering::Greater || even && below == core::cmp::Ordering::Equal)
            && (above == core::cmp::Ordering::Less || even && above == core::cmp::Ordering::Equal)
    }

    /// `a` against `b`·2^power, on big integers of base 2^32.
    fn compare(a: u128, b: u128, power: i32) -> core::cmp::Ordering {
        let shifted = |value: u128, by: u32| {
            let mut words = [0_u64; 16];
            for bit in 0..128 {
                if value >> bit & 1 == 1 {
                    let to = bit as usize + by as usize;
                    words[to / 32] |= 1 << (to % 32);
                }
            }
            words.reverse();
            words
        };
        let (up_a, up_b) = if power < 0 { (power.unsigned_abs(), 0) } else { (0, power.unsigned_abs()) };
        shifted(a, up_a).cmp(&shifted(b, up_b))
    }

    #[test]
    fn the_comparison_itself_tells_neighbours_apart() {
        assert!(is_nearest(1, 3, 1.0 / 3.0));
        assert!(!is_nearest(1, 3, f64::from_bits((1.0_f64 / 3.0).to_bits() + 1)));
        assert!(!is_nearest(1, 3, f64::from_bits((1.0_f64 / 3.0).to_bits() - 1)));
    }

    #[test]
    fn a_tie_goes_to_even() {
        // 2^53 + 1 lies halfway between 2^53 and 2^53 + 2; the same over 3 takes the long way round.
        let tie = |n: u128, d: u128| Exact { negative: false, numerator: n, denominator: d }.to_f64();
        assert_eq!(tie((1 << 53) + 1, 1), 9_007_199_254_740_992.0);
        assert_eq!(tie((1 << 53) + 3, 1), 9_007_199_254_740_996.0);
        assert_eq!(tie(((1 << 53) + 1) * 3, 3), 9_007_199_254_740_992.0);
        assert_eq!(tie(((1 << 53) + 1) * 3 + 1, 3), 9_007_199_254_740_994.0);
        assert_eq!(tie(0, (1 << 53) + 1), 0.0);
        assert_eq!(tie(1, (1 << 127) - 1), 2f64.powi(-127));
        assert_eq!(tie((1 << 127) - 1, 1), 2f64.powi(127));
    }

    proptest! {
        #![proptest_config(seeded(256))]

        #[test]
        fn division_is_correctly_rounded(n in 1_u128..1 << 60, d in 1_u128..1 << 60) {
            let value = Exact { negative: false, numerator: n, denominator: d }.to_f64();
            prop_assert!(is_nearest(n, d, value), "{n}/{d} = {value}");
        }

        #[test]
        fn a_small_quotient_divided_the_long_way_is_the_short_one(n in 1_u128..=EXACT_F64, d in 1_u128..=EXACT_F64) {
            let long = Exact { negative: false, numerator: n << 60, denominator: d << 60 }.to_f64();
            prop_assert_eq!(long, n as f64 / d as f64);
        }

        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}") {
            let _ = quantity(&text);
        }
    }
}
