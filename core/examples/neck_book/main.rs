//! Writes the book of a neck: one folder with everything that goes to the bench.
//!
//! `cargo run --release -p neckwright --example neck_book` reads the evening-class neck or the specification that is
//! given, and writes its normalised specification, frets, caliper card, numbers and drawings at full size. It prints
//! a summary to read at the bench.

mod arguments;
mod csv;
mod drawings;
mod folder;
mod numbers;
mod summary;

use std::process::ExitCode;

use arguments::{Arguments, HELP};
use neckwright::shape::Neck;

/// The neck of the book where no other is given.
const EVENING_CLASS: &str = include_str!("evening_class.json");

fn book(arguments: &Arguments) -> Result<String, String> {
    let text = match &arguments.specification {
        Some(path) => {
            std::fs::read_to_string(path).map_err(|e| format!("{} can't be read: {e}", path.display()))?
        }
        None => EVENING_CLASS.into(),
    };
    let neck = Neck::from_json(&text).map_err(|e| e.to_string())?;
    let mut files = vec![
        ("specification.json", neck.normalised().to_json() + "\n"),
        ("frets.csv", csv::frets(&neck)),
        ("caliper_card.csv", csv::caliper_card(&neck)),
        ("numbers.csv", numbers::csv(&neck)),
    ];
    files.extend(drawings::all(&neck).map_err(|e| e.to_string())?);
    folder::write(&arguments.out, &files)?;
    Ok(summary::of(&neck, &arguments.out, &files, arguments.inches))
}

fn main() -> ExitCode {
    match arguments::read(std::env::args_os().skip(1)) {
        Err(message) => {
            eprintln!("{message}\n\n{HELP}");
            ExitCode::FAILURE
        }
        Ok(None) => {
            println!("{HELP}");
            ExitCode::SUCCESS
        }
        Ok(Some(arguments)) => match book(&arguments) {
            Ok(summary) => {
                print!("{summary}");
                ExitCode::SUCCESS
            }
            Err(message) => {
                eprintln!("{message}");
                ExitCode::FAILURE
            }
        },
    }
}
