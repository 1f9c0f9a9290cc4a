//! Writes bits and messages into a case file and leaves every other line as it is.

use crate::{Case, CaseFile, check, perform};
use std::fmt::Write as _;

/// The text of a case file with the bits and messages that the library gives now.
///
/// # Errors
/// - a case that is not within tolerance or not of the expected faults, with its line.
pub fn pinned(text: &str) -> Result<String, String> {
    let file = CaseFile::read(text)?;
    for case in &file.cases {
        check(case, false).map_err(|e| format!("{}: {}", case.line, e.join("; ")))?;
    }
    let mut out = String::new();
    let mut cases = file.cases.iter();
    let mut blocks = Vec::<Vec<&str>>::new();
    for line in text.lines() {
        match blocks.last_mut() {
            Some(block) if !line.is_empty() => block.push(line),
            _ => blocks.push(vec![line]),
        }
    }
    for block in blocks {
        let of_case = block.iter().any(|line| line.starts_with("case "));
        let case = if of_case { cases.next() } else { None };
        match case {
            Some(case) => write_case(case, &block, &mut out)?,
            None => block.iter().for_each(|line| {
                out.push_str(line);
                out.push('\n');
            }),
        }
    }
    Ok(out)
}

fn write_case(case: &Case, block: &[&str], out: &mut String) -> Result<(), String> {
    let answer = perform(case)?;
    let mut faults = answer.as_ref().err().map(|e| e.faults().iter()).unwrap_or_default();
    let mut skipping = false;
    let mut pending: Option<String> = None;
    for line in block {
        let continues = line.starts_with("  ");
        if continues && skipping {
            continue;
        }
        if !continues {
            skipping = false;
            if let Some(text) = pending.take() {
                out.push_str(&text);
            }
        }
        let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
        if word == "bits" {
            skipping = true;
            continue;
        }
        out.push_str(line);
        out.push('\n');
        if word == "fault" {
            skipping = true;
            let fault = faults.next().ok_or("fewer faults than expected")?;
            for part in fault.to_string().lines() {
                let _ = writeln!(out, "  {part}");
            }
        }
        if word == "expect" {
            let name = rest.split(' ').next().unwrap_or_default();
            let outputs = answer.as_ref().map_err(ToString::to_string)?;
            let values = &outputs.iter().find(|(n, _)| *n == name).ok_or("no such result")?.1;
            let mut text = format!("bits {name}\n");
            for row in values.chunks(5) {
                let words: Vec<String> = row.iter().map(|v| format!("{:016x}", v.to_bits())).collect();
                let _ = writeln!(text, "  {}", words.join(" "));
            }
            pending = Some(text);
        }
    }
    if let Some(text) = pending {
        out.push_str(&text);
    }
    Ok(())
}
