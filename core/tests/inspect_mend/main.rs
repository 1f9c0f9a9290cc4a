//! Low patches mended.

#[path = "../check_common/mod.rs"]
mod check_common;
#[path = "../common/mod.rs"]
mod common;
mod faces;
mod impossible;
mod limits;
#[path = "../mend_common/mod.rs"]
mod mend_common;
mod nearest;
mod noise;
mod practice;
mod shoulders;
mod widths;
