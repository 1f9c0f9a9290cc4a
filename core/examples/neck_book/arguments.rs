//! What is asked for on the command line.

use std::ffi::OsString;
use std::path::PathBuf;

pub const HELP: &str = "\
Writes the book of a neck: its numbers, its drawings at full size, and the plan
that carves it, a page for each stage.

usage: neck_book [SPECIFICATION.json [STOCK.json]] [--out FOLDER] [--inches]

  SPECIFICATION.json  the neck; the evening-class six-string where none is given
  STOCK.json          timber, tools and allowances; the defaults where none is given,
                      and the class's own for the evening-class six-string
  --out FOLDER        where to write (default target/neck-book)
  --inches            print the card in inches too, decimal and to the nearest 1/64
  --help              print this

Files that an earlier run wrote are replaced; any other file, and one that was
changed since, is left alone and told.";

pub struct Arguments {
    pub specification: Option<PathBuf>,
    pub stock: Option<PathBuf>,
    pub out: PathBuf,
    pub inches: bool,
}

/// Reads the arguments; `None` where help is asked for.
pub fn read(mut given: impl Iterator<Item = OsString>) -> Result<Option<Arguments>, String> {
    let mut read =
        Arguments { specification: None, stock: None, out: "target/neck-book".into(), inches: false };
    while let Some(argument) = given.next() {
        match argument.to_str() {
            Some("--help" | "-h") => return Ok(None),
            Some("--inches") => read.inches = true,
            Some("--out") => read.out = given.next().ok_or("--out: which folder?")?.into(),
            Some(other) if other.starts_with('-') => return Err(format!("{other}: no such option")),
            _ if read.specification.is_none() => read.specification = Some(argument.into()),
            _ if read.stock.is_none() => read.stock = Some(argument.into()),
            _ => {
                return Err(format!(
                    "{}: one specification and one stock at a time",
                    argument.to_string_lossy()
                ));
            }
        }
    }
    Ok(Some(read))
}
