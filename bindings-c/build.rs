//! Names the shared library by what it is compatible with, so that programs find the one they were linked to.

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    // While the version begins with 0 every minor version is a new interface; see the README.
    let part = |name: &str| std::env::var(name).unwrap_or_default();
    let (major, minor) = (part("CARGO_PKG_VERSION_MAJOR"), part("CARGO_PKG_VERSION_MINOR"));
    let interface = if major == "0" { format!("0.{minor}") } else { major };
    match part("CARGO_CFG_TARGET_OS").as_str() {
        "linux" | "android" | "freebsd" | "netbsd" | "openbsd" => {
            println!("cargo:rustc-cdylib-link-arg=-Wl,-soname,libneckwright.so.{interface}");
        }
        "macos" => {
            println!("cargo:rustc-cdylib-link-arg=-Wl,-install_name,@rpath/libneckwright.{interface}.dylib");
        }
        _ => {}
    }
}
