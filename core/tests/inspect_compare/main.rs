//! Necks compared.

#[path = "../common/mod.rs"]
mod common;
#[path = "../compare_common/mod.rs"]
mod compare_common;
mod known;
mod outline;
mod random;
