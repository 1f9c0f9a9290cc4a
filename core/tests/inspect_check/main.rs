//! Inspection.

mod alarms;
mod amplitude;
mod beside;
#[path = "../check_common/mod.rs"]
mod check_common;
#[path = "../common/mod.rs"]
mod common;
mod dense;
mod doubt;
mod low;
mod map;
mod places;
mod planted;
mod power;
mod rates;
mod rows;
mod several;
mod stage;
mod station;
mod touched;
