//! Whether an answer holds only numbers.

use std::fmt::Debug;

/// Whether every number in an answer is one, read off the way it prints.
///
/// # Errors
/// - an answer that holds NaN or an infinity.
pub fn sound(name: &str, answer: &impl Debug) -> Result<(), String> {
    let text = format!("{answer:?}");
    let wrong = text
        .match_indices(['N', 'i'])
        .find(|(i, _)| ["NaN", "inf"].iter().any(|word| text[*i..].starts_with(word) && whole(&text, *i)));
    match wrong {
        Some((i, _)) => {
            let mut before: Vec<char> = text[..i].chars().rev().take(60).collect();
            before.reverse();
            Err(format!("{name}: …{}{}", before.iter().collect::<String>(), &text[i..i + 3]))
        }
        None => Ok(()),
    }
}

/// Whether the three letters at `i` are a word of their own.
fn whole(text: &str, i: usize) -> bool {
    let letter = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
    !letter(text[..i].chars().next_back()) && !letter(text[i + 3..].chars().next())
}

#[cfg(test)]
mod tests {
    use super::sound;

    #[test]
    fn numbers_that_are_none_are_found() {
        assert!(sound("a", &[1.0, f64::NAN]).is_err());
        assert!(sound("a", &Some(f64::NEG_INFINITY)).is_err());
        assert_eq!(sound("inf", &(1.0, "info", "NaNo")), Ok(()));
    }
}
