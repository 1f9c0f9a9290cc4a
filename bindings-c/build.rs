//! Names the shared library by what it is compatible with, so that programs find the one they were linked to.

fn main() {
    let part = |name: &str| std::env::var(name).unwrap_or_else(|_| panic!("cargo sets {name}"));
    // The list of the interface says its number, and abi.py holds that against the version; see the README.
    let list = std::path::Path::new(&part("CARGO_MANIFEST_DIR")).join("include/abi.txt");
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed={}", list.display());
    let text = std::fs::read_to_string(&list).unwrap_or_else(|e| panic!("{}: {e}", list.display()));
    let interface = text.lines().next().and_then(|line| line.strip_prefix("interface "));
    let interface = interface.expect("abi.txt begins with the interface");
    assert!(
        format!("{}.", part("CARGO_PKG_VERSION")).starts_with(&format!("{interface}.")),
        "the version is not of interface {interface}: python3 bindings-c/tests/abi.py --write"
    );
    match part("CARGO_CFG_TARGET_OS").as_str() {
        "linux" | "freebsd" | "netbsd" | "openbsd" => {
            println!("cargo:rustc-cdylib-link-arg=-Wl,-soname,libneckwright.so.{interface}");
        }
        "macos" => {
            println!("cargo:rustc-cdylib-link-arg=-Wl,-install_name,@rpath/libneckwright.{interface}.dylib");
        }
        _ => {}
    }
}
