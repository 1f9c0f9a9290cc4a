//! The folder of the book: nothing that this example has not written itself is ever replaced or removed.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::about::about;

/// The list of what was written, with a checksum of each file: how a later run knows its own.
const LIST: &str = "contents.txt";

/// The 64-bit FNV-1a checksum.
fn checksum(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |sum, b| (sum ^ u64::from(*b)).wrapping_mul(0x0100_0000_01b3))
}

/// File names and checksums of the run before; empty where there was none.
fn before(folder: &Path) -> BTreeMap<String, u64> {
    let text = fs::read_to_string(folder.join(LIST)).unwrap_or_default();
    let line = |line: &str| {
        let (sum, rest) = line.split_once("  ")?;
        let name = rest.split("  ").next()?;
        Some((name.to_owned(), u64::from_str_radix(sum, 16).ok()?))
    };
    text.lines().filter_map(line).collect()
}

/// Writes all files, or none where one would replace what is not this example's own; the list says what is left out and why.
pub fn write(folder: &Path, files: &[(String, Vec<u8>)], left_out: &[&str]) -> Result<(), String> {
    let told = |path: &Path, e: std::io::Error| format!("{}: {e}", path.display());
    let own = before(folder);
    let mut foreign = Vec::new();
    for (name, content) in files {
        let path = folder.join(name);
        match fs::read(&path) {
            Ok(bytes) if bytes == *content || own.get(name) == Some(&checksum(&bytes)) => {}
            Ok(_) => foreign.push(path.display().to_string()),
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {}
            Err(e) => return Err(told(&path, e)),
        }
    }
    if !foreign.is_empty() {
        return Err(format!(
            "not written by this example, or changed since: {}; nothing was written: move it away or give another --out",
            foreign.join(", ")
        ));
    }
    fs::create_dir_all(folder).map_err(|e| told(folder, e))?;
    let mut list = String::from(
        "Files of this neck book, each with its checksum (FNV-1a, 64 bits) and what is in it.\n",
    );
    for (name, content) in files {
        list += format!("{:016x}  {name}  {}", checksum(content), about(name)).trim_end();
        list.push('\n');
    }
    for why in left_out {
        // In one line, and never with the two spaces that part a file's checksum from its name.
        list += &format!("Left out. {}\n", why.split_whitespace().collect::<Vec<_>>().join(" "));
    }
    // A page of an earlier run that this one does not write is out of date: nobody shall cut to it.
    for (name, sum) in &own {
        let path = folder.join(name);
        let stale = !files.iter().any(|(n, _)| n == name) && !name.contains(['/', '\\']);
        if stale && fs::read(&path).is_ok_and(|bytes| checksum(&bytes) == *sum) {
            fs::remove_file(&path).map_err(|e| told(&path, e))?;
        }
    }
    // The list last: what an interrupted run leaves is taken for changed by the next one, and told.
    let files = files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
    for (name, bytes) in files.chain([(LIST, list.as_bytes())]) {
        let path = folder.join(name);
        fs::write(&path, bytes).map_err(|e| told(&path, e))?;
    }
    Ok(())
}
