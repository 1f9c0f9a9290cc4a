//! Lists that say how each public function is reached from a language.

/// One line of a list: a function or, ending in `*`, a group of them; and what it says of it.
pub struct Line<'a> {
    /// Its number, from 1.
    pub number: usize,
    /// The function, or a prefix and `*`.
    pub what: &'a str,
    /// How it is reached, or why it is not.
    pub how: &'a str,
}

/// The lines of a list; those that are empty or begin with `#` are none.
///
/// # Panics
/// - a line without ` = `.
#[must_use]
pub fn read_list(text: &str) -> Vec<Line<'_>> {
    let lines = text.lines().enumerate().filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    lines
        .map(|(i, line)| {
            let (what, how) = line.split_once(" = ").unwrap_or_else(|| panic!("line {}: no ' = '", i + 1));
            Line { number: i + 1, what: what.trim(), how: how.trim() }
        })
        .collect()
}

/// The line of a function: its own, or that of the longest prefix.
#[must_use]
pub fn group_of<'a, 'b>(lines: &'b [Line<'a>], function: &str) -> Option<&'b Line<'a>> {
    let of =
        |line: &&Line<'_>| line.what.strip_suffix('*').is_some_and(|prefix| function.starts_with(prefix));
    let group = || lines.iter().filter(of).max_by_key(|line| line.what.len());
    lines.iter().find(|line| line.what == function).or_else(group)
}

/// The words of a text: letters, digits and underscores.
pub fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').filter(|word| !word.is_empty())
}
