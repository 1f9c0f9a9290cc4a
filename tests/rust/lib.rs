//! The shared cases of neckwright, read and run in Rust. The format is described in `tests/README.md`.
#![forbid(unsafe_code)]

mod carve;
mod damage;
mod everything;
mod format;
mod inspect;
mod layout;
mod neck;
mod operations;
mod readings;
mod run;
mod section;
mod sheets;
mod solids;
mod sound;
mod templates;
mod write;

pub use damage::{Dice, damage};
pub use everything::{Reached, everything, everything_of_a_stock, the_least};
pub use format::{Case, CaseFile, Expected, ExpectedFault, Outcome};
pub use operations::{Outputs, perform};
pub use readings::{everything_of_readings, plain_readings};
pub use run::check;
pub use sound::sound;
pub use write::pinned;

use std::path::PathBuf;

/// The files of shared cases, in the order of their names.
///
/// # Errors
/// - the folder can't be listed or holds no case file.
pub fn case_files() -> Result<Vec<PathBuf>, String> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("cases");
    let listing = std::fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut files = Vec::new();
    for entry in listing {
        let path = entry.map_err(|e| format!("{}: {e}", folder.display()))?.path();
        if path.extension().is_some_and(|e| e == "cases") {
            files.push(path);
        }
    }
    files.sort();
    if files.is_empty() { Err(format!("{}: no case file", folder.display())) } else { Ok(files) }
}
