//! The committed header is what the sources say; with `NECKWRIGHT_WRITE_HEADER` set it is written.

use std::path::PathBuf;

#[test]
fn the_header_is_up_to_date() {
    let package = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let config = cbindgen::Config::from_file(package.join("cbindgen.toml")).unwrap();
    // Beginning at the root file: given the whole package, the generator would run cargo itself.
    let builder = cbindgen::Builder::new().with_config(config).with_src(package.join("src/lib.rs"));
    let mut bytes = Vec::new();
    builder.generate().unwrap().write(&mut bytes);
    // Rust's safety headings say in other words what the contract says.
    let header = without_safety_sections(&String::from_utf8(bytes).unwrap());
    let path = package.join("include/neckwright.h");
    if std::env::var_os("NECKWRIGHT_WRITE_HEADER").is_some_and(|v| !v.is_empty()) {
        std::fs::write(&path, &header).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(committed == header, "out of date: NECKWRIGHT_WRITE_HEADER=1 cargo test -p neckwright-c");
}

fn without_safety_sections(header: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for line in header.lines() {
        inside = (inside || line == " * # Safety") && line != " */";
        if line == " */" && out.ends_with("\n *\n") {
            out.truncate(out.len() - 3);
        }
        if !inside {
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}
