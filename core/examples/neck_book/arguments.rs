//! What is asked for on the command line.

use std::ffi::OsString;
use std::path::PathBuf;

use neckwright::spec::{PaperSize, StageName};

pub const HELP: &str = "\
Writes the book of a neck: its numbers, its drawings at full size, and the plan
that carves it, a page for each stage.

usage: neck_book [SPECIFICATION.json [STOCK.json]] [--readings FILE [--stage NAME]]
                 [--copy FILE] [--compare FILE] [--paper SIZE] [--out FOLDER] [--inches]

  SPECIFICATION.json  the neck; the evening-class six-string where none is given
  STOCK.json          timber, tools and allowances; the defaults where none is given,
                      and the class's own for the evening-class six-string
  --readings FILE     what the instruments read, CSV or JSON: what is left to take, and
                      low patches mended; the class's own for its six-string
  --stage NAME        the stage that the wood has come to, such as contour; the
                      finished neck where none is named
  --copy FILE         readings of a neck to copy, CSV or JSON: its specification and card;
                      what they do not tell is taken from this neck
  --compare FILE      another specification: how far the two necks are apart, and where
  --paper SIZE        what neck_book.pdf is printed on: a4 (the default), letter, or
                      as_drawn, each sheet as large as it is
  --out FOLDER        where to write (default target/neck-book)
  --inches            print the card in inches too, decimal and to the nearest 1/64
  --help              print this

Files that an earlier run wrote are replaced; any other file, and one that was
changed since, is left alone and told.";

pub struct Arguments {
    pub specification: Option<PathBuf>,
    pub stock: Option<PathBuf>,
    pub readings: Option<PathBuf>,
    pub stage: Option<StageName>,
    pub copy: Option<PathBuf>,
    pub compare: Option<PathBuf>,
    pub paper: PaperSize,
    pub out: PathBuf,
    pub inches: bool,
}

/// Reads the arguments; `None` where help is asked for.
pub fn read(mut given: impl Iterator<Item = OsString>) -> Result<Option<Arguments>, String> {
    let mut read = Arguments {
        specification: None,
        stock: None,
        readings: None,
        stage: None,
        copy: None,
        compare: None,
        paper: PaperSize::default(),
        out: "target/neck-book".into(),
        inches: false,
    };
    while let Some(argument) = given.next() {
        match argument.to_str() {
            Some("--help" | "-h") => return Ok(None),
            Some("--inches") => read.inches = true,
            Some("--paper") => read.paper = paper(given.next())?,
            Some("--out") => read.out = given.next().ok_or("--out: which folder?")?.into(),
            Some("--readings") => {
                read.readings = Some(given.next().ok_or("--readings: which file?")?.into());
            }
            Some("--copy") => read.copy = Some(given.next().ok_or("--copy: which readings?")?.into()),
            Some("--compare") => {
                read.compare = Some(given.next().ok_or("--compare: with which specification?")?.into());
            }
            Some("--stage") => read.stage = Some(stage(given.next())?),
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
    if read.stage.is_some() && read.readings.is_none() {
        return Err("--stage: of which readings? name them with --readings".into());
    }
    Ok(Some(read))
}

fn stage(name: Option<OsString>) -> Result<StageName, String> {
    let name = name.ok_or("--stage: which one?")?;
    StageName::ALL.iter().find(|stage| name == *stage.name()).copied().ok_or_else(|| {
        let names: Vec<&str> = StageName::ALL.iter().map(|stage| stage.name()).collect();
        format!("--stage: {} is none of {}", name.to_string_lossy(), names.join(", "))
    })
}

fn paper(name: Option<OsString>) -> Result<PaperSize, String> {
    let name = name.ok_or("--paper: which size?")?;
    PaperSize::ALL.iter().find(|size| name == *size.name()).copied().ok_or_else(|| {
        let names: Vec<&str> = PaperSize::ALL.iter().map(|size| size.name()).collect();
        format!("--paper: {} is none of {}", name.to_string_lossy(), names.join(", "))
    })
}
