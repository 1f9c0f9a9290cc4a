//! The core's sources, read: the functions and the results that the bindings reach.

mod doc;
mod functions;
mod list;
mod results;

pub use functions::Crate;
pub use list::{Line, group_of, read_list, words};
pub use results::{Content, Field, Result, Shape, results};
