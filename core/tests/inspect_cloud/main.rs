//! Scans placed and copied.

#[path = "../cloud_common/mod.rs"]
mod cloud_common;
mod copy;
#[path = "../copy_common/mod.rs"]
mod copy_common;
mod density;
mod ends;
mod hostile;
mod next;
mod parts;
mod pose;
mod strays;
