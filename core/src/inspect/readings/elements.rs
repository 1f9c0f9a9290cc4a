//! The lines on which the elements of a JSON list begin.

/// Walks along a list of a text that has been read already, so that it needs no checks: only as far as is asked, and
/// over every byte once. The reader itself tells a place only where there is a key.
pub(super) struct Elements<'t> {
    rest: &'t [u8],
    line: u32,
    /// How many brackets are open within the list.
    depth: u32,
    /// The number of the next element.
    next: u32,
    /// Whether an element is due.
    due: bool,
}

impl<'t> Elements<'t> {
    /// The list begins with the first bracket of `text`, which begins on `line`.
    pub(super) fn new(text: &'t [u8], line: u32) -> Self {
        let start = text.iter().position(|byte| *byte == b'[').map_or(text.len(), |at| at + 1);
        let (before, rest) = text.split_at_checked(start).unwrap_or_default();
        let line = line.saturating_add(before.iter().filter(|byte| **byte == b'\n').count() as u32);
        Self { rest, line, depth: 0, next: 0, due: true }
    }

    /// The line of an element that is not before any that was asked for.
    pub(super) fn line_of(&mut self, index: u32) -> u32 {
        while let Some((byte, rest)) = self.rest.split_first() {
            let begins = self.due && !matches!(byte, b' ' | b'\n' | b'\r' | b'\t' | b',');
            if begins && self.next == index {
                break;
            }
            if begins {
                self.next += 1;
                self.due = false;
            }
            self.rest = rest;
            match byte {
                b'\n' => self.line += 1,
                b',' if self.depth == 0 => self.due = true,
                b'{' | b'[' => self.depth += 1,
                b'}' | b']' => self.depth = self.depth.saturating_sub(1),
                b'"' => self.skip_string(),
                _ => {}
            }
        }
        self.line
    }

    /// Goes on to after a closing quotation mark. There is no line break in a string.
    fn skip_string(&mut self) {
        while let Some((byte, rest)) = self.rest.split_first() {
            self.rest = rest;
            match byte {
                b'"' => return,
                b'\\' => self.rest = rest.get(1..).unwrap_or_default(),
                _ => {}
            }
        }
    }
}
