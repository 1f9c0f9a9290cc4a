//! What is asked for on the command line.

use std::ffi::OsString;
use std::path::PathBuf;

pub const HELP: &str = "\
Writes the book of a neck: its numbers and its drawings at full size.

usage: neck_book [SPECIFICATION.json] [--out FOLDER] [--inches]

  SPECIFICATION.json  the neck; the evening-class six-string where none is given
  --out FOLDER        where to write (default target/neck-book)
  --inches            print the card in inches too, decimal and to the nearest 1/64
  --help              print this

Files that an earlier run wrote are replaced; any other file, and one that was
changed since, is left alone and told.";

pub struct Arguments {
    pub specification: Option<PathBuf>,
    pub out: PathBuf,
    pub inches: bool,
}

/// Reads the arguments; `None` where help is asked for.
pub fn read(mut given: impl Iterator<Item = OsString>) -> Result<Option<Arguments>, String> {
    let mut read = Arguments { specification: None, out: "target/neck-book".into(), inches: false };
    while let Some(argument) = given.next() {
        match argument.to_str() {
            Some("--help" | "-h") => return Ok(None),
            Some("--inches") => read.inches = true,
            Some("--out") => read.out = given.next().ok_or("--out: which folder?")?.into(),
            Some(other) if other.starts_with('-') => return Err(format!("{other}: no such option")),
            _ if read.specification.is_some() => {
                return Err(format!("{}: one specification at a time", argument.to_string_lossy()));
            }
            _ => read.specification = Some(argument.into()),
        }
    }
    Ok(Some(read))
}
