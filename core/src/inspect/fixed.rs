//! Numbers written with so many places, without the machinery of formatting: an inspection tells hundreds of them.

use alloc::string::String;
use core::fmt::Write;

/// Writes a whole number.
pub(crate) fn push_whole(out: &mut String, mut number: u64) {
    let mut digits = [0; 20];
    let mut from = digits.len();
    loop {
        from -= 1;
        digits[from] = b'0' + (number % 10) as u8;
        number /= 10;
        if number == 0 || from == 0 {
            break;
        }
    }
    out.push_str(core::str::from_utf8(&digits[from..]).unwrap_or_default());
}

/// Writes a number of tenths, hundredths or thousandths with its point.
fn push_parts(out: &mut String, parts: u64, places: u32) {
    let mut unit = 10_u64.pow(places);
    push_whole(out, parts / unit);
    out.push('.');
    while unit > 1 {
        let rest = parts % unit;
        unit /= 10;
        out.push(char::from(b'0' + (rest / unit) as u8));
    }
}

/// Writes a number with one, two or three places, of two that are as near the even one: what `{:.1}` to `{:.3}` write.
pub(crate) fn push_fixed(out: &mut String, value: f64, places: u32) {
    // The number is `mantissa / 2^shift`, exactly.
    let bits = value.to_bits();
    let exponent = (bits >> 52) & 0x7ff;
    let mantissa = (bits & ((1 << 52) - 1)) | (1 << 52);
    // So large a number of parts leaves room for its fraction, which never decides where the number is all but nothing.
    if !(1..=3).contains(&places) || exponent > 1075 - 11 {
        // Writing to a string can't fail.
        return write!(out, "{value:.*}", places as usize).unwrap_or_default();
    }
    let parts = if exponent <= 1075 - 64 {
        0
    } else {
        let shift = 1075 - exponent;
        let scaled = mantissa * 10_u64.pow(places);
        let (whole, rest, half) = (scaled >> shift, scaled & ((1 << shift) - 1), 1 << (shift - 1));
        whole + u64::from(rest > half || (rest == half && whole % 2 == 1))
    };
    if value.is_sign_negative() {
        out.push('-');
    }
    push_parts(out, parts, places);
}

/// Writes tenths as the shortest number that is as many: whole ones without a point.
pub(crate) fn push_tenths(out: &mut String, tenths: i64) {
    if tenths < 0 {
        out.push('-');
    }
    let tenths = tenths.unsigned_abs();
    if tenths.is_multiple_of(10) { push_whole(out, tenths / 10) } else { push_parts(out, tenths, 1) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::format;

    fn fixed(value: f64, places: u32) -> String {
        let mut out = String::new();
        push_fixed(&mut out, value, places);
        out
    }

    /// The standard library's own formatting, over random numbers of all sizes, ties and what lies right beside them.
    #[test]
    fn numbers_are_written_as_the_standard_library_does() {
        let mut state = 7_u64;
        let mut random = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            state >> 11
        };
        let mut values =
            alloc::vec![0.0, -0.0, 0.05, 0.5, 1e12, 1e15, 1e300, 5e-324, f64::INFINITY, f64::NAN];
        values.extend([0.125, 0.375, 0.25, 0.75, 2.5, 0.0625, 0.062_500_000_000_000_01, 0.000_5, 0.004_999]);
        for _ in 0..20_000 {
            let value = random() as f64 / (1_u64 << 53) as f64;
            let size = libm::exp2((random() % 120) as f64 - 70.0);
            let eighths = (random() % 4000) as f64 / 16.0;
            let tie = (random() % 20_000) as f64 / 1000.0 + 0.0005;
            values.extend([value, value * size, -value * size, eighths, tie, tie.next_up(), tie.next_down()]);
        }
        for value in values {
            assert_eq!(fixed(value, 1), format!("{value:.1}"), "{value:e}");
            assert_eq!(fixed(value, 2), format!("{value:.2}"), "{value:e}");
            assert_eq!(fixed(value, 3), format!("{value:.3}"), "{value:e}");
        }
        for tenths in (-20_000..20_000).chain([1_234_567_890_123, -98_765_432_109_876]) {
            let mut out = String::new();
            push_tenths(&mut out, tenths);
            assert_eq!(out, format!("{}", tenths as f64 / 10.0 + 0.0));
        }
        let mut out = String::new();
        [0, 9, 10, 12_345, u64::MAX].iter().for_each(|n| push_whole(&mut out, *n));
        assert_eq!(out, format!("091012345{}", u64::MAX));
    }
}
