//! Reading comma-separated values (RFC 4180).

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::collection::too_long;
use super::entry::Entry;
use super::field::{Field, Given, NOTE, path};
use super::gather::Gather;
use super::meant::Meant;
use super::{BadReadings, Readings};
use crate::measure::{Fault, Kind, quoted, shortened};
use crate::spec::nearest;

/// What a header could be, for messages.
const EXAMPLE: &str = "at,quantity,value";

/// Longer texts are no numbers, as for a length.
const LONGEST_NUMBER: usize = 100;

/// Reads a whole text.
pub(super) fn read(text: &str) -> Result<Readings, BadReadings> {
    if let Some(refused) = too_long(text) {
        return Err(refused);
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // CR alone ends a line only where there is no LF at all.
    let end = if text.contains('\n') { '\n' } else { '\r' };
    let mut gather = Gather::new(text.len(), false);
    let mut lines = text.split(end).zip(1_u32..).filter(|(line, _)| {
        let line = line.trim_start();
        !line.is_empty() && !line.starts_with('#')
    });
    // A spreadsheet may name the separator first; the header shows it anyway.
    let named = |line: &str| line.trim().len() <= 6 && line.trim().to_ascii_lowercase().starts_with("sep=");
    let mut lines = lines.by_ref().skip_while(|(line, number)| *number == 1 && named(line));
    let Some((header, number)) = lines.next() else {
        let fault = Fault::new(Kind::Syntax, path(1, None, "header"), "there is nothing in the text");
        return Err(Gather::refused(fault.remedy(format!("name the columns, as in \"{EXAMPLE}\""))));
    };
    let table = Table::read(header, number, &mut gather);
    if !gather.look.faults.is_empty() {
        return gather.finish();
    }
    let start = text.as_ptr() as usize;
    for (line, number) in lines {
        if !gather.has_room(number) {
            break;
        }
        table.line(line, number, line.as_ptr() as usize - start, &mut gather);
    }
    gather.finish()
}

/// What a column holds.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Column {
    Field(Field),
    /// What the builder wrote for herself.
    Note,
    /// It has no name, and nothing may stand in it.
    Nameless,
}

/// What may be given.
fn the_columns() -> String {
    let names: Vec<_> = Field::names().chain([NOTE]).collect();
    format!("the columns are {}", names.join(", "))
}

/// The columns, in the order of the header.
struct Table {
    separator: u8,
    columns: Vec<Column>,
}

impl Table {
    /// Reads the header.
    fn read(header: &str, number: u32, gather: &mut Gather) -> Self {
        let separator = separator(header);
        let mut table = Self { separator, columns: Vec::new() };
        let mut known = 0;
        let mut meant = Meant::default();
        let faults = &mut gather.look.faults;
        pieces(header, separator, |piece| {
            let name = match &piece {
                Piece::Whole(name) | Piece::Quoted(name) => name.as_ref(),
                Piece::Open(text) | Piece::Beyond(text) => {
                    faults.add(|| piece.fault(path(number, None, &shortened(text))));
                    return table.columns.push(Column::Nameless);
                }
            };
            if name.eq_ignore_ascii_case(NOTE) {
                return table.columns.push(Column::Note);
            }
            let found = Field::ALL.into_iter().find(|field| field.name().eq_ignore_ascii_case(name));
            known += usize::from(found.is_some());
            let column = || path(number, None, &shortened(name));
            let own = found.map_or(Column::Nameless, Column::Field);
            if found.is_some() && table.columns.contains(&own) {
                faults.add(|| {
                    Fault::new(Kind::Conflict, column(), "two columns have this name")
                        .remedy("take one of the two out")
                });
            } else if found.is_none() && !name.is_empty() {
                let near = nearest(name, Field::names());
                if let Some(near) = near {
                    meant.note(faults, near);
                }
                faults.add(|| {
                    let remedy = near.map_or_else(the_columns, |near| format!("did you mean {near}?"));
                    Fault::new(Kind::UnknownKey, column(), "there is no such column").remedy(remedy)
                });
            }
            table.columns.push(own);
        });
        let there = |name: &str| {
            let found = Field::ALL.into_iter().find(|field| field.name() == name);
            found.is_some_and(|field| table.columns.contains(&Column::Field(field)))
        };
        meant.settle(&mut gather.look.faults, there, the_columns);
        if known == 0 {
            // Rather readings without a header than a header all of whose names are wrong.
            gather.look = crate::spec::Look::default();
            gather.look.faults.add(|| {
                let reason = "the first line has to name the columns, and none of these is a column's name";
                Fault::new(Kind::Missing, path(number, None, "header"), reason)
                    .value(quoted(header.trim()), "")
                    .remedy(format!(
                        "begin with a line like \"{EXAMPLE}\", with the separator of the lines below it"
                    ))
            });
            return table;
        }
        for (field, why) in Field::REQUIRED {
            if !table.columns.contains(&Column::Field(field)) {
                gather.look.faults.add(|| {
                    Fault::new(Kind::Missing, path(number, None, field.name()), why)
                        .remedy(format!("add a column \"{}\"", field.name()))
                });
            }
        }
        table
    }

    /// Whether a field may be the decimals of a whole number before it: where a comma separates, bare digits for an
    /// uncertainty, which else has its unit, and a note that begins like a number.
    fn may_be_decimals(&self, of: Column, text: &str) -> bool {
        let begins =
            || text.strip_prefix(['-', '+']).unwrap_or(text).starts_with(|c: char| c.is_ascii_digit());
        self.separator == b','
            && match of {
                Column::Note => begins(),
                Column::Field(Field::Uncertainty) => is_digits(text),
                _ => false,
            }
    }

    /// Reads a line.
    fn line(&self, line: &str, number: u32, byte: usize, gather: &mut Gather) {
        let mut entry =
            Entry { given: Entry::NOTHING, lines: [number; 7], line: number, index: None, sloppy: true };
        let (mut column, mut empty, mut broken, mut open) = (0, true, false, false);
        // A whole number just before, and the field it stands in.
        let mut number_before: Option<(Field, Cow<'_, str>)> = None;
        let faults = &mut gather.look.faults;
        pieces(line, self.separator, |piece| {
            let of = self.columns.get(column).copied().unwrap_or(Column::Nameless);
            let field = if let Column::Field(field) = of { Some(field) } else { None };
            column += 1;
            let unquoted = matches!(piece, Piece::Whole(_));
            let before = core::mem::take(&mut number_before);
            let text = match piece {
                Piece::Whole(text) | Piece::Quoted(text) if text.is_empty() => return,
                Piece::Whole(text) | Piece::Quoted(text) => text,
                piece => {
                    (empty, open) = (false, true);
                    let place =
                        || field.map_or_else(|| format!("column {column}"), |f| String::from(f.name()));
                    return faults.add(|| piece.fault(path(number, None, &place())));
                }
            };
            empty = false;
            if let Some((field, whole)) = before.filter(|_| unquoted && self.may_be_decimals(of, &text)) {
                broken = true;
                faults.add(|| decimal_comma(path(number, None, field.name()), of, [&whole, &text]));
                return;
            }
            if let Some(field) = field.filter(|field| field.takes_number()) {
                let digits = text.strip_prefix(['-', '+']).unwrap_or(&text);
                if unquoted && is_digits(digits) {
                    number_before = Some((field, text.clone()));
                }
            }
            if of == Column::Note {
                return;
            }
            match field.and_then(|field| Some((field, entry.given.get_mut(field as usize)?))) {
                Some((field, given)) if self.separator == b',' => *given = of_text(field, text),
                Some((field, given)) => *given = of_text(field, with_point(text)),
                // One fault is enough for a line that is too long.
                None if broken => {}
                None => {
                    broken = true;
                    faults.add(|| {
                        let place = format!("column {column}");
                        let reason = "there is no column of a name here";
                        Fault::new(Kind::UnknownKey, path(number, None, &place), reason)
                            .value(quoted(&text), "")
                            .remedy("take it out, put a field that holds a separator in quotation marks, or write a decimal point")
                    });
                }
            }
        });
        if open {
            // What else is wrong with such a line may be a consequence of it.
            gather.spoil(number);
        } else if !empty {
            gather.take(&entry, broken, byte + line.len());
        }
    }
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// The fault of two whole numbers that may be one with a decimal comma.
fn decimal_comma(path: String, of: Column, [whole, decimals]: [&str; 2]) -> Fault {
    let or = match of {
        Column::Note => String::from("put the note in quotation marks"),
        _ => format!("write the uncertainty with its unit, as in \"{} mm\"", shortened(decimals)),
    };
    let remedy = format!("write a point, write ; between fields, or {or}");
    Fault::new(Kind::Conflict, path, "this may be a decimal comma, and commas separate the fields here")
        .value(quoted(&format!("{whole},{decimals}")), "")
        .remedy(remedy)
}

/// A decimal comma as a point. Where commas separate no fields, one between two digits can be nothing else; with a point
/// beside it, or twice, it would separate thousands, and is left to be refused.
fn with_point(text: Cow<'_, str>) -> Cow<'_, str> {
    let bytes = text.as_bytes();
    let mut commas = (0..bytes.len()).filter(|at| bytes.get(*at) == Some(&b','));
    let (Some(at), None) = (commas.next(), commas.next()) else { return text };
    let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
    if !digit(at.checked_sub(1)) || !digit(at.checked_add(1)) || bytes.contains(&b'.') {
        return text;
    }
    Cow::Owned(text.replace(',', "."))
}

/// A field's text as what it is.
fn of_text(field: Field, text: Cow<'_, str>) -> Given<'_> {
    if field.takes_number() && text.len() <= LONGEST_NUMBER {
        // Rust reads "nan" and "inf" too, and then the number is out of its bounds.
        if let Ok(number) = text.parse::<f64>() {
            return Given::Number(number);
        }
    }
    Given::Text(text)
}

/// A field of a line.
enum Piece<'a> {
    /// Without the spaces around it.
    Whole(Cow<'a, str>),
    /// Without its quotation marks and the spaces around what is in them.
    Quoted(Cow<'a, str>),
    /// Its quotation marks are not closed.
    Open(&'a str),
    /// Something stands after the closing one.
    Beyond(&'a str),
}

impl Piece<'_> {
    fn fault(&self, path: String) -> Fault {
        let (text, reason, remedy) = match self {
            Self::Whole(text) | Self::Quoted(text) => (text.as_ref(), "", ""),
            Self::Open(text) => {
                (*text, "the quotation mark is not closed on its line", "close it, or take it out")
            }
            Self::Beyond(text) => (
                *text,
                "something stands after the closing quotation mark",
                "write two quotation marks for one within the field",
            ),
        };
        Fault::new(Kind::Syntax, path, reason).value(quoted(text), "").remedy(remedy)
    }
}

/// The fields of a line.
fn pieces<'a>(line: &'a str, separator: u8, mut take: impl FnMut(Piece<'a>)) {
    let mut rest = line;
    loop {
        let open = rest.trim_start_matches(' ');
        let (piece, after) = match open.strip_prefix('"') {
            Some(inner) => quoted_piece(inner, separator),
            None => {
                let (text, after) = cut(rest, separator);
                (Piece::Whole(Cow::Borrowed(text.trim())), after)
            }
        };
        take(piece);
        match after {
            Some(after) => rest = after,
            None => return,
        }
    }
}

/// What stands before the next separator, and what after it.
fn cut(text: &str, separator: u8) -> (&str, Option<&str>) {
    match text.as_bytes().iter().position(|byte| *byte == separator) {
        // The separator is ASCII, so both places are borders of characters.
        Some(at) => (text.get(..at).unwrap_or_default(), text.get(at + 1..)),
        None => (text, None),
    }
}

/// A field after its opening quotation mark, and what stands after its separator.
fn quoted_piece(inner: &str, separator: u8) -> (Piece<'_>, Option<&str>) {
    let mut doubled = false;
    let mut from = 0;
    while let Some(at) = inner.get(from..).and_then(|rest| rest.find('"')) {
        let close = from + at;
        let rest = inner.get(close + 1..).unwrap_or_default();
        if rest.starts_with('"') {
            doubled = true;
            from = close + 2;
            continue;
        }
        let text = inner.get(..close).unwrap_or_default();
        let (beyond, after) = cut(rest, separator);
        if !beyond.trim().is_empty() {
            return (Piece::Beyond(beyond.trim()), after);
        }
        let text = if doubled { Cow::Owned(text.replace("\"\"", "\"")) } else { Cow::Borrowed(text) };
        return (Piece::Quoted(trimmed(text)), after);
    }
    // Whatever stands in the rest of the line is lost in the open field; the next line is read again.
    (Piece::Open(inner.trim_end()), None)
}

fn trimmed(text: Cow<'_, str>) -> Cow<'_, str> {
    match text {
        Cow::Borrowed(text) => Cow::Borrowed(text.trim()),
        Cow::Owned(text) => Cow::Owned(String::from(text.trim())),
    }
}

/// What separates the fields: of comma, semicolon and tab the one that the header has most of, outside of quotation
/// marks.
fn separator(header: &str) -> u8 {
    let mut counts = [(b',', 0_usize), (b';', 0), (b'\t', 0)];
    let mut quoted = false;
    for byte in header.bytes() {
        quoted ^= byte == b'"';
        for (separator, count) in &mut counts {
            *count += usize::from(!quoted && byte == *separator);
        }
    }
    // Of equals the first.
    counts.iter().rev().max_by_key(|(_, count)| *count).map_or(b',', |(separator, _)| *separator)
}
