//! Writes the book of a neck: one folder with everything that goes to the bench.
//!
//! `cargo run --release --example neck_book` reads the evening-class neck or the specification that is
//! given, and writes its normalised specification, frets, caliper card, numbers and drawings at full size, and the carving
//! plan from the stock that is given after it: its tables, and a page for each stage. Where readings are given, it tells what
//! is left to take and mends what is too low; a neck is copied from readings of it, or held against another. It prints a
//! summary to read at the bench.

mod about;
mod arguments;
mod carving;
mod carving_tables;
mod comparing;
mod copying;
mod csv;
mod drawings;
mod folder;
mod inspection;
mod models;
mod numbers;
mod summary;

use std::process::ExitCode;

use arguments::{Arguments, HELP};
use neckwright::shape::Neck;

/// The neck of the book where no other is given.
const EVENING_CLASS: &str = include_str!("evening_class.json");

fn read(path: &std::path::Path) -> Result<String, String> {
    let bytes = std::fs::read(path).map_err(|e| format!("{} can't be read: {e}", path.display()))?;
    String::from_utf8(bytes).map_err(|e| {
        let before = e.as_bytes().get(..e.utf8_error().valid_up_to()).unwrap_or_default();
        let line = 1 + before.iter().filter(|byte| **byte == b'\n').count();
        format!("{}: line {line} is no UTF-8 text; save the file as UTF-8", path.display())
    })
}

/// Writes the book and returns its summary, and what is refused: a plan from this stock, or mending this neck.
fn book(arguments: &Arguments) -> Result<(String, Option<String>), String> {
    let text = arguments.specification.as_deref().map_or_else(|| Ok(EVENING_CLASS.into()), read)?;
    // The evening class's neck comes with its own stock; any other is cut from what suits it.
    let stock = match (&arguments.stock, &arguments.specification) {
        (Some(path), _) => read(path)?,
        (None, Some(_)) => "{}".into(),
        (None, None) => carving::EVENING_CLASS.into(),
    };
    let neck = Neck::from_json(&text).map_err(|e| e.to_string())?;
    let mut files: Vec<(String, String)> = vec![
        ("specification.json".into(), neck.normalised().to_json() + "\n"),
        ("frets.csv".into(), csv::frets(&neck)),
        ("caliper_card.csv".into(), csv::caliper_card(&neck)),
        ("numbers.csv".into(), numbers::csv(&neck)),
    ];
    let drawings = drawings::all(&neck).map_err(|e| e.to_string())?;
    files.extend(drawings.into_iter().map(|(name, text)| (name.into(), text)));
    let plan = carving::plan(&neck, &stock);
    if let Ok(plan) = &plan {
        files.extend(carving::files(plan).map_err(|e| e.to_string())?);
    }
    let readings: Option<(String, _)> = match (&arguments.readings, &arguments.specification) {
        (Some(path), _) => Some((read(path)?, arguments.stage)),
        (None, Some(_)) => None,
        (None, None) => Some((inspection::EVENING_CLASS.into(), Some(inspection::EVENING_CLASS_STAGE))),
    };
    let inspected = readings
        .map(|(text, stage)| inspection::inspect(&neck, plan.as_ref().ok(), &text, stage, arguments.inches))
        .transpose()?;
    if let Some(inspected) = &inspected {
        files.extend(inspected.files(&neck).map_err(|e| e.to_string())?);
    }
    let text = |path: &Option<std::path::PathBuf>| path.as_deref().map(read).transpose();
    let copy =
        text(&arguments.copy)?.map(|text| copying::copy(&neck, &text, arguments.inches)).transpose()?;
    files.extend(copy.iter().flat_map(copying::Copy::files));
    let compared = text(&arguments.compare)?
        .map(|text| comparing::compare(&neck, &text, arguments.inches))
        .transpose()?;
    files.extend(compared.iter().flat_map(comparing::Compared::files));
    let sheets = drawings::sheets(&neck, plan.as_ref().ok(), inspected.as_ref())?;
    let mut files: Vec<(String, Vec<u8>)> =
        files.into_iter().map(|(name, text)| (name, text.into_bytes())).collect();
    files.extend(drawings::documents(&sheets, arguments.paper)?);
    let models = models::of(&neck);
    files.extend(models.files);
    let no_plan = plan.as_ref().err().map(|why| format!("There is no carving plan: {why}"));
    let left_out: Vec<&str> = models.left_out.iter().chain(&no_plan).map(String::as_str).collect();
    folder::write(&arguments.out, &files, &left_out)?;
    let plan = plan.as_ref().map(carving::summary).map_err(ToString::to_string);
    let parts = summary::Parts {
        plan: plan.as_deref(),
        inspected: inspected.as_ref(),
        copy: copy.as_ref(),
        compared: compared.as_ref(),
        left_out: &models.left_out,
    };
    let summary = summary::of(&neck, &arguments.out, &files, &parts, arguments.inches);
    let lost = inspected.is_some_and(|inspected| inspected.is_lost());
    let lost = lost.then(|| "The neck on the bench can't be mended within its limits.".to_owned());
    let refused = plan.err().map(|why| format!("The book has no carving plan:\n{why}"));
    Ok((summary, refused.or(lost)))
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
            Ok((summary, None)) => {
                print!("{summary}");
                ExitCode::SUCCESS
            }
            Ok((summary, Some(refused))) => {
                print!("{summary}");
                eprintln!("{refused}");
                ExitCode::FAILURE
            }
            Err(message) => {
                eprintln!("{message}");
                ExitCode::FAILURE
            }
        },
    }
}
