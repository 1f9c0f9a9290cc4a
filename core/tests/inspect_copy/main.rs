//! Necks copied from readings.

#[path = "../copy_common/mod.rs"]
mod copy_common;
mod coverage;
mod exact;
mod few;
mod gross;
mod more;
mod refused;
